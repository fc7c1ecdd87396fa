package unpack

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"stowright/app/loop"
	"stowright/app/session"
	"stowright/store"
)

// bigList is the rows of a list of so many lines in 20 crates of 10 bags.
func bigList(lines int) [][]any {
	rows := [][]any{{"Line", "Crate", "Group", "Part number", "Description", "Listed", "Unit"}}
	for i := range lines {
		rows = append(rows, []any{i + 1, fmt.Sprintf("C%d", 1+i%20), fmt.Sprintf("H%d", 1+i%200/20), fmt.Sprintf("OQ-%05d", i), fmt.Sprintf("Part of the kind %d", i%977), 1 + i%40, "ea"})
	}
	return rows
}

// BenchmarkTenThousandLines reads, previews and brings in a list of 10,000 lines, and says
// how much more memory that took at most than the open shop alone.
func BenchmarkTenThousandLines(b *testing.B) {
	dir := b.TempDir()
	text := &strings.Builder{}
	book := excelize.NewFile()
	for i, row := range bigList(10_000) {
		var cells []string
		for _, c := range row {
			cells = append(cells, fmt.Sprint(c))
		}
		text.WriteString(strings.Join(cells, ",") + "\n")
		if err := book.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &row); err != nil {
			b.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "list.csv"), []byte(text.String()), 0o600); err != nil {
		b.Fatal(err)
	}
	if err := book.SaveAs(filepath.Join(dir, "list.xlsx")); err != nil {
		b.Fatal(err)
	}
	book = nil
	for _, name := range []string{"list.csv", "list.xlsx"} {
		b.Run(name, func(b *testing.B) {
			for n := range b.N {
				most := bringIn(b, filepath.Join(dir, name), filepath.Join(b.TempDir(), fmt.Sprintf("%d.stow", n)))
				b.ReportMetric(float64(most)/(1<<20), "MB-above-idle")
			}
		})
	}
}

// bringIn brings a file into a new shop as the window does, and returns how many bytes more
// than before were in use at most.
func bringIn(b *testing.B, file, path string) (most uint64) {
	b.StopTimer()
	shop, err := store.Open(path, store.Options{Create: true})
	if err != nil {
		b.Fatal(err)
	}
	defer shop.Close()
	inline := loop.Loop{Run: func(f func()) { f() }, Post: func(f func()) { f() }, After: func(time.Duration, func()) {}}
	s, err := session.Open(context.Background(), shop, inline, nil)
	if err != nil {
		b.Fatal(err)
	}
	used := func() uint64 {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.Sys - m.HeapReleased
	}
	runtime.GC()
	idle := used()
	var peak atomic.Uint64
	ended := make(chan struct{})
	watched := make(chan struct{})
	go func() {
		defer close(watched)
		for {
			peak.Store(max(peak.Load(), used()))
			select {
			case <-ended:
				return
			case <-time.After(5 * time.Millisecond):
			}
		}
	}()
	b.StartTimer()
	opened := false
	m := NewListModel(s, func(ListState) {}, func(Brought) { opened = true })
	m.Open(file)
	if len(m.State().Lines) == 0 || !m.State().Ready {
		b.Fatalf("not read: %+v", m.State().Trouble)
	}
	m.Confirm("OK-1", "")
	b.StopTimer()
	close(ended)
	<-watched
	if !opened {
		b.Fatalf("not brought in: %+v", m.State().Trouble)
	}
	return peak.Load() - min(idle, peak.Load())
}
