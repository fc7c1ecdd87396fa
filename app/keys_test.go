package app

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
)

func TestKeysThatWorkEverywhere(t *testing.T) {
	for _, row := range []struct {
		name  string
		focus bool // the cursor is in the command bar
		do    func(r *rig)
		want  []string
	}{
		{"F2", false, func(r *rig) { r.press(fyne.KeyF2) }, []string{"page F2", "leave find"}},
		{"F6", false, func(r *rig) { r.press(fyne.KeyF6) }, []string{"page F6", "measure"}},
		{"F9 while typing", true, func(r *rig) { r.press(fyne.KeyF9) }, []string{"page F9", "hand"}},
		{"button of the page", false, func(r *rig) { r.typed("a") }, []string{"page A", "all here"}},
		{"letter while typing", true, func(r *rig) { r.typed("a") }, []string{"query a"}},
		{"a modifier alone", false, func(r *rig) { r.press(desktop.KeyShiftLeft) }, nil},
		{"key of the page", false, func(r *rig) { r.typed("+") }, []string{"page +"}},
		{"undo", false, func(r *rig) { r.shortcut(&fyne.ShortcutUndo{}) }, []string{"undo"}},
		{"redo", false, func(r *rig) {
			r.shortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierControl | fyne.KeyModifierShift})
		}, []string{"redo"}},
		{"screen by number", true, func(r *rig) { r.ctrl(fyne.Key4) }, []string{"leave find"}},
		{"Enter in the bar", true, func(r *rig) { r.typed("an3"); r.took(); r.press(fyne.KeyReturn) }, []string{"command an3"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			if row.focus {
				r.FocusCommand()
			}
			r.took()
			row.do(r)
			want(t, "got", r.took(), row.want...)
		})
	}
}

func TestCommandBarIsReachedAndLeft(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Find})
	for _, reach := range []func(){func() { r.typed("/") }, func() { r.ctrl(fyne.KeyK) }, func() { r.press(fyne.KeyUp) }} {
		r.canvas.Unfocus()
		reach()
		if !r.commandFocused() {
			t.Error("the command bar has no focus")
		}
	}
	if r.command.Text != "" {
		t.Errorf("command bar: got %q, want it empty", r.command.Text)
	}
	r.press(fyne.KeyDown)
	if list, ok := r.canvas.Focused().(*look.RowList); !ok || list.Len() != 1 {
		t.Errorf("down: focus on %T, want the page's list", r.canvas.Focused())
	}
	r.press(fyne.KeyUp)
	if !r.commandFocused() {
		t.Error("up from the first row: the command bar has no focus")
	}
	r.Go(routes.Route{Screen: routes.Build})
	r.took()
	r.typed("x")
	want(t, "typing on a page that takes no queries", r.took(), "elsewhere x")
	r.SetCommand("AN3-5A")
	want(t, "text put in by the frame", r.took())
}

func TestEscapeTakesOneThingAtATime(t *testing.T) {
	r := newRig(t, 1000)
	r.Go(routes.Route{Screen: routes.Today})
	r.Go(routes.Route{Screen: routes.Find})
	r.ShowCard(card.Card{Designation: "AN3-5A"}, nil)
	r.Say(notice.Notice{Text: "Counted."})
	if r.Card().Empty() {
		t.Error("a card in a narrow window did not open")
	}
	if r.Said() != "Counted." {
		t.Errorf("said: got %q", r.Said())
	}
	r.press(fyne.KeyEscape)
	if !r.Card().Empty() || r.Said() == "" {
		t.Errorf("first: card %q, said %q; want the card over the work gone", r.Card().Designation, r.Said())
	}
	r.press(fyne.KeyEscape)
	if r.Said() != "" || r.Route().Screen != routes.Find {
		t.Errorf("second: said %q at %q; want it hushed", r.Said(), r.Route().Screen)
	}
	r.press(fyne.KeyEscape)
	if r.Route().Screen != routes.Today {
		t.Errorf("third: at %q, want today", r.Route().Screen)
	}
	r.press(fyne.KeyEscape)
	if r.Route().Screen != routes.Today {
		t.Errorf("on the first page: at %q, want today still", r.Route().Screen)
	}
}
