package evidence

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/output"
	"stowright/store/phototest"
)

// bench is the demo shop with the sub-assemblies of the building stories, on 18 March 2026.
func bench(t testing.TB) (*sessiontest.Bench, *demo.Clock) {
	t.Helper()
	clock := demo.NewClock(demo.Today, true)
	shop := sessiontest.OpenShop(t, demo.Unpacked, clock)
	if err := demo.Extend(shop); err != nil {
		t.Fatal(err)
	}
	return sessiontest.On(t, shop), clock
}

func do(t testing.TB, b *sessiontest.Bench, list ...operation.Operation) {
	t.Helper()
	for _, o := range list {
		if _, err := o.Do(t.Context(), b.Session); err != nil {
			t.Fatalf("%+v: %v", o, err)
		}
	}
}

func item(name string) operation.Heap { return operation.Heap{Item: name} }

func gather(t testing.TB, b *sessiontest.Bench, of Subject) Book {
	t.Helper()
	book, err := Gather(t.Context(), &b.Shop.Reader, of)
	if err != nil {
		t.Fatal(err)
	}
	return book
}

// section is a part of a chapter as text, "" where there is none.
func section(c Chapter, heading string) string {
	for _, s := range c.Sections {
		if s.Heading == heading {
			return s.text()
		}
	}
	return ""
}

func wants(t *testing.T, text string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("it lacks %q:\n%s", w, text)
		}
	}
}

// rudder is SA-20 with its six lock nuts fitted, looked at, photographed, and an alert on
// their lot with two issues.
func rudder(t testing.TB) *sessiontest.Bench {
	t.Helper()
	b, clock := bench(t)
	const nut = "MS21042-3"
	do(t, b, operation.Take{Heap: item(nut), Amount: "6", For: "SA-20"}, operation.Fit{Heap: item(nut), For: "SA-20"})
	fit := func(n store.Note) {
		if _, _, err := b.Shop.Note(n); err != nil {
			t.Fatal(err)
		}
	}
	fit(store.Note{Kind: store.LookNote, SubAssembly: "SA-20", Second: "Partner", Text: "nuts, all six"})
	fit(store.Note{Kind: store.TorqueNote, SubAssembly: "SA-20", Text: "25 in-lb", Tool: "wrench 2"})
	if _, _, err := b.Shop.AddPhoto(store.OfPlace(b.Place("SA-20").ID), "the builder at the hinge", phototest.JPEG(640, 480, 1)); err != nil {
		t.Fatal(err)
	}
	clock.Set(time.Date(2026, 4, 8, 9, 0, 0, 0, time.UTC))
	for n, i := range []store.Issue{
		{Item: nut, Printed: []string{"Q7714"}, Note: "cracked"},
		{Item: nut, Printed: []string{"Q7714", "Q7715"}},
	} {
		if _, _, err := b.Shop.Alert(uint64(min(n, 1)), "Bulletin 4", i); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// Story 22 of the building stories: what the evidence of SA-20 says, as pages too.
func TestStory22TheEvidenceOfTheRudder(t *testing.T) {
	b := rudder(t)
	book := gather(t, b, Subject{SubAssembly: "sa-20"})
	if book.Day.String() != "8 April 2026" || book.Head.Entry == 0 || len(book.Chapters) != 1 {
		t.Fatalf("a book of %s, entry %d, %d chapters", book.Day, book.Head.Entry, len(book.Chapters))
	}
	c := book.Chapters[0]
	wants(t, section(c, "What is fitted"), "MS21042-3 | 6 ea", "Q7714")
	wants(t, section(c, "Lots, and the deliveries that they came by"), "lot Q7714", "order OK-20731, line 48", "crate C1", "arrived on 14 March 2026", "received on 14 March 2026", "| "+received(t, b))
	wants(t, section(c, "Who else looked at it"), "18 March 2026", "Partner", "nuts, all six")
	wants(t, section(c, "Torque, paint and other notes"), "25 in-lb | wrench 2")
	wants(t, section(c, "What was done, in the order of the days"), "18 March 2026, ", "6 ea MS21042-3 fitted for R-", "6 ea pulled for SA-20 Rudder", "A-1 Bulletin 4, issue 2")
	wants(t, section(c, "Alerts and bulletins"), "A-1 | 1 | 8 April 2026 | Bulletin 4; MS21042-3, lot Q7714; cracked", "A-1 | 2 | ", "named. SA-20 holds 6 of it, among the 6 fitted as")
	photos, err := b.Shop.AllPhotos()
	if err != nil || len(book.Photos()) != 1 {
		t.Fatalf("%d photographs, %v", len(book.Photos()), err)
	}
	last := photos[len(photos)-1]
	wants(t, section(c, "Photographs"), last.Name()+": the builder at the hinge", "SHA-256 "+last.SHA256)
	wants(t, section(c, "Open points"), "No")
	wants(t, book.Text(), "As of 8 April 2026, entry ")
}

// received is who received the lock nuts, by the journal.
func received(t *testing.T, b *sessiontest.Bench) string {
	t.Helper()
	entries, err := b.Shop.Entries(0, 10_000)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Verb == store.VerbReceive && strings.Contains(e.Text, "MS21042-3") {
			return e.Hand
		}
	}
	t.Fatal("nobody received MS21042-3")
	return ""
}

// Two files of one shop and day are the same to the byte, at whatever hour they were made;
// what is in them is on the pages, with their numbers.
func TestFilesOfADayAreTheSame(t *testing.T) {
	b := rudder(t)
	folder := t.TempDir()
	var files [][]byte
	for _, name := range []string{"a.pdf", "b.pdf", "a.csv", "b.csv"} {
		book := gather(t, b, Subject{SubAssembly: "SA-20"})
		path := filepath.Join(folder, name)
		if err := Save(t.Context(), b.Session, book, path, output.Options{}); err != nil {
			t.Fatal(err)
		}
		file, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, file)
	}
	if !bytes.Equal(files[0], files[1]) || !bytes.Equal(files[2], files[3]) {
		t.Error("two files of one shop and day differ")
	}
	wants(t, string(files[2]), "SA-20 Rudder,What is fitted,line,called,needed,fitted,how many,lot", "sha-256")
	if !bytes.Contains(files[0], []byte("/DCTDecode")) {
		t.Error("the photograph is not in the file")
	}
	if err := Save(t.Context(), b.Session, Book{}, filepath.Join(folder, "a.doc"), output.Options{}); store.KindOf(err) != store.Invalid {
		t.Errorf("saved as .doc: %v", err)
	}
}

