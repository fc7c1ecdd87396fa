package app

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/routes"
)

// bindKeys binds the keys that work everywhere.
func (f *Frame) bindKeys(c fyne.Canvas) {
	c.SetOnTypedKey(f.typedKey)
	c.SetOnTypedRune(f.typedRune)
	for _, b := range f.bindings() {
		c.AddShortcut(b.shortcut, func(fyne.Shortcut) { f.unlessAsked(b.do) })
	}
}

// binding is a shortcut that works everywhere and what it does.
type binding struct {
	shortcut fyne.Shortcut
	do       func()
}

func (f *Frame) bindings() []binding {
	var all []binding
	add := func(key fyne.KeyName, mod fyne.KeyModifier, do func()) {
		all = append(all, binding{&desktop.CustomShortcut{KeyName: key, Modifier: mod}, do})
	}
	const ctrl = fyne.KeyModifierShortcutDefault
	for i, s := range f.onRail() {
		if i == mostNumbered {
			break
		}
		visit := func() { f.Go(routes.Route{Screen: s.Name}) }
		add(fyne.KeyName(rune('1'+i)), ctrl, visit)
		add(fyne.KeyName(rune('1'+i)), fyne.KeyModifierAlt, visit)
	}
	add(fyne.KeyK, ctrl, f.FocusCommand)
	add(fyne.KeyU, ctrl, func() { call(f.options.Lengths) })
	add(fyne.KeyZ, ctrl|fyne.KeyModifierShift, func() { call(f.options.Redo) })
	add(fyne.KeyLeft, fyne.KeyModifierAlt, func() { f.Back() })
	return append(all,
		binding{&fyne.ShortcutUndo{}, f.undo},
		binding{&fyne.ShortcutRedo{}, func() { call(f.options.Redo) }})
}

// unlessAsked does nothing while a question is open: the window behind it waits.
func (f *Frame) unlessAsked(do func()) {
	if f.top() == nil {
		do()
	}
}

// top is what lies over the window, nil for nothing.
func (f *Frame) top() fyne.CanvasObject {
	if c := f.canvas(); c != nil {
		return c.Overlays().Top()
	}
	return nil
}

// FocusCommand puts the cursor into the command bar; what is typed or scanned next
// takes the place of what it holds.
func (f *Frame) FocusCommand() {
	f.returnToCommand()
	f.command.SelectAll()
}

// returnToCommand puts the cursor behind what the command bar holds.
func (f *Frame) returnToCommand() {
	if c := f.canvas(); c != nil && !f.options.Bare {
		c.Focus(f.command)
	}
}

// Rest takes the cursor out of whatever has it, so that single keys work.
func (f *Frame) Rest() {
	if c := f.canvas(); c != nil {
		c.Unfocus()
	}
}

func (f *Frame) commandFocused() bool {
	c := f.canvas()
	return c != nil && c.Focused() == fyne.Focusable(f.command)
}

// typedKey takes the keys that nothing with the focus had a use for.
func (f *Frame) typedKey(e *fyne.KeyEvent) {
	key := look.KeyName(e.Name)
	if len(key) == 1 || key == string(fyne.KeySpace) || modifier(e.Name) {
		return // characters come as runes
	}
	f.left = e.Name == look.LeftField
	f.key(key)
	f.left = false
}

// modifier reports whether a key does nothing by itself.
func modifier(name fyne.KeyName) bool {
	switch name {
	case desktop.KeyShiftLeft, desktop.KeyShiftRight, desktop.KeyControlLeft, desktop.KeyControlRight,
		desktop.KeyAltLeft, desktop.KeyAltRight, desktop.KeySuperLeft, desktop.KeySuperRight, desktop.KeyCapsLock:
		return true
	default:
		return false
	}
}

// typedRune takes the characters that nothing with the focus had a use for.
func (f *Frame) typedRune(r rune) {
	if f.top() == nil && !f.options.Bare && f.scan.took(r) {
		return
	}
	f.key(strings.ToUpper(string(r)))
}

