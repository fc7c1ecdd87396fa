package operation_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// line is a line of the demo's one packing list, as it stands.
func line(t *testing.T, b *sessiontest.Bench, number int) store.Line {
	t.Helper()
	l, err := operation.LineOf(b.Session, "", number)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestReceive(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	each(t, b, []row{
		{"all", operation.Receive{Line: 38}, "line 38, AN3-4A: found 12 ea", ""},
		{"some, by the id of the list", operation.Receive{List: line(t, b, 39).Shipment, Line: 39, Found: "28", Lot: "L7"}, "line 39, AN3-5A: found 28 ea", ""},
		{"none", operation.Receive{Line: 40, Found: "0"}, "line 40, AN3-6A", ""},
		{"damaged", operation.Receive{Line: 5, Damaged: "1", Note: " dented "}, "line 5, OQ-10-020", ""},
		{"another revision", operation.Receive{Line: 12, Came: "OQ-20-040-A", Revision: true}, "line 12, OQ-20-040-B: found 0 ea", ""},
		{"another number", operation.Receive{Line: 41, Found: "6", Came: "an3-20 a", Many: "2"}, "line 41, AN3-7A: found 6 ea", ""},

		{"words", operation.Receive{Line: 38, Found: "twelve"}, "", `"twelve" is not an amount`},
		{"half a bolt", operation.Receive{Line: 38, Found: "1.5"}, "", "not a whole number of pieces"},
		{"half a damaged bolt", operation.Receive{Line: 38, Damaged: ".5"}, "", "not a whole number of pieces"},
		{"half of another number", operation.Receive{Line: 38, Came: "AN3-5A", Many: ".5"}, "", "not a whole number of pieces"},
		{"a revision of nothing", operation.Receive{Line: 38, Revision: true}, "", "go with the number that came"},
		{"weighed and counted", operation.Receive{Line: 38, Found: "1", Weighing: &measure.Weighing{}}, "", "What is weighed is not counted as well"},
		{"no such line", operation.Receive{Line: 999}, "", "999"},
		{"no such list", operation.Receive{List: "OK-1", Line: 38}, "", `No packing list is called "OK-1"; there are OK-20731.`},
		{"crate that has not come", operation.Receive{Line: 57}, "", "C3 has not arrived"},
	})
	if f := line(t, b, 41).Finding; f.Found.String() != "6 ea" || f.Came.Quantity.String() != "2 ea" || f.Came.Designation != "AN3-20A" {
		t.Errorf("line 41 was found as %+v with %+v", f, f.Came)
	}
	if f := line(t, b, 12).Finding; !f.Found.IsZero() || f.Came.Quantity.String() != "1 ea" || !f.Came.Revision {
		t.Errorf("line 12 was found as %+v with %+v, want none of what is listed", f, f.Came)
	}
	if f := line(t, b, 5).Finding; f.Note != "dented" || !f.Counted || f.Looked {
		t.Errorf("line 5 was found as %+v", f)
	}
}

// That a line was looked at, and its lot, outlive another count.
func TestReceiveKeepsWhatIsKnown(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	check(t, b, operation.Receive{Line: 39, Found: "28", Lot: "L7", Looked: true}, "28 ea", "")
	check(t, b, operation.Receive{Line: 39, Found: "24"}, "24 ea", "")
	if f := line(t, b, 39).Finding; f.Lot != "L7" || !f.Looked {
		t.Errorf("after another count: %+v, want lot L7 and looked at", f)
	}
	check(t, b, operation.Look{Line: 39}, "24 ea", "")
	if f := line(t, b, 39).Finding; f.Looked || f.Lot != "L7" || f.Found.String() != "24 ea" {
		t.Errorf("after the tick was taken back: %+v", f)
	}
	check(t, b, operation.Look{Line: 38, Looked: true}, "", "Line 38 is not counted yet")
}

func TestExtraAndStow(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	each(t, b, []row{
		{"extra", operation.Extra{Line: 39, Part: "an3-20a", Found: "2", Note: "loose"}, "AN3-20A", ""},
		{"extra words", operation.Extra{Line: 39, Part: "AN3-20A", Found: "many"}, "", `"many" is not an amount`},
		{"extra half a bolt", operation.Extra{Line: 39, Part: "AN3-20A", Found: "1.5"}, "", "not a whole number of pieces"},
		{"extra none", operation.Extra{Line: 39, Part: "AN3-20A", Found: "0"}, "", "Say how many"},
		{"nothing to stow yet", operation.StowLine{Line: 39, To: "A-12"}, "", "Nothing of line 39 is left in its bag."},
		{"found", operation.Receive{Line: 39, Found: "28"}, "28 ea", ""},
		{"stow nowhere", operation.StowLine{Line: 39, To: "Attic"}, "", `"Attic"`},
		{"stow", operation.StowLine{Line: 39, To: "a-12"}, "AN3-5A: 28 ea stowed in A-12", ""},
		{"stow by number", operation.Stow{Heap: item("AN3-20A"), To: "A-13"}, "AN3-20A: 2 ea stowed in A-13", ""},
	})
}

// A bag of 16 under line 40 holds 12 of its own and four that line 39 lists.
func TestSplit(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	split := operation.Split{Line: 40, Left: "12", Parts: []operation.SplitPart{{Line: 39, Amount: "3"}, {Line: 39, Amount: "1"}, {Part: "an3-20a", Amount: "1"}}}
	check(t, b, split, "line 40, AN3-6A", "")
	if f := line(t, b, 40).Finding; f.Found.String() != "12 ea" || f.Note != "the bag also held 3 AN3-5A, 1 AN3-5A, 1 AN3-20A" || !f.Counted {
		t.Errorf("line 40 was found as %+v", f)
	}
	if brought, ok := operation.Brought(line(t, b, 39)); !ok || brought.String() != "4 ea" {
		t.Errorf("line 39 was given %s, %v, want 4 ea, still to check", brought, ok)
	}

	// When the bag of line 39 is split as well, those four are not lost.
	check(t, b, operation.Split{Line: 39, Left: "23", Parts: []operation.SplitPart{{Part: "AN3-20A", Amount: "1"}}}, "line 39, AN3-5A", "")
	if f := line(t, b, 39).Finding; f.Found.String() != "27 ea" || !strings.HasSuffix(f.Note, "from the bag of line 40, AN3-6A; the bag also held 1 AN3-20A") {
		t.Errorf("line 39 was found as %+v, want 23 and the 4 of line 40's bag", f)
	}
	check(t, b, operation.Split{Line: 40, Left: "12", Parts: []operation.SplitPart{{Line: 40, Amount: "1"}}}, "", "is what line 40 lists")
	check(t, b, operation.Split{Line: 40, Left: "a few"}, "", `"a few" is not an amount`)
	check(t, b, operation.Split{Line: 40, Left: "12", Parts: []operation.SplitPart{{Line: 39, Amount: ".5"}}}, "", "not a whole number of pieces")
	check(t, b, operation.Split{Line: 40, Left: "12", Parts: []operation.SplitPart{{Line: 999, Amount: "1"}}}, "", "999")
}

func TestArriveAndClaim(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"no such crate", operation.Arrive{Crates: []string{"C9"}}, "", "C9"},
		{"no day", operation.Arrive{Crates: []string{"C3"}, On: "Tuesday"}, "", "is not a date"},
		{"no days", operation.Arrive{Crates: []string{"C3"}, DamageDays: "some"}, "", `"some" is not a number of days: type one such as 5.`},
		{"days of before", operation.Arrive{Crates: []string{"C3"}, ShortageDays: "-1"}, "", "not a number of days"},
		{"too many days", operation.Arrive{Crates: []string{"C3"}, ShortageDays: "3651"}, "", "not a number of days"},
		{"arrive", operation.Arrive{List: "ok-20731", Crates: []string{"C3"}, On: " 2026-03-17 ", DamageDays: " 5 "}, "C3", ""},

		{"given up without a reason", operation.GiveUpClaim{Lines: "6"}, "", "Say why the claim is given up"},
		{"given up by words", operation.GiveUpClaim{Lines: "six", Why: "one"}, "", "six is not a line"},
		{"given up", operation.GiveUpClaim{Lines: "6", Why: "one too many"}, "claim given up: 1 line, one too many", ""},
		{"a price from no order", operation.PriceLine{Line: 42}, "", "No price of AN3-11 is known from an order: type one"},
		{"a price of no currency", operation.PriceLine{Line: 42, Price: "2"}, "", "says no currency"},
		{"a price", operation.PriceLine{Line: 42, Price: "2.10 USD"}, "line 42, AN3-11: 2.10 USD for 1 ea, as typed by ", ""},
		{"how it is bought", operation.PutSupply{Item: "AN3-11", Supplier: "Fenwick Supply", Price: "1.95 USD"}, "", ""},
		{"the last price", operation.PriceLine{Line: 42}, "line 42, AN3-11: 1.95 USD for 1 ea, the last price known, of Fenwick Supply, on ", ""},
		{"a price of the currency there is", operation.PriceLine{Line: 42, Price: "2"}, "2.00 USD for 1 ea", ""},

		{"sent on no day", operation.SendClaim{On: "Tuesday"}, "", "is not a date"},
		{"sent", operation.SendClaim{How: "by e-mail"}, "by e-mail", ""},
		{"answer to words", operation.AnswerClaim{Lines: "five", Answer: store.Credit}, "", "five is not a line"},
		{"answer to what was not sent", operation.AnswerClaim{Lines: "60", Answer: store.Credit}, "", "Line 60 is on no claim"},
		{"answer", operation.AnswerClaim{Lines: "5, 7", Answer: store.Replacement}, "claim answered: 2 lines", ""},
		{"answer to the rest", operation.AnswerClaim{Lines: "All", Answer: store.Refused}, "claim answered", ""},
	})
	ship, err := operation.ShipmentNamed(b.Session, "")
	if err != nil {
		t.Fatal(err)
	}
	d, _ := ship.Delivery("C3")
	if d.Arrived.String() != "17 March 2026" || *d.DamageDays != 5 || d.ShortageDays != nil {
		t.Errorf("C3 arrived as %+v, want 17 March 2026 with 5 days for damage and none known for shortages", d)
	}
}

