package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// A focused widget swallows everything that is typed. The widgets here hand what
// they have no use for on to the window, so that "A" for all here, F9 for the
// hand or Ctrl+K work wherever the focus is.

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
