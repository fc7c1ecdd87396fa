package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// waits reports whether Tab is kept from the toolkit, as it is from its own fields of several
// lines: what is kept waits with all that is typed.
func waits(from fyne.CanvasObject) bool {
	gate := gateOf(from)
	return gate != nil && gate.Waits()
}

// BackTab is Tab with Shift: an event says nothing of what is held.
const BackTab fyne.KeyName = "BackTab"

// shifted is Tab, or Tab with Shift while Shift is held.
func shifted(tab *fyne.KeyEvent) *fyne.KeyEvent {
	d, ok := fyne.CurrentApp().Driver().(desktop.Driver)
	if ok && tab.Name == fyne.KeyTab && d.CurrentKeyModifiers()&fyne.KeyModifierShift != 0 {
		return &fyne.KeyEvent{Name: BackTab, Physical: tab.Physical}
	}
	return tab
}

// Onward moves the focus as Tab and Tab with Shift do.
func Onward(c fyne.Canvas, tab fyne.KeyName) {
	switch {
	case c == nil:
	case tab == BackTab:
		c.FocusPrevious()
	default:
		c.FocusNext()
	}
}

// TabKeeper is what has the focus for the time of one Tab that has to wait while nothing else
// has it. The toolkit moves the focus at Tab without telling a window where nothing that has
// the focus takes it. At rest it is nothing that Tab leads to.
type TabKeeper struct {
	widget.BaseWidget
	armed bool
}

func newTabKeeper() *TabKeeper {
	k := &TabKeeper{}
	k.ExtendBaseWidget(k)
	return k
}

// KeepTab has the next Tab be kept where nothing has the focus: within what lies over the
// window, or else its content.
func KeepTab(c fyne.Canvas) {
	if c.Focused() != nil {
		return
	}
	keeper, ok := c.Overlays().Top().(interface{ tabKeeper() *TabKeeper })
	if c.Overlays().Top() == nil {
		keeper, ok = c.Content().(interface{ tabKeeper() *TabKeeper })
	}
	if ok {
		keeper.tabKeeper().armed = true
		c.Focus(keeper.tabKeeper())
	}
}

// Disabled reports whether Tab passes it by.
func (k *TabKeeper) Disabled() bool { return !k.armed }

// Enable and Disable do nothing: only KeepTab arms it.
func (k *TabKeeper) Enable() {}

// Disable does nothing.
func (k *TabKeeper) Disable() {}

// AcceptsTab reports that it has a use for Tab.
func (k *TabKeeper) AcceptsTab() bool { return true }

// FocusGained does nothing: nobody sees it.
func (k *TabKeeper) FocusGained() {}

// FocusLost disarms it.
func (k *TabKeeper) FocusLost() { k.armed = false }

// TypedRune hands a character on, which does not come before the Tab.
func (k *TabKeeper) TypedRune(r rune) { k.leave(Typed{Rune: r}) }

// TypedKey hands Tab to the window's gate, and the focus back to nothing.
func (k *TabKeeper) TypedKey(key *fyne.KeyEvent) { k.leave(Typed{Key: key}) }

func (k *TabKeeper) leave(t Typed) {
	if c := canvasOf(k); c != nil {
		c.Unfocus()
	}
	if !kept(k, t) {
		PassOn(k, t)
	}
}

// CreateRenderer draws nothing.
func (k *TabKeeper) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(&fyne.Container{})
}
