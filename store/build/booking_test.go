package build

import (
	"slices"
	"strings"
	"testing"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// refusal is what the board says to a booking: "stranger: not called here".
func refusal(b *Board, booking Booking) string {
	r := b.MayPull(booking, hardware.Standard().Alike)
	if r == nil {
		return ""
	}
	return string(r.Kind) + ": " + r.Sentence
}

func booking(code, item, place string, n int64) Booking {
	return Booking{Code: code, Item: item, Place: place, Quantity: measure.Pieces(n)}
}

// Story 12: the stranger and the excess are refused, and go with a reason.
func TestStory12StrangerAndExcess(t *testing.T) {
	r := weighedDemo(t)
	b := NewBoard(r)
	if got := refusal(b, booking("SA-10", "AN3-6A", "A-38", 6)); got != "stranger: not called here; it calls AN3-5A in A-12" {
		t.Errorf("AN3-6A for SA-10: %q", got)
	}
	if got := refusal(b, booking("SA-10", "AN3-5A", "A-12", 6)); got != "" {
		t.Errorf("six AN3-5A for SA-10: %q", got)
	}
	six := booking("SA-20", "MS21042-3", "A-22", 6)
	six.Lot = "L-48"
	if got := refusal(b, six); got != "" {
		t.Errorf("six MS21042-3 for SA-20: %q", got)
	}
	take(r, "MS21042-3", "SA-20", 6)
	b.Update("MS21042-3")
	if got := refusal(b, six); got != "excess: 6 called, 6 pulled" {
		t.Errorf("six more: %q", got)
	}
	six.Reason = "spare"
	if got := refusal(b, six); got != "" {
		t.Errorf("six more as a spare: %q", got)
	}
	take(r, "MS21042-3", "SA-20", 6)
	b.Update("MS21042-3")
	six.Reason = " "
	if got := refusal(b, six); got != "excess: 6 called, 12 pulled" {
		t.Errorf("with twelve in the tray: %q", got)
	}
}

// Every other refusal, and whether a reason opens it.
func TestRefusals(t *testing.T) {
	r := weighedDemo(t)
	r.Stock["MS21042-3"][0].Condition, r.Stock["MS21042-3"][0].Why = Quarantined, "alert 1"
	r.Stock["SEAL-B2"] = sealant()
	quart := func(lot string) Booking {
		return Booking{Code: "SA-50", Item: "SEAL-B2", Place: "S6", Lot: lot, Quantity: measure.Of(1, measure.Quart)}
	}
	nuts := booking("SA-20", "MS21042-3", "A-22", 6)
	nuts.Lot = "L-48"
	for _, row := range []struct {
		name    string
		booking Booking
		change  func()
		want    string
		opens   bool
	}{
		{"quarantined", nuts, nil, "set apart: MS21042-3 in A-22 is quarantined by alert 1: it is not pulled", false},
		{"dated", quart("L-1"), nil, "", false},
		{"expired", quart("L-1"), func() { r.Today = day(2026, 8, 1) }, "expired: 2 of lot 1 expired 22 days ago: a retest with its paper is a decision", false},
		{"undated", quart("L-2"), func() { r.Stock["SEAL-B2"][1].Expires = measure.Date{} }, "undated: expiry of SEAL-B2 unknown: see what its container says, and give a reason", true},
		{"part of an excess", booking("SA-40", "MS24665-132", "A-23", 5), nil, "excess: 4 called, 0 pulled: 4 to go", true},
		{"held for others", booking("SA-41", "AN3-5A", "A-12", 8), nil, "held: 2 is free here: 6 for SA-10, 20 for SA-21", true},
		{"what is free", booking("SA-41", "AN3-5A", "A-12", 2), nil, "", false},
		{"not there", booking("SA-40", "AN310-3", "A-19", 4), func() { r.Stock["AN310-3"][0].Amount = pieces(3) }, "not there: A-19 has 3 ea, and 4 ea is to be taken: count it", false},
		{"nowhere", booking("SA-40", "AN310-3", "A-20", 1), nil, "not there: there is no AN310-3 of that lot in A-20: see the drawer", false},
		{"unknown code", booking("SA-99", "AN310-3", "A-19", 1), nil, `unknown: there is no sub-assembly "SA-99": see how its code is spelled`, false},
		{"uncounted", booking("SA-10", "AN470AD4-5", "A-21", 46), func() { r.Stock["AN470AD4-5"][0].Amount = hundredths(25, measure.Pound) }, "other unit: A-21 has 0.25 lb, and 46 ea is called: weigh it first", false},
	} {
		if row.change != nil {
			row.change()
		}
		b := NewBoard(r)
		if got := refusal(b, row.booking); got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
		row.booking.Reason = "told to"
		if got := refusal(b, row.booking); row.want != "" && (got == "") != row.opens {
			t.Errorf("%s with a reason: %q", row.name, got)
		}
	}
}

// Story 19: the origin is asked at the pull, with what it rests on.
func TestStory19OriginAtThePull(t *testing.T) {
	owner := sub("T-10", "Regulator", 1, need{"REG-14", "", 1})
	owner.Aircraft = "T"
	r := demoReading()
	r.SubAssemblies = []SubAssembly{owner}
	r.Stock = map[string][]Heap{"REG-14": {{Place: "S1", Lot: "L-2", Origin: OutsideAviation, Amount: pieces(1)}}}
	regulator := booking("T-10", "REG-14", "S1", 1)
	regulator.Lot, regulator.Reason = "L-2", "it fits"
	got := refusal(NewBoard(r), regulator)
	if !strings.HasPrefix(got, "origin: ") || !strings.Contains(got, "AC 20-62E par. 6") || !strings.Contains(got, "43.13(b)") {
		t.Errorf("with a reason and no decision: %q", got)
	}
	r.Decisions = []Decision{{ID: "D-4", Kind: AnyOrigin, Requirement: "T-10 REG-14", Lot: "L-2", From: march18, Who: "mechanic"}}
	if got := refusal(NewBoard(r), regulator); got != "" {
		t.Errorf("with a decision: %q", got)
	}
}

// Story 12: a wrong drawer says so at once.
func TestWrongDrawer(t *testing.T) {
	r := weighedDemo(t)
	stop := pull(t, r, "SA-10").Stops[4]
	there := func(place string) []Neighbour {
		return slices.DeleteFunc(demoBeside(r)(stop.Place.ID, stop.Item), func(n Neighbour) bool { return n.Place != place })
	}
	if got := WrongDrawer(stop, r.Places["A-31"], there("A-31")); got != "wrong drawer: F0332P thin; yours is one to the left" {
		t.Errorf("A-31 scanned at A-30: %q", got)
	}
	if got := WrongDrawer(stop, r.Places["A-30"], nil); got != "" {
		t.Errorf("the right one: %q", got)
	}
	for _, row := range []struct{ scanned, want string }{
		{"A-37", "wrong drawer: AN3-6A; yours is one up and one to the right"},
		{"A-12", "wrong drawer: AN3-6A; yours is two down and two to the right"},
		{"A-25", "wrong drawer: AN3-6A; yours is A-30"},
		{"S6", "wrong drawer: AN3-6A; yours is A-30"},
	} {
		if got := WrongDrawer(stop, r.Places[row.scanned], []Neighbour{{Item: "AN3-6A"}}); got != row.want {
			t.Errorf("%s: %q, want %q", row.scanned, got, row.want)
		}
	}
	if got := WrongDrawer(stop, r.Places["A-29"], nil); got != "wrong drawer: empty; yours is one to the right" {
		t.Errorf("an empty one: %q", got)
	}
}

func openWords(open []Open) []string {
	var words []string
	for _, o := range open {
		if o.Answer == "" {
			words = append(words, o.Sentence)
		}
	}
	return words
}

// Story 13: SA-10 at the bench, until it may be closed.
func TestStory13Closing(t *testing.T) {
	r := weighedDemo(t)
	fin := &r.SubAssemblies[0]
	nothing := Records{}
	open, may, err := NewBoard(r).Closing("SA-10", nothing)
	if err != nil || may {
		t.Fatalf("with nothing done it may be closed: %v", err)
	}
	want := []string{
		"212 of 212 AN426AD3-3.5 not fitted", "46 of 46 AN470AD4-5 not fitted", "6 of 6 AN3-5A not fitted",
		"12 of 12 NAS1149F0363P not fitted", "6 of 6 AN365-1032A not fitted",
		"no photograph: it cannot be made once it is closed up", "no torque note for AN365-1032A", "no second person has looked at it",
	}
	if got := openWords(open); !slices.Equal(got, want) {
		t.Errorf("open are\n%s", strings.Join(got, "\n"))
	}
	// Pulled: 240, 6, 14, 7, 46. Fitted: 212, 6, 13, 6, 46; 19 rivets spoiled, a nut lost.
	take(r, "AN426AD3-3.5", "SA-10", 240)
	take(r, "AN3-5A", "SA-10", 6)
	take(r, washer, "SA-10", 14)
	take(r, "AN365-1032A", "SA-10", 7)
	take(r, "AN470AD4-5", "SA-10", 46)
	for i, n := range []int64{212, 46, 6, 13, 6} {
		fin.Requirements[i].Fitted = []Fit{{Item: fin.Requirements[i].Item, Amount: pieces(n)}}
	}
	tray := func(item string, n int64) { r.Stock[item][1].Amount = pieces(n) }
	tray("AN426AD3-3.5", 9) // 240 less 212 fitted and 19 spoiled
	tray("AN3-5A", 0)
	tray(washer, 1)
	tray("AN365-1032A", 0)
	tray("AN470AD4-5", 0)
	records := Records{
		Photographs: map[string]int{"": 2}, Torqued: map[string]bool{"SA-10 AN365-1032A": true}, Looks: []string{"Partner"},
		Lost: []Lost{{"AN365-1032A", measure.Pieces(1)}},
	}
	open, may, _ = NewBoard(r).Closing("SA-10", records)
	want = []string{
		"9 AN426AD3-3.5 left in the tray: put back or fit them", "1 NAS1149F0363P left in the tray: put back or fit them", "1 nut not found in SA-10",
	}
	if got := openWords(open); may || !slices.Equal(got, want) {
		t.Errorf("open are\n%s", strings.Join(got, "\n"))
	}
	// Nine rivets and one washer go home.
	home := func(item string, n int64) {
		tray(item, 0)
		h := &r.Stock[item][0].Amount
		for _, q := range []*int64{&h.Micro, &h.Low.Micro, &h.High.Micro} {
			*q += measure.Pieces(n).Micro
		}
	}
	home("AN426AD3-3.5", 9)
	home(washer, 1)
	for _, row := range []struct{ item, want string }{
		{"AN426AD3-3.5", "about 1,449 ea (1,437 to 1,461)"},
		{"AN3-5A", "22 ea"},
		{washer, "137 ea"},
		{"AN365-1032A", "63 ea"},
		{"AN470AD4-5", "about 421 ea (419 to 423)"},
	} {
		if got := r.Stock[row.item][0].Amount.String(); got != row.want {
			t.Errorf("%s: %s, want %s", row.item, got, row.want)
		}
	}
	open, may, _ = NewBoard(r).Closing("SA-10", records)
	if got := openWords(open); may || !slices.Equal(got, []string{"1 nut not found in SA-10"}) {
		t.Errorf("open are %q", got)
	}
	records.Answers = map[string]string{open[0].Key: "fell behind the bench, not into the part"}
	if _, may, _ := NewBoard(r).Closing("SA-10", records); !may {
		t.Error("with a reason it may not be closed")
	}
	records.Answers, records.Lost = nil, nil // found
	home("AN365-1032A", 1)
	open, may, _ = NewBoard(r).Closing("SA-10", records)
	if !may || len(open) > 0 || r.Stock["AN365-1032A"][0].Amount != pieces(64) {
		t.Errorf("found: %q, %s", openWords(open), r.Stock["AN365-1032A"][0].Amount)
	}
	if _, _, err := NewBoard(r).Closing("SA-99", records); err == nil {
		t.Error("an unknown code is closed")
	}
}

// Temporary fasteners are counted back in; photographs are asked for by position;
// where there is no nut the bolts are asked about.
func TestClosingAsks(t *testing.T) {
	s := sub("SA-1", "", 1, need{"CLECO", "", 20}, need{"AN3-5A", "", 2}, need{"AN4-12A", "", 1}, need{"SEAL", "", 0})
	s.Requirements[0].Kind, s.Requirements[3].Kind = Temporary, AsRequired
	s.Requirements[1].Position, s.Requirements[2].Position = "left / hinge 1", "left / hinge 2"
	s.Requirements[1].Fitted, s.Requirements[2].Fitted = []Fit{{Item: "AN3-5A", Amount: pieces(2)}}, []Fit{{Item: "AN4-12A", Amount: pieces(1)}}
	r := &Reading{Today: march18, SubAssemblies: []SubAssembly{s}, Stock: map[string][]Heap{"CLECO": {{Place: "t", Tray: "SA-1", Amount: pieces(18)}}}}
	open, _, err := NewBoard(r).Closing("SA-1", Records{
		Photographs: map[string]int{"left / hinge 1": 1}, Looks: []string{"mechanic"},
		Lost: []Lost{{"AN3-5A", measure.Pieces(2)}, {washer, measure.Pieces(3)}, {"OQ-1", measure.Pieces(1)}},
	})
	want := []string{
		"18 CLECO not back", "2 bolts not found in SA-1", "3 washers not found in SA-1", "1 OQ-1 not found in SA-1",
		"no photograph of left / hinge 2: it cannot be made once it is closed up", "no torque note for AN3-5A", "no torque note for AN4-12A",
	}
	if got := openWords(open); err != nil || !slices.Equal(got, want) {
		t.Errorf("open are\n%s", strings.Join(got, "\n"))
	}
}

// What is open twice is answered twice: an answer to one line of a list, one heap in the
// tray, one thing that is lost is none to another of the same item.
func TestWhatIsOpenTwiceIsAnsweredTwice(t *testing.T) {
	r := &Reading{Today: march18, SubAssemblies: []SubAssembly{{Code: "SA-1", Requirements: []Requirement{
		{ID: "R-1", Item: "AN3-5A", Needed: measure.Pieces(2)}, {ID: "R-2", Item: "AN3-5A", Needed: measure.Pieces(4)},
	}}}, Stock: map[string][]Heap{"AN3-7A": {{Place: "T", Tray: "SA-1", Lot: "L-1", Amount: pieces(1)}, {Place: "T", Tray: "SA-1", Lot: "L-2", Amount: pieces(2)}}}}
	records := Records{Lost: []Lost{{"AN3-5A", measure.Pieces(1)}, {"AN3-5A", measure.Pieces(2)}}}
	all, _, err := NewBoard(r).Closing("SA-1", records)
	if err != nil {
		t.Fatal(err)
	}
	records.Answers = map[string]string{}
	for _, o := range all {
		records.Answers[o.Key] = "as it is"
	}
	if _, may, _ := NewBoard(r).Closing("SA-1", records); !may || len(records.Answers) != len(all) {
		t.Fatalf("%d answers to %d that are open, may be closed: %v", len(records.Answers), len(all), may)
	}
	for key := range records.Answers {
		delete(records.Answers, key)
		if _, may, _ := NewBoard(r).Closing("SA-1", records); may {
			t.Errorf("it may be closed without an answer to %s", key)
		}
		records.Answers[key] = "as it is"
	}
}
