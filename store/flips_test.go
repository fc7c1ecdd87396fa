package store

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/store/disk"
	"stowright/store/disk/disktest"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// A bit of a key that is flipped, in whatever table or index, in a leaf or in a branch, is
// refused or does no harm: nothing that is read is wrong, and nothing that is then done
// either. make torture flips two thousand.
func TestFlippedKeys(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		flipKeys(t, 100)
		return
	}
	flipKeys(t, 600)
}

// flipKeys flips so many bits of keys, one at a time.
func flipKeys(t *testing.T, flips int) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	f := newFlips(t, rand.New(rand.NewPCG(seed, 0)))
	for i := range flips {
		if k := f.aim(i); k.Text != "" {
			f.one(k, 8*k.Offset+f.r.IntN(8*len(k.Text)), i%2 == 0)
		}
	}
	f.wantProven(flips)
}

func (f *flips) wantProven(flips int) {
	f.t.Helper()
	f.t.Logf("%d flips: %d refused on opening, %d when something was read, %d when something was done; %d did no harm",
		flips, f.unopened, f.unread, f.undone, f.harmless)
	if f.unopened == 0 || f.unread == 0 || f.harmless == flips {
		f.t.Error("so nothing is proven")
	}
}

// The same of any bit of a branch: of its keys, of the numbers of the pages that it leads
// to, and of what it says of itself. What lies near it is read and worked on.
func TestFlippedBranches(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		flipBranches(t, 60)
		return
	}
	flipBranches(t, 400)
}

func flipBranches(t *testing.T, flips int) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	f := newFlips(t, rand.New(rand.NewPCG(seed, 0)))
	pages, err := disktest.Pages(f.good)
	if err != nil {
		t.Fatal(err)
	}
	branches := map[string][]disktest.Page{}
	var from []string
	for _, p := range pages {
		if p.Branch {
			if branches[p.Bucket] == nil {
				from = append(from, p.Bucket)
			}
			branches[p.Bucket] = append(branches[p.Bucket], p)
		}
	}
	for _, p := range branches[""] { // led by a high bit to where no memory can be
		for bit := 33; bit < 38; bit++ {
			f.one(p.Keys[0], 8*(p.Offset+16+8)+bit, true)
		}
	}
	for i := range flips {
		p := pickOne(f.r, branches[from[i%len(from)]])
		keys := len(p.Keys)
		bit, near := f.r.IntN(8*p.Length), f.r.IntN(keys)
		if i%4 > 0 { // more often what is not a key
			bit = f.r.IntN(8 * 16 * (1 + keys))
		}
		if entry := bit/8/16 - 1; entry >= 0 && entry < keys {
			near = entry
		}
		f.one(p.Keys[near], p.Offset*8+bit, i/len(from)%2 == 0)
	}
	f.wantProven(flips)
}

// flips is a shop whose keys are flipped.
type flips struct {
	t    *testing.T
	r    *rand.Rand
	dir  string
	good []byte
	keys map[string][]disktest.Key // by bucket, and whether they are of branches
	from []string                  // the names of those

	known                              map[string]map[string]string // what the good shop says, by aim
	ofAll                              map[string]string            // and of all tables, whatever the aim
	unopened, unread, undone, harmless int
}

func newFlips(t *testing.T, r *rand.Rand) *flips {
	t.Helper()
	f := &flips{t: t, r: r, dir: t.TempDir(), keys: map[string][]disktest.Key{}, known: map[string]map[string]string{}}
	f.good = largeShop(t)
	keys, err := disktest.Keys(f.good)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range keys {
		name := fmt.Sprintf("%s, branch %t", k.Bucket, k.Branch)
		if f.keys[name] == nil {
			f.from = append(f.from, name)
		}
		f.keys[name] = append(f.keys[name], k)
	}
	for _, bucket := range append([]string{"journal", indexUndone, indexByPlace, indexChildren, blobPictures}, tableItems, tablePlaces, tableStock, tableLines, tableTags, tableCounted, tablePhotos) {
		if f.keys[bucket+", branch true"] == nil {
			t.Errorf("%s has no branches: nothing is proven of them", bucket)
		}
	}
	return f
}

// aim draws a key, of each bucket as often as of any other. A short run aims at a few keys,
// whose answers in the good shop are worked out once; they are others in the next run.
func (f *flips) aim(i int) disktest.Key {
	name := f.from[i%len(f.from)]
	if testing.Short() && len(f.keys[name]) > shortAims {
		f.r.Shuffle(len(f.keys[name]), func(i, j int) { f.keys[name][i], f.keys[name][j] = f.keys[name][j], f.keys[name][i] })
		f.keys[name] = f.keys[name][:shortAims]
	}
	return pickOne(f.r, f.keys[name])
}

const shortAims = 2

func pickOne[T any](r *rand.Rand, list []T) T { return list[r.IntN(len(list))] }

