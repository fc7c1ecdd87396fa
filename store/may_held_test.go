package store_test

import (
	"errors"
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// What earlier sub-assemblies hold is given to a later one with a reason alone, whichever verb
// takes it and out of which drawer: 24 AN3-5A are here, 6 for SA-10 and 10 for SA-11, which
// leaves 8 to SA-12.
func TestHeldForOthers(t *testing.T) {
	pull := func(item string, n int64) func(w world, reason string) error {
		return func(w world, reason string) error {
			return second(w.Pull("SA-12", withReason(w.to(item, "H103", n, "H103"), reason)))
		}
	}
	fit := func(item string, n int64) func(w world, reason string) error {
		return func(w world, reason string) error {
			return second(w.Fit("SA-12", fitting(withReason(w.to(item, "H103", n, "H103"), reason))))
		}
	}
	decide := func(w world, item string, extra ...store.Extra) {
		w.must(third(w.Decide(store.Decision{Kind: store.OtherItem, Requirements: []string{"R-1"}, Item: item, Extra: extra, Who: "kit maker"})))
	}
	const of24, goes = "6 for SA-10, 10 for SA-11", ". With a reason it goes all the same."
	for _, row := range []struct {
		name   string
		before func(w world)
		do     func(w world, reason string) error
		want   string // "": it goes
	}{
		{"pulled, what is free", nil, pull("AN3-5A", 8), ""},
		{"pulled, one too many", nil, pull("AN3-5A", 9), "AN3-5A for SA-12: 8 is free here: " + of24 + goes},
		{"pulled in two parts", nil, func(w world, reason string) error {
			five := withReason(w.to("AN3-5A", "H103", 5, "H103"), reason)
			return second(w.Pull("SA-12", five, five))
		}, "AN3-5A for SA-12: 3 is free here: " + of24 + goes},
		{"fitted, what is free", nil, fit("AN3-5A", 8), ""},
		{"fitted, one too many", nil, fit("AN3-5A", 9), "AN3-5A for SA-12: 8 is free here: " + of24 + goes},
		{"fitted besides a full tray", func(w world) {
			w.must(pull("AN3-5A", 8)(w, ""))
		}, fit("AN3-5A", 1), "AN3-5A for SA-12: 0 is free here: " + of24 + goes},
		{"fitted out of its own tray", func(w world) { w.must(pull("AN3-5A", 8)(w, "")) }, func(w world, reason string) error {
			return second(w.Fit("SA-12", fitting(w.to("AN3-5A", "SA-12", 8, "SA-12"))))
		}, ""},
		{"borrowed", func(w world) {
			w.must(second(w.Pull("SA-11", w.to("AN3-5A", "H103", 10, "H103"))))
		}, func(w world, _ string) error {
			return second(w.Borrow("SA-11", "SA-12", w.to("AN3-5A", "SA-11", 10, "SA-12")))
		}, ""},
		{"after one let go", func(w world) { w.must(second(w.LetGo("SA-11", true))) }, pull("AN3-5A", 18), ""},
		{"and no more than that", func(w world) { w.must(second(w.LetGo("SA-11", true))) }, pull("AN3-5A", 19), "AN3-5A for SA-12: 18 is free here: 6 for SA-10" + goes},
		{"built before them", func(w world) { w.must(second(w.OrderSubAssemblies("SA-12", "SA-10", "SA-11"))) }, pull("AN3-5A", 20), ""},
		{"after one was closed", func(w world) {
			w.must(second(w.CloseSubAssembly("SA-11", w.answers("SA-11", "left as it is"))))
		}, pull("AN3-5A", 18), ""},
		{"after one has some in its tray", func(w world) {
			w.must(second(w.Pull("SA-11", w.to("AN3-5A", "H103", 10, "H103"))))
		}, pull("AN3-5A", 9), "AN3-5A for SA-12: 8 is free here: 6 for SA-10" + goes},
		{"after one has some fitted", func(w world) {
			w.must(second(w.Fit("SA-11", fitting(w.to("AN3-5A", "H103", 10, "H103")))))
		}, pull("AN3-5A", 9), "AN3-5A for SA-12: 8 is free here: 6 for SA-10" + goes},
		{"what nobody else asks for", nil, pull("AN3-6A", 16), ""},
		{"what a decision allows another one", func(w world) { decide(w, "AN3-6A") }, pull("AN3-6A", 11), "AN3-6A for SA-12: 10 is free here: 6 for SA-10" + goes},
		{"what a decision asks for besides", func(w world) {
			decide(w, "AN3-7A", store.Extra{Called: "AN3-6A", Item: "AN3-6A", Quantity: measure.Pieces(2)})
		}, pull("AN3-6A", 15), "AN3-6A for SA-12: 14 is free here: 2 for SA-10" + goes},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := bookable(t)
			w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-11"}, store.Requirement{Called: "AN3-5A", Needed: measure.Pieces(10)})))
			w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-12"},
				store.Requirement{Called: "AN3-5A", Needed: measure.Pieces(20)}, store.Requirement{Called: "AN3-6A", Needed: measure.Pieces(20)})))
			w.learnPlaces()
			if row.before != nil {
				row.before(w)
			}
			err := row.do(w, "")
			if row.want == "" {
				w.must(err)
				return
			}
			wantRefusal(t, err, store.Conflict, row.want)
			if !errors.Is(err, store.ErrReason) {
				t.Error("no reason is asked for")
			}
			w.must(row.do(w, "their bolts come tomorrow"))
		})
	}
}
