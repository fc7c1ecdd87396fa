package store_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// seedName is the variable that tells the other program its seed.
const seedName = "STOWRIGHT_TEST_SEED"

// toil does random verbs on the file until it is killed, and says after each what
// it did: whatever it has said must be there for ever.
func toil(file string) error {
	seed, err := strconv.ParseUint(os.Getenv(seedName), 10, 64)
	if err != nil {
		return err
	}
	fmt.Println("start")
	shop, err := store.Open(file, store.Options{Create: true})
	if err != nil {
		return err
	}
	shop.Listen(func(e store.Entry) { fmt.Printf("%d %s\n", e.Seq, e.Text) })
	w := toiler{shop: shop, r: rand.New(rand.NewPCG(seed, 1)), folder: copies.Folder(file)}
	for {
		if err := w.verb(); err != nil && store.KindOf(err) != store.Conflict && store.KindOf(err) != store.NotFound && store.KindOf(err) != store.Invalid {
			return err
		}
	}
}

type toiler struct {
	shop   *store.Shop
	r      *rand.Rand
	folder string
}

func pick[T any](r *rand.Rand, list []T) (one T) {
	if len(list) > 0 {
		one = list[r.IntN(len(list))]
	}
	return one
}

// verb does one verb at random, or now and then a safe copy.
func (w toiler) verb() error {
	if w.r.IntN(150) == 0 {
		return second(copies.NewKeeper(w.shop, "").Make(context.Background(), w.folder, copies.ByHand))
	}
	s, err := w.scene()
	if err != nil {
		return err
	}
	var drawn []verb
	for _, v := range verbs() {
		for range v.weight {
			drawn = append(drawn, v)
		}
	}
	return pick(w.r, drawn).do(s)
}

// small does one verb at random whose entry is small.
func (w toiler) small() error {
	heaps, err := w.shop.Stock()
	if err != nil {
		return err
	}
	heap := pick(w.r, heaps)
	switch w.r.IntN(5) {
	case 0:
		return second(w.shop.Undo())
	case 1:
		return second(w.shop.Redo())
	case 2:
		return third(w.shop.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprintf("Bin %d", w.r.Int())}))
	}
	return second(w.shop.Count(heap.StockKey, measure.Pieces(w.r.Int64N(100))))
}

// pictureSeeds is how many different pictures there are.
const pictureSeeds = 24

// pictureOf is the picture of a seed: of one part, of several, and on the edge of one.
func pictureOf(seed uint64) []byte {
	side := 20 + 24*int(seed)
	return phototest.JPEG(side, side, seed)
}

// addedPhoto is the text of an entry that added a photograph, with its number and seed.
var addedPhoto = regexp.MustCompile(`^photograph P-(\d+) of .*: seed (\d+)$`)

// album has the pictures that were made already.
type album struct {
	pictures map[uint64][]byte // by seed
	proven   int               // how often a photograph was found as it was given
}

// holds says what is wrong with the picture of an entry that was said to be done: its
// bytes are those that were given, now or as soon as taking it away is undone.
func (a *album) holds(shop *store.Shop, text string) error {
	found := addedPhoto.FindStringSubmatch(text)
	if found == nil {
		return nil // of another verb
	}
	number, err := strconv.ParseUint(found[1], 10, 64)
	if err != nil {
		return err
	}
	seed, err := strconv.ParseUint(found[2], 10, 64)
	if err != nil {
		return err
	}
	if a.pictures[seed] == nil {
		a.pictures[seed] = pictureOf(seed)
	}
	got, err := shop.Picture(number)
	if store.KindOf(err) == store.NotFound {
		return nil // taken away since: check proves its picture all the same
	}
	if err == nil {
		a.proven++
	}
	if err == nil && !bytes.Equal(got, a.pictures[seed]) {
		err = fmt.Errorf("P-%d has %d bytes that are not the %d given", number, len(got), len(a.pictures[seed]))
	}
	return err
}

