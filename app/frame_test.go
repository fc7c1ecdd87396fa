package app

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/table"
)

// fakePage is a page with every ability, that writes down what happens to it.
type fakePage struct {
	rig   *rig
	route routes.Route
	list  *look.RowList
	root  fyne.CanvasObject
	state string
	gives bool // way to its card
}

func (p *fakePage) Object() fyne.CanvasObject { return p.root }
func (p *fakePage) Title() string             { return p.route.Screen }
func (p *fakePage) HandleKey(key string) bool { return p.rig.say("page "+key) && key == "+" }
func (p *fakePage) Query(text string) bool {
	return p.route.Screen == routes.Find && p.rig.say("query "+text)
}
func (p *fakePage) Results() fyne.Focusable { return p.list }
func (p *fakePage) Saved() any              { return p.state }
func (p *fakePage) Restore(saved any)       { p.rig.say("restore " + saved.(string)) }
func (p *fakePage) GivesWay() bool          { return p.gives }
func (p *fakePage) Leave()                  { p.rig.say("leave " + p.route.Screen) }

// rig is a frame in a test window and what happened.
type rig struct {
	*Frame
	queue  loop.Queue
	canvas fyne.Canvas
	got    []string
}

func (r *rig) say(s string) bool {
	r.got = append(r.got, s)
	return true
}

// took are the things that happened since it was asked last.
func (r *rig) took() []string {
	out := r.got
	r.got = nil
	return out
}

func newRig(t *testing.T, width float32) *rig {
	t.Helper()
	look.Theme{Mode: look.Light}.Apply()
	r := &rig{}
	said := func(s string) func() { return func() { r.say(s) } }
	r.Frame = NewFrame(Options{
		Screens: testScreens(), Pages: r.page, Loop: r.queue.Loop(),
		Code:    func(s string) (begun, whole bool) { return strings.HasPrefix("SP7K", s), s == "SP7K" },
		Query:   func(s string) { r.say("elsewhere " + s) },
		Command: func(s string) { r.say("command " + s) },
		Measure: said("measure"), Hand: said("hand"), Claim: said("claim"), Undo: said("undo"), Redo: said("redo"),
	})
	w := test.NewTempWindow(t, nil)
	r.Attach(w)
	w.Resize(fyne.NewSize(width, 800))
	r.canvas = w.Canvas()
	return r
}

// testScreens are a rail of eight, and three screens beside it: of those the camera and
// the copies have keys.
func testScreens() []Screen {
	var all []Screen
	for _, name := range []string{routes.Today, routes.Unpack, routes.Find, routes.Places, routes.Labels, routes.Build, routes.Order, routes.Handbook} {
		all = append(all, Screen{Name: name, Title: strings.ToUpper(name[:1]) + name[1:], Icon: name, Help: "What " + name + " is for."})
	}
	return append(all,
		Screen{Name: routes.Camera, Title: "Camera", Key: "F2", Help: "What the camera is for."},
		Screen{Name: routes.Copies, Title: "Safe copies", Key: "F12", Help: "What the copies are for."},
		Screen{Name: routes.Photos, Title: "Photographs", Help: "What the photographs are for."})
}

func (r *rig) page(route routes.Route) (Page, error) {
	if route.About == "gone" {
		return nil, errors.New("Bag H999 is not in this shop. Scan another tag.")
	}
	list := look.NewRowList(table.Column{Kind: table.Names})
	list.SetRows([]table.Row{{ID: "1", Cells: []table.Cell{table.Name("AN3-5A", "")}}})
	p := &fakePage{rig: r, route: route, list: list, state: "state of " + route.Screen}
	p.root = look.Fill(8, list, look.NewKeyButton("All here", "A", func() { r.say("all here") }), look.NewKeyButton("Ask", "Q", r.lookUpAndAsk))
	return p, nil
}

// lookUpAndAsk asks a question once its answers were looked up, and says what was answered, when
// that was written.
func (r *rig) lookUpAndAsk() {
	field := look.NewEntry("")
	var d *look.Dialog
	field.OnSubmitted = func(text string) {
		loop.Do(r.queue.Loop(), func() (string, error) { return text, nil }, func(text string, _ error) {
			d.Close()
			r.say("answered " + text)
		})
	}
	loop.Do(r.queue.Loop(), func() (bool, error) { return true, nil }, func(bool, error) {
		d = look.NewDialog("How many?", field)
		r.Ask(d, field)
	})
}