func TestNoPackingList(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	check(t, b, operation.Receive{Line: 1}, "", "No packing list is in this shop")
}

func TestPhotos(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	file := filepath.Join(t.TempDir(), "dent.jpg")
	if err := os.WriteFile(file, phototest.JPEG(400, 300, 1), 0o600); err != nil {
		t.Fatal(err)
	}
	of := operation.Subject{Line: 5}
	r := check(t, b, operation.AddPhotos{Of: of, Files: []string{file, file}, Caption: "dent"}, "", "")
	if len(r.Photos) != 2 || r.Photos[1].Caption != "dent" || r.Photos[1].Of.Line != 5 {
		t.Fatalf("brought in: %+v", r.Photos)
	}
	last := r.Photos[1].Name()
	each(t, b, []row{
		{"of a drawer", operation.AddPhotos{Of: operation.Subject{Place: "A-12"}, Files: []string{file}}, "", ""},
		{"of an item", operation.AddPhotos{Of: operation.Subject{Item: "an3-5a"}, Files: []string{file}}, "", ""},
		{"of nothing", operation.AddPhotos{Files: []string{file}}, "", "Say what the photographs are of"},
		{"of two things", operation.AddPhotos{Of: operation.Subject{Line: 5, Place: "A-12"}, Files: []string{file}}, "", "Say once what"},
		{"none", operation.AddPhotos{Of: of}, "", "Nothing is chosen"},
		{"one is not a file: none of them", operation.AddPhotos{Of: of, Files: []string{file, file + "x"}}, "", "dent.jpgx"},
		{"describe", operation.DescribePhoto{Photo: last, Caption: "the dent"}, "", ""},
		{"describe which", operation.DescribePhoto{Photo: "the last"}, "", `"the last" does not name one photograph`},
		{"take away", operation.RemovePhoto{Photo: strings.ToLower(last)}, "", ""},
		{"take away again", operation.RemovePhoto{Photo: last}, "", last},
	})
}

