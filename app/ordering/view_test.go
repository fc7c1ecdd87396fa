package ordering

import (
	"os"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/apptest"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
)

// state is the whole window on a page of the screen.
func state(name string, b *sessiontest.Bench, route routes.Route) gallery.State {
	route.Screen = routes.Order
	return gallery.State{Name: name, Width: gallery.Width, Height: gallery.Height, Make: func() fyne.CanvasObject {
		var f *app.Frame
		f = app.NewFrame(app.Options{
			Screens: gallery.Rail(), Loop: b.Queue.Loop(),
			Pages: func(r routes.Route) (app.Page, error) { return New(b.Session, f, r), nil },
		})
		f.SetFooter(app.Footer{Shop: "Type Q", Last: "Builder: AN3-11 described", CanUndo: true})
		f.SetHand("Builder")
		f.Object().Resize(fyne.NewSize(gallery.Width, gallery.Height))
		f.Go(route)
		b.Drain()
		return f.Object()
	}}
}

// No text is cut off in any mode: empty, with a list, with what is owed.
func TestPictures(t *testing.T) {
	apptest.NewWindow(t)
	ordered := april20(t)
	ordered.do(operation.MarkOrdered{All: true, Promised: "2026-04-18", On: "2026-04-10"})
	apptest.Pictured(
		t, os.Getenv("STOWRIGHT_PICTURES"),
		state("order-empty", sessiontest.Empty(t), routes.Route{}),
		state("order-list", april20(t).Bench, routes.Route{About: "AN3-11"}),
		state("order-nothing", ordered.Bench, routes.Route{}),
		state("order-owed", ordered.Bench, routes.Route{Part: OwedPart}),
	)
}

// What the keys of the page and of its card do.
func TestKeys(t *testing.T) {
	b := april20(t)
	w := apptest.NewWindow(t)
	p := New(b.Session, w, routes.Route{Screen: routes.Order})
	b.Drain()
	press := func(key string) {
		t.Helper()
		if !look.PressKey(p.Object(), key) {
			t.Errorf("no button has the key %q", key)
		}
		b.Drain()
	}
	answer := func(text string) {
		t.Helper()
		w.Answer(t, text, "Enter")
		b.Drain()
		p.Changed()
		b.Drain()
	}
	keys := func() string {
		var all []string
		for _, a := range w.Card.Actions {
			all = append(all, a.Key)
		}
		return strings.Join(all, "")
	}
	if got := keys(); got != "PKURLNF" {
		t.Errorf("the keys of a line are %s", got)
	}
	w.Act(packID)
	answer("none of them")
	if !w.Asking() {
		t.Fatal("what is no pack is taken")
	}
	answer("20")
	if w.Asking() || p.model.Typed(PackField) != "20" {
		t.Errorf("the pack is %q", p.model.Typed(PackField))
	}
	w.Act(findItemID)
	if w.Route.Screen != routes.Find || w.Route.About != "AN3-5A" {
		t.Errorf("it leads to %+v", w.Route)
	}
	p.HandleKey("Up")
	if got := keys(); got != "I" {
		t.Errorf("the keys of a supplier are %s", got)
	}
	press("M")
	w.Dialog.Key("Esc")
	b.do(operation.MarkOrdered{Supplier: "sealant shop"})
	p.Changed()
	b.Drain()
	p.HandleKey("Up")
	p.HandleKey("Up")
	press("M")
	answer("30 April 2026")
	if !strings.Contains(w.Said.Text, "O-2 ordered of fastener shop: 3 lines") || look.HasKey(p.Object(), "M") {
		t.Errorf("marked: %+v", w.Said)
	}
	press("B")
	if w.Route.Screen != routes.Build {
		t.Errorf("B leads to %+v", w.Route)
	}
	press("O")
	if got := keys(); got != "PX" {
		t.Errorf("the keys of what is owed are %s", got)
	}
	w.Act(promiseID)
	answer("2026-05-02")
	if o, _ := p.model.Owing(); o.Promised.String() != "2 May 2026" {
		t.Errorf("promised for %s", o.Promised)
	}
	w.Act(cancelID)
	answer("sold out")
	press("O")
	if got := p.model.Item(); got != "SEAL-B2" {
		t.Errorf("canceled, the list begins with %q", got)
	}
	press("S")
	if !w.Asking() {
		t.Error("S asks for no file")
	}
}
