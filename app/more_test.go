package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
)

// sixActions are a card's, of which the first four have buttons.
func sixActions() []card.Action {
	return []card.Action{
		{ID: "fit", Label: "Fit", Key: "I", Primary: true},
		{ID: "take", Label: "Take out", Key: "T"},
		{ID: "move", Label: "Move", Key: "M"},
		{ID: "count", Label: "Count", Key: "C"},
		{ID: "label", Label: "Print a label", Key: "L"},
		{ID: "scrap", Label: "Scrap", Key: "X", Off: true},
		{ID: "decide", Label: "Decide"},
	}
}

// tap taps what says that in what lies over the window.
func (r *rig) tap(says string) {
	c := r.canvas
	for _, s := range look.Spots(r.top(), c.Size()) {
		if strings.Contains(s.Says, says) {
			test.TapCanvas(c, s.At)
			return
		}
	}
	r.say("nothing says " + says)
}

// Every action of a card is reached from the keyboard: by its own key, whether it has
// a button or not, and through the list of those that have none.
func TestMoreActions(t *testing.T) {
	for _, row := range []struct {
		name  string
		press func(r *rig)
		want  []string
	}{
		{"a button", func(r *rig) { r.typed("c") }, []string{"page C", "action count"}},
		{"the key of one without a button", func(r *rig) { r.typed("l") }, []string{"page L", "action label"}},
		{"one that is off", func(r *rig) { r.typed("x") }, []string{"page X"}},
		{"the list and Enter", func(r *rig) { r.press(fyne.KeyF7, fyne.KeyReturn) }, []string{"page F7", "action count"}},
		{"the list, down and Enter", func(r *rig) { r.press(fyne.KeyF7, fyne.KeyDown, fyne.KeyReturn) }, []string{"page F7", "action label"}},
		{"the list and a key", func(r *rig) { r.press(fyne.KeyF7); r.typed("l") }, []string{"page F7", "action label"}},
		{"the list and a key that is off", func(r *rig) { r.press(fyne.KeyF7); r.typed("x") }, []string{"page F7"}},
		{"the list and a tap", func(r *rig) { r.press(fyne.KeyF7); r.tap("Decide") }, []string{"page F7", "action decide"}},
		{"the list and Esc", func(r *rig) { r.press(fyne.KeyF7, fyne.KeyEscape) }, []string{"page F7"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			r.ShowCard(card.Card{Designation: "AN3-5A", Actions: sixActions()}, func(id string) { r.say("action " + id) })
			r.Rest()
			r.took()
			row.press(r)
			want(t, "got", r.took(), row.want...)
		})
	}
}

// The list has what has no button and can be done, and no more; with four actions
// there is no list.
func TestMoreIsListed(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Find})
	r.ShowCard(card.Card{Designation: "AN3-5A", Actions: sixActions()}, nil)
	if !look.HasKey(r.side.object, look.MoreKey) {
		t.Error("the card has no button for the rest")
	}
	r.press(fyne.KeyF7)
	dialog := test.RenderObjectToMarkup(r.top())
	for words, listed := range map[string]bool{"More for AN3-5A": true, "Print a label": true, "Decide": true, "Scrap": false, "Count": true, "Move": false} {
		if strings.Contains(dialog, words) != listed {
			t.Errorf("the list says %q: got %v, want %v", words, !listed, listed)
		}
	}
	r.press(fyne.KeyReturn) // nobody listens: nothing happens
	r.ShowCard(card.Card{Designation: "AN3-5A", Actions: sixActions()[:4]}, nil)
	r.press(fyne.KeyF7)
	if look.HasKey(r.side.object, look.MoreKey) || r.top() != nil {
		t.Error("a card of four actions: got a list of more, want none")
	}
}

// Ctrl+C copies the card, or else the row that has the focus, or else what was said last.
func TestCopyWhatIsChosen(t *testing.T) {
	for _, row := range []struct {
		name string
		do   func(r *rig)
		want string
	}{
		{"a card", func(r *rig) { r.ShowCard(card.Card{Designation: "AN3-5A", Place: "A-12"}, nil); r.ToResults() }, "AN3-5A\nA-12"},
		{"a row", func(r *rig) { r.ToResults() }, "AN3-5A"},
		{"what was said", func(r *rig) { r.Say(notice.Notice{Lead: "Done:", Text: "27 counted."}) }, "Done: 27 counted."},
		{"nothing", func(*rig) {}, "before"},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			fyne.CurrentApp().Clipboard().SetContent("before")
			row.do(r)
			r.shortcut(&fyne.ShortcutCopy{})
			if got := fyne.CurrentApp().Clipboard().Content(); got != row.want {
				t.Errorf("copied %q, want %q", got, row.want)
			}
		})
	}
}
