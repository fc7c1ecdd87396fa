package desktop

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2/test"

	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/labels"
	"stowright/store"
	"stowright/store/measure"
)

// bigShop is the file of a generated shop. Make bench makes one and names it here.
const bigShop = "STOWRIGHT_BIG"

// big opens the generated shop as the program does: with the index in the background.
func big(b *testing.B) (*session.Session, *loop.Queue) {
	b.Helper()
	path := os.Getenv(bigShop)
	if path == "" {
		b.Skipf("%s names no generated shop: see make bench", bigShop)
	}
	shop, err := store.Open(path, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	q := &loop.Queue{}
	l := q.Loop()
	l.Run = func(work func()) { go work() }
	s := session.Start(b.Context(), shop, l)
	s.Loop.Run = q.Run // the pages' work is done when it is drained
	return s, q
}

// indexed is big with the index there.
func indexed(b *testing.B) (*session.Session, *loop.Queue) {
	b.Helper()
	s, q := big(b)
	<-s.Indexed()
	q.Drain()
	b.Cleanup(func() { _ = s.Close() })
	return s, q
}

func onDesk(b *testing.B, s *session.Session) *Desktop {
	b.Helper()
	look.Theme{Mode: look.Light}.Apply()
	w := test.NewTempWindow(b, nil)
	d := New(s, Options{Open: noCamera})
	window := &keyWindow{w, &keyCanvas{Canvas: w.Canvas()}}
	d.Show(window)
	window.Resize(Size)
	return d
}

// BenchmarkBigOpen is from nothing to a window in which keys do something, to Today
// read, and to the index.
func BenchmarkBigOpen(b *testing.B) {
	var window, today, index time.Duration
	for b.Loop() {
		began := time.Now()
		s, q := big(b)
		onDesk(b, s)
		window += time.Since(began)
		q.Drain()
		today += time.Since(began)
		<-s.Indexed()
		index += time.Since(began)
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
	}
	for name, d := range map[string]time.Duration{"window-ms": window, "today-ms": today, "indexed-ms": index} {
		b.ReportMetric(float64(d.Milliseconds())/float64(b.N), name)
	}
}

// BenchmarkBigScreen is going to a screen until all that it shows is there.
func BenchmarkBigScreen(b *testing.B) {
	s, q := indexed(b)
	d := onDesk(b, s)
	q.Drain()
	for _, route := range []routes.Route{
		{Screen: routes.Today},
		{Screen: routes.Unpack},
		{Screen: routes.Find},
		{Screen: routes.Find, About: "an3"},
		{Screen: routes.Places},
		{Screen: routes.Labels},
		{Screen: routes.Handbook},
	} {
		b.Run(strings.TrimSuffix(route.Screen+"-"+route.About, "-"), func(b *testing.B) {
			var times []time.Duration
			for b.Loop() {
				began := time.Now()
				d.Go(route)
				q.Drain()
				times = append(times, time.Since(began))
			}
			spread(b, times)
		})
	}
}

// spread reports the median and the 99th percentile.
func spread(b *testing.B, times []time.Duration) {
	b.Helper()
	slices.Sort(times)
	b.ReportMetric(float64(times[len(times)/2].Microseconds())/1000, "p50-ms")
	b.ReportMetric(float64(times[len(times)*99/100].Microseconds())/1000, "p99-ms")
}

// designations are some items of the shop, drawn from all.
func designations(b *testing.B, s *session.Session, n int) []string {
	b.Helper()
	keys, err := s.Shop.StockKeys()
	if err != nil {
		b.Fatal(err)
	}
	random := rand.New(rand.NewPCG(7, 7))
	list := make([]string, n)
	for i := range list {
		list[i] = keys[random.IntN(len(keys))].Item
	}
	return list
}

// BenchmarkBigFind is what a key in the command bar waits for: the answers with how
// many there are and where, as the page shows them.
func BenchmarkBigFind(b *testing.B) {
	s, _ := indexed(b)
	items := designations(b, s, 500)
	cut := func(from, to int) func(string) string {
		return func(d string) string { return d[min(from, len(d)-1):min(to, len(d))] }
	}
	for _, kind := range []struct {
		name string
		ask  func(string) string
	}{{"start", cut(0, 5)}, {"inside", cut(3, 8)}, {"whole", cut(0, 99)}, {"error", func(d string) string { return d[:len(d)-2] + "x" + d[len(d)-1:] }}} {
		b.Run(kind.name, func(b *testing.B) {
			var times []time.Duration
			for i := 0; b.Loop(); i++ {
				began := time.Now()
				if _, _, err := s.Find(kind.ask(items[i%len(items)]), 200); err != nil {
					b.Fatal(err)
				}
				times = append(times, time.Since(began))
			}
			spread(b, times)
		})
	}
}

// BenchmarkBigFindAfterALine is the first question after an entry about a line of a packing
// list, as a check-off is, which is answered with what is owed and kept for the build by then.
func BenchmarkBigFindAfterALine(b *testing.B) {
	s, q := planned(b)
	ships, err := s.Shop.Shipments()
	if err != nil {
		b.Fatal(err)
	}
	lines, err := s.Shop.Lines(ships[0].ID)
	if err != nil {
		b.Fatal(err)
	}
	var times []time.Duration
	for i := 0; b.Loop(); i++ {
		line := lines[i*97%len(lines)]
		if _, err := s.Shop.LookIn(ships[0].ID, line.ID, fmt.Sprintf("note %d of %d", i, time.Now().UnixNano())); err != nil {
			b.Fatal(err)
		}
		q.Drain()
		began := time.Now()
		if _, _, err := s.Find(line.Designation, 200); err != nil {
			b.Fatal(err)
		}
		times = append(times, time.Since(began))
	}
	spread(b, times)
}

func BenchmarkBigItemCard(b *testing.B) {
	s, _ := indexed(b)
	items := designations(b, s, 500)
	var times []time.Duration
	for i := 0; b.Loop(); i++ {
		began := time.Now()
		if _, err := s.ItemCard(items[i%len(items)]); err != nil {
			b.Fatal(err)
		}
		times = append(times, time.Since(began))
	}
	spread(b, times)
}

// BenchmarkBigVerb is one count, on disk and in the index, in turn with a page appended to
// another file and synced. What of it is the disk's is measured in package store.
func BenchmarkBigVerb(b *testing.B) {
	s, _ := indexed(b)
	keys, err := s.Shop.StockKeys()
	if err != nil {
		b.Fatal(err)
	}
	f, err := os.Create(filepath.Join(filepath.Dir(s.Shop.File()), "sync"))
	if err != nil {
		b.Fatal(err)
	}
	defer os.Remove(f.Name())
	defer f.Close()
	page := make([]byte, os.Getpagesize())
	var times, syncs []time.Duration
	for b.Loop() {
		began := time.Now()
		if _, err := s.Shop.Count(keys[rand.IntN(len(keys))], measure.Pieces(1+rand.Int64N(400))); err != nil {
			b.Fatal(err)
		}
		times = append(times, time.Since(began))
		began = time.Now()
		if _, err := f.Write(page); err != nil {
			b.Fatal(err)
		}
		if err := f.Sync(); err != nil {
			b.Fatal(err)
		}
		syncs = append(syncs, time.Since(began))
	}
	slices.Sort(syncs)
	b.ReportMetric(float64(syncs[len(syncs)/2].Microseconds())/1000, "page-p50-ms")
	spread(b, times)
}

// BenchmarkBigSheet is a sheet of labels of one cabinet, from the shop to the PDF.
func BenchmarkBigSheet(b *testing.B) {
	s, _ := indexed(b)
	stock, err := labels.StockNamed("letter-3x10")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		places, err := s.PlacesMatching("Cabinet D1")
		if err != nil {
			b.Fatal(err)
		}
		list, err := s.Labels(places)
		if err != nil {
			b.Fatal(err)
		}
		doc, err := labels.Layout(list, stock, labels.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if err := s.SavePDF(filepath.Join(b.TempDir(), "a.pdf"), doc, false); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBigMemory is what the process holds once the desktop stands on the shop
// with its index: its own memory, and the pages of the file that are mapped, which
// the system takes back when it needs them.
func BenchmarkBigMemory(b *testing.B) {
	s, q := indexed(b)
	for b.Loop() {
		d := onDesk(b, s)
		q.Drain()
		d.Go(routes.Route{Screen: routes.Find})
		q.Drain()
	}
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		b.Skip(err)
	}
	for line := range strings.Lines(string(status)) {
		var kB float64
		for field, name := range map[string]string{"RssAnon": "own-MB", "RssFile": "mapped-MB", "VmHWM": "most-MB"} {
			if n, _ := fmt.Sscanf(line, field+": %f kB", &kB); n == 1 {
				b.ReportMetric(kB/1000, name)
			}
		}
	}
}
