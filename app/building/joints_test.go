package building

import (
	"strings"
	"testing"

	"stowright/app/notice"
	"stowright/store/build"
)

// The tray of a sub-assembly shows what the tables of grips say of its joints, with what
// it rests on; J says what a bolt goes through, and nothing of the plan changes by it.
func TestJointsAtTheBench(t *testing.T) {
	b := extended(t, false)
	m := benchFor(t, b, "SA-41")
	listed, err := b.Shop.Requirements("SA-41")
	if err != nil {
		t.Fatal(err)
	}
	s := m.State()
	if want := "Joint hinge, AN3-5A, does not fit."; s.Asked != want {
		t.Errorf("asked %q, want %q", s.Asked, want)
	}
	if got := s.Rows[0].Cells[0].Sub; !strings.HasPrefix(got, "joint hinge: does not fit · ") {
		t.Errorf("the bolt says %q", got)
	}
	if got := s.Rows[2].Cells[0].Sub; strings.Contains(got, "joint") {
		t.Errorf("the nut says %q", got)
	}
	if n := s.Card.Beware; len(n) != 1 || n[0].Tone != notice.Stop || n[0].Lead != "Joint hinge:" || !strings.Contains(n[0].Text, "[AC 43.13-1B par. 7-37]") {
		t.Errorf("the card says %+v", n)
	}

	line, _ := m.line()
	if q := jointQuestion(m.BenchModel, line); q.Text != "spar 0.188, bracket 0.190" {
		t.Errorf("J proposes %q", q.Text)
	}
	m.does("J", "AN3-5A", "spar .125, bracket .063", "")
	if s = m.State(); s.Asked != "" || s.Card.Beware[0].Tone != notice.OK || !strings.Contains(strings.Join(s.Card.Notes, "|"), "past the nut: ") {
		t.Errorf("of another stack: asked %q, card %+v", s.Asked, s.Card)
	}
	m.does("J", "AN365-1032A", "none", "")
	if s = m.State(); len(s.Card.Beware) != 0 {
		t.Errorf("without a joint the card says %+v", s.Card.Beware)
	}
	m.does("J", "AN3-5A", "spar .125, bracket .063", "")
	m.does("J", "AN3-5A", "r-15 r-17 through .125, .063, .190", "")
	after, err := b.Shop.Requirements("SA-41")
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range after {
		if joint := map[string]string{"R-15": "R-15", "R-17": "R-15"}[r.Name()]; r.Joint != joint {
			t.Errorf("%s is in the joint %q, want %q", r.Name(), r.Joint, joint)
		}
		r.Joint, r.Stack, listed[i].Joint, listed[i].Stack = "", nil, "", nil
		if r.Name() != listed[i].Name() || r.Called != listed[i].Called || r.Quantity() != listed[i].Quantity() {
			t.Errorf("the plan was changed: %+v, was %+v", r, listed[i])
		}
	}
}

func TestJointIsRefused(t *testing.T) {
	b := extended(t, false)
	m := benchFor(t, b, "SA-10")
	for _, row := range []struct{ item, typed, want string }{
		{"AN426AD3-3.5", ".125", "AN426AD3-3.5 is no bolt of the tables: choose the line of the bolt"},
		{"AN3-5A", "  ", "Type what the bolt goes through, as in spar .125"},
		{"AN3-5A", "these through .125", "Name the lines of the list before through"},
		{"AN3-5A", "thick", "“thick”: write each thickness like .125"},
		{"AN3-5A", "R-99 through .125", "There is no requirement “R-99”"},
	} {
		if said := m.key("J", row.item, row.typed, ""); !strings.HasPrefix(said, "refused: "+row.want) {
			t.Errorf("%q on %s: %s", row.typed, row.item, said)
		}
	}
}

// Many joints of one bolt are said by how many stand how, and a page names a few of them.
func TestJointWords(t *testing.T) {
	of := func(verdicts ...build.JointVerdict) []build.JointCheck {
		var all []build.JointCheck
		for i, v := range verdicts {
			all = append(all, build.JointCheck{Joint: string(rune('a' + i)), Bolt: "AN3-5A", Verdict: v})
		}
		return all
	}
	no, fits, washers, unknown := build.JointDoesNot, build.JointFits, build.JointWashers, build.JointUnknown
	for _, row := range []struct {
		joints      []build.JointCheck
		row, doubts string
	}{
		{nil, "", ""},
		{of(fits), "joint a: fits", ""},
		{of(fits, unknown, fits), "3 joints: 2 fitting, 1 not to be checked", ""},
		{of(no, washers), "2 joints: 1 not fitting, 1 with other washers", "Joint a, AN3-5A, does not fit; joint b, AN3-5A, fits with other washers."},
		{of(no, no, no, no, no), "5 joints: 5 not fitting", "Joint a, AN3-5A, does not fit; joint b, AN3-5A, does not fit; joint c, AN3-5A, does not fit; and 2 more."},
	} {
		if got := inJoints(row.joints); got != row.row {
			t.Errorf("got %q, want %q", got, row.row)
		}
		if got := doubted(row.joints); got != row.doubts {
			t.Errorf("got %q, want %q", got, row.doubts)
		}
	}
}
