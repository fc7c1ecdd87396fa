package evidence

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"sync/atomic"
	"testing"
	"time"

	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/output"
	"stowright/store/phototest"
)

// A book of some 300 pages with 400 photographs, which has to be written in 20 seconds and
// within 200 MB more than the program has when it does nothing.
func BenchmarkBook(b *testing.B) {
	bench := wideBuild(b, 40, 10, 55)
	var most atomic.Uint64
	for b.Loop() {
		debug.FreeOSMemory()
		idle := held()
		ended, end := context.WithCancel(b.Context())
		go watch(ended, idle, &most)
		book, err := Gather(b.Context(), &bench.Shop.Reader, Subject{Aircraft: "Q"})
		if err != nil {
			b.Fatal(err)
		}
		path := filepath.Join(b.TempDir(), "book.pdf")
		if err := Save(b.Context(), bench.Session, book, path, output.Options{}); err != nil {
			b.Fatal(err)
		}
		end()
		doc, err := bench.Lay(book.paper(bench.Shop))
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(doc.Pages)), "pages")
		b.ReportMetric(float64(len(book.Photos())), "photographs")
	}
	b.ReportMetric(float64(most.Load())/1e6, "MB_above_idle")
}

// held is how much the program holds of the memory, what the system may take back not counted.
func held() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.Sys - m.HeapReleased
}

// watch notes the most that is held above idle.
func watch(ctx context.Context, idle uint64, most *atomic.Uint64) {
	for tick := time.NewTicker(10 * time.Millisecond); ctx.Err() == nil; <-tick.C {
		if now := held(); now > idle && now-idle > most.Load() {
			most.Store(now - idle)
		}
	}
}

// wideBuild is a shop with so many sub-assemblies of an aircraft, with photographs of 320 kB
// and notes of each.
func wideBuild(t testing.TB, subs, photographs, notes int) *sessiontest.Bench {
	t.Helper()
	b := sessiontest.Empty(t)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, err := b.Shop.PutAircraft(store.Aircraft{Name: "Q"})
	must(err)
	for i := range subs {
		code := fmt.Sprintf("SA-%d", 100+i)
		_, err := b.Shop.PutSubAssembly(store.SubAssembly{Code: code, Name: "Part of it", Aircraft: "Q"})
		must(err)
		for n := range photographs {
			_, _, err := b.Shop.AddPhoto(store.OfPlace(b.Place(code).ID), "the builder at work", phototest.JPEG(1000, 420, uint64(i*1000+n)))
			must(err)
		}
		for n := range notes {
			_, _, err := b.Shop.Note(store.Note{Kind: store.TorqueNote, SubAssembly: code, Text: fmt.Sprintf("%d in-lb", 20+n%9), Tool: "wrench 2"})
			must(err)
		}
	}
	return b
}
