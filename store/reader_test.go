package store_test

import (
	"context"
	"errors"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// reads are all reading methods, each with how many transactions it takes by itself.
func reads(w world, photo uint64) map[string]struct {
	takes uint64
	call  func(r *store.Reader) error
} {
	type row = struct {
		takes uint64
		call  func(r *store.Reader) error
	}
	heap, tag := w.in("AN3-5A", "A-01"), string(mustPlace(w, "A-01").Tag)
	third := func(_ any, _ bool, err error) error { return err }
	return map[string]row{
		"AllPhotos":     {1, func(r *store.Reader) error { return second(r.AllPhotos()) }},
		"Children":      {1, func(r *store.Reader) error { return second(r.Children(w.place["Garage"])) }},
		"Clocks":        {1, func(r *store.Reader) error { return second(r.Clocks()) }},
		"Overdue":       {1, func(r *store.Reader) error { return second(r.Overdue(store.Clock{Shipment: w.ship, DaysLeft: -1})) }},
		"At":            {1, func(r *store.Reader) error { return second(r.At(store.Position{Name: "Tailplane"})) }},
		"Components":    {1, func(r *store.Reader) error { return second(r.Components()) }},
		"Dues":          {1, func(r *store.Reader) error { return second(r.Dues()) }},
		"PositionNamed": {1, func(r *store.Reader) error { return third(r.PositionNamed("", "Tailplane")) }},
		"Times":         {1, func(r *store.Reader) error { return second(r.Times()) }},
		"Positions":     {1, func(r *store.Reader) error { return second(r.Positions()) }},
		"Closing":       {1, func(r *store.Reader) error { _, _, err := r.Closing("SA-10", nil); return err }},
		"Heaps":         {1, func(r *store.Reader) error { return second(r.Heaps("AN3-5A", nil)) }},
		"Reading":       {1, func(r *store.Reader) error { return second(r.Reading()) }},
		"Following":     {1, func(r *store.Reader) error { return second(r.Following()) }},
		"Follow": {2, func(r *store.Reader) error {
			f, err := r.Following()
			return errors.Join(err, second(r.Follow(f, []store.Concern{{Part: store.SubsPart}, {Part: store.PlacesPart}, {Part: store.StockPart, Of: "AN3-5A"}})))
		}},
		"Contents":      {1, func(r *store.Reader) error { return second(r.Contents(heap.Place)) }},
		"Entries":       {1, func(r *store.Reader) error { return second(r.Entries(0, 100)) }},
		"Entry":         {1, func(r *store.Reader) error { return second(r.Entry(1)) }},
		"Equivalents":   {1, func(r *store.Reader) error { return second(r.Equivalents()) }},
		"Figures":       {1, func(r *store.Reader) error { return second(r.Figures()) }},
		"Fitted":        {1, func(r *store.Reader) error { return second(r.Fitted("")) }},
		"Holdings":      {1, func(r *store.Reader) error { return second(r.Holdings("AN3-5A")) }},
		"Item":          {1, func(r *store.Reader) error { return second(r.Item("AN3-5A")) }},
		"Items":         {1, func(r *store.Reader) error { return second(r.Items()) }},
		"LastCounted":   {1, func(r *store.Reader) error { c, ok, err := r.LastCounted(heap); return third(c, ok, err) }},
		"Line":          {1, func(r *store.Reader) error { return second(r.Line(w.ship, 1)) }},
		"LineNumbered":  {1, func(r *store.Reader) error { return second(r.LineNumbered(w.ship, 1)) }},
		"Lines":         {1, func(r *store.Reader) error { return second(r.Lines(w.ship)) }},
		"LinesOf":       {1, func(r *store.Reader) error { return second(r.LinesOf([]string{w.ship, w.ship})) }},
		"Newest":        {1, func(r *store.Reader) error { return second(r.Newest()) }},
		"Now":           {0, func(r *store.Reader) error { r.Now(); return nil }},
		"OrderLines":    {1, func(r *store.Reader) error { return second(r.OrderLines(0)) }},
		"Orders":        {1, func(r *store.Reader) error { return second(r.Orders()) }},
		"Owing":         {1, func(r *store.Reader) error { return second(r.Owing()) }},
		"Path":          {1, func(r *store.Reader) error { return second(r.Path(heap.Place)) }},
		"Photo":         {1, func(r *store.Reader) error { return second(r.Photo(photo)) }},
		"Photos":        {1, func(r *store.Reader) error { return second(r.Photos(store.OfItem("AN3-5A"))) }},
		"PhotosOfLines": {1, func(r *store.Reader) error { return second(r.PhotosOfLines(w.ship)) }},
		"Picture":       {1, func(r *store.Reader) error { return second(r.Picture(photo)) }},
		"Pictures":      {1, func(r *store.Reader) error { _, _, err := r.Pictures(); return err }},
		"Place":         {1, func(r *store.Reader) error { return second(r.Place(heap.Place)) }},
		"Places":        {1, func(r *store.Reader) error { return second(r.Places()) }},
		"PulledFrom":    {1, func(r *store.Reader) error { place, ok, err := r.PulledFrom(heap); return third(place, ok, err) }},
		"Read":          {1, func(r *store.Reader) error { return r.Read(func(*store.Reader) error { return nil }) }},
		"Redoable":      {1, func(r *store.Reader) error { e, ok, err := r.Redoable(); return third(e, ok, err) }},
		"Aircraft":      {1, func(r *store.Reader) error { return second(r.Aircraft()) }},
		"Notes":         {1, func(r *store.Reader) error { return second(r.Notes("SA-10")) }},
		"PlanChanges":   {1, func(r *store.Reader) error { return second(r.PlanChanges()) }},
		"PreviewPlans":  {1, func(r *store.Reader) error { return second(r.PreviewPlans(store.PlanEdit{End: []string{"R-1"}})) }},
		"CountingBlind": {1, func(r *store.Reader) error {
			b, ok, err := r.CountingBlind(w.in("AN3-5A", "A-01"))
			return third(b, ok, err)
		}},
		"Decisions":    {1, func(r *store.Reader) error { return second(r.Decisions()) }},
		"Fits":         {1, func(r *store.Reader) error { return second(r.Fits("SA-10")) }},
		"LookedFor":    {1, func(r *store.Reader) error { return second(r.LookedFor("SA-10")) }},
		"Scrapped":     {1, func(r *store.Reader) error { return second(r.Scrapped()) }},
		"Requirements": {1, func(r *store.Reader) error { return second(r.Requirements("SA-10")) }},
		"Resolve":      {1, func(r *store.Reader) error { return second(r.Resolve(tag)) }},
		"Revision":     {1, func(r *store.Reader) error { return second(r.Revision(store.Shipment{}, smallList())) }},
		"Settings":     {1, func(r *store.Reader) error { return second(r.Settings()) }},
		"Shipment":     {1, func(r *store.Reader) error { return second(r.Shipment(w.ship)) }},
		"Shipments":    {1, func(r *store.Reader) error { return second(r.Shipments()) }},
		"Stock":        {1, func(r *store.Reader) error { return second(r.Stock()) }},
		"Gone":         {1, func(r *store.Reader) error { return second(r.Gone("")) }},
		"Head":         {1, func(r *store.Reader) error { return second(r.Head()) }},
		"Heap":         {1, func(r *store.Reader) error { return second(r.Heap(w.in("AN3-5A", "A-01"))) }},
		"History": {1, func(r *store.Reader) error {
			return r.History(context.Background(), store.About{Items: []string{"AN3-5A"}}, func(store.Done) error { return nil })
		}},
		"LotHeaps":        {1, func(r *store.Reader) error { return r.LotHeaps(func(store.LotHeap) error { return nil }) }},
		"Lot":             {1, func(r *store.Reader) error { return second(r.Lot("AN3-5A", "L-1")) }},
		"AlertFound":      {1, func(r *store.Reader) error { return second(r.AlertFound(1)) }},
		"AlertWould":      {1, func(r *store.Reader) error { return second(r.AlertWould(0, store.Issue{Item: "AN3-5A"})) }},
		"Alerts":          {1, func(r *store.Reader) error { return second(r.Alerts()) }},
		"LotStates":       {1, func(r *store.Reader) error { return second(r.LotStates("AN3-5A")) }},
		"Paper":           {1, func(r *store.Reader) error { return second(r.Paper(1)) }},
		"NamesPaper":      {1, func(r *store.Reader) error { return second(r.NamesPaper(1)) }},
		"PaperBytes":      {1, func(r *store.Reader) error { return second(r.PaperBytes(2)) }},
		"Papers":          {1, func(r *store.Reader) error { return second(r.Papers()) }},
		"LotNumbered":     {1, func(r *store.Reader) error { return second(r.LotNumbered(1)) }},
		"Whereabouts":     {1, func(r *store.Reader) error { return second(r.Whereabouts("AN3-5A", "L-1")) }},
		"LotsWhereabouts": {1, func(r *store.Reader) error { return second(r.LotsWhereabouts("AN3-5A")) }},
		"Lots":            {1, func(r *store.Reader) error { return second(r.Lots("AN3-5A")) }},
		"ItemsInStock":    {1, func(r *store.Reader) error { return second(r.ItemsInStock()) }},
		"RequirementsFor": {1, func(r *store.Reader) error { return second(r.RequirementsFor("AN3-5A")) }},
		"StockKeys":       {1, func(r *store.Reader) error { return second(r.StockKeys()) }},
		"SubAssemblies":   {1, func(r *store.Reader) error { return second(r.SubAssemblies()) }},
		"SubjectText":     {1, func(r *store.Reader) error { return second(r.SubjectText(store.OfItem("AN3-5A"))) }},
		"Suppliers":       {1, func(r *store.Reader) error { return second(r.Suppliers()) }},
		"Supplies":        {1, func(r *store.Reader) error { return second(r.Supplies()) }},
		"SupplyOf":        {1, func(r *store.Reader) error { return second(r.SupplyOf("AN3-5A")) }},
		"Tags":            {1, func(r *store.Reader) error { return second(r.Tags()) }},
		"Today":           {0, func(r *store.Reader) error { r.Today(); return nil }},
		"Totals":          {1, func(r *store.Reader) error { return second(r.Totals(w.ship)) }},
		"Undoable":        {1, func(r *store.Reader) error { e, ok, err := r.Undoable(); return third(e, ok, err) }},
	}
}

// Every reading method takes one transaction by itself, and none more within a Read.
func TestOneTransactionAnAnswer(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(20))
	w.must(second(w.ClaimSent(w.ship, w.Today(), ""))) // so that its lines are asked too
	w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(4))))
	p, _, err := w.AddPhoto(store.OfItem("AN3-5A"), "", phototest.JPEG(8, 6, 1))
	w.must(err)
	w.must(third(w.AddPaper(store.Paper{Kind: store.LetterPaper, Kept: "binder 2"})))
	w.paper("letter.pdf", aPDF(1, 100))
	w.must(third(w.Alert(0, "Washers", store.Issue{Item: "AN960-10"})))
	rows := reads(w, p.Number)
	var names []string
	for m := range reflect.TypeFor[*store.Reader]().Methods() {
		names = append(names, m.Name)
	}
	var listed []string
	for name, row := range rows {
		listed = append(listed, name)
		before := w.Reads()
		w.must(row.call(&w.Reader))
		if got := w.Reads() - before; got != row.takes {
			t.Errorf("%s takes %d transactions, want %d", name, got, row.takes)
		}
	}
	slices.Sort(listed)
	if d := cmp.Diff(names, listed); d != "" {
		t.Errorf("methods (-of Reader +here):\n%s", d)
	}
	before := w.Reads()
	w.must(w.Read(func(r *store.Reader) error {
		for name, row := range rows {
			if err := row.call(r); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		return nil
	}))
	if got := w.Reads() - before; got != 1 {
		t.Errorf("all within one Read take %d transactions", got)
	}
}