// Story 15 of the building stories: what the evidence says of another item that was allowed.
func TestStory15TheEvidenceOfAnotherItem(t *testing.T) {
	b, clock := bench(t)
	clock.Set(time.Date(2026, 4, 8, 9, 0, 0, 0, time.UTC))
	const washer = "NAS1149F0363P"
	letter := store.Decision{
		Kind: store.OtherItem, Item: "AN3-12", Extra: []store.Extra{{Called: washer, Quantity: measure.Pieces(8)}}, Who: "Osterhollow Kitworks",
		How: "letter", Paper: "letter 12", Day: store.Date{Year: 2026, Month: 4, Day: 8},
	}
	do(t, b, operation.Decide{Decision: letter, For: "SA-40", Called: "AN3-11"},
		operation.PutIn{Item: "AN3-12", Amount: "4", Place: "A-35"},
		operation.Take{Heap: item("AN3-12"), Amount: "4", For: "SA-40"}, operation.Take{Heap: item(washer), Amount: "8", For: "SA-40"},
		operation.Fit{Heap: item("AN3-12"), For: "SA-40"}, operation.Fit{Heap: item(washer), For: "SA-40"})
	clock.Set(time.Date(2026, 5, 1, 9, 0, 0, 0, time.UTC))
	do(t, b, operation.Decide{Decision: store.Decision{Kind: store.Withdrawal, Withdraws: "D-1", Who: "Osterhollow Kitworks"}})
	c := gather(t, b, Subject{SubAssembly: "SA-40"}).Chapters[0]
	wants(t, section(c, "Where it differs from the list, and what was answered"),
		"called AN3-11, fitted AN3-12 (4 ea) | D-1: AN3-12 for R-", "with 8 ea "+washer, "(letter, letter 12); D-1 withdrawn on 1 May 2026 by D-2", "8 ea "+washer+" fitted, which the decision asks for besides")
	wants(t, section(c, "Decisions"), "8 April 2026 | D-1", "D-2 withdraws D-1, by Osterhollow Kitworks on 1 May 2026")
	wants(t, section(c, "What is fitted"), "AN3-11 | 4 ea | AN3-12 | 4 ea")
}

// What goes against the list has its reason in the evidence, and what was undone is not in it.
func TestReasonsAndUndo(t *testing.T) {
	b, _ := bench(t)
	do(t, b, operation.Take{Heap: item("AN3-5A"), Amount: "6", For: "SA-10"}, operation.Take{Heap: item("AN3-6A"), Amount: "1", For: "SA-10", Reason: "to try the grip"},
		operation.Take{Heap: item("AN365-1032A"), Amount: "2", For: "SA-10"}, operation.Undo{})
	c := gather(t, b, Subject{SubAssembly: "SA-10"}).Chapters[0]
	wants(t, section(c, "Where it differs from the list, and what was answered"), "because: to try the grip")
	if text := section(c, "What was done, in the order of the days"); strings.Contains(text, "AN365-1032A: 2 ea") || !strings.Contains(text, "AN3-5A: 6 ea pulled") {
		t.Errorf("what was done:\n%s", text)
	}
	do(t, b, operation.Redo{})
	c = gather(t, b, Subject{SubAssembly: "SA-10"}).Chapters[0]
	wants(t, section(c, "What was done, in the order of the days"), "AN365-1032A: 2 ea")
}

