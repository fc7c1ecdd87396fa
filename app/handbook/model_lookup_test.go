package handbook_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/handbook"
	"stowright/app/notice"
	"stowright/app/session/sessiontest"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// fact is the fact of that name, as "text | mark | source".
func fact(facts []card.Fact, name string) string {
	for _, f := range facts {
		if f.Name == name {
			return f.Text + " | " + f.Mark + " | " + f.Source
		}
	}
	return ""
}

func said(notices []notice.Notice) string {
	var all []string
	for _, n := range notices {
		all = append(all, strings.TrimSpace(n.Lead+" "+n.Text))
	}
	return strings.Join(all, "\n")
}

func TestLookUp(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewLookUpModel(b.Session, func(handbook.LookUpState) {})
	for _, row := range []struct {
		name, query  string
		designation  string
		fact, want   string // name of a fact, and "text | mark | source"
		notice       string // part of what is said
		nearest      []string
		alike        string // a look-alike and how it differs
		noPicture    bool
		cardIn, note string // place on the card
	}{
		// NASM3-20 table: AN3-5A grip 1/4, NAVEDTRA and AC 43.13-1B agree.
		{name: "a bolt as people write it", query: " an3 5a ", designation: "AN3-5A", fact: "grip", want: "1/4 (0.250) ±1/64 |  | NASM3-20 (AN3-AN20) · 2 sources agree", alike: "AN3-6A 1/8 longer in the grip", cardIn: "Garage, Cabinet A, drawer A-12"},
		{name: "a figure seen in no published source", query: "AN3-5A", designation: "AN3-5A", fact: "head height", want: "1/8 (0.125) | not cross-checked", alike: "AN3-4A 1/8 shorter in the grip"},
		{name: "a figure that no source gives", query: "AN7-10A", designation: "AN7-10A", fact: "grip", want: "unknown | "},
		{name: "an old number", query: "AN960-10", designation: "AN960-10", notice: "Superseded by NAS1149F0363P, one way", fact: "thickness", want: "0.063"},
		{name: "a rivet", query: "ms20470 ad4 3.5", designation: "MS20470AD4-3.5", fact: "length", want: "7/32 (0.21875) | "},
		{name: "no such dash number", query: "AN3-8", notice: "AN3-8 does not exist", nearest: []string{"AN3-7", "AN3-10"}, noPicture: true},
		{name: "a part of the kit", query: "OQ-20-040-B", notice: "“OQ-20-040-B” is not a designation of the tables", noPicture: true},
		{name: "far too long", query: strings.Repeat("AN3-5A ", 2000), notice: "Longer than 64 characters", noPicture: true},
		{name: "nothing", query: "  ", noPicture: true},
	} {
		t.Run(row.name, func(t *testing.T) {
			m.Ask(row.query)
			b.Drain()
			s := m.State()
			if s.Designation != row.designation || !slices.Equal(s.Nearest, row.nearest) {
				t.Fatalf("%.40q: got %q with %q near, want %q with %q", row.query, s.Designation, s.Nearest, row.designation, row.nearest)
			}
			if got := fact(s.Facts, row.fact); !strings.HasPrefix(got, row.want) {
				t.Errorf("%s of %q: got %q, want %q", row.fact, row.query, got, row.want)
			}
			if got := said(s.Notices); !strings.Contains(got, row.notice) {
				t.Errorf("%.40q says %q, want %q", row.query, got, row.notice)
			}
			var alike []string
			for _, a := range s.Alike {
				alike = append(alike, a.Designation+" "+a.Difference)
			}
			if row.alike != "" && !slices.Contains(alike, row.alike) {
				t.Errorf("look-alikes of %q: got %q, want %q among them", row.query, alike, row.alike)
			}
			if none := len(s.Pictures) == 0; none != row.noPicture {
				t.Errorf("%.40q is drawn %d times", row.query, len(s.Pictures))
			}
			if row.cardIn != "" && s.Card.Place != row.cardIn {
				t.Errorf("the card of %q says it is in %q, want %q", row.query, s.Card.Place, row.cardIn)
			}
		})
	}
}