// key presses a key where the focus is, as the window would.
func (r *rig) press(names ...fyne.KeyName) {
	for _, n := range names {
		e := &fyne.KeyEvent{Name: n}
		if n == fyne.KeyTab && r.canvas.Focused() == nil {
			r.keyDown(e)
		}
		f := r.canvas.Focused()
		if accepts, ok := f.(fyne.Tabbable); n == fyne.KeyTab && (!ok || !accepts.AcceptsTab()) {
			r.canvas.FocusNext() // as the toolkit does, which tells nobody
		} else if f != nil {
			f.TypedKey(e)
		} else {
			r.canvas.OnTypedKey()(e)
		}
	}
}

// typed types characters where the focus is.
func (r *rig) typed(text string) {
	for _, c := range text {
		if f := r.canvas.Focused(); f != nil {
			f.TypedRune(c)
		} else {
			r.canvas.OnTypedRune()(c)
		}
	}
}

// shortcut does what the window's canvas does with a shortcut that nothing with
// the focus had a use for; the test canvas cannot be asked to.
func (r *rig) shortcut(s fyne.Shortcut) {
	r.typedShortcut(s)
}

func (r *rig) ctrl(name fyne.KeyName) {
	r.shortcut(&desktop.CustomShortcut{KeyName: name, Modifier: fyne.KeyModifierControl})
}

func want(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: got %q, want %q", what, got, want)
	}
}

func TestGoAndBackKeepState(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Find})
	r.Go(routes.Route{Screen: routes.Places, About: "A"})
	r.ShowCard(card.Card{Designation: "AN3-5A"}, nil)
	want(t, "going", r.took(), "leave find")
	if !r.Back() || r.Route().Screen != routes.Find {
		t.Errorf("back: at %+v, want find", r.Route())
	}
	want(t, "back", r.took(), "leave places", "restore state of find")
	if !r.Card().Empty() {
		t.Error("back: the card of the page before is still shown")
	}
	if r.Back() {
		t.Error("back from the first page: got true")
	}
	r.Reload()
	want(t, "reload", r.took(), "leave find", "restore state of find")
}

func TestPageThatCannotBeMade(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Unpack, About: "gone"})
	markup := test.RenderToMarkup(r.canvas)
	if !strings.Contains(markup, "Bag H999 is not in this shop.") {
		t.Error("the reason is not shown")
	}
	r.press(fyne.KeyF9, desktop.KeyControlLeft)
	r.typed("a+")
	want(t, "keys", r.took(), "hand")
}

func TestCardActionsByKey(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Find})
	var took []string
	r.ShowCard(card.Card{Designation: "AN3-5A", Actions: []card.Action{{ID: "take", Key: "T"}, {ID: "all", Key: "A"}}},
		func(id string) { took = append(took, id) })
	r.typed("ta")
	want(t, "T is the card's, A the page's", took, "take")
	r.ShowCard(card.Card{}, nil)
	r.typed("t")
	want(t, "no card", took, "take")
}

func TestConfirm(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Find})
	ask := func() {
		r.Confirm(Question{Title: "Undo the import?", Text: "60 lines go.", Yes: "Undo it"}, func() { r.say("yes") })
		r.took()
	}
	ask()
	r.typed("a")
	r.ctrl(fyne.Key4)
	r.shortcut(&fyne.ShortcutUndo{})
	want(t, "the window behind waits", r.took())
	r.press(fyne.KeyEscape)
	want(t, "Esc", r.took())
	if r.canvas.Overlays().Top() != nil {
		t.Fatal("Esc: the question is still open")
	}
	ask()
	r.press(fyne.KeyReturn)
	want(t, "Enter", r.took(), "yes")
}