// LinesOf are the lines of each list in the order in which they are asked for.
func TestLinesOf(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(20))
	list := smallList()
	list.Fingerprint, list.Lines = "another", list.Lines[:2]
	other, _, err := w.Import(list)
	w.must(err)
	got, err := w.LinesOf([]string{other.ID, "nowhere", w.ship})
	w.must(err)
	var want [][]store.Line
	for _, id := range []string{other.ID, "nowhere", w.ship} {
		lines, err := w.Lines(id)
		w.must(err)
		want = append(want, lines)
	}
	if d := cmp.Diff(want, got); d != "" || len(got[0]) != 2 || len(got[2]) != 7 {
		t.Errorf("(-Lines +LinesOf):\n%s", d)
	}
}

// What is changed while a Read goes on is not seen in it, nor in a Read within it.
func TestReadSeesOneState(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	text := func(r *store.Reader) string {
		t.Helper()
		heaps, err := r.Holdings("AN3-5A")
		w.must(err)
		seq, err := r.Newest()
		w.must(err)
		entries, err := r.Entries(0, 1)
		w.must(err)
		if entries[0].Seq != seq {
			t.Errorf("the newest entry is %d, and Newest says %d", entries[0].Seq, seq)
		}
		return heaps[0].Amount.String()
	}
	w.must(w.Read(func(r *store.Reader) error {
		if got := text(r); got != "24 ea" {
			t.Errorf("before the change: %s", got)
		}
		changed := make(chan error)
		go func() { changed <- second(w.Count(w.in("AN3-5A", "H103"), measure.Pieces(7))) }()
		w.must(<-changed)
		if got := text(r); got != "24 ea" {
			t.Errorf("after the change: %s", got)
		}
		return r.Read(func(again *store.Reader) error {
			if got := text(again); got != "24 ea" {
				t.Errorf("after the change, in a Read within: %s", got)
			}
			return nil
		})
	}))
	if got := text(&w.Reader); got != "7 ea" {
		t.Errorf("by itself: %s", got)
	}
}

// A group of verbs reads what it has done, and no other transaction.
func TestReadWithinAGroup(t *testing.T) {
	w := newWorld(t)
	before := w.Reads()
	w.must(w.Together(func(group *store.Shop) error {
		if _, err := group.Count(w.in("AN3-5A", "A-01"), measure.Pieces(12)); err != nil {
			return err
		}
		return group.Read(func(r *store.Reader) error {
			heaps, err := r.Holdings("AN3-5A")
			if err != nil || len(heaps) != 1 || heaps[0].Amount != store.Exact(measure.Pieces(12)) {
				t.Errorf("in the group: %v, %v", heaps, err)
			}
			return nil
		})
	}))
	if got := w.Reads() - before; got != 0 {
		t.Errorf("the group took %d transactions for reading beside its own", got)
	}
}

// A closed shop says so.
func TestReadAfterClose(t *testing.T) {
	w := newWorld(t)
	w.must(w.Close())
	called := false
	if err := w.Read(func(*store.Reader) error { called = true; return nil }); err == nil || called {
		t.Errorf("a closed shop reads: %v, %v", err, called)
	}
}
