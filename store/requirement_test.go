package store_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/exchange"
	"stowright/store/measure"
)

// needs are the requirements of a sub-assembly, in words.
func (w world) needs(code string) []string {
	w.t.Helper()
	list, err := w.Requirements(code)
	w.must(err)
	var lines []string
	for _, r := range list {
		line := r.Name() + " " + r.Called
		if r.Item != r.Called {
			line += " is " + r.Item
		}
		line += ": " + r.Quantity()
		if r.Position != "" {
			line += ", " + r.Position
		}
		switch {
		case r.ReplacedBy != "":
			line += ", now " + r.ReplacedBy
		case r.Ended != nil:
			line += ", ended: " + r.Ended.Why
		}
		lines = append(lines, line)
	}
	return lines
}

// Requirements have numbers for life, lead from the plans' number to the shop's, and are
// ended or replaced, never deleted; what Undo takes back is not numbered again.
func TestRequirements(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.PutEquivalent(store.Equivalent{Old: "AN960-10", New: "NAS1149F0363P", Source: "cover letter"})))
	_, _, err := w.PutNeeds(" plan, sheet 3 ", store.Needs{
		SubAssembly: store.SubAssembly{Code: "SA-21", Name: "Rudder hinges", Parent: "SA-10", Hours: 80},
		Requirements: []store.Requirement{
			{Called: "AN3-5A", Expression: "10 x 2 sides", Needed: measure.Quantity{Unit: measure.Each}, Position: "Rudder/left /hinge 2"},
			{Called: "AN960-10", Needed: measure.Pieces(40), Callout: store.Callout{Drawing: "12", Step: " 4 "}},
			{Called: "SEAL-B2", Expression: "A/R"},
		},
	})
	w.must(err)
	want := []string{"R-2 AN3-5A: 20 ea, Rudder / left / hinge 2", "R-3 AN960-10 is NAS1149F0363P: 40 ea", "R-4 SEAL-B2: as required"}
	if d := cmp.Diff(want, w.needs("SA-21")); d != "" {
		t.Errorf("needs (-want +got):\n%s", d)
	}
	list, err := w.Requirements("SA-21")
	w.must(err)
	if r := list[1]; r.Callout.String() != "drawing 12, step 4" || len(r.Via) != 1 || r.Via[0].Source != "cover letter" {
		t.Errorf("R-3 is %+v", r)
	}
	w.must(second(w.EndRequirement("r4", "  sealed by  the kit maker")))
	_, _, err = w.ReplaceRequirement("R-2", store.Requirement{Called: "AN3-6A", Needed: measure.Pieces(20)})
	w.must(err)
	w.must(second(w.Undo()))
	_, _, err = w.ReplaceRequirement("R-2", store.Requirement{Called: "AN3-6A", Needed: measure.Pieces(18)})
	w.must(err)
	want = []string{"R-2 AN3-5A: 20 ea, Rudder / left / hinge 2, now R-6", "R-3 AN960-10 is NAS1149F0363P: 40 ea", "R-4 SEAL-B2: as required, ended: sealed by the kit maker", "R-6 AN3-6A: 18 ea"}
	if d := cmp.Diff(want, w.needs("SA-21")); d != "" {
		t.Errorf("needs, one replaced (-want +got):\n%s", d)
	}
	for item, numbers := range map[string][]uint64{"AN3-5A": {2}, "NAS1149F0363P": {3}, "AN3-6A": {6}, "AN3": nil} {
		asked, err := w.RequirementsFor(item)
		w.must(err)
		var got []uint64
		for _, r := range asked {
			if r.SubAssembly == "SA-21" {
				got = append(got, r.Number)
			}
		}
		if !slices.Equal(got, numbers) {
			t.Errorf("for %s: got R-%v, want R-%v", item, got, numbers)
		}
	}
	_, err = w.EndRequirement("R-2", "again")
	wantRefusal(t, err, store.Conflict, "R-2 is in force no more: see what took its place.")
	_, err = w.EndRequirement("R-5", "undone")
	wantRefusal(t, err, store.NotFound, "There is no requirement “R-5” in this shop: see the list of its sub-assembly.")
}