func TestNarrowCardLiesOverTheWork(t *testing.T) {
	for _, row := range []struct {
		width float32
		gives bool // the page gives way
		over  bool
	}{{1280, false, false}, {1100, false, false}, {1099, false, true}, {1099, true, false}, {900, true, false}, {899, true, true}} {
		r := newRig(t, row.width)
		r.Go(routes.Route{Screen: routes.Find})
		r.Page().(*fakePage).gives = row.gives
		before := r.work.Size().Width
		r.ShowCard(card.Card{Designation: "AN3-5A"}, nil)
		if !row.over && r.opener.Visible() {
			t.Errorf("%v wide: there is a pill to open what is open", row.width)
		}
		if same := r.work.Size().Width == before; r.side.over != row.over || same != row.over {
			t.Errorf("%v wide: over %v, work as wide as before %v; want %v", row.width, r.side.over, same, row.over)
		}
	}
}

func TestTopAndFooter(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Today})
	r.SetFooter(Footer{Shop: "Type Q", Last: "Partner counted A-30: 150", CanUndo: true})
	r.SetClaim("Damage claim: 1 day left", notice.Warn)
	r.SetHand("Partner")
	markup := test.RenderToMarkup(r.canvas)
	for _, text := range []string{"Type Q", "Partner counted A-30: 150", "Damage claim: 1 day left", "Partner", caution, "Handbook"} {
		if !strings.Contains(markup, text) {
			t.Errorf("window: %q is not shown", text)
		}
	}
	if got := r.window.Title(); !strings.HasPrefix(got, "Damage claim: 1 day left - ") {
		t.Errorf("the title bar says %q, want the deadline first", got)
	}
	test.Tap(r.claim)
	test.Tap(r.hand)
	test.Tap(r.footer.undo)
	r.took()
	for _, want := range []struct {
		unit  float32
		label string
	}{{1.4, "Smaller"}, {1, "Larger"}} {
		r.press(fyne.KeyF8)
		if got := look.Px(1); got != want.unit || r.footer.size.Label() != want.label {
			t.Errorf("F8: one point is %v, the link says %q; want %v and %q", got, r.footer.size.Label(), want.unit, want.label)
		}
	}
	r.got = []string{"claim", "hand", "undo"}
	test.Tap(r.rail[4])
	want(t, "taps", r.took(), "claim", "hand", "undo", "leave today")
	if r.Route().Screen != routes.Labels || !r.rail[4].current || r.rail[0].current {
		t.Errorf("rail: at %q", r.Route().Screen)
	}
	r.SetFooter(Footer{Shop: "Type Q"})
	if r.footer.undo.Visible() {
		t.Error("nothing to undo: the link is shown")
	}
}

// What goes on behind the window has its room in the footer; the last entry is cut for
// it and goes where there is none. The key that makes everything larger or smaller stays, in
// windows of 1,280 and of 1,000 in the larger size too.
func TestFooterMakesRoom(t *testing.T) {
	const last = "Partner counted NAS1149F0363P in Cabinet A, drawer A-30: 150 pieces"
	for _, row := range []struct {
		width  float32
		behind string
		last   bool // is seen
	}{
		{1280, "", true},
		{1280, "Safe copy made, 12:04", true},
		{1100, "safe copy: looking whether it is whole, 37 %", false},
		{914, "safe copy: looking whether it is whole, 37 %", false},
		{914, "", true},
		{714, "", false},
	} {
		r := newRig(t, row.width)
		r.Go(routes.Route{Screen: routes.Today})
		r.SetFooter(Footer{Shop: "Type Q", Behind: row.behind, Last: last, CanUndo: true})
		f := r.footer
		if !f.size.Visible() || f.last.Visible() != row.last || f.behind.Visible() != (row.behind != "") {
			t.Errorf("%v wide, %q: size %v, last entry %v; want it, %v", row.width, row.behind, f.size.Visible(), f.last.Visible(), row.last)
		}
		var end float32
		for _, o := range f.row.Objects {
			if !o.Visible() {
				continue
			}
			if o.Position().X+0.5 < end {
				t.Errorf("%v wide, %q: %T begins at %v, before the one at its left ends at %v", row.width, row.behind, o, o.Position().X, end)
			}
			end = o.Position().X + o.Size().Width
		}
	}
}

