package store_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/exchange"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// world is a small shop: a garage with a cabinet of two rows and two columns and a
// shelf, a packing list of which crate C1 has come, and a sub-assembly.
type world struct {
	*store.Shop
	t     *testing.T
	clock *storetest.Clock
	ship  string            // id
	place map[string]string // name -> id
	last  int               // number of the newest order
}

// newWorld is a copy of the world, which is made once, and goes on as that would.
func newWorld(t *testing.T) world {
	t.Helper()
	made.once.Do(func() { makeWorld(t) })
	if made.file == nil {
		t.Fatal("the world could not be made")
	}
	w := world{t: t, clock: storetest.NewClock(t, storetest.Day), place: map[string]string{}, ship: made.ship}
	file := filepath.Join(storetest.Folder(t), "shop.stow")
	write(t, file, made.file)
	random := storetest.Random()
	_, err := io.CopyN(io.Discard, random, made.drawn)
	w.must(err)
	w.Shop = storetest.OpenFile(t, file, store.Options{Clock: w.clock.Now, Random: random})
	t.Cleanup(func() { comesBack(t, w.Shop) })
	w.learnPlaces()
	return w
}

// made is the world that was made.
var made struct {
	once  sync.Once
	file  []byte
	ship  string
	drawn int64 // bytes of storetest.Random that its ids and tags took
}

func makeWorld(t *testing.T) {
	t.Helper()
	random := &counted{from: storetest.Random()}
	w := world{t: t}
	w.Shop = storetest.Open(t, store.Options{Random: random})
	garage, _, err := w.AddPlace(store.Place{Kind: store.Room, Name: "Garage"})
	w.must(err)
	_, _, err = w.AddPlace(store.Place{Kind: store.Room, Name: "Hangar"})
	w.must(err)
	_, _, err = w.AddCabinet(store.CabinetSpec{Parent: garage.ID, Name: "Cabinet A", Prefix: "A", Rows: 2, Columns: 2})
	w.must(err)
	_, _, err = w.AddPlace(store.Place{Parent: garage.ID, Kind: store.Shelf, Name: "S1"})
	w.must(err)
	ship, _, err := w.Import(smallList())
	w.must(err)
	w.ship = ship.ID
	_, err = w.Arrive(ship.ID, store.Delivery{Crates: []string{"C1"}, Arrived: store.Date{Year: 2026, Month: 3, Day: 14}})
	w.must(err)
	_, err = w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin"}, store.Requirement{Item: "AN3-5A", Needed: measure.Pieces(6)})
	w.must(err)
	w.must(w.Close())
	made.file, made.ship, made.drawn = read(t, w.File()), ship.ID, random.n
}

// counted counts the bytes that are read.
type counted struct {
	from io.Reader
	n    int64
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.from.Read(p)
	c.n += int64(n)
	return n, err
}

func smallList() store.NewShipment {
	return store.NewShipment{
		Order: "OK-20731", File: "list.csv", Fingerprint: "small",
		Lines: []store.NewLine{
			{Number: 1, Crate: "C1", Group: "H103", Designation: "AN3-5A", Title: "Bolt", Listed: measure.Pieces(24), Status: store.Shipped},
			{Number: 2, Crate: "C1", Group: "H103", Designation: "AN3-6A", Title: "Bolt", Listed: measure.Pieces(16), Status: store.Shipped},
			{Number: 3, Crate: "C1", Group: "H101", Designation: "AN426AD3-3.5", Title: "Flush rivet", Listed: measure.Quantity{Micro: 300_000, Unit: measure.Pound}, Status: store.Shipped},
			{Number: 4, Crate: "C1", Group: "SK20", Designation: "OQ-20-040-B", Title: "Rudder horn rev B", Listed: measure.Pieces(1), Status: store.Shipped},
			{Number: 5, Crate: "C1", Group: "SK30", Designation: "OQ-30-033", Title: "Spar doubler", Listed: measure.Pieces(2), Status: store.BackOrdered},
			{Number: 6, Crate: "C3", Group: "SK50", Designation: "OQ-50-010-L", Title: "Tank skin left", Listed: measure.Pieces(1), Status: store.NotShipped},
			{Number: 7, Crate: "C1", Group: "H104", Designation: "MS21042-3", Title: "Lock nut", Listed: measure.Pieces(20), Status: store.Shipped, Lot: "Q7714"},
		},
	}
}

func (w world) must(err error) {
	w.t.Helper()
	if err != nil {
		w.t.Fatal(err)
	}
}

func (w world) learnPlaces() {
	w.t.Helper()
	places, err := w.Places()
	w.must(err)
	for _, p := range places {
		if !p.Retired {
			w.place[p.Name] = p.ID
		}
	}
}

// in is the heap of good pieces of an item in a place that is named.
func (w world) in(item, place string) store.StockKey {
	w.t.Helper()
	id, ok := w.place[place]
	if !ok {
		w.t.Fatalf("the test has no place %q", place)
	}
	return store.StockKey{Item: item, Place: id}
}