// one flips one bit of the file, in a key or near it, before the shop is opened or while
// it is open: then nothing has looked over its pages first.
func (f *flips) one(k disktest.Key, bit int, whileOpen bool) {
	f.t.Helper()
	bad := append([]byte{}, f.good...)
	bad[bit/8] ^= 1 << (bit % 8)
	what := fmt.Sprintf("bit %d, %d from the key %q in %q (branch %t, while open %t)", bit, bit-8*k.Offset, k.Text, k.Bucket, k.Branch, whileOpen)
	path := filepath.Join(f.dir, "shop.stow")
	first := bad
	if whileOpen {
		first = f.good
	}
	s := f.open(path, first, whileOpen)
	if s == nil {
		f.unopened++
		return
	}
	defer s.Close()
	if whileOpen {
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			f.t.Fatal(err)
		}
	}
	refused := f.agree(what, s, k, "before")
	doneErr := f.do(s, k)
	if doneErr != nil && KindOf(doneErr) == Corrupt {
		if refused { // which came first
			f.unread++
		} else {
			f.undone++
		}
		return
	}
	if want := f.knownOf(k)["done"]; want != fmt.Sprint(doneErr) {
		f.t.Errorf("%s: what is done says %v, want %s", what, doneErr, want)
	}
	refused = f.agree(what+", after something was done", s, k, "after") || refused
	if refused {
		f.unread++
	} else {
		f.harmless++
	}
}

// open writes a file and opens it; nil where it is refused as damaged, though not where it
// must open.
func (f *flips) open(path string, data []byte, must bool) *Shop {
	f.t.Helper()
	_ = disk.Remove(path)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		f.t.Fatal(err)
	}
	s, err := Open(path, fixedOptions())
	if err != nil && (must || KindOf(err) != Corrupt) {
		f.t.Fatalf("opening: %v", err)
	}
	if err != nil {
		return nil
	}
	s.file.SetUnsynced(true)
	return s
}

// agree holds what a shop says against what the good one says. It reports whether some of
// it was refused as damaged.
func (f *flips) agree(what string, s *Shop, k disktest.Key, when string) (refused bool) {
	f.t.Helper()
	known := f.knownOf(k)
	for name, got := range asked(s, k) {
		if got == refusal {
			refused = true
		} else if want := known[when+" "+name]; got != want {
			f.t.Errorf("%s: %s says %.300s, want %.300s", what, name, got, want)
		}
	}
	return refused
}

// knownOf is what the good shop says of the things of a key, before and after something is
// done with them.
func (f *flips) knownOf(k disktest.Key) map[string]string {
	f.t.Helper()
	aim := k.Bucket + " " + k.Text
	if f.known[aim] == nil {
		known := map[string]string{}
		s := f.open(filepath.Join(f.t.TempDir(), "good.stow"), f.good, true)
		if f.ofAll == nil { // before anything is done it is the same at every aim
			f.ofAll = askedOfAll(s)
		}
		for name, says := range f.ofAll {
			known["before "+name] = says
		}
		for name, says := range askedOf(s, k) {
			known["before "+name] = says
		}
		known["done"] = fmt.Sprint(f.do(s, k))
		for name, says := range asked(s, k) {
			known["after "+name] = says
		}
		if err := s.Close(); err != nil {
			f.t.Fatal(err)
		}
		f.known[aim] = known
	}
	return f.known[aim]
}

// refusal is what a shop says that refuses to read something as damaged.
const refusal = "refused as damaged"

func said(v any, err error) string {
	if err != nil && KindOf(err) == Corrupt {
		return refusal
	}
	body, encodeErr := json.Marshal(v)
	return fmt.Sprint(string(body), " ", err, encodeErr)
}

// thing is what a key names, as far as it does.
type thing struct {
	item, place, tag, shipment string
	heap                       StockKey
	line                       LineID
	seq, photo                 uint64
}

func thingOf(k disktest.Key) (th thing) {
	parts := strings.Split(k.Text, keySeparator)
	at := func(i int) string {
		if i < len(parts) {
			return parts[i]
		}
		return ""
	}
	switch k.Bucket {
	case tableStock, tableCounted:
		th.heap, _ = parseStockKey(k.Text)
		th.item, th.place = th.heap.Item, th.heap.Place
	case indexByPlace:
		th.heap, _ = parseStockKey(strings.Join(parts[1:], keySeparator))
		th.item, th.place = th.heap.Item, th.heap.Place
	case tablePlaces:
		th.place = at(0)
	case indexChildren:
		th.place = at(1)
	case tableTags:
		th.tag = at(0)
	case tableLines:
		th.shipment = at(0)
		_, _ = fmt.Sscan(at(1), &th.line)
	case tableShipments:
		th.shipment = at(0)
	case tableItems:
		th.item = at(0)
	case tablePhotos:
		_, _ = fmt.Sscan(parts[len(parts)-1], &th.photo)
		th.place = at(1)
	case "journal", indexUndone:
		th.seq = disk.SeqOf([]byte(k.Text))
	case blobPictures:
		th.photo = disk.SeqOf([]byte(k.Text))
	}
	return th
}