// A list that makes no sense is refused whole, with one sentence.
func TestNeedsRefusals(t *testing.T) {
	w := newWorld(t)
	for _, q := range []store.Equivalent{{Old: "AN960-10", New: "NAS1149F0363P", Source: "letter"}, {Old: "AN960-10", New: "NAS1149F0332P", Source: "list"}} {
		w.must(second(w.PutEquivalent(q)))
	}
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-11", Parent: "SA-10"})))
	entries := newestSeq(w)
	one := measure.Pieces(1)
	for _, row := range []struct {
		name     string
		sub      store.SubAssembly
		need     store.Requirement
		sentence string
	}{
		{"no number", store.SubAssembly{Code: "SA-20"}, store.Requirement{Needed: one}, "A part number that SA-20 needs is empty: type it."},
		{"none of it", store.SubAssembly{Code: "SA-20"}, store.Requirement{Called: "AN3-5A"}, "SA-20 needs a quantity above zero of AN3-5A: correct the list."},
		{
			"no expression",
			store.SubAssembly{Code: "SA-20"},
			store.Requirement{Called: "AN3-5A", Expression: "ten", Needed: measure.Quantity{Unit: measure.Each}},
			"The quantity \"ten\", at character 1: a number is expected, and not \"ten\": correct it.",
		},
		{
			"two figures",
			store.SubAssembly{Code: "SA-20"},
			store.Requirement{Called: "AN3-5A", Expression: "2 x 3", Needed: measure.Pieces(7)},
			"“2 x 3” comes to 6 ea, and 7 ea is given: correct one of them.",
		},
		{
			"two ways",
			store.SubAssembly{Code: "SA-20"},
			store.Requirement{Called: "AN960-10", Needed: one},
			"AN960-10 can be read in two ways: AN960-10 is NAS1149F0332P by list and NAS1149F0363P by letter: say which of them is meant.",
		},
		{"inside itself", store.SubAssembly{Code: "SA-10", Parent: "SA-10"}, store.Requirement{Called: "AN3-5A", Needed: one}, "SA-10 would be part of itself: choose another one for it to be part of."},
		{"inside what it holds", store.SubAssembly{Code: "SA-10", Parent: "SA-11"}, store.Requirement{Called: "AN3-5A", Needed: one}, "SA-10 would be part of itself: choose another one for it to be part of."},
		{"no kind", store.SubAssembly{Code: "SA-20"}, store.Requirement{Called: "AN3-5A", Needed: one, Kind: "some"}, "“some” is no kind of requirement: say exact, as required or temporary."},
		{"a stack of nothing", store.SubAssembly{Code: "SA-20"}, store.Requirement{Called: "AN3-5A", Needed: one, Stack: []store.Layer{{Name: "skin"}}}, "A part of the stack of AN3-5A has no thickness: type it."},
	} {
		t.Run(row.name, func(t *testing.T) {
			good := store.Requirement{Called: "AN3-6A", Needed: one}
			_, _, err := w.PutNeeds("", store.Needs{SubAssembly: row.sub, Requirements: []store.Requirement{good, row.need}})
			wantRefusal(t, err, store.Invalid, row.sentence)
			if got := newestSeq(w); got != entries {
				t.Errorf("%d entries, want %d: something was brought in", got, entries)
			}
		})
	}
}

// The builder's order is what is said of it, and the others follow as they were.
func TestOrderOfSubAssemblies(t *testing.T) {
	w := newWorld(t)
	for _, code := range []string{"SA-20", "SA-21", "SA-30"} {
		w.must(second(w.PutSubAssembly(store.SubAssembly{Code: code})))
	}
	order := func() (codes []string) {
		subs, err := w.SubAssemblies()
		w.must(err)
		for _, s := range subs {
			codes = append(codes, s.Code)
		}
		return codes
	}
	w.must(second(w.OrderSubAssemblies("SA-30", "SA-20")))
	if d := cmp.Diff([]string{"SA-30", "SA-20", "SA-10", "SA-21"}, order()); d != "" {
		t.Errorf("order (-want +got):\n%s", d)
	}
	w.must(second(w.Undo()))
	if d := cmp.Diff([]string{"SA-10", "SA-20", "SA-21", "SA-30"}, order()); d != "" {
		t.Errorf("order, undone (-want +got):\n%s", d)
	}
	_, err := w.OrderSubAssemblies("SA-30", "SA-30")
	wantRefusal(t, err, store.Invalid, "SA-30 is named twice: name each once.")
}

// An export of an older program is brought in as it is, and its needs are moved when the
// shop is opened; what that gives can be exported and brought in again.
func TestOlderExport(t *testing.T) {
	dir := t.TempDir()
	old, err := os.ReadFile(filepath.Join("..", "testdata", "store", "format5.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	lines := old
	for _, name := range []string{"once.stow", "again.stow"} {
		path := filepath.Join(dir, name)
		if err := exchange.Import(context.Background(), path, bytes.NewReader(lines)); err != nil {
			t.Fatal(err)
		}
		shop, err := store.Open(path, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		w := world{t: t, Shop: shop}
		want := []string{"R-1 AN3-5A: 6 ea", "R-2 AN960-10 is NAS1149F0363P: 12 ea"}
		if d := cmp.Diff(want, w.needs("SA-10")); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
		if got := newestSeq(w); got != 9 {
			t.Errorf("%s has %d entries, want 8 and that of the upgrade", name, got)
		}
		report, err := shop.Check(context.Background(), nil)
		if err != nil || !report.OK {
			t.Errorf("%s: %v, %v", name, report.Problems, err)
		}
		var out bytes.Buffer
		w.must(exchange.Export(context.Background(), shop, &out))
		lines = out.Bytes()
		w.must(shop.Close())
	}
}
