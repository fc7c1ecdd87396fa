package handbook

import (
	"strings"
	"testing"

	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/session/sessiontest"
)

// words are the facts of an answer in one text.
func words(facts []card.Fact) string {
	var all []string
	for _, f := range facts {
		all = append(all, f.Name+": "+f.Text+" ["+f.Source+"]")
	}
	return strings.Join(all, "\n")
}

func TestChooseBolt(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := NewBoltModel(b.Session, func(BoltState) {})
	for _, row := range []struct {
		name    string
		form    BoltForm
		heading string
		first   string
		facts   string // part of what is said of the first
		problem string
		caution string
	}{
		// AC 43.13-1B par. 7-37: the grip equals the thickness; a washer takes up the rest.
		{name: "a stack", form: BoltForm{Series: "AN3", Stack: ".312"}, heading: "2 bolts fit a stack of 0.312", first: "AN3-6A", facts: "washers: NAS1149F0363P and NAS1149F0363P under the nut", caution: "never use a cotter pin or safety wire twice"},
		{name: "layers with names", form: BoltForm{Series: "an 3", Stack: "spar .125, rib 3/16"}, heading: "2 bolts fit a stack of 5/16", first: "AN3-6A", facts: "AC 43.13-1B par. 7-37 · 2 sources agree"},
		{name: "a castle nut wants a hole", form: BoltForm{Series: "AN3", Stack: ".312", Nut: 2}, heading: "2 bolts fit", first: "AN3-6", caution: "Castle nut"},
		{name: "a washer that was asked for", form: BoltForm{Series: "AN3", Stack: ".312", Under: 1}, first: "AN3-6A", facts: "NAS1149F0332P"},
		{name: "under the head as well", form: BoltForm{Series: "AN3", Stack: ".25", Head: 1}, first: "AN3-5A", facts: "under the head"},
		{name: "the height of the nut measured", form: BoltForm{Series: "AN3", Stack: ".312", Nut: 4, Height: ".25"}, first: "AN3-6A", facts: "Past the nut: 0.09325, 3.0 threads"},
		{name: "no nut named", form: BoltForm{Series: "AN3", Stack: ".312", Nut: 4}, heading: "Cannot tell which bolt fits a stack of 0.312", first: "AN3-6A", facts: "unknown while no nut is named", caution: "Torque: tension nut 20 to 25 in-lb"},
		{name: "a nut of another thread", form: BoltForm{Series: "AN3", Stack: ".312", Nut: 4, Other: "AN310-4"}, heading: "No answer", problem: "Nut AN310-4 has thread 1/4-28"},
		{name: "no published grip", form: BoltForm{Series: "AN9", Stack: ".5"}, heading: "No answer", problem: "no published table gives the grip"},
		{name: "no bolt", form: BoltForm{Series: "AN470", Stack: ".5"}, problem: "is not a bolt series"},
		{name: "no thickness", form: BoltForm{Series: "AN3", Stack: "thick"}, problem: "write each thickness like"},
		{name: "no height", form: BoltForm{Series: "AN3", Stack: ".3", Height: "high"}, problem: "height of the nut is not a length"},
		{name: "nothing yet", form: BoltForm{Series: "AN3"}, heading: "A bolt for a stack"},
	} {
		t.Run(row.name, func(t *testing.T) {
			m.Set(row.form)
			b.Drain()
			s := m.State()
			first := ""
			if len(s.Rows) > 0 {
				first = s.Rows[0].ID
			}
			if !strings.HasPrefix(s.Heading, row.heading) || first != row.first {
				t.Errorf("%+v: got %q with %s first, want %q with %s (%s)", row.form, s.Heading, first, row.heading, row.first, s.Problem)
			}
			if got := words(s.Facts); !strings.Contains(got, row.facts) {
				t.Errorf("%+v: said of the first\n%s\nwant %q", row.form, got, row.facts)
			}
			if !strings.Contains(s.Problem, row.problem) || (row.problem == "") != (s.Problem == "") {
				t.Errorf("%+v: problem %q, want %q", row.form, s.Problem, row.problem)
			}
			if got := words(s.Cautions); !strings.Contains(got, row.caution) {
				t.Errorf("%+v: cautions\n%s\nwant %q", row.form, got, row.caution)
			}
			if drawn := s.Section != nil; drawn != (row.first != "") {
				t.Errorf("%+v: drawn %v", row.form, drawn)
			}
		})
	}
}