// asked is what a shop says of the things of a key and of all tables, by every way of reading.
func asked(s *Shop, k disktest.Key) map[string]string {
	says := askedOfAll(s)
	maps.Copy(says, askedOf(s, k))
	return says
}

// askedOf is what a shop says of the things of a key.
func askedOf(s *Shop, k disktest.Key) map[string]string {
	th := thingOf(k)
	says := map[string]string{}
	ask := func(name string, v any, err error) { says[name] = said(v, err) }
	item, err := s.Item(th.item)
	ask("Item", item, err)
	holdings, err := s.Holdings(th.item)
	ask("Holdings", holdings, err)
	contents, err := s.Contents(th.place)
	ask("Contents", contents, err)
	path, err := s.Path(th.place)
	ask("Path", path, err)
	place, err := s.Place(th.place)
	ask("Place", place, err)
	if err == nil && place.ID != "" {
		beside, err := s.Children(place.Parent)
		ask("the Children beside it", beside, err)
	}
	within, err := s.Children(th.place)
	ask("Children", within, err)
	resolution, err := s.Resolve(th.tag)
	ask("Resolve", resolution, err)
	if place.Tag != "" {
		resolution, err = s.Resolve(string(place.Tag))
		ask("Resolve of its tag", resolution, err)
	}
	counted, found, err := s.LastCounted(th.heap)
	ask("LastCounted", []any{counted, found}, err)
	line, err := s.Line(th.shipment, th.line)
	ask("Line", line, err)
	lines, err := s.Lines(th.shipment)
	ask("Lines", lines, err)
	entry, err := s.Entry(th.seq)
	ask("Entry", entry, err)
	entries, err := s.Entries(th.seq+2, 4)
	ask("Entries", entries, err)
	photo, err := s.Photo(th.photo)
	ask("Photo", photo, err)
	picture, err := s.Picture(th.photo)
	ask("Picture", picture, err)
	photos, err := s.Photos(OfPlace(th.place))
	ask("Photos", photos, err)
	return says
}

// askedOfAll is what it says of all tables.
func askedOfAll(s *Shop) map[string]string {
	says := map[string]string{}
	undo, found, err := s.Undoable()
	says["Undoable"] = said([]any{undo, found}, err)
	redo, found, err := s.Redoable()
	says["Redoable"] = said([]any{redo, found}, err)
	for name, all := range map[string]func() (any, error){
		"Stock":        func() (any, error) { return s.Stock() },
		"StockKeys":    func() (any, error) { return s.StockKeys() },
		"ItemsInStock": func() (any, error) { return s.ItemsInStock() },
		"Items":        func() (any, error) { return s.Items() },
		"Places":       func() (any, error) { return s.Places() },
		"Tags":         func() (any, error) { return s.Tags() },
		"Shipments":    func() (any, error) { return s.Shipments() },
		"AllPhotos":    func() (any, error) { return s.AllPhotos() },
		"Fitted":       func() (any, error) { return s.Fitted("") },
		"Settings":     func() (any, error) { return s.Settings() },
		"Pictures":     func() (any, error) { n, papers, err := s.Pictures(); return [2]int{n, papers}, err },
	} {
		v, err := all()
		says[name] = said(v, err)
	}
	return says
}

// do does something with the things of a key.
func (f *flips) do(s *Shop, k disktest.Key) error {
	th := thingOf(k)
	switch k.Bucket {
	case tableStock, indexByPlace, tableCounted:
		_, err := s.Move(Transfer{StockKey: th.heap, To: f.elsewhere(s, th.place), Quantity: measure.Pieces(1)})
		return err
	case tablePlaces, indexChildren, tableTags:
		_, _, err := s.AddPlace(Place{Parent: th.place, Kind: Bin, Name: "Another bin"})
		return err
	case tableItems:
		_, err := s.PutItem(Item{Designation: th.item, Unit: measure.Each, Note: "looked at"})
		return err
	case tableLines, tableShipments:
		_, err := s.Receive(th.shipment, max(1, th.line), Finding{Found: measure.Pieces(3), Counted: true})
		return err
	case tablePhotos, blobPictures:
		_, err := s.RemovePhoto(th.photo)
		if err == nil {
			_, _, err = s.AddPhoto(OfItem("AN3-5A"), "", phototest.JPEG(24, 16, 77))
		}
		return err
	}
	_, err := s.Undo()
	return err
}

// elsewhere is a place that is not the one of an id.
func (f *flips) elsewhere(s *Shop, id string) string {
	places, err := s.Places()
	if err != nil {
		return id
	}
	for _, p := range places {
		if p.ID != id && !p.Retired && p.Kind.Storage() {
			return p.ID
		}
	}
	return id
}
