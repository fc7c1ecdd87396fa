package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/card"
	"stowright/app/routes"
)

// A screen's key goes there from every page, and from nowhere else.
func TestKeysOfScreens(t *testing.T) {
	for _, row := range []struct {
		name string
		do   func(r *rig)
		want string
	}{
		{"the camera", func(r *rig) { r.press(fyne.KeyF2) }, routes.Camera},
		{"the copies", func(r *rig) { r.press(fyne.KeyF12) }, routes.Copies},
		{"a key of no screen", func(r *rig) { r.press(fyne.KeyF11) }, routes.Find},
		{"the second of the rail", func(r *rig) { r.ctrl(fyne.Key2) }, routes.Unpack},
		{"the last of the rail", func(r *rig) { r.ctrl(fyne.Key8) }, routes.Handbook},
		{"a number beyond the rail", func(r *rig) { r.ctrl(fyne.Key9) }, routes.Find},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			row.do(r)
			if got := r.Route().Screen; got != row.want {
				t.Errorf("screen: got %q, want %q", got, row.want)
			}
		})
	}
}

// Only screens with an icon are on the rail.
func TestRail(t *testing.T) {
	r := newRig(t, 1280)
	if got := len(r.rail); got != 8 {
		t.Errorf("on the rail: got %d screens, want 8", got)
	}
	for _, item := range r.rail {
		if item.screen.Icon == "" {
			t.Errorf("%s is on the rail without an icon", item.screen.Title)
		}
	}
}

// F1 twice lists every screen that a key leads to, with that key and what it is for, stands
// on the one that is shown, and goes to another by arrows and Enter.
func TestScreensAreListed(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Places})
	r.took()
	r.press(fyne.KeyF1, fyne.KeyF1)
	if r.top() == nil {
		t.Fatal("F1: nothing is asked")
	}
	markup := test.RenderToMarkup(r.canvas)
	for _, words := range []string{"Where to?", "Ctrl+1", "Ctrl+8", "Safe copies", "F12", "What the copies are for.", "What order is for."} {
		if !strings.Contains(markup, words) {
			t.Errorf("the list does not say %q", words)
		}
	}
	if strings.Contains(markup, "What the photographs are for.") {
		t.Error("the list has a screen that no key leads to")
	}
	r.press(fyne.KeyDown, fyne.KeyReturn)
	if got := r.Route().Screen; got != routes.Labels {
		t.Errorf("one down from Places: got %q, want %q", got, routes.Labels)
	}
	r.press(fyne.KeyF1, fyne.KeyF1, fyne.KeyEscape)
	if got := r.Route().Screen; got != routes.Labels || r.top() != nil {
		t.Errorf("after Esc: got %q and a question open %v, want %q and none", got, r.top() != nil, routes.Labels)
	}
}

// F1 says what the page is for, which keys it has now (those of its card too) and elsewhere, and
// what to be careful with; P there leads to the card of keys.
func TestHelp(t *testing.T) {
	r := newRig(t, 1280)
	r.options.KeyCard = func() { r.say("key card") }
	r.Go(routes.Route{Screen: routes.Find})
	r.ShowCard(card.Card{Designation: "AN3-5A", Actions: sixActions()}, nil)
	r.took()
	r.press(fyne.KeyF1)
	var keys []string
	for _, row := range r.helpRows(routes.Find) {
		keys = append(keys, strings.Join(row.Texts(), ": "))
	}
	all := strings.Join(keys, "\n")
	for _, line := range []string{"on this page now\nA: All here", "\nT: Take out", "\nL: Print a label\n", "on this screen\n", "everywhere\nF1: help", "\nCtrl+Q: leave the program"} {
		if !strings.Contains(all, line) {
			t.Errorf("the help does not say %q:\n%s", line, all)
		}
	}
	if strings.Contains(all, "Scrap") {
		t.Error("the help has an action that is off")
	}
	markup := test.RenderObjectToMarkup(r.top())
	for _, words := range []string{"Help: Find", "What find is for.", "govern"} {
		if !strings.Contains(markup, words) {
			t.Errorf("the help does not say %q", words)
		}
	}
	r.typed("p")
	r.queue.Elapse()
	want(t, "P in the help", r.took(), "page F1", "key card")
}

// A window without screens, as over a damaged shop file, has only its keys to say.
func TestNoScreens(t *testing.T) {
	r := newRig(t, 1280)
	r.options.Screens = nil
	r.Go(routes.Route{Screen: routes.Find})
	r.press(fyne.KeyF1, fyne.KeyF1, fyne.KeyEscape, fyne.KeyF2)
	if r.top() != nil || r.Route().Screen != routes.Find {
		t.Errorf("got a question %v on %q, want none on %q", r.top() != nil, r.Route().Screen, routes.Find)
	}
}