// What is said stands under the page and never over its buttons, and Undo stays where it is,
// whatever was done last: a second click undoes once more.
func TestSaidAndUndoStandClear(t *testing.T) {
	for _, width := range []float32{1280, 914, 714} {
		r := newRig(t, width)
		r.Go(routes.Route{Screen: routes.Today})
		page := r.work.Objects[0]
		whole := page.Size().Height
		r.SetFooter(Footer{Shop: "Type Q", Last: "Partner counted NAS1149F0363P in Cabinet A, drawer A-30: 150 pieces", CanUndo: true})
		undo := r.footer.undo.Position()
		r.SetFooter(Footer{Shop: "Type Q", Last: "Partner undid: A-30", CanUndo: true})
		if now := r.footer.undo.Position(); now != undo {
			t.Errorf("%v wide: Undo moves from %v to %v", width, undo, now)
		}
		r.Say(notice.Notice{Tone: notice.OK, Lead: "Undone:", Text: "Partner counted A-30: 150. " + strings.Repeat("And so on. ", 30)})
		said := r.work.Objects[1]
		if end := page.Position().Y + page.Size().Height; end > said.Position().Y || page.Size().Height >= whole {
			t.Errorf("%v wide: the page ends at %v, what is said begins at %v", width, end, said.Position().Y)
		}
		if end := said.Position().Y + said.Size().Height; end > r.work.Size().Height {
			t.Errorf("%v wide: what is said ends at %v, under the work at %v", width, end, r.work.Size().Height)
		}
		r.press(fyne.KeyEscape)
		if now := page.Size().Height; now != whole {
			t.Errorf("%v wide: once it is gone the page is %v high, want %v", width, now, whole)
		}
	}
}

// A pane of a screen's own leaves the work of a narrow window free until it is
// opened or has a question; then it stays as the person left it.
func TestNarrowPaneWaits(t *testing.T) {
	r := newRig(t, 1000)
	r.Go(routes.Route{Screen: routes.Unpack})
	state := func(what string, open bool) {
		t.Helper()
		if r.side.visible() != open || r.opener.Visible() == open {
			t.Errorf("%s: open %v, pill %v; want %v", what, r.side.visible(), r.opener.Visible(), open)
		}
	}
	plain := func() fyne.CanvasObject { return look.NewText("Claims for this delivery") }
	r.ShowSide(plain())
	state("shown", false)
	r.press(fyne.KeyF4)
	state("F4", true)
	r.ShowSide(plain())
	state("shown again", true)
	r.press(fyne.KeyEscape)
	state("Esc", false)
	r.ShowSide(look.Rows(8, plain(), look.NewPrimary("Stow 12 there", "Enter", func() { r.say("stowed") })))
	state("with a question", true)
	r.took()
	r.press(fyne.KeyReturn)
	want(t, "Enter", r.took(), "page Enter", "stowed")
	r.ShowSide(plain())
	state("answered", false)
	test.Tap(r.opener)
	r.HideCard()
	if r.side.visible() || r.opener.Visible() {
		t.Error("hidden: something is left to open")
	}
}

// A card that follows typing stays closed in a narrow window until it is asked for,
// and open once it is.
func TestOfferedCard(t *testing.T) {
	r := newRig(t, 900)
	r.Go(routes.Route{Screen: routes.Handbook})
	offer := func(name string) { r.OfferCard(card.Card{Designation: name}, nil) }
	offer("AN3-5A")
	if r.side.visible() || !r.opener.Visible() {
		t.Errorf("offered: seen %v, to be opened %v", r.side.visible(), r.opener.Visible())
	}
	r.press(fyne.KeyF4)
	offer("AN3-6A")
	if r.Card().Designation != "AN3-6A" {
		t.Errorf("offered while open: card of %q", r.Card().Designation)
	}
	r.press(fyne.KeyF4)
	offer("AN3-7A")
	if r.side.visible() {
		t.Error("a card that was closed comes back by itself")
	}
	offer("")
	if r.side.has() {
		t.Error("an empty card is kept")
	}
	wide := newRig(t, 1280)
	wide.Go(routes.Route{Screen: routes.Handbook})
	wide.OfferCard(card.Card{Designation: "AN3-5A"}, nil)
	if wide.Card().Designation != "AN3-5A" {
		t.Errorf("in a wide window: card of %q", wide.Card().Designation)
	}
}
