package build

import (
	"reflect"
	"strings"
	"testing"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// jointWith is a sub-assembly of one joint with a stack of so many thousandths of an inch.
func jointWith(t testing.TB, thousandths int64, list string) SubAssembly {
	t.Helper()
	s := listOf(t, list)
	for i := range s.Requirements {
		s.Requirements[i].Joint = "hinge"
	}
	if thousandths > 0 {
		s.Requirements[0].Stack = []Layer{{"spar", measure.Inches(thousandths-63, 1000)}, {"plate", measure.Inches(63, 1000)}}
	}
	return s
}

// The verdict of the tables of grips on a joint as it is called, with what it rests on.
func TestJoints(t *testing.T) {
	for _, row := range []struct {
		name        string
		thousandths int64
		list        string
		verdict     JointVerdict
		sentence    string
	}{
		{"as called", 188, "6 AN3-5A, 6 AN365-1032A, 12 AN960-10", JointFits, "AN3-5A fits a stack of 0.188 with "},
		{"washers not called", 188, "6 AN3-5A, 6 AN365-1032A", JointWashers, "AN3-5A fits a stack of 0.188 with NAS1149F0363P and NAS1149F0363P under the nut: 2 more than called; is that meant?"},
		{"thread in the hole", 375, "6 AN3-5A, 6 AN365-1032A, 12 AN960-10", JointDoesNot, "AN3-5A in a stack of 3/8 (0.375): thread in the hole: 0.188, 6.0 threads; the grip is too short [NAVEDTRA 14014 "},
		{"far from it", 125, "6 AN3-11A, 6 AN365-1032A, 12 AN960-10", JointDoesNot, "the grip of AN3-11A is far from a stack of 1/8 (0.125): is that meant?"},
		{"no stack", 0, "6 AN3-5A, 6 AN365-1032A", JointUnlisted, "AN3-5A: give the thickness of the parts that it goes through"},
		{"washers for some", 188, "6 AN3-5A, 6 AN365-1032A, 11 AN960-10", JointUnknown, "cannot check: 11 AN960-10 for 6 bolts are not the same number for each"},
		{"four washers", 188, "6 AN3-5A, 6 AN365-1032A, 24 AN960-10", JointUnknown, "cannot check: 4 washers and more at a bolt; aircraft association hardware sheet; builders' forum: no more than 3 in a stack"},
		{"two bolts", 188, "6 AN3-5A, 6 AN3-6A, 12 AN960-10", JointUnknown, "cannot check: two bolts are called, AN3-5A and AN3-6A"},
		{"two nuts", 188, "6 AN3-5A, 3 AN365-1032A, 3 AN310-3", JointUnknown, "cannot check: two nuts are called, AN365-1032A and AN310-3"},
		{"no bolt", 188, "6 AN365-1032A", JointUnknown, "cannot check: no bolt of the tables is called"},
		{"a nut of another thread", 188, "6 AN3-5A, 6 AN365-428A", JointUnknown, "cannot check: nut AN365-428A has thread 1/4-28, the bolt 10-32"},
		{"a castle nut on a plain shank", 188, "6 AN3-5A, 6 AN310-3, 12 AN960-10", JointDoesNot, "AN3-5A has no cotter-pin hole, and AN310-3 is locked by a pin [AC 43.13-1B par. 7-38]: is a drilled shank meant?"},
		{"a castle nut on a drilled one", 188, "6 AN3-5, 6 AN310-3, 12 AN960-10", JointFits, "AN3-5 fits a stack of 0.188 with "},
		{"a nut of unknown height", 188, "6 AN3-5A, 6 MS21042-3, 12 AN960-10", JointUnknown, "cannot check: thread past the nut: unknown, no height of this nut in the tables; at least one thread must show: measure the nut [AC 43.13-1B par. 7-37]"},
		{"no nut", 188, "6 AN3-5A, 12 AN960-10", JointUnknown, "cannot check: thread past the nut: unknown while no nut is named; at least one thread must show [AC 43.13-1B par. 7-37]"},
		{"no grip in the tables", 188, "6 AN23-10, 6 AN320-3", JointUnknown, "cannot check: AN23: no published table gives the grip"},
	} {
		t.Run(row.name, func(t *testing.T) {
			sub := jointWith(t, row.thousandths, row.list)
			before := jointWith(t, row.thousandths, row.list)
			got := Joints(hardware.Standard(), sub)
			if len(got) != 1 || got[0].Joint != "hinge" || got[0].Verdict != row.verdict || !strings.HasPrefix(got[0].Sentence, row.sentence) {
				t.Fatalf("got %+v", got)
			}
			for _, f := range got[0].Findings {
				if f.Source == "" {
					t.Errorf("%q is cited from nowhere", f.Text)
				}
			}
			if !reflect.DeepEqual(sub, before) {
				t.Error("the plan was changed")
			}
		})
	}
}

// It is the verdict of the Bolt page on the same joint.
func TestJointIsTheBoltPage(t *testing.T) {
	got := Joints(hardware.Standard(), jointWith(t, 188, "6 AN3-5A, 6 AN365-1032A, 12 AN960-10"))[0]
	answer, err := hardware.Standard().ChooseBolt(hardware.Joint{
		Layers: []hardware.Ply{{Name: "spar", Thickness: measure.Inches(125, 1000)}, {Name: "plate", Thickness: measure.Inches(63, 1000)}},
		Series: "AN3", Nut: "AN365-1032A", HeadWashers: []string{"AN960-10"}, NutWashers: []string{"AN960-10"},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range answer.Choices {
		if c.Designation == "AN3-5A" && !reflect.DeepEqual(c.Findings, got.Findings) {
			t.Errorf("the Bolt page finds %+v, the joint %+v", c.Findings, got.Findings)
		}
	}
	if !reflect.DeepEqual(answer.Cautions, got.Cautions) || len(got.Cautions) == 0 {
		t.Error("its cautions are others")
	}
}

// Where two lines of a joint say differently what it goes through, nobody guesses.
func TestJointOfTwoStacks(t *testing.T) {
	s := jointWith(t, 188, "6 AN3-5A, 6 AN365-1032A, 12 AN960-10")
	s.Requirements[1].Stack = s.Requirements[0].Stack
	if got := Joints(hardware.Standard(), s)[0]; got.Verdict != JointFits || len(got.Requirements) != 3 || len(got.Stack) != 2 {
		t.Errorf("said twice alike: %+v", got)
	}
	s.Requirements[2].Stack = []Layer{{"plate", measure.Inches(1, 8)}}
	if got := Joints(hardware.Standard(), s)[0]; got.Verdict != JointUnknown || got.Sentence != "cannot check: two lines say differently what the bolt goes through" {
		t.Errorf("said in two ways: %+v", got)
	}
}

// Joints are told apart by name, and what is in none is left alone.
func TestJointsByName(t *testing.T) {
	s := jointWith(t, 188, "6 AN3-5A, 6 AN365-1032A")
	other := jointWith(t, 188, "2 AN3-6A, 2 AN365-1032A").Requirements
	for i := range other {
		other[i].Joint = "horn"
	}
	s.Requirements = append(append(s.Requirements, other...), Requirement{Called: "AN4-12A", Item: "AN4-12A", Needed: measure.Pieces(1)})
	got := Joints(hardware.Standard(), s)
	if len(got) != 2 || got[0].Bolt != "AN3-5A" || got[1].Bolt != "AN3-6A" || got[1].Joint != "horn" {
		t.Errorf("joints are %+v", got)
	}
}

// What makes a joint with a bolt is proposed by thread and size; what is in a joint, or is
// no part of one, is left alone.
func TestJointWith(t *testing.T) {
	s := listOf(t, "6 AN3-5A, 4 AN4-12A, 6 AN365-1032A, 4 AN365-428A, 12 AN960-10, 8 AN960-416, 6 MS24665-132, 2 MS21047L3, 2 AN310-3")
	for i := range s.Requirements {
		s.Requirements[i].ID = s.Requirements[i].Item
	}
	s.Requirements[8].Joint = "horn"
	for id, want := range map[string]string{
		"AN3-5A": "AN3-5A AN365-1032A AN960-10 MS21047L3", "AN4-12A": "AN4-12A AN365-428A AN960-416", "AN365-1032A": "", "R-99": "",
	} {
		if got := strings.Join(JointWith(hardware.Standard(), s, id), " "); got != want {
			t.Errorf("with %s: got %q, want %q", id, got, want)
		}
	}
}