// Another bolt can be looked at; it stays chosen while the stack changes, and is
// shown with why it does not fit.
func TestPickAnotherBolt(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := NewBoltModel(b.Session, func(BoltState) {})
	m.Set(BoltForm{Series: "AN3", Stack: ".312"})
	b.Drain()
	m.Pick(2)
	b.Drain()
	chosen := m.State().Rows[2].ID
	m.Set(BoltForm{Series: "AN3", Stack: ".311"})
	b.Drain()
	s := m.State()
	if s.Rows[s.Chosen].ID != chosen || s.Card.Designation != chosen || !strings.Contains(words(s.Facts), "wrong: ") {
		t.Errorf("chosen is %s with the card of %s, want %s and what is wrong with it:\n%s", s.Rows[s.Chosen].ID, s.Card.Designation, chosen, words(s.Facts))
	}
	if want := "AN365-1032 MS21042-3 AN310-3 AN364-1032"; strings.Join(s.Nuts, " ") != want {
		t.Errorf("nuts of AN3: got %q, want %s", s.Nuts, want)
	}
	for _, row := range []struct {
		series string
		nut    int
		want   string // the nut that is chosen then; "" for another one
	}{{"AN4", 2, "AN310-4"}, {"AN5", 0, "AN365-524"}, {"AN470", 0, ""}, {"AN3", 4, ""}, {"AN4", 4, ""}} {
		m.Set(BoltForm{Series: row.series, Stack: ".313", Nut: row.nut})
		b.Drain()
		s, got := m.State(), ""
		if s.Form.Nut < len(s.Nuts) {
			got = s.Nuts[s.Form.Nut]
		}
		if got != row.want {
			t.Errorf("%s after nut %d: got nut %q of %q, want %q", row.series, row.nut, got, s.Nuts, row.want)
		}
	}
}

func TestChooseRivet(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := NewRivetModel(b.Session, func(RivetState) {})
	for _, row := range []struct {
		name, first, facts, problem string
		form                        RivetForm
		rows                        int
	}{
		// AC 43.13-1B par. 4-57 and 4-58 g: about three times the thickest sheet, thickness and 1.5 D.
		{name: "two sheets", form: RivetForm{Sheets: ".032, .040"}, first: "AN470AD4-4", facts: "[AC 43.13-1B par. 4-57", rows: 6},
		{name: "flush", form: RivetForm{Sheets: "skin .032, rib .032", Head: 2}, first: "AN426AD3-3.5", facts: "Edge distance at least 15/64", rows: 2},
		{name: "dome", form: RivetForm{Sheets: ".032,.032", Head: 1}, first: "AN470AD3-3.5", facts: "in 5052 of any hardness takes 6.3 rivets", rows: 2},
		{name: "the diameter of the plans", form: RivetForm{Sheets: ".125, .125", Diameter: "1/8"}, first: "AN470AD4-7", rows: 6},
		{name: "another material", form: RivetForm{Sheets: ".032, .032", Material: 1}, first: "AN470A3-3.5", rows: 4},
		{name: "too thick", form: RivetForm{Sheets: ".5"}, problem: "it asks for a bolt"},
		{name: "no diameter", form: RivetForm{Sheets: ".032", Diameter: "wide"}, problem: "diameter is not a length"},
		{name: "no sheet", form: RivetForm{Sheets: "thin"}, problem: "write each thickness like"},
		{name: "nothing yet"},
	} {
		t.Run(row.name, func(t *testing.T) {
			m.Set(row.form)
			b.Drain()
			s := m.State()
			first := ""
			if len(s.Rows) > 0 {
				first = s.Rows[0].ID
			}
			if first != row.first || len(s.Rows) != row.rows {
				t.Errorf("%+v: got %s first of %d, want %s of %d", row.form, first, len(s.Rows), row.first, row.rows)
			}
			if got := words(s.Facts); !strings.Contains(got, row.facts) {
				t.Errorf("%+v: said of the first\n%s\nwant %q", row.form, got, row.facts)
			}
			if !strings.Contains(s.Problem, row.problem) || (row.problem == "") != (s.Problem == "") {
				t.Errorf("%+v: problem %q, want %q", row.form, s.Problem, row.problem)
			}
		})
	}
}
