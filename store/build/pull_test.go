package build

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// demoBeside is what lies within reach in the demo: the drawers around, held against
// the tables of look-alikes.
func demoBeside(r *Reading) Beside {
	return func(place, item string) []Neighbour {
		var out []Neighbour
		here := r.Places[place]
		for other, heaps := range r.Stock {
			for _, h := range heaps {
				p := r.Places[h.Place]
				if p.Furniture != here.Furniture || p.Row == 0 || abs(p.Row-here.Row) > 1 || abs(p.Column-here.Column) > 1 {
					continue
				}
				if _, alike := hardware.Standard().Alike(item, other); !alike {
					continue
				}
				n := Neighbour{Place: p.Name, Item: other, Difference: "look-alike"}
				if other == thinWasher {
					n.Short, n.Difference = "F0332P", "thin"
				}
				out = append(out, n)
			}
		}
		return out
	}
}

func stopWords(stops []Stop) string {
	var words []string
	for _, s := range stops {
		words = append(words, s.Place.Name+" "+s.Quantity.Number())
	}
	return strings.Join(words, ", ")
}

func pull(t testing.TB, r *Reading, codes ...string) PullList {
	t.Helper()
	list, err := NewBoard(r).Pull(demoBeside(r), codes...)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Story 12: the pull list of SA-10, five stops in walking order.
func TestStory12Pull(t *testing.T) {
	r := weighedDemo(t)
	list := pull(t, r, "SA-10")
	if got := stopWords(list.Stops); got != "A-03 212, A-12 6, A-17 6, A-21 46, A-30 12" {
		t.Errorf("stops are %s", got)
	}
	if len(list.Short) > 0 || len(list.Ask) > 0 {
		t.Errorf("short %v, to ask %v", list.Short, list.Ask)
	}
	for _, s := range list.Stops {
		want := []string(nil)
		if s.Place.Name == "A-30" {
			want = []string{"A-31 beside it holds F0332P, thin"}
			if s.Item != washer || s.Called != "AN960-10" || len(s.Via) != 1 || s.Via[0].Source != "Osterhollow cover letter" || s.Via[0].Date != day(2026, 3, 10) {
				t.Errorf("A-30 is %+v", s)
			}
		}
		if !slices.Equal(s.Beware, want) {
			t.Errorf("%s warns of %q, want %q", s.Place.Name, s.Beware, want)
		}
		if s.Estimate != (s.Place.Name == "A-03" || s.Place.Name == "A-21") {
			t.Errorf("%s is estimated: %v", s.Place.Name, s.Estimate)
		}
	}
	// Three stops are done, and it begins again.
	take(r, "AN426AD3-3.5", "SA-10", 212)
	take(r, "AN3-5A", "SA-10", 6)
	take(r, "AN365-1032A", "SA-10", 6)
	if got := stopWords(pull(t, r, "SA-10").Stops); got != "A-21 46, A-30 12" {
		t.Errorf("after three stops %s are left", got)
	}
	if a := r.Stock["AN426AD3-3.5"][0].Amount.String(); a != "about 1,468 ea (1,456 to 1,480)" {
		t.Errorf("A-03 then has %s", a)
	}
}

// take moves so much of an item's first heap into a tray.
func take(r *Reading, item, code string, n int64) {
	h := &r.Stock[item][0]
	for _, q := range []*int64{&h.Amount.Micro, &h.Amount.Low.Micro, &h.Amount.High.Micro} {
		*q -= measure.Pieces(n).Micro
	}
	r.Stock[item] = append(r.Stock[item], Heap{Place: "tray", Tray: code, Lot: h.Lot, Amount: pieces(n)})
}

// Story 12: two sub-assemblies in one trip.
func TestStory12OneTrip(t *testing.T) {
	r := weighedDemo(t)
	list := pull(t, r, "SA-10", "SA-21")
	if got := stopWords(list.Stops); got != "A-03 212, A-12 26, A-17 26, A-21 46, A-30 52" {
		t.Errorf("stops are %s", got)
	}
	trays := map[string]string{}
	for _, s := range list.Stops {
		for _, f := range s.For {
			trays[f.Code] += s.Place.Name + " " + f.Quantity.Number() + ", "
		}
	}
	if trays["SA-10"] != "A-03 212, A-12 6, A-17 6, A-21 46, A-30 12, " || trays["SA-21"] != "A-12 20, A-17 20, A-30 40, " {
		t.Errorf("trays are %v", trays)
	}
	if alone := len(pull(t, r, "SA-10").Stops) + len(pull(t, r, "SA-21").Stops); alone != 8 {
		t.Errorf("two trips have %d stops, want 8", alone)
	}
}

// What cannot be pulled is said with its reasons; what others hold is not taken.
func TestPullShort(t *testing.T) {
	r := weighedDemo(t)
	list := pull(t, r, "SA-41")
	if got := stopWords(list.Stops); got != "A-12 2, A-17 8, A-30 16" {
		t.Errorf("stops are %s", got)
	}
	if len(list.Short) != 1 || list.Short[0].Needed != measure.Pieces(8) || list.Short[0].Have != measure.Pieces(2) ||
		list.Short[0].Sentence != "AN3-5A: need 8, free 2; 28 here, 6 for SA-10, 20 for SA-21" {
		t.Errorf("short are %+v", list.Short)
	}
	if _, err := NewBoard(r).Pull(nil, "SA-99"); err == nil || !strings.Contains(err.Error(), `"SA-99"`) {
		t.Errorf("of an unknown code it says %v", err)
	}
}

// Story 17: the earliest expiry first; a lot without a date is asked about.
func TestPullByDate(t *testing.T) {
	r := weighedDemo(t)
	r.Today, r.SubAssemblies[6].Planned = day(2026, 4, 20), day(2026, 7, 1)
	r.Stock["SEAL-B2"] = []Heap{sealant()[1], sealant()[0]}
	r.Stock["SEAL-B2"][1].Place = "A-01"
	if got := stopWords(pull(t, r, "SA-50").Stops); got != "A-01 2" {
		t.Errorf("from lot 1 alone: %s", got)
	}
	r.SubAssemblies[6].Requirements[0].Needed = measure.Of(3, measure.Quart)
	if got := stopWords(pull(t, r, "SA-50").Stops); got != "A-01 2, S6 1" {
		t.Errorf("from both lots: %s", got)
	}
	r.Stock["SEAL-B2"][1].Expires = measure.Date{}
	list := pull(t, r, "SA-50")
	if len(list.Ask) != 1 || list.Ask[0].Sentence != "SEAL-B2: expiry of lot 1 unknown: see what its container says, in A-01" {
		t.Errorf("asked is %+v", list.Ask)
	}
	if got := stopWords(list.Stops); got != "S6 1" {
		t.Errorf("what has a date: %s", got)
	}
}

// Kinds on the list: as required is asked, temporary is counted back in.
func TestPullKinds(t *testing.T) {
	s := sub("SA-1", "", 1, need{"CLECO", "", 20}, need{"PRIM-EP", "", 0})
	s.Requirements[0].Kind, s.Requirements[1].Kind = Temporary, AsRequired
	r := &Reading{Today: march18, SubAssemblies: []SubAssembly{s}, Stock: map[string][]Heap{"CLECO": {heap("A-01", 30)}, "PRIM-EP": {heap("S6", 1)}}}
	list := pull(t, r, "SA-1")
	if len(list.Stops) != 1 || !list.Stops[0].Temporary || list.Stops[0].Quantity != measure.Pieces(20) {
		t.Errorf("stops are %+v", list.Stops)
	}
	if len(list.Ask) != 1 || !strings.HasPrefix(list.Ask[0].Sentence, "PRIM-EP: as required; take what") {
		t.Errorf("asked is %+v", list.Ask)
	}
}

// Old numbers lead one way, along rows with a source.
func TestResolve(t *testing.T) {
	rows := []Equivalent{
		{Old: "A", New: "B", Source: "letter 1"},
		{Old: "B", New: "C", Source: "letter 2"},
		{Old: "X", New: "Y", Source: "nobody", FromMemory: true},
		{Old: "P", New: "Q", Source: "letter 3"},
		{Old: "P", New: "R", Source: "letter 4"},
		{Old: "K", New: "L", Source: "letter 5"},
		{Old: "L", New: "K", Source: "letter 6"},
		{Old: "D", New: "E", Source: "letter 7"},
		{Old: "D", New: "E", Source: "letter 8"},
	}
	for _, row := range []struct{ called, item, err string }{
		{"A", "C", ""},
		{"B", "C", ""},
		{"C", "C", ""},
		{"X", "X", ""},
		{"D", "E", ""},
		{"P", "P", "P is Q by letter 3 and R by letter 4: say which of them is meant"},
		{"K", "K", "K leads back to itself by letter 6: see the equivalent numbers"},
	} {
		item, via, err := Resolve(row.called, rows)
		if got := fmt.Sprint(err); item != row.item || err != nil && got != row.err || err == nil && row.err != "" {
			t.Errorf("%s: %s by %v, %v; want %+v", row.called, item, via, err, row)
		}
	}
	if _, via, _ := Resolve("A", rows); len(via) != 2 || via[0].Source != "letter 1" || via[1].Source != "letter 2" {
		t.Errorf("A leads by %v", via)
	}
}

func BenchmarkPullList(b *testing.B) {
	rnd := rand.New(rand.NewPCG(3, 3))
	r := &Reading{Today: march18, Stock: map[string][]Heap{}, Places: map[string]Place{}}
	s := SubAssembly{Code: "SA-1"}
	for i, p := range randomPlaces(rnd, 150, 2, 6) {
		p.ID = fmt.Sprintf("P-%d", i)
		item := fmt.Sprintf("I-%d", i)
		r.Places[p.ID] = p
		r.Stock[item] = []Heap{heap(p.ID, 20)}
		s.Requirements = append(s.Requirements, Requirement{ID: item, Called: item, Item: item, Needed: measure.Pieces(4)})
	}
	r.SubAssemblies = []SubAssembly{s}
	board := NewBoard(r)
	within(b, 50*time.Millisecond, func() {
		if list, err := board.Pull(nil, "SA-1"); err != nil || len(list.Stops) != 150 {
			b.Fatal(len(list.Stops), err)
		}
	})
}
