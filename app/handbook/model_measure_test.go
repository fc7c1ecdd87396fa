package handbook_test

import (
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/handbook"
	"stowright/app/session/sessiontest"
	"stowright/store/hardware"
)

// kindAt is the index of a kind.
func kindAt(k hardware.Kind) int { return slices.Index(handbook.Kinds(), k) }

func TestMeasure(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewMeasureModel(b.Session, func(handbook.MeasureState) {})
	for _, row := range []struct {
		name    string
		kind    hardware.Kind
		typed   []string // field and text in turn
		seen    map[string]hardware.Answer
		heading string
		first   string // designation of the first row
		under   string // part of what stands under it
		verdict string
		wrong   string // field that is wrong
		fact    string // part of the facts of the first
	}{
		{
			// NASM3-20: AN3-5A grip 1/4, length 21/32, thread 10-32.
			name: "a bolt of the shop", kind: hardware.Bolt, typed: []string{handbook.ReadDiameter, ".190", handbook.ReadGrip, "1/4", handbook.ReadLength, ".656", handbook.ReadThread, "10-32"},
			heading: "2 pieces fit", first: "AN3-5A", under: "in the shop", verdict: "AN3-5A and AN3-5 both fit", fact: "0.250: within 1/4 (0.250)",
		},
		{
			name: "the same with the hole looked for", kind: hardware.Bolt, typed: []string{handbook.ReadDiameter, "#10", handbook.ReadGrip, ".25", handbook.ReadLength, "21/32", handbook.ReadThread, "32"},
			seen: map[string]hardware.Answer{"shank": hardware.Yes}, heading: "1 piece fits", first: "AN3-5",
		},
		{
			// NAS1149 size 03: inside .203, outside .438, code 63 is .063 thick.
			name: "a washer in millimetres", kind: hardware.Washer, typed: []string{handbook.ReadInside, "5.16mm", handbook.ReadOutside, "11.1mm", handbook.ReadThickness, "1.6mm"},
			heading: "1 piece fits", first: "NAS1149F0363P", under: "also AN960-10 · in the shop",
		},
		{
			name: "a bolt by its pitch", kind: hardware.Bolt, typed: []string{handbook.ReadDiameter, ".25", handbook.ReadGrip, "7/16", handbook.ReadThread, "0.907mm"},
			seen: map[string]hardware.Answer{"shank": hardware.No}, first: "AN4-7A", // NASM3-20: 1/4-28, grip 7/16
		},
		{name: "nothing like it", kind: hardware.Bolt, typed: []string{handbook.ReadDiameter, "2.9"}, heading: "Nothing fits", verdict: "nothing in the tables fits", fact: "this rules it out"},
		{name: "no length", typed: []string{handbook.ReadDiameter, "thick"}, heading: "Measure what you can", wrong: handbook.ReadDiameter},
		{name: "no thread", typed: []string{handbook.ReadThread, "fine"}, heading: "Measure what you can", wrong: handbook.ReadThread},
		{name: "nothing yet", heading: "Measure what you can"},
	} {
		t.Run(row.name, func(t *testing.T) {
			m.Clear()
			m.SetKind(kindAt(row.kind))
			for i := 0; i+1 < len(row.typed); i += 2 {
				m.Type(row.typed[i], row.typed[i+1])
			}
			for name, answer := range row.seen {
				m.See(name, answer)
			}
			b.Drain()
			s := m.State()
			if !strings.HasPrefix(s.Heading, row.heading) {
				t.Errorf("%v: got %q, want %q", row.typed, s.Heading, row.heading)
			}
			first, under := "", ""
			if len(s.Rows) > 0 {
				first, under = s.Rows[0].ID, s.Rows[0].Cells[0].Sub
			}
			if row.first != "" && first != row.first || !strings.Contains(under, row.under) {
				t.Errorf("%v: the first is %s, %q; want %s, %q", row.typed, first, under, row.first, row.under)
			}
			if row.first != "" && s.Card.Designation != row.first {
				t.Errorf("the card is of %q, want %s", s.Card.Designation, row.first)
			}
			if got := said(s.Verdict); !strings.Contains(got, row.verdict) {
				t.Errorf("%v: it says %q, want %q", row.typed, got, row.verdict)
			}
			if (row.wrong != "") != (s.Wrong[row.wrong] != "") || row.wrong == "" && len(s.Wrong) > 0 {
				t.Errorf("%v: wrong are %v, want %q", row.typed, s.Wrong, row.wrong)
			}
			var facts []string
			for _, f := range s.Facts {
				facts = append(facts, f.Text+" "+f.Mark)
			}
			if got := strings.Join(facts, "; "); !strings.Contains(got, row.fact) {
				t.Errorf("%v: facts %q, want %q", row.typed, got, row.fact)
			}
		})
	}
}

// The shop is ranked first and hides nothing: what fits and is not there follows.
func TestMeasureHidesNothing(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewMeasureModel(b.Session, func(handbook.MeasureState) {})
	m.SetKind(kindAt(hardware.Bolt))
	m.Type(handbook.ReadDiameter, ".190")
	b.Drain()
	in, out := 0, 0
	for _, r := range m.State().Rows {
		if strings.Contains(r.Cells[0].Sub, "in the shop") {
			if in++; out > 0 {
				t.Errorf("%s of the shop comes after %d that are not", r.ID, out)
			}
		} else {
			out++
		}
	}
	if in == 0 || out == 0 {
		t.Errorf("%d of the shop and %d others, want both", in, out)
	}
}

// A kind that has no grip forgets the grip; choosing another row shows how the
// readings stand to it; an answer that comes late is dropped.
func TestMeasureFollowsTheHand(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewMeasureModel(b.Session, func(handbook.MeasureState) {})
	m.SetKind(kindAt(hardware.Bolt))
	m.Type(handbook.ReadDiameter, ".190")
	m.Type(handbook.ReadGrip, "1/4")
	m.SetKind(kindAt(hardware.Nut))
	if _, kept := m.State().Typed[handbook.ReadGrip]; kept || m.State().Typed[handbook.ReadDiameter] == "" {
		t.Errorf("a nut keeps %v, want the diameter alone", m.State().Typed)
	}
	m.SetKind(kindAt(hardware.Bolt))
	m.Type(handbook.ReadGrip, "3/8")
	b.Drain()
	for _, r := range m.State().Rows {
		if r.ID == "AN3-5A" && !r.Dim {
			t.Error("a grip of 3/8 is taken for 1/4")
		}
	}
	m.Choose(1)
	b.Drain()
	s := m.State()
	if s.Chosen != 1 || s.Card.Designation != s.Rows[1].ID || len(s.Facts) != 2 {
		t.Errorf("chosen %d with the card of %q and %d facts", s.Chosen, s.Card.Designation, len(s.Facts))
	}
	m.Choose(99)
	m.Type(handbook.ReadGrip, "1/4")
	m.Clear()
	b.Drain()
	if s := m.State(); len(s.Rows) > 0 || !s.Card.Empty() || len(s.Typed) > 0 {
		t.Errorf("after clearing: %d rows, card of %q, typed %v", len(s.Rows), s.Card.Designation, s.Typed)
	}
}