// The figures are those of the trade's example: 136.1 g net, 100 weigh 8.1 g.
func TestWeigh(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	all := operation.Readings{Unit: measure.Gram, Step: "0.1", Tare: "24.3", Gross: "160.4", Pieces: "100", Net: "8.1"}
	r := check(t, b, operation.Weigh{Line: 30, Readings: all}, "weighed to about 1,680 ea (1,668 to 1,692)", "")
	if n, err := r.Weighing.Count(); err != nil || n.Pieces != 1680 || n.Low != 1668 || n.High != 1692 {
		t.Errorf("the weighing comes to %+v, %v", n, err)
	}
	// The sample and the step are known the next time, in the unit that they were weighed in.
	again := operation.Readings{Unit: measure.Gram, Tare: "24.3", Gross: "100.4"}
	check(t, b, operation.StowLine{Line: 30, To: "A-01"}, "AN426AD3-3.5", "")
	check(t, b, operation.Weigh{Heap: item("AN426AD3-3.5"), Readings: again}, "weighed AN426AD3-3.5 in A-01: about 940 ea", "")
	again.Unit = measure.Ounce
	check(t, b, operation.Weigh{Heap: item("AN426AD3-3.5"), Readings: again}, "", "Type what the scale shows")
	again.Pieces, again.Net = "100", "0.3"
	check(t, b, operation.Weigh{Heap: item("AN426AD3-3.5"), Readings: again}, "", "Type what the scale shows")

	// The sample that is remembered keeps the step of the scale that it was weighed on.
	coarse := operation.Readings{Unit: measure.Gram, Step: "1", Gross: "136", Pieces: "100", Net: "8.1"}
	r = check(t, b, operation.Weigh{Heap: item("AN426AD3-3.5"), Readings: coarse}, "about", "")
	if got := r.Weighing.Sample.Step.String() + ", " + r.Weighing.Step.String(); got != "0.1 g, 1 g" {
		t.Errorf("the steps of the sample and of the scale are %s, want 0.1 g, 1 g", got)
	}

	// What is added by hand does not make the rest counted.
	check(t, b, operation.PutIn{Item: "AN426AD3-3.5", Amount: "10", Place: "A-01", Meeting: store.PourLots}, "AN426AD3-3.5: 10 ea put in A-01, poured together to about 1,6", "")

	for _, c := range []struct {
		name   string
		set    func(*operation.Readings)
		refuse string
	}{
		{"gross", func(r *operation.Readings) { r.Gross = "heavy" }, `"heavy" is not a weight`},
		{"step", func(r *operation.Readings) { r.Step = "fine" }, `"fine" is not a weight`},
		{"pieces", func(r *operation.Readings) { r.Pieces = "99.5" }, `"99.5" is not a number of pieces`},
		{"too few", func(r *operation.Readings) { r.Pieces, r.Net = "10", "0.8" }, "Weigh about 40 pieces"},
	} {
		t.Run(c.name, func(t *testing.T) {
			bad := all
			c.set(&bad)
			check(t, b, operation.Weigh{Heap: item("AN426AD3-3.5"), Readings: bad}, "", c.refuse)
		})
	}
}

// Bringing photographs in that is cancelled brings none.
func TestCancelled(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	before := b.Journal()
	add := operation.AddPhotos{Of: operation.Subject{Line: 5}, Pictures: [][]byte{phototest.JPEG(400, 300, 1)}}
	if _, err := add.Do(ctx, b.Session); !errors.Is(err, context.Canceled) || b.Journal() != before {
		t.Errorf("got %v and %d entries, want it cancelled with %d", err, b.Journal(), before)
	}
}
