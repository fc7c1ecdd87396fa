package handbook_test

import (
	"fmt"
	"strings"
	"testing"

	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/handbook"
	"stowright/app/session/sessiontest"
	"stowright/store/hardware"
)

func TestTables(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewTablesModel(b.Session, func(handbook.TablesState) {})
	all := len(m.State().Families)
	if want := len(hardware.Standard().Families()); all != want || m.State().Chosen != 0 {
		t.Errorf("%d families with %d chosen, want %d with the first", all, m.State().Chosen, want)
	}
	for i := range all {
		m.Choose(i)
		s := m.State()
		if source := s.Facts[0].Source; source == "" {
			t.Errorf("%s has no source", s.Families[i].ID)
		}
		for at := range s.Series {
			m.ChooseSeries(at)
			if s := m.State(); len(s.Numbers) == 0 && s.Note == "" {
				t.Errorf("%s lists no numbers and does not say why", s.Series[at])
			}
		}
	}
	m.Filter("RIVET flush")
	if s := m.State(); len(s.Families) == 0 || len(s.Families) == all {
		t.Errorf("%d of %d families are flush rivets", len(s.Families), all)
	}
	m.Filter("MS35207")
	if facts := factWords(m.State().Facts); len(m.State().Families) != 1 || !strings.Contains(facts, "written: MS35207 number") || !strings.Contains(facts, "size: unknown") {
		t.Errorf("of MS35207 it says\n%s", facts)
	}
	m.Filter("NAS1738")
	if facts := factWords(m.State().Facts); !strings.Contains(facts, "diameter: from memory") || !strings.Contains(facts, "shank diameter: unknown") {
		t.Errorf("of NAS1738 it says\n%s", facts)
	}
	m.Filter("turnbuckle barrel")
	if n := len(m.State().Families); n != 2 {
		t.Errorf("%d families of turnbuckle barrels, want AN155 and MS21251", n)
	}
	m.Filter("zzz")
	if s := m.State(); len(s.Families) > 0 || s.Chosen != -1 || len(s.Numbers) > 0 {
		t.Errorf("nothing answers to zzz, yet %+v", s)
	}
	m.Filter("an3 to an20")
	m.Show("AN3-5A")
	b.Drain()
	if got := m.State().Card.Place; got != "Garage, Cabinet A, drawer A-12" {
		t.Errorf("the card of AN3-5A says it is in %q", got)
	}
	m.Choose(99)
	m.ChooseSeries(99)
}

// TestTablesBreadth: every family says how well it is known, families of a kind
// stand together, and what they add up to is said.
func TestTablesBreadth(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewTablesModel(b.Session, func(handbook.TablesState) {})
	marks := map[string]string{}
	var kinds []string
	kindOf := map[string]string{}
	for _, f := range hardware.Standard().Families() {
		kindOf[f.Name] = string(f.Kind)
	}
	for _, row := range m.State().Families {
		marks[row.ID] = row.Cells[1].Mark.Word
		if k := kindOf[row.ID]; len(kinds) == 0 || kinds[len(kinds)-1] != k {
			kinds = append(kinds, k)
		}
	}
	seen := map[string]bool{}
	for _, k := range kinds {
		if seen[k] {
			t.Errorf("families of the kind %s stand apart", k)
		}
		seen[k] = true
	}
	// Counts of FAMILIES.md.
	for family, want := range map[string]string{
		"AN3 to AN20: Bolt": "4 sources", "AN735: Clamp": "memory", "AN737: Hose clamp": "name only", "MS35207: Pan-head screw": "name only", "MS21919: Cushioned clamp": "1 source",
	} {
		if marks[family] != want {
			t.Errorf("%s is best known by %q, want %q", family, marks[family], want)
		}
	}
	only := 0
	for _, word := range marks {
		if word == "name only" {
			only++
		}
	}
	if want := fmt.Sprintf("%d families: ", len(marks)); !strings.HasPrefix(m.State().Breadth, want) || !strings.Contains(m.State().Breadth, fmt.Sprintf("of %d only the name", only)) {
		t.Errorf("it says %q; want %s and %d names", m.State().Breadth, want, only)
	}
}

// TestTablesByNumber: a whole number leads to its family and its series; one that
// the tables refuse leads there too and is said to be refused.
func TestTablesByNumber(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewTablesModel(b.Session, func(handbook.TablesState) {})
	for _, tt := range []struct{ typed, family, series, said, number string }{
		{"an4-7a", "AN3 to AN20: Bolt", "AN4", "AN4-7A: Bolt, steel", "AN4-7A"},
		{"AN742-6", "AN742: Clamp", "AN742", "AN742-6: Clamp", "AN742-6"},
		{"AN3-8A", "AN3 to AN20: Bolt", "AN3", "AN3-8A does not exist", ""},
		{"AN999-4", "", "", "AN999 is not a series", ""},
		{"OQ-10-001", "", "", "", ""},
	} {
		m.Filter(tt.typed)
		s := m.State()
		family, series := "", ""
		if len(s.Families) > 0 {
			family, series = s.Families[0].ID, s.Series[s.At]
		}
		if family != tt.family || series != tt.series || !strings.Contains(s.Breadth, tt.said) || s.Number != tt.number || (family == "") != (s.None != "" && len(s.Families) == 0) {
			t.Errorf("%s: got %q %q %q %q, none %q", tt.typed, family, series, s.Breadth, s.Number, s.None)
		}
	}
}

// factWords is what facts say in one text.
func factWords(facts []card.Fact) string {
	var b strings.Builder
	for _, f := range facts {
		b.WriteString(f.Name + ": " + f.Text + "\n")
	}
	return b.String()
}

// Check values of AC 43.13-1B table 7-1.
func TestTorque(t *testing.T) {
	rows := handbook.TorqueRows(hardware.Standard())
	found := map[string]string{}
	for _, r := range rows {
		var cells []string
		for _, c := range r.Cells {
			cells = append(cells, strings.TrimSpace(c.Text+" "+c.Sub))
		}
		found[r.ID] = strings.Join(cells, " | ")
		if len(r.Cells) != len(handbook.TorqueColumns()) {
			t.Errorf("%s has %d cells", r.ID, len(r.Cells))
		}
	}
	for thread, want := range map[string]string{
		"10-32":  "10-32 fine | 20 to 25 | 12 to 15 | 40 | 25 | 2 sources agree",
		"1/4-28": "1/4-28 fine | 50 to 70 | 30 to 40 | 100 | 60 | 2 sources agree",
		"1/4-20": "1/4-20 coarse | 40 to 50 | 25 to 30 | 75 | 45 | 1 source",
	} {
		if found[thread] != want {
			t.Errorf("%s: got %q, want %q", thread, found[thread], want)
		}
	}
	facts := handbook.TorqueFacts(hardware.Standard())
	text := ""
	for _, f := range facts {
		text += f.Text + "\n"
		if f.Source == "" {
			t.Errorf("%q has no source", f.Text)
		}
	}
	for _, want := range []string{"The kit maker's torque governs", "friction drag", "oil-free", "MS20365"} {
		if !strings.Contains(text, want) {
			t.Errorf("the cautions lack %q:\n%s", want, text)
		}
	}
}