// mostTogether is how many entries one transaction of the verbs has at most.
const mostTogether = 2

// torture kills the other program that many times at random moments, and looks
// each time whether the file is whole and holds all that was said to be done.
func torture(t *testing.T, kills int) {
	seed := uint64(time.Now().UnixNano())
	if text := os.Getenv(seedName); text != "" {
		seed, _ = strconv.ParseUint(text, 10, 64)
	}
	t.Logf("%s=%d", seedName, seed)
	r := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	said := map[uint64]string{} // of the file at work
	file, entries, unsaid := filepath.Join(dir, "0", "shop.stow"), 0, 0
	every := max(5, kills/12)
	pictures := album{pictures: map[uint64][]byte{}}
	for kill := range kills {
		fresh := kill%every == every-1
		if fresh { // the making of a file is interrupted too
			file, said = filepath.Join(dir, strconv.Itoa(kill), "shop.stow"), map[uint64]string{}
		}
		newest := killOne(t, r, file, said, fresh)
		shop, err := store.Open(file, store.Options{Create: len(said) == 0})
		if err != nil {
			t.Fatalf("kill %d: opening: %v", kill, err)
		}
		report, err := shop.Check(context.Background(), nil)
		if err != nil || !report.OK {
			t.Fatalf("kill %d: check: %v %v", kill, report.Problems, err)
		}
		for seq, text := range said {
			if e, err := shop.Entry(seq); err != nil || e.Text != text {
				t.Fatalf("kill %d: entry %d was said to be %q, and is %q, %v", kill, seq, text, e.Text, err)
			}
			if err := pictures.holds(shop, text); err != nil {
				t.Fatalf("kill %d: entry %d, %s: %v", kill, seq, text, err)
			}
		}
		if report.Entries > newest+mostTogether {
			t.Fatalf("kill %d: the journal has %d entries, and only %d were said", kill, report.Entries, newest)
		}
		for seq := newest + 1; seq <= report.Entries; seq++ { // done, and killed before it was said: whole all the same
			e, err := shop.Entry(seq)
			if err != nil {
				t.Fatal(err)
			}
			said[e.Seq] = e.Text
			unsaid++
		}
		entries = max(entries, int(report.Entries))
		if err := shop.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d kills, the longest journal %d entries, %d changes were done and not yet said; %d times a photograph was found byte for byte", kills, entries, unsaid, pictures.proven)
	if pictures.proven == 0 {
		t.Error("no photograph was ever there to be found")
	}
}

// killOne starts the other program on a file, kills it at a random moment, adds
// what it said to said, and returns the number of the newest entry known.
func killOne(t *testing.T, r *rand.Rand, file string, said map[uint64]string, early bool) (newest uint64) {
	t.Helper()
	t.Setenv(seedName, strconv.FormatUint(r.Uint64(), 10))
	c := startChild(t, "toil", file)
	if got := c.line(t); got != "start" {
		t.Fatalf("the other program says %q", got)
	}
	for seq := range said {
		newest = max(newest, seq)
	}
	var timer *time.Timer
	wait := time.Duration(r.Int64N(int64(20 * time.Millisecond)))
	start := func() { timer = time.AfterFunc(wait, func() { _ = c.Process.Kill() }) }
	if early {
		start()
	}
	for after := r.IntN(30); c.lines.Scan(); after-- {
		number, text, _ := strings.Cut(c.lines.Text(), " ")
		seq, err := strconv.ParseUint(number, 10, 64)
		if err != nil {
			_ = c.Process.Kill()
			t.Fatalf("the other program says %q", c.lines.Text())
		}
		said[seq] = text
		newest = max(newest, seq)
		if after <= 0 && timer == nil {
			start()
		}
	}
	_ = c.Wait()
	timer.Stop()
	if c.ProcessState.Exited() {
		t.Fatalf("the other program ended by itself: %s", c.ProcessState)
	}
	return newest
}

// make torture does this three hundred times.
func TestKilledTwentyTimes(t *testing.T) { torture(t, 20) }