// Lots that were poured together are shown with their parents, and an alert on one of them
// says how many may be there.
func TestMayHold(t *testing.T) {
	b, clock := bench(t)
	clock.Set(time.Date(2026, 4, 27, 9, 0, 0, 0, time.UTC))
	bolt := item("AN3-5A")
	do(t, b, operation.Take{Heap: bolt, Amount: "6", For: "SA-10"}, operation.Fit{Heap: bolt, For: "SA-10"})
	a12 := b.Heap("A-12").StockKey
	a12.Lot = ""
	if _, err := b.Shop.PutIn(a12, store.Exact(measure.Pieces(10)), store.PourLots); err != nil {
		t.Fatal(err)
	}
	do(t, b, operation.Take{Heap: bolt, Amount: "20", For: "SA-21"}, operation.Fit{Heap: bolt, For: "SA-21"})
	lots, err := b.Shop.Lots("AN3-5A")
	if err != nil || len(lots) != 3 {
		t.Fatalf("lots %+v, %v", lots, err)
	}
	later := lots[1]
	later.Facts.Maker = "Bolt works"
	if _, err := b.Shop.DescribeLot(later.Number, later.Facts); err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Shop.Alert(0, "Letter", store.Issue{Item: "AN3-5A", Maker: "Bolt works"}); err != nil {
		t.Fatal(err)
	}
	c := gather(t, b, Subject{SubAssembly: "SA-21"}).Chapters[0]
	wants(t, section(c, "Alerts and bulletins"), later.Name(), "SA-21 may hold up to 10 of it, among the 20 fitted as", "cannot tell, since nobody recorded what it goes by. SA-21 may hold up to 20 of it")
	wants(t, section(c, "Lots, and the deliveries that they came by"), "poured together on 27 April 2026 out of 10 ea of "+later.Called()+" and 22 ea of ", "order OK-20731, line 39")
	l := gather(t, b, Subject{Lot: later.Name()}).Chapters[0]
	wants(t, section(l, "Where its pieces are"), "10 together", "0 to 10 | 12 ea", "A-12, quarantined (A-1)", "0 to 10 | 20 ea | fitted in SA-21")
	wants(t, section(l, "Its life, in the order of the days"), "fitted for R-", ", in SA-21", "A-1 Letter, issue 1")
	wants(t, section(l, "Alerts and bulletins"), "as its newest issue stands: named.")
}

// An item has its lots, and each thing that was done with it.
func TestTheLifeOfAnItem(t *testing.T) {
	b := rudder(t)
	do(t, b, operation.Scrap{Heap: operation.Heap{Item: "AN3-5A", From: "A-12"}, Amount: "2", Reason: "spoiled: cracked"})
	book := gather(t, b, Subject{Item: "ms21042-3"})
	wants(t, section(book.Chapters[0], "Its lots"), "Q7714", "crate C1")
	wants(t, section(book.Chapters[0], "Its life, in the order of the days"), "pulled for SA-20", "fitted for R-", "A-1 Bulletin 4")
	wants(t, section(gather(t, b, Subject{Item: "AN3-5A"}).Chapters[0], "Its life, in the order of the days"), "2 ea scrapped, spoiled: cracked")
	if text := section(gather(t, b, Subject{Item: "AN3-5A"}).Chapters[0], "Its life, in the order of the days"); strings.Contains(text, "A-1 ") {
		t.Errorf("the life of another item has the alert:\n%s", text)
	}
	if text := section(book.Chapters[0], "Its life, in the order of the days"); strings.Count(text, "Bulletin 4, issue") != 2 {
		t.Errorf("both issues are not in its life:\n%s", text)
	}
	if len(book.Chapters) != 2 || !strings.Contains(book.Chapters[1].Title, "Q7714") {
		t.Errorf("%d chapters", len(book.Chapters))
	}
}