func (w world) to(item, from string, n int64, to string) store.Transfer {
	w.t.Helper()
	return store.Transfer{StockKey: w.in(item, from), To: w.in(item, to).Place, Quantity: measure.Pieces(n)}
}

func (w world) receive(line int, f store.Finding) {
	w.t.Helper()
	_, err := w.Receive(w.ship, store.LineID(line), f)
	w.must(err)
}

// found is a counted finding of n pieces.
func found(n int64) store.Finding { return store.Finding{Found: measure.Pieces(n), Counted: true} }

// printed is " lot Q7714" for a lot on which that is printed.
func (w world) printed(item, lot string) string {
	w.t.Helper()
	l, err := w.Lot(item, lot)
	w.must(err)
	if l.Printed == "" {
		return ""
	}
	return " lot " + l.Printed
}

// stock is every heap in words, such as "AN3-5A in C1, H103: 24 ea".
func (w world) stock() []string {
	w.t.Helper()
	heaps, err := w.Stock()
	w.must(err)
	lines := []string{}
	for _, h := range heaps {
		path, err := w.Path(h.Place)
		w.must(err)
		text := h.Item + w.printed(h.Item, h.Lot)
		if h.Condition != store.Good {
			text += " (" + string(h.Condition) + ")"
		}
		lines = append(lines, fmt.Sprintf("%s in %s: %s", text, store.PathText(path), h.Amount))
	}
	slices.Sort(lines)
	return lines
}

// wantStock compares the stock with lines as stock gives them.
func (w world) wantStock(want ...string) {
	w.t.Helper()
	slices.Sort(want)
	if d := cmp.Diff(append([]string{}, want...), w.stock()); d != "" {
		w.t.Errorf("stock (-want +got):\n%s", d)
	}
}

// ulidForm is the form of an id, which no person should ever read.
var ulidForm = regexp.MustCompile(`[0-7][0-9A-HJKMNP-TV-Z]{25}`)

// wantRefusal checks the kind and the sentence of a refusal, and that the sentence
// is one: whole, with what to do after a colon, and with none of our ids in it.
func wantRefusal(t *testing.T, err error, kind store.Kind, sentence string, or ...store.Kind) {
	t.Helper()
	var e *store.Error
	if !asStoreError(err, &e) {
		t.Fatalf("got %v, want the refusal %q", err, sentence)
	}
	if e.Kind != kind && !slices.Contains(or, e.Kind) || e.Message != sentence {
		t.Errorf("refused with %s %q, want %s %q", e.Kind, e.Message, kind, sentence)
	}
	if !strings.HasSuffix(e.Message, ".") || !strings.Contains(e.Message, ": ") {
		t.Errorf("%q is not a sentence that says what to do", e.Message)
	}
	if ulidForm.MatchString(e.Where+e.Message) || strings.Contains(e.Message, "\x00") {
		t.Errorf("%q shows an id of ours", e.Message)
	}
}

// comesBack exports a shop and brings the export in: whatever a test did, it gives
// the same export again.
func comesBack(t *testing.T, shop *store.Shop) {
	t.Helper()
	if shop.Closed() {
		return
	}
	dir := storetest.Folder(t)
	archive, path := filepath.Join(dir, "shop.zip"), filepath.Join(dir, "back.stow")
	if err := exchange.ExportArchiveFile(context.Background(), shop, archive, false); err != nil {
		t.Errorf("exporting: %v", err)
		return
	}
	if err := exchange.ImportArchive(context.Background(), path, archive); err != nil {
		t.Errorf("bringing the export in: %v", err)
		return
	}
	once, err := os.ReadFile(archive)
	if err != nil {
		t.Error(err)
	}
	back := storetest.OpenFile(t, path, store.Options{})
	var twice bytes.Buffer
	if err := exchange.ExportArchive(context.Background(), back, &twice); err != nil || !bytes.Equal(once, twice.Bytes()) {
		t.Errorf("the export of the export differs, %v", err)
	}
}

// fitting is stock on its way into an aircraft.
func fitting(t store.Transfer) store.Fitting { return store.Fitting{Transfer: t} }

// because is fitting with a reason, for what is not called or is more than is called.
func because(t store.Transfer) store.Fitting {
	t.Reason = "by bulletin 4"
	return fitting(t)
}

// answers are one answer to everything that is open on a sub-assembly.
func (w world) answers(code, why string) map[string]string {
	w.t.Helper()
	all, err := answers(w.Shop, code, why)
	w.must(err)
	return all
}

func answers(shop *store.Shop, code, why string) (map[string]string, error) {
	open, _, err := shop.Closing(code, nil)
	all := map[string]string{}
	for _, o := range open {
		all[o.Key] = why
	}
	return all, err
}
