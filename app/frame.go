package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/routes"
)

// Options are what the frame is made of. Callbacks may be nil.
type Options struct {
	Screens []Screen  // all of them; those with an icon are the rail, in this order
	Pages   Factory   // makes the page of a route
	Loop    loop.Loop // of the running program, or a queue in tests
	Bare    bool      // there is no shop: no command bar

	// Code reports whether a text in upper case begins a code that a hand scanner reads, and
	// whether it is a whole one; nil where none is read.
	Code    func(text string) (begun, whole bool)
	Query   func(text string) // the command bar changed, and the page did not take it
	Command func(text string) // Enter in the command bar: a tag, a number, words
	Measure func()            // F6: measure a loose piece
	Hand    func()            // F9: whose hand is this
	Resized func(large bool)  // F8: everything was made larger, or as it was
	Lengths func()            // Ctrl+U: lengths in inches, or in millimetres
	KeyCard func()            // F1, P: a card of all keys to print
	Claim   func()            // the claim clock was tapped
	Undo    func()            // Ctrl+Z
	Redo    func()            // Ctrl+Shift+Z
	Settled func()            // all that was asked for is there
}

// Frame is the window's content. Make it with NewFrame, put Object into a window
// with Attach.
type Frame struct {
	options  Options
	window   fyne.Window
	command  *look.CommandEntry
	claim    *look.Pill
	deadline string // the nearest claim deadline; empty for none
	hand     *look.Pill
	opener   *look.Pill // opens the card of a narrow window
	rail     []*railItem
	work     *fyne.Container // the page and, over its foot, what was said last
	side     *side
	footer   *footer
	root     *fyne.Container

	visits   []visit // the way here; the last one is shown
	page     Page
	keyboard *keyboard
	quietly  bool         // the command bar is being changed by the frame
	arrived  bool         // a page has been gone to, and has not had the focus yet
	left     bool         // the key that is being dealt with has just left a field
	asked    *look.Dialog // by a frame without a window
}

// visit is one page of the way here.
type visit struct {
	route routes.Route
	saved any
}

// NewFrame builds the frame without a page; Go shows the first one.
func NewFrame(o Options) *Frame {
	f := &Frame{options: o}
	f.command = look.NewCommandEntry(func() { f.goByKey(cameraKey) })
	f.command.OnChanged = f.queried
	f.command.OnSubmitted = f.submitted
	f.command.OnDown = f.ToResults
	f.claim = look.NewPill("", "", notice.Warn, func() { call(o.Claim) })
	f.claim.Hide()
	f.hand = look.NewPill("", "F9", notice.Quiet, func() { call(o.Hand) })
	f.hand.Hide()
	f.footer = newFooter(f.undo, f.askHelp, f.resize)
	f.work = container.New(&workLayout{})
	f.side = newSide(f.closeSide)
	f.opener = look.NewPill("Card", "F4", notice.Quiet, f.openSide)
	rail := container.New(&railLayout{})
	for _, s := range f.onRail() {
		item := newRailItem(s, func() { f.visit(routes.Route{Screen: s.Name}) })
		f.rail = append(f.rail, item)
		rail.Add(item)
	}
	f.command.Hidden = o.Bare
	f.keyboard = newKeyboard(f, o.Loop)
	f.root = container.New(&frameLayout{frame: f},
		look.NewGround(), look.NewStrip(look.Right), f.work, f.side.object,
		look.NewStrip(look.Top), look.NewStrip(look.Bottom), // before what scrolls under them, and would be tapped
		look.NewWordmark("Stowright"), f.footer.row, f.command, f.claim, f.opener, f.hand, rail)
	return f
}

// onRail are the screens of the rail, in order.
func (f *Frame) onRail() []Screen {
	var rail []Screen
	for _, s := range f.options.Screens {
		if s.Icon != "" {
			rail = append(rail, s)
		}
	}
	return rail
}

func call(f func()) {
	if f != nil {
		f()
	}
}

// Object is the whole content of the window.
func (f *Frame) Object() fyne.CanvasObject { return f.root }

// Attach puts the frame into a window and binds the keys that work everywhere.
func (f *Frame) Attach(w fyne.Window) {
	f.window = w
	w.SetPadded(false)
	w.SetContent(look.NewGated(f.root, f.keyboard))
	f.bindKeys(w.Canvas())
}

// canvas is the window's canvas, nil before Attach.
func (f *Frame) canvas() fyne.Canvas {
	if f.window == nil {
		return nil
	}
	return f.window.Canvas()
}

// SetFooter shows which shop this is and the last entry with its undo.
func (f *Frame) SetFooter(to Footer) { f.footer.set(to) }

// SetClaim shows the nearest claim deadline on the top bar and in the title of the window;
// "" hides it.
func (f *Frame) SetClaim(text string, tone notice.Tone) {
	f.claim.Set(text, tone)
	if f.deadline != text {
		f.deadline = text
		f.setTitle()
	}
	f.root.Refresh()
}

