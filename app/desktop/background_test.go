package desktop

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/find"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	storecopies "stowright/store/copies"
	"stowright/store/storetest"
)

// The footer and Find say that the index is not there yet; then Find asks again by itself.
func TestWindowBeforeTheIndex(t *testing.T) {
	shop := sessiontest.Open(t, demo.Unpacked).Shop
	q, index := &loop.Queue{}, &loop.Queue{}
	l := q.Loop()
	l.Run = index.Run
	s := session.Start(t.Context(), shop, l)
	s.Loop.Run = q.Run
	look.Theme{Mode: look.Light}.Apply()
	w := test.NewTempWindow(t, nil)
	d := New(s, Options{Open: noCamera})
	b := &bench{t: t, d: d, w: &keyWindow{w, &keyCanvas{Canvas: w.Canvas()}}}
	d.Show(b.w)
	b.w.Resize(Size)
	d.Go(routes.Route{Screen: routes.Find, About: "n470ad4"})
	q.Drain()
	const waits = "getting Find ready"
	if got := b.texts(); strings.Count(got, waits) != 2 {
		t.Errorf("the window says %q %d times, want it in the footer and on the page:\n%s", waits, strings.Count(got, waits), got)
	}
	index.Drain()
	q.Elapse()
	if got := b.texts(); strings.Contains(got, waits) || !strings.Contains(got, "AN470AD4-7") {
		t.Errorf("the index is there, and the window says:\n%s", got)
	}
	if _, ok := d.Page().(*find.Page); !ok {
		t.Errorf("the page is %T, want Find", d.Page())
	}
}

// While the daily copy is made the footer says how far it is, then when it was made;
// the next entry takes that away.
func TestFooterFollowsTheCopy(t *testing.T) {
	b := sit(t, demo.Unpacked)
	said := func(words string) bool { return strings.Contains(b.texts(), words) }
	b.d.KeepCopies(t.Context())
	followed := false
	for b.Step() {
		followed = followed || said("safe copy: copying, 100 %")
	}
	b.d.WaitForCopies()
	if !followed {
		t.Error("the footer did not say how far the copy was")
	}
	made := "Safe copy made, " + b.Shop.Now().Format("15:04")
	if !said(made) {
		t.Errorf("the footer does not say %q:\n%s", made, b.texts())
	}
	b.press("Ctrl+Z")
	if b.said("Undone"); said("Safe copy") {
		t.Error("after an entry the footer still says that a copy was made")
	}
	b.d.KeepCopies(t.Context())
	b.Drain()
	if said("afe copy") {
		t.Errorf("no copy is due, and the window says:\n%s", b.texts())
	}
}

func TestKeepCopies(t *testing.T) {
	for _, row := range []struct {
		name   string
		ended  bool // before it could begin
		copies int
	}{
		{"a copy is due", false, 1},
		{"the window was closed", true, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := sessiontest.Open(t, demo.Unpacked)
			d := sitAt(t, s).d
			ctx, end := context.WithCancel(t.Context())
			defer end()
			if row.ended {
				end()
			}
			journal := s.Journal()
			d.KeepCopies(ctx)
			s.Waits(journal)
			s.Drain()
			d.WaitForCopies()
			folder := filepath.Join(filepath.Dir(s.Shop.File()), "backups")
			copies, err := storecopies.List(s.Shop.File(), folder)
			if err != nil || len(copies) != row.copies {
				t.Errorf("copies: %v, %v; want %d", copies, err, row.copies)
			}
		})
	}
}

// A window that stays open looks again: the copies of the next day, and the first one of a
// shop that had nothing to lose when it was opened.
func TestCopiesAreMadeWhileTheWindowStaysOpen(t *testing.T) {
	clock := demo.NewClock(demo.Today, true)
	s := sessiontest.On(t, storetest.Open(t, store.Options{Clock: clock.Now}))
	d := sitAt(t, s).d
	ctx, end := context.WithCancel(t.Context())
	copies := func() int {
		t.Helper()
		list, err := storecopies.List(s.Shop.File(), storecopies.Folder(s.Shop.File()))
		if err != nil {
			t.Fatal(err)
		}
		return len(list)
	}
	count := func() {
		t.Helper()
		if _, _, err := s.Shop.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprint("Bin ", s.Journal())}); err != nil {
			t.Fatal(err)
		}
	}
	days := func(n int) func() { return func() { clock.Set(demo.Today.AddDate(0, 0, n)) } }
	d.KeepCopies(ctx)
	s.Drain()
	for i, step := range []struct {
		do   func()
		want int
	}{
		{func() {}, 0}, {count, 1}, {count, 1}, {days(1), 2}, {days(2), 2},
	} {
		step.do()
		s.Elapse()
		if got := copies(); got != step.want {
			t.Errorf("step %d: %d copies, want %d", i, got, step.want)
		}
	}
	count()
	days(9)()
	end()
	for s.Tick() {
	}
	if s.Waiting() > 0 {
		t.Error("after the window was closed it is looked whether a copy is due")
	}
}