// What is asked last is shown, and a card that comes back late is dropped.
func TestLookUpDropsWhatComesLate(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	var shown []string
	m := handbook.NewLookUpModel(b.Session, func(s handbook.LookUpState) { shown = append(shown, s.Designation+" "+s.Card.Designation) })
	m.Ask("AN3-5A")
	m.Ask("AN3-6A")
	b.Drain()
	if want := []string{"AN3-6A AN3-6A"}; !slices.Equal(shown, want) {
		t.Errorf("shown: %q, want %q", shown, want)
	}
	shown = nil
	m.Again()
	b.Drain()
	if want := []string{"AN3-6A AN3-6A"}; !slices.Equal(shown, want) {
		t.Errorf("shown again: %q, want %q", shown, want)
	}
}

// The first and the last number of every series can be looked up; every figure has
// its source or says why it is unknown; nothing is called interchangeable.
func TestEveryFigureHasItsSource(t *testing.T) {
	b := sessiontest.Empty(t)
	m := handbook.NewLookUpModel(b.Session, func(handbook.LookUpState) {})
	looked := 0
	for _, f := range hardware.Standard().Families() {
		for _, series := range f.Series {
			numbers := hardware.Standard().Numbers(series, "")
			if len(numbers) == 0 {
				continue
			}
			for _, n := range []string{numbers[0], numbers[len(numbers)-1]} {
				m.Ask(n)
				b.Drain()
				s := m.State()
				looked++
				if s.Designation != n || len(s.Facts) == 0 {
					t.Errorf("%s is shown as %q with %d facts", n, s.Designation, len(s.Facts))
				}
				for _, f := range s.Facts {
					if f.Source == "" && f.Text != "unknown" || f.Text == "unknown" && f.Mark == "" {
						t.Errorf("%s: %s %q has neither a source nor a reason", n, f.Name, f.Text)
					}
				}
				if text := strings.ToLower(said(s.Notices)); strings.Contains(text, "interchangeable") {
					t.Errorf("%s: %q", n, text)
				}
			}
		}
	}
	if looked < 200 {
		t.Errorf("only %d numbers were looked up", looked)
	}
}

// A number that the shop does not have names the newer one that it has.
func TestCardOfAnOldNumber(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	c, err := b.PieceCard("AN960-10")
	if err != nil {
		t.Fatal(err)
	}
	if c.Mark.Word != "none in the shop" || len(c.Notes) != 1 || !strings.HasPrefix(c.Notes[0], "the shop has NAS1149F0363P") {
		t.Errorf("got %q with notes %q", c.Mark.Word, c.Notes)
	}
}

// The page with the piece at its real size is saved whole, or a sentence says why not.
func TestSaveTrueSize(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewLookUpModel(b.Session, func(handbook.LookUpState) {})
	m.Ask("an470ad4-3.5")
	b.Drain()
	var said string
	var problem error
	save := func(path string) {
		m.SaveTrueSize(path, false, func(s string, err error) { said, problem = s, err })
		b.Drain()
	}
	path := filepath.Join(t.TempDir(), "AN470AD4-3.5")
	save(path)
	if data, err := os.ReadFile(path + ".pdf"); err != nil || problem != nil || said != path+".pdf" || !bytes.HasPrefix(data, []byte("%PDF-")) {
		t.Errorf("said %q, %v; %v", said, problem, err)
	}
	for _, bad := range []string{"", filepath.Join(t.TempDir(), "missing", "a.pdf")} {
		if save(bad); problem == nil {
			t.Errorf("saved in %q", bad)
		}
	}
}

// No table says what a piece weighs: it says so, until a sample was weighed.
func TestWeight(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := handbook.NewLookUpModel(b.Session, func(handbook.LookUpState) {})
	weight := func() card.Fact {
		t.Helper()
		m.Ask("AN470AD4-4")
		b.Drain()
		facts := m.State().Facts
		return facts[len(facts)-1]
	}
	if f := weight(); f.Name != "weight" || f.Text != "unknown" || f.Mark != "no published figure: weigh a sample" {
		t.Errorf("not weighed: %+v", f)
	}
	tenth := measure.Quantity{Micro: 100_000, Unit: measure.Gram}
	if _, err := b.Shop.WeighSample(b.Heap("A-08").StockKey, measure.Weighing{
		Step: tenth, Gross: measure.Of(136, measure.Gram), Sample: measure.Sample{Pieces: 100, Net: measure.Of(8, measure.Gram), Step: tenth},
	}); err != nil {
		t.Fatal(err)
	}
	if f := weight(); f.Text != "about 0.08 g" || f.Source != "100 of them weighed 8 g in this shop, in steps of 0.1 g" || f.Mark != "" {
		t.Errorf("weighed: %+v", f)
	}
}