// key gives a key to the first that wants it: the open question, the page, a
// button that shows it, the card, the window.
func (f *Frame) key(key string) {
	if over := f.top(); over != nil {
		f.keyOver(over, key)
		return
	}
	if p, ok := f.page.(KeyHandler); ok && p.HandleKey(key) {
		return
	}
	if len(f.work.Objects) > 0 && look.PressKey(f.work, key) {
		return
	}
	if f.side.visible() && (look.PressKey(f.side.object, key) || f.side.press(key)) {
		return
	}
	switch key {
	case "F1":
		f.askScreen()
	case "F6":
		call(f.options.Measure)
	case "F9":
		call(f.options.Hand)
	case "F8":
		f.resize()
	case "F4":
		f.toggleSide()
	case "/":
		f.FocusCommand()
	case "Up":
		f.returnToCommand()
	case "Esc":
		f.escape()
	default:
		f.goByKey(key)
	}
}

// mostNumbered is how many screens of the rail have a number as a key: the digits.
const mostNumbered = 9

// cameraKey is the key that the command bar shows for the camera.
const cameraKey = "F2"

// goByKey goes to the screen with that key, if there is one.
func (f *Frame) goByKey(key string) {
	for _, s := range f.options.Screens {
		if s.Key != "" && s.Key == key {
			f.Go(routes.Route{Screen: s.Name})
			return
		}
	}
}

// escape takes away the topmost thing: what was said, a card that lies over the
// work, the page. Esc in a field of the page leaves the field, and not the page too.
func (f *Frame) escape() {
	if f.hush() {
		return
	}
	if f.side.visible() && f.side.over {
		f.closeSide()
		return
	}
	if !f.left {
		f.Back()
	}
}

// toggleSide opens or closes the card of a narrow window.
func (f *Frame) toggleSide() {
	if f.side.waits() {
		f.openSide()
		return
	}
	f.closeSide()
}

// keyOver gives a key to what lies over the window. Fyne's own dialogs do not
// close on Esc by themselves.
func (f *Frame) keyOver(over fyne.CanvasObject, key string) {
	if d, ok := over.(*look.Dialog); ok {
		d.Key(key)
		return
	}
	if key == "Esc" {
		over.Hide()
		f.canvas().Overlays().Remove(over)
	}
}

// scanGuard keeps a hand scanner from pressing keys. A scanner types a tag, which
// begins with S and one of P, B, C, S, faster than fingers can. So S waits for a
// moment; when such a letter follows at once, both go into the command bar and
// the rest follows them there.
type scanGuard struct {
	frame *Frame
	wait  loop.Latest // for what follows an S
}

// scanGap is how long the second character of a scan may take. Scanners need 1 to
// 20 ms a character; fingers seldom less than 60.
const scanGap = 50 * time.Millisecond

// scanGrace is how long it is waited once more when scanGap is over. A window that was
// drawing meanwhile has not been handed the keys that came in that time: they come first now.
const scanGrace = 25 * time.Millisecond

// took reports whether the guard took the character.
func (g *scanGuard) took(r rune) bool {
	upper := strings.ToUpper(string(r))
	if g.wait.Waiting() {
		g.wait.Drop()
		if strings.Contains("PBCS", upper) {
			g.frame.SetCommand("")
			g.frame.FocusCommand()
			for _, c := range "S" + upper {
				g.frame.command.TypedRune(c)
			}
			return true
		}
		g.frame.key("S")
		return g.handOn(r)
	}
	if upper != "S" || g.frame.options.Loop.After == nil {
		return false
	}
	request := g.wait.Start()
	g.frame.options.Loop.After(scanGap, func() {
		g.frame.options.Loop.After(scanGrace, func() { g.late(request) })
	})
	return true
}

// handOn gives a character to the field that S opened for it, and reports whether there is
// one: a person who types on at once must not lose the first digit.
func (g *scanGuard) handOn(r rune) bool {
	c := g.frame.canvas()
	if c == nil || c.Focused() == nil {
		return false
	}
	c.Focused().TypedRune(r)
	return true
}

// late lets a lone S do what it is for.
func (g *scanGuard) late(wait loop.Request) {
	if wait.Current() {
		g.wait.Drop()
		g.frame.key("S")
	}
}
