package store_test

import (
	"encoding/json"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

func dump(t *testing.T, s *store.Shop) map[string]string {
	t.Helper()
	all, err := store.Dump(s)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// asOf opens a shop file and goes back to a day.
func asOf(t *testing.T, file string, now func() time.Time, day store.Date) *store.Shop {
	t.Helper()
	s, err := store.Open(file, store.Options{Clock: now})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	if err := s.AsOf(t.Context(), day); err != nil {
		t.Fatal(err)
	}
	return s
}

// Of a random history of every verb, the shop as of each day is the shop as it was at the end
// of that day: every record, every index, where the journal ended.
func TestAsOfEachDayIsTheShopOfThatDay(t *testing.T) {
	w := newWorld(t)
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	to := toiler{shop: w.Shop, r: rand.New(rand.NewPCG(seed, 1)), folder: t.TempDir()}
	var days []store.Date
	was := map[store.Date]map[string]string{}
	store.WithoutSync(w.Shop, func() {
		for n := range 14 {
			next, err := w.Today().AddDays(1 + n%3).MarshalText()
			w.must(err)
			w.clock.Set(t, string(next))
			for range 25 {
				if err := to.verb(); err != nil && store.KindOf(err) != store.Conflict && store.KindOf(err) != store.NotFound && store.KindOf(err) != store.Invalid {
					t.Fatal(err)
				}
			}
			days = append(days, w.Today())
			was[w.Today()] = dump(t, w.Shop)
		}
	})
	now, file := w.clock.Now, w.File()
	w.must(w.Close())
	for _, day := range days {
		s := asOf(t, file, now, day)
		if d := cmp.Diff(was[day], dump(t, s)); d != "" {
			t.Fatalf("seed %d: as of %s (-as it was +as of):\n%s", seed, day, d[:min(len(d), 4000)])
		}
		if s.Today() != day {
			t.Errorf("as of %s, today is %s", day, s.Today())
		}
		w.must(s.Close())
	}
}

// As of a day without entries it is the shop of the day before, and as of today it is the shop
// itself; nothing is changed in it, and its file stays as it is.
func TestAsOf(t *testing.T) {
	w, _ := nuts(t)
	day := w.Today()
	before := dump(t, w.Shop)
	w.clock.Set(t, "2026-03-20")
	w.must(second(w.Count(w.in("MS21042-3", "A-01"), measure.Pieces(3))))
	w.must(second(w.PutItem(store.Item{Designation: "AN9", Unit: measure.Each})))
	after, now, file := dump(t, w.Shop), w.clock.Now, w.File()
	w.must(w.Close())
	for ahead, want := range map[int]map[string]string{0: before, 3: before, 6: after} {
		s := asOf(t, file, now, day.AddDays(ahead))
		if d := cmp.Diff(want, dump(t, s)); d != "" {
			t.Errorf("%d days on (-want +got):\n%s", ahead, d)
		}
		_, err := s.PutItem(store.Item{Designation: "AN8", Unit: measure.Each})
		wantRefusal(t, err, store.Conflict, "This is the shop as it stood at the end of "+s.Today().String()+": nothing is changed in it.")
		if !s.ReadOnly() {
			t.Error("it may be written, it says")
		}
		w.must(s.Close())
	}
	s, err := store.Open(file, store.Options{Clock: now})
	w.must(err)
	defer s.Close()
	if d := cmp.Diff(after, dump(t, s)); d != "" {
		t.Errorf("the file has changed:\n%s", d)
	}
	for d, want := range map[string]string{
		"2026-03-21": "21 March 2026 is still to come: today is 20 March 2026.",
		"2026-03-13": "The first entry of this shop is of 14 March 2026: ask for that day or a later one.",
	} {
		day, err := store.ParseDate(d)
		w.must(err)
		if err := s.AsOf(t.Context(), day); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", d, err)
		}
	}
}

func TestAsOfAnEmptyShop(t *testing.T) {
	s, err := store.Open(filepath.Join(storetest.Folder(t), "new.stow"), store.Options{Create: true, Clock: storetest.NewClock(t, storetest.Day).Now})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if err := s.AsOf(t.Context(), s.Today()); store.KindOf(err) != store.NotFound {
		t.Errorf("%v", err)
	}
}

// Going back reads of every entry what decoding all of it gives, as far as it needs it.
func TestScannedEntries(t *testing.T) {
	w, _ := nuts(t)
	to := toiler{shop: w.Shop, r: rand.New(rand.NewPCG(5, 1)), folder: t.TempDir()}
	store.WithoutSync(w.Shop, func() {
		for range 300 {
			_ = to.verb() // refused or not
		}
		w.must(second(w.PutItem(store.Item{Designation: `5 < "6" \ ä "`, Unit: measure.Each, Note: `{[":,` + "\u2028"})))
		w.must(second(w.PutItem(store.Item{Designation: `5 < "6" \ ä "`, Unit: measure.Each, Note: `\`})))
	})
	bodies, err := store.Bodies(w.Shop)
	w.must(err)
	for _, body := range bodies {
		quick, whole, err := store.Scanned(body)
		w.must(err)
		if quick.Hand != "" {
			t.Fatalf("entry %d was decoded after all: %s", whole.Seq, body)
		}
		for i := range whole.Changes {
			whole.Changes[i].After = nil
		}
		want := store.Entry{Seq: whole.Seq, At: whole.At, Verb: whole.Verb, Undoes: whole.Undoes, Changes: whole.Changes}
		if d := cmp.Diff(want, quick); d != "" {
			t.Fatalf("entry %d (-whole +quick):\n%s\n%s", whole.Seq, d, body)
		}
	}
}

// What is spelled otherwise than here is decoded whole, and what is none is refused.
func FuzzScannedEntries(f *testing.F) {
	for _, body := range []string{
		`{"seq":1,"at":"2026-03-14T09:00:00Z","hand":"B","verb":"count","text":"x","changes":[{"table":"stock","key":"a\u0000b","delta":{"q":"6 ea"}}],"prev":""}`,
		`{ "seq": 1, "at": "2026-03-14T09:00:00Z", "changes": null }`, `{"seq":1`, `{"seq":1,"at":"x"}`, `{"":1}`, `{"a`, `{"a":"`, `{"seq":1,"changes":[}`,
	} {
		f.Add([]byte(body))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		quick, whole, err := store.Scanned(body)
		if err != nil || !json.Valid(body) {
			return
		}
		if !quick.At.Equal(whole.At) || len(quick.Changes) != len(whole.Changes) {
			t.Errorf("%s: %+v, whole %+v", body, quick, whole)
		}
	})
}
