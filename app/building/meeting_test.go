package building

import (
	"strings"
	"testing"

	"stowright/app/apptest"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/app/stockdialog"
	"stowright/store"
	"stowright/store/measure"
)

// meeting is the bench of SA-10, whose tray holds all bolts and nuts of two drawers in
// which others lie by now.
func meeting(t *testing.T) (*sessiontest.Bench, *apptest.Window, *BenchPage) {
	t.Helper()
	b := extended(t, true)
	for _, x := range []struct{ item, place, amount string }{{"AN3-5A", "A-12", "28"}, {"AN365-1032A", "A-17", "70"}} {
		pulled(t, b, x.item, x.place, x.amount, "SA-10", "all of them")
		if _, err := b.Shop.PutIn(store.StockKey{Item: x.item, Place: b.Place(x.place).ID}, store.Exact(measure.Pieces(5)), store.AskMeeting); err != nil {
			t.Fatal(err)
		}
	}
	w := apptest.NewWindow(t)
	p := newBenchPage(b.Session, w, routes.Route{About: "SA-10"})
	b.Drain()
	return b, w, p
}

// lies is what lies in a place: "28, 5".
func lies(t *testing.T, b *sessiontest.Bench, place string) string {
	t.Helper()
	heaps, err := b.Shop.Contents(b.Place(place).ID)
	if err != nil {
		t.Fatal(err)
	}
	var figures []string
	for _, h := range heaps {
		figures = append(figures, h.Amount.Figure())
	}
	return strings.Join(figures, ", ")
}

// Where another lot lies in the drawer that something goes back to, it is asked once
// whether they are poured together or kept apart, and Cancel leaves it in the tray.
func TestPutBackWhereLotsMeet(t *testing.T) {
	b, w, p := meeting(t)
	for i, l := range p.model.data.lines {
		if l.item == "AN3-5A" {
			p.model.Choose(i)
		}
	}
	w.Act("home")
	w.Answer(t, "10", "Enter")
	b.Drain()
	if !w.Asking() || lies(t, b, "A-12") != "5" {
		t.Fatalf("it is not asked, and A-12 holds %s", lies(t, b, "A-12"))
	}
	w.Dialog.Key("Esc")
	b.Drain()
	if w.Asking() || lies(t, b, "A-12") != "5" || lies(t, b, "SA-10") != "28, 70" {
		t.Errorf("canceled: A-12 holds %s and the tray %s", lies(t, b, "A-12"), lies(t, b, "SA-10"))
	}
	w.Act("home")
	w.Answer(t, "10", "Enter")
	b.Drain()
	w.Dialog.Key(stockdialog.PourKey)
	b.Drain()
	if w.Asking() || w.Said.Tone != notice.OK || lies(t, b, "A-12") != "15" {
		t.Errorf("poured together: said %+v, A-12 holds %s", w.Said, lies(t, b, "A-12"))
	}
}

// All of a tray goes back with one question for each item that meets another lot.
func TestPutAllBackWhereLotsMeet(t *testing.T) {
	b, w, p := meeting(t)
	w.Act("all")
	w.Dialog.Key("Enter")
	b.Drain()
	w.Dialog.Key(stockdialog.ApartKey)
	b.Drain()
	if !w.Asking() || lies(t, b, "A-12") != "28, 5" || lies(t, b, "A-17") != "5" {
		t.Fatalf("of the nuts it is not asked: A-12 holds %s, A-17 %s", lies(t, b, "A-12"), lies(t, b, "A-17"))
	}
	w.Dialog.Key(stockdialog.PourKey)
	b.Drain()
	if w.Asking() || w.Said.Tone != notice.OK || lies(t, b, "A-17") != "75" || lies(t, b, "SA-10") != "" {
		t.Errorf("said %+v; A-17 holds %s, the tray %s", w.Said, lies(t, b, "A-17"), lies(t, b, "SA-10"))
	}
	p.told("", store.ErrReason)
	if w.Said.Tone != notice.Stop {
		t.Errorf("what is wrong is told as %+v", w.Said)
	}
}
