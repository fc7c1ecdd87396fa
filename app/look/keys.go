package look

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// A focused widget swallows everything that is typed. The widgets here hand what
// they have no use for on to the window, so that "A" for all here, F9 for the
// hand or Ctrl+K work wherever the focus is. Before they use anything they ask the
// window's gate, which may keep it for what will have the focus.

// Typed is one thing that was typed or done: one of its fields is set.
type Typed struct {
	Rune     rune
	Key      *fyne.KeyEvent
	Shortcut fyne.Shortcut
	Do       func()
}

// Gate is a window that keeps the keyboard in order.
type Gate interface {
	// Took reports whether the window keeps what was typed: it will come back to whatever
	// has the focus by then.
	Took(t Typed) bool
	// Waits reports whether it would keep what is typed now: then Tab waits too, which the
	// toolkit would use at once.
	Waits() bool
	// Shortcut does what a shortcut is for that the focus had no use for.
	Shortcut(s fyne.Shortcut)
	// Asked does what a person asked for by a tap: what is typed until its answer is there
	// waits for that.
	Asked(do func())
	// Offer lists what can be done with what is chosen, once its card is there.
	Offer()
	// Now is what the clock says, which tells a double tap.
	Now() time.Time
}

// gated is the content of a window that has a gate.
type gated interface{ Gate() Gate }

// Gated is the content of a window with its gate.
type Gated struct {
	widget.BaseWidget
	content fyne.CanvasObject
	gate    Gate
	keeper  *TabKeeper
}

// NewGated puts a gate before the widgets of this package within content.
func NewGated(content fyne.CanvasObject, gate Gate) *Gated {
	g := &Gated{content: content, gate: gate, keeper: newTabKeeper()}
	g.ExtendBaseWidget(g)
	return g
}

// Gate is the gate.
func (g *Gated) Gate() Gate { return g.gate }

func (g *Gated) tabKeeper() *TabKeeper { return g.keeper }

func (g *Gated) held() []fyne.CanvasObject { return []fyne.CanvasObject{g.content} }

// CreateRenderer draws the content.
func (g *Gated) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{g.keeper, g.content}} // the keeper has no size: a click is never its
	r.min = func() fyne.Size { return g.content.MinSize() }
	r.layout = func(size fyne.Size) { place(g.content, 0, 0, size.Width, size.Height) }
	r.refresh = func() { g.content.Refresh() }
	return r.ready(g)
}

// gateOf is the gate of the window that shows a widget, or nil.
func gateOf(o fyne.CanvasObject) Gate {
	if c := canvasOf(o); c != nil {
		if g, ok := c.Content().(gated); ok {
			return g.Gate()
		}
	}
	return nil
}

// kept reports whether what was typed into a widget is dealt with: the window's gate keeps it,
// or it is Tab, which no widget has a use for.
func kept(from fyne.CanvasObject, t Typed) bool {
	tab := t.Key != nil && (t.Key.Name == fyne.KeyTab || t.Key.Name == BackTab)
	if tab {
		t.Key = shifted(t.Key)
	}
	if gate := gateOf(from); gate != nil && gate.Took(t) {
		return true
	}
	if tab {
		Onward(canvasOf(from), t.Key.Name)
	}
	return tab
}

// offer lists what can be done with what is chosen, where the window does.
func offer(from fyne.CanvasObject) {
	if gate := gateOf(from); gate != nil {
		gate.Offer()
	}
}

// clockOf is what the clock of the window says that shows a widget.
func clockOf(o fyne.CanvasObject) time.Time {
	if gate := gateOf(o); gate != nil {
		return gate.Now()
	}
	return time.Now()
}

// asked does what a tap on a widget asks for.
func asked(from fyne.CanvasObject, do func()) {
	if gate := gateOf(from); gate != nil {
		gate.Asked(do)
		return
	}
	do()
}

// canvasOf is the canvas that shows o, or nil. An object that has not been drawn
// yet is on no canvas that the driver knows of: then it is on the window, where
// there is one.
func canvasOf(o fyne.CanvasObject) fyne.Canvas {
	driver := fyne.CurrentApp().Driver()
	if c := driver.CanvasForObject(o); c != nil {
		return c
	}
	if windows := driver.AllWindows(); len(windows) == 1 {
		return windows[0].Canvas()
	}
	return nil
}