// Story 21's propeller has its stretches in its evidence, and stands in that of its aircraft.
func TestTheLifeOfAComponent(t *testing.T) {
	b, _ := bench(t)
	day := "2026-03-18"
	do(t, b, operation.PutAircraft{Name: "Q", Certificate: "none"}, operation.PutComponent{Item: "OQ-PROP", Serial: "0007"},
		operation.Mount{Component: "CO-1", Aircraft: "Q", Hours: "0", On: day, Position: "Nose/hub"},
		operation.Dismount{Component: "CO-1", Hours: "112.4", On: day}, operation.CorrectMounting{Component: "CO-1", Stretch: 1, Off: "112.2"})
	c := gather(t, b, Subject{Component: "0007"}).Chapters[0]
	wants(t, section(c, "What it is"), "Ran here 112.2 h, since new not known")
	wants(t, section(c, "On which aircraft from when to when"), "Q | Nose / hub | 18 March 2026 at 0 h", "at 112.2 h")
	wants(t, section(c, "Its life, in the order of the days"), "off at 112.2 h, corrected from 112.4 h")
	book := gather(t, b, Subject{Aircraft: "q"})
	titles := ""
	for _, c := range book.Chapters {
		titles += c.Title + "\n"
	}
	wants(t, titles, "Aircraft Q\nSA-10 Fin\n", "SA-50 Tank\nCO-1, OQ-PROP serial 0007\nValue of the shop\n")
	wants(t, section(book.Chapters[0], "Open points of all of them"), "SA-10: ")
	wants(t, section(book.Chapters[0], "Its sub-assemblies, in the order of the build"), "SA-20 | Rudder | ")
}

func TestEvidenceOfWhatIsNot(t *testing.T) {
	b, _ := bench(t)
	for _, of := range []Subject{{}, {SubAssembly: "SA-99"}, {Item: "AN99"}, {Lot: "L-9999"}, {Component: "CO-9"}, {Aircraft: "Z"}, {Item: "AN3-5A", Lot: "L-1"}} {
		if _, err := Gather(t.Context(), &b.Shop.Reader, of); store.KindOf(err) != store.NotFound && store.KindOf(err) != store.Invalid {
			t.Errorf("%+v: %v", of, err)
		}
	}
	ended, end := context.WithCancel(t.Context())
	end()
	book := gather(t, b, Subject{SubAssembly: "SA-20"})
	path := filepath.Join(t.TempDir(), "a.pdf")
	if err := Save(ended, b.Session, book, path, output.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if _, err := os.Stat(path); !os.IsNotExist(err) {
		t.Errorf("a stopped file is left: %v", err)
	}
}

// No word of ours in any book says what nobody may claim.
func TestNoForbiddenWords(t *testing.T) {
	b := rudder(t)
	do(t, b, operation.PutAircraft{Name: "Q", Certificate: "none"})
	for _, of := range []Subject{{Aircraft: "Q"}, {Item: "MS21042-3"}, {Lot: "Q7714"}} {
		text := strings.ToLower(gather(t, b, of).Text())
		for _, word := range []string{"airworthy", "approved", "certified", "certify", "eligible", "equal", "compliant", "inspected", "safe", "does not apply", "genuine", "passed"} {
			if strings.Contains(text, word) {
				at := strings.Index(text, word)
				t.Errorf("%+v says %q: ...%s", of, word, text[max(0, at-60):min(len(text), at+60)])
			}
		}
	}
}

// Story 19 of the building stories: what was decided on the origin of what went in is the
// first line of its evidence, and stays so when the decision is withdrawn.
func TestStory19OriginIsSaidFirst(t *testing.T) {
	b := rudder(t)
	lots, err := b.Shop.Lots("MS21042-3")
	if err != nil || len(lots) != 1 {
		t.Fatalf("%d lots, %v", len(lots), err)
	}
	needs, err := b.Shop.Requirements("SA-20")
	if err != nil || len(needs) != 1 {
		t.Fatalf("%d needs, %v", len(needs), err)
	}
	of, _, err := b.Shop.Decide(store.Decision{Kind: store.AnyOrigin, Requirements: []string{needs[0].Name()}, Lots: []string{lots[0].Name()}, Who: "Ada", How: "reason in the log"})
	if err != nil {
		t.Fatal(err)
	}
	first := func() string { return gather(t, b, Subject{SubAssembly: "SA-20"}).Chapters[0].Sections[0].Texts[0] }
	want := "Origin by decision: D-1: origin for " + needs[0].Name() + " and " + lots[0].Name() + ", allowed by Ada on 8 April 2026 (reason in the log)"
	if got := first(); got != want {
		t.Errorf("the first line is %q, want %q", got, want)
	}
	if _, _, err := b.Shop.Decide(store.Decision{Kind: store.Withdrawal, Withdraws: of.Name(), Who: "Ada"}); err != nil {
		t.Fatal(err)
	}
	if got := first(); got != want+"; D-1 withdrawn on 8 April 2026 by D-2" {
		t.Errorf("withdrawn, the first line is %q", got)
	}
}
