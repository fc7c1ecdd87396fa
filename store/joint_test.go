package store_test

import (
	"fmt"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// spar is a stack of so many parts, each an eighth of an inch thick.
func spar(parts int) []store.Layer {
	stack := make([]store.Layer, parts)
	for i := range stack {
		stack[i] = store.Layer{Name: "spar", Thickness: measure.Inches(1, 8)}
	}
	return stack
}

// joints are the lines of a sub-assembly that are in a joint: "R-2 hinge spar 1/8 (0.125)".
func (w world) joints(code string) string {
	w.t.Helper()
	listed, err := w.Requirements(code)
	w.must(err)
	var lines []string
	for _, r := range listed {
		if r.Joint == "" {
			continue
		}
		line := r.Name() + " " + r.Joint
		for _, l := range r.Stack {
			line += fmt.Sprintf(" %s %s", l.Name, l.Thickness)
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "; ")
}

// A joint is said of the lines of a list and takes nothing away from them; it is said
// anew, taken back, and undone.
func TestPutJoint(t *testing.T) {
	w := newWorld(t)
	listed := store.Needs{SubAssembly: store.SubAssembly{Code: "SA-21"}}
	for _, called := range []string{"AN3-5A", "AN365-1032A", "AN960-10", "AN4-12A"} {
		listed.Requirements = append(listed.Requirements, store.Requirement{Called: called, Needed: measure.Pieces(6)})
	}
	_, _, err := w.PutNeeds("", listed)
	w.must(err)
	before := w.needs("SA-21")

	e, err := w.PutJoint("SA-21", " hinge ", []string{"r-2", "R-3"}, spar(1))
	w.must(err)
	if want := "SA-21: R-2 and R-3 are the joint hinge, through spar 1/8 (0.125)"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	if got, want := w.joints("SA-21"), "R-2 hinge spar 1/8 (0.125); R-3 hinge"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	w.must(second(w.PutJoint("SA-21", "HINGE", []string{"R-4", "R-2"}, spar(2))))
	if got, want := w.joints("SA-21"), "R-2 HINGE; R-4 HINGE spar 1/8 (0.125) spar 1/8 (0.125)"; got != want {
		t.Errorf("said anew: got %q, want %q", got, want)
	}
	if after := w.needs("SA-21"); strings.Join(before, "\n") != strings.Join(after, "\n") {
		t.Errorf("what is called was changed:\n%s\nwas\n%s", strings.Join(after, "\n"), strings.Join(before, "\n"))
	}
	w.must(second(w.Undo()))
	if got, want := w.joints("SA-21"), "R-2 hinge spar 1/8 (0.125); R-3 hinge"; got != want {
		t.Errorf("undone: got %q, want %q", got, want)
	}
	w.must(second(w.PutJoint("SA-21", "hinge", nil, nil)))
	if got := w.joints("SA-21"); got != "" {
		t.Errorf("taken back: %q", got)
	}
}

func TestPutJointRefusals(t *testing.T) {
	w := newWorld(t)
	_, _, err := w.PutNeeds("", store.Needs{SubAssembly: store.SubAssembly{Code: "SA-21"}, Requirements: []store.Requirement{
		{Called: "AN3-5A", Needed: measure.Pieces(6)}, {Called: "AN365-1032A", Needed: measure.Pieces(6)}, {Called: "AN4-12A", Needed: measure.Pieces(2)},
	}})
	w.must(err)
	w.must(second(w.PutJoint("SA-21", "horn", []string{"R-4"}, spar(1))))
	w.must(second(w.EndRequirement("R-3", "sealed")))
	entries := newestSeq(w)
	for name, row := range map[string]struct {
		code, joint string
		of          []string
		stack       []store.Layer
		kind        store.Kind
		sentence    string
	}{
		"no name":               {"SA-21", " ", []string{"R-2"}, spar(1), store.Invalid, "The name of the joint is empty: type it."},
		"no line":               {"SA-21", "hinge", nil, spar(1), store.Invalid, "The joint “hinge” has parts to go through, and no line: name its bolt, as in R-31."},
		"no stack":              {"SA-21", "hinge", []string{"R-2"}, nil, store.Invalid, "The joint “hinge” goes through nothing: type how thick each part is."},
		"too many parts":        {"SA-21", "hinge", []string{"R-2"}, spar(21), store.Invalid, "The joint “hinge” goes through more than 20 parts: type those of one bolt."},
		"no thickness":          {"SA-21", "hinge", []string{"R-2"}, []store.Layer{{Name: "skin"}}, store.Invalid, "A part of the stack of AN3-5A has no thickness: type it."},
		"in another joint":      {"SA-21", "hinge", []string{"R-2", "R-4"}, spar(1), store.Conflict, "R-4 is in the joint horn already: take it out of that one first."},
		"ended":                 {"SA-21", "hinge", []string{"R-2", "R-3"}, spar(1), store.Conflict, "R-3 is in force no more: see what took its place."},
		"twice":                 {"SA-21", "hinge", []string{"R-2", "r-2"}, spar(1), store.Invalid, "R-2 is named twice: name it once."},
		"of another":            {"SA-21", "hinge", []string{"R-1"}, spar(1), store.Invalid, "R-1 is of SA-10: a joint is of one sub-assembly."},
		"none to be taken back": {"SA-21", "hinge", nil, nil, store.NotFound, "There is no joint “hinge” in SA-21: see which ones there are."},
		"no sub-assembly":       {"SA-99", "hinge", []string{"R-2"}, spar(1), store.NotFound, "There is no sub-assembly “SA-99” in this shop: make it first, or see how its code is spelled."},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := w.PutJoint(row.code, row.joint, row.of, row.stack)
			wantRefusal(t, err, row.kind, row.sentence)
			if got := newestSeq(w); got != entries {
				t.Errorf("%d entries, want %d", got, entries)
			}
		})
	}
	w.must(second(w.CloseSubAssembly("SA-21", w.answers("SA-21", "as it is"))))
	if _, err := w.PutJoint("SA-21", "hinge", []string{"R-2"}, spar(1)); store.KindOf(err) != store.Conflict {
		t.Errorf("a closed one is changed: %v", err)
	}
}