// Kept reports whether the window keeps what was typed into a widget that is not of this
// package, which asks before it uses anything.
func Kept(from fyne.CanvasObject, t Typed) bool { return kept(from, t) }

// Waits reports whether Tab is kept from the toolkit, for such a widget.
func Waits(from fyne.CanvasObject) bool { return waits(from) }

// PassOn hands what such a widget has no use for on to the window.
func PassOn(from fyne.CanvasObject, t Typed) {
	switch {
	case t.Key != nil:
		passKey(from, t.Key)
	case t.Shortcut != nil:
		passShortcut(from, t.Shortcut)
	default:
		passRune(from, t.Rune)
	}
}

func passRune(from fyne.CanvasObject, r rune) {
	if c := canvasOf(from); c != nil && c.OnTypedRune() != nil {
		c.OnTypedRune()(r)
	}
}

func passKey(from fyne.CanvasObject, key *fyne.KeyEvent) {
	if c := canvasOf(from); c != nil && c.OnTypedKey() != nil {
		c.OnTypedKey()(key)
	}
}

func passShortcut(from fyne.CanvasObject, s fyne.Shortcut) {
	if gate := gateOf(from); gate != nil {
		gate.Shortcut(s)
		return
	}
	if c, ok := canvasOf(from).(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// LeftField is Esc that has left a field: it still closes a question or drops what a
// page has begun, and does not leave the page as well.
const LeftField fyne.KeyName = "EscapeFromField"

// KeyName is a key as KeyButton names it: "A", "F6", "Enter", "Space".
func KeyName(key fyne.KeyName) string {
	switch key {
	case fyne.KeyReturn, fyne.KeyEnter:
		return "Enter"
	case fyne.KeyEscape, LeftField:
		return "Esc"
	case fyne.KeyDelete:
		return "Del"
	default:
		return string(key)
	}
}

// PressKey presses the first visible, usable KeyButton within root that shows
// that key, and reports whether there was one. Upper and lower case are one key.
func PressKey(root fyne.CanvasObject, key string) bool {
	button := findKey(root, key)
	if button == nil {
		return false
	}
	button.press()
	return true
}

// HasKey reports whether PressKey would find a button.
func HasKey(root fyne.CanvasObject, key string) bool { return findKey(root, key) != nil }

// findKey walks what is shown. It looks into this package's containers and into
// Fyne's plain ones, which is where screens put buttons.
func findKey(o fyne.CanvasObject, key string) *KeyButton {
	if o == nil || !o.Visible() {
		return nil
	}
	if b, ok := o.(*KeyButton); ok {
		if strings.EqualFold(b.key, key) && !b.off {
			return b
		}
		return nil
	}
	for _, child := range children(o) {
		if b := findKey(child, key); b != nil {
			return b
		}
	}
	return nil
}

// children are the objects that a container or widget of ours holds.
func children(o fyne.CanvasObject) []fyne.CanvasObject {
	switch c := o.(type) {
	case *fyne.Container:
		return c.Objects
	case *container.Scroll:
		return []fyne.CanvasObject{c.Content}
	case holder:
		return c.held()
	default:
		return nil
	}
}

// holder is a widget of this package that holds other objects.
type holder interface{ held() []fyne.CanvasObject }

func (p *Panel) held() []fyne.CanvasObject    { return []fyne.CanvasObject{p.content} }
func (s *Scroller) held() []fyne.CanvasObject { return []fyne.CanvasObject{s.scroll} }

// FocusOn gives the focus to a widget that is shown, or will be when the window is
// drawn next.
func FocusOn(w fyne.Focusable) {
	if o, ok := w.(fyne.CanvasObject); ok {
		if c := canvasOf(o); c != nil {
			c.Focus(w)
		}
	}
}

// Keyed are the usable KeyButtons with a key within root that are seen, in their order.
func Keyed(root fyne.CanvasObject) []*KeyButton {
	if root == nil || !root.Visible() {
		return nil
	}
	if b, ok := root.(*KeyButton); ok {
		if b.key == "" || b.off {
			return nil
		}
		return []*KeyButton{b}
	}
	var all []*KeyButton
	for _, child := range children(root) {
		all = append(all, Keyed(child)...)
	}
	return all
}