// SetHand shows whose hand works; "" hides it.
func (f *Frame) SetHand(name string) {
	f.hand.Set(name, notice.Quiet)
	f.root.Refresh()
}

// ShowCard shows a card at the right and tells the ID of each action taken.
func (f *Frame) ShowCard(c card.Card, act func(id string)) {
	if c.Empty() {
		f.HideCard()
		return
	}
	f.side.show(c, f.acting(c, act))
	f.root.Refresh()
}

// acting is what the actions of a card do: its photographs are the window's to show.
func (f *Frame) acting(c card.Card, act func(id string)) func(id string) {
	return func(id string) {
		switch {
		case id == look.MoreID:
			f.askMore(c, act)
		case id == look.PhotosID:
			f.Go(routes.Route{Screen: routes.Photos, About: c.Photographed})
		case act != nil:
			act(id)
		}
	}
}

// OfferCard shows a card that follows typing: like ShowCard, but in a narrow window
// it stays closed until it is asked for.
func (f *Frame) OfferCard(c card.Card, act func(id string)) {
	if c.Empty() {
		f.HideCard()
		return
	}
	f.side.offer(c, f.acting(c, act))
	f.root.Refresh()
}

// ShowSide shows an object of a screen's own in place of the card, on a panel. In a
// narrow window it opens over the work only when it has a button for Enter.
func (f *Frame) ShowSide(o fyne.CanvasObject) {
	f.side.showObject(o)
	f.root.Refresh()
}

// SideOver reports whether what is shown at the right lies over the work, because
// the window is narrow.
func (f *Frame) SideOver() bool { return f.side.visible() && f.side.over }

// openSide shows the card of a narrow window over the work.
func (f *Frame) openSide() {
	f.side.open = true
	f.root.Refresh()
}

// closeSide leaves the work of a narrow window free; the card can be opened again.
func (f *Frame) closeSide() {
	f.side.open = false
	f.root.Refresh()
}

// HideCard takes the card away; the work gets its room.
func (f *Frame) HideCard() {
	f.side.hide()
	f.root.Refresh()
}

// Card is the card that is shown, empty when there is none.
func (f *Frame) Card() card.Card { return f.side.card() }

// Say tells in one boxed sentence what happened, at the foot of the work area,
// until the next one, Esc, or another page.
func (f *Frame) Say(n notice.Notice) {
	f.Hush()
	f.work.Add(look.NewNotice(n))
	f.work.Refresh()
}

// Hush takes away what was said, and reports whether there was anything.
func (f *Frame) Hush() bool {
	if len(f.work.Objects) < 2 {
		return false
	}
	f.work.Objects = f.work.Objects[:1]
	f.work.Refresh()
	return true
}

// Said is what is being said now, for tests: "" for nothing.
func (f *Frame) Said() string {
	if len(f.work.Objects) < 2 {
		return ""
	}
	return f.work.Objects[1].(*look.Notice).Text()
}

// SetCommand puts text into the command bar without asking anyone about it.
func (f *Frame) SetCommand(text string) {
	f.quietly = true
	f.command.SetText(text)
	f.quietly = false
}

// queried follows typing in the command bar.
func (f *Frame) queried(text string) {
	if f.quietly {
		return
	}
	if q, ok := f.page.(Querier); ok && q.Query(text) {
		return
	}
	if f.options.Query != nil {
		f.options.Query(text)
	}
}

// Command does what Enter does in the command bar with that text.
func (f *Frame) Command(text string) { f.submitted(text) }

func (f *Frame) submitted(text string) {
	if f.options.Command != nil && text != "" {
		f.keyboard.Asked(func() { f.options.Command(text) })
	}
}

// ToResults moves the focus from the command bar into the page's list, where there is one:
// from there single keys work, and a scanner's are still distinguished from a person's.
//
// The list is waited for: what was typed last may not have been answered yet.
func (f *Frame) ToResults() {
	if q, ok := f.page.(Querier); ok && f.command.Text != "" {
		f.keyboard.Asked(func() { q.Query(f.command.Text) })
	}
	f.keyboard.inTurn(func() {
		r, ok := f.page.(Results)
		if !ok || f.canvas() == nil {
			return
		}
		if list := r.Results(); list != nil {
			f.canvas().Focus(list)
		}
	})
}

// resize turns shop mode on or off: everything larger, for gloves and poor light.
func (f *Frame) resize() {
	settings := fyne.CurrentApp().Settings()
	th, ok := settings.Theme().(look.Theme)
	if !ok {
		return
	}
	th.Shop = !th.Shop
	settings.SetTheme(th)
	f.footer.row.Refresh()
	if f.options.Resized != nil {
		f.options.Resized(th.Shop)
	}
}

func (f *Frame) undo() { call(f.options.Undo) }

// Redraw draws everything again, as after a change of theme.
func (f *Frame) Redraw() { canvas.Refresh(f.root) }

// CommandText is what stands in the command bar.
func (f *Frame) CommandText() string { return f.command.Text }
