package copies

import (
	"slices"
	"testing"
	"time"

	"stowright/store"
)

// Which copies are kept after two years of one at six, at nine and at noon every day.
func TestUnneeded(t *testing.T) {
	newest := time.Date(2028, 3, 14, 12, 0, 0, 0, time.UTC)
	var kept []Copy // as a program would do it that copies three times a day
	for day := range 800 {
		for _, hour := range []int{-6, -3, 0} {
			at := newest.AddDate(0, 0, day-799).Add(time.Duration(hour) * time.Hour)
			kept = slices.Insert(kept, 0, Copy{At: at, Entries: uint64(day)})
			drop := unneeded(kept)
			kept = slices.DeleteFunc(kept, func(c Copy) bool { return slices.Contains(drop, c) })
			if kept[0].At != at {
				t.Fatalf("the copy of %s was not kept itself", at)
			}
		}
	}
	days := 0
	for back := range 14 {
		day := newest.AddDate(0, 0, -back)
		if slices.ContainsFunc(kept, func(c Copy) bool { return store.DateOf(c.At) == store.DateOf(day) }) {
			days++
		}
	}
	months := map[string]bool{}
	for _, c := range kept {
		months[c.At.Format("2006-01")] = true
	}
	if days != 14 || len(months) < 23 || len(months) > 25 || len(kept) > 52 {
		t.Errorf("kept %d copies: of %d of the last 14 days, of %d months", len(kept), days, len(months))
	}
	for i, hours := range []int{0, 3, 6, 24, 27} {
		if want := newest.Add(-time.Duration(hours) * time.Hour); !kept[i].At.Equal(want) {
			t.Errorf("copy %d is of %s, want %s", i, kept[i].At, want)
		}
	}
	if drop := unneeded(kept[:5]); len(drop) != 0 {
		t.Errorf("of five copies %v are dropped", drop)
	}
}

// Copies of a large shop do not fill the disk: the newest five stay whatever they
// take, then as many as fit, and small ones of before the photographs beside them.
func TestUnneededOfLargeShops(t *testing.T) {
	newest := time.Date(2028, 3, 14, 12, 0, 0, 0, time.UTC)
	for _, row := range []struct {
		mb   int64 // of the newest twelve; the two before them have 1
		want int
	}{{1, 14}, {700, 11 + 2}, {1000, 8 + 2}, {3000, 5}} {
		var copies []Copy
		for day := range 14 {
			c := Copy{At: newest.AddDate(0, 0, -day), Bytes: 1 << 20}
			if day < 12 {
				c.Bytes = row.mb << 20
			}
			copies = append(copies, c)
		}
		drop := unneeded(copies)
		if got := len(copies) - len(drop); got != row.want || slices.ContainsFunc(copies[:5], func(c Copy) bool { return slices.Contains(drop, c) }) {
			t.Errorf("of copies of %d MB %d are kept, want %d with the newest five", row.mb, got, row.want)
		}
	}
}
