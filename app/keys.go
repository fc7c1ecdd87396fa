package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"stowright/app/look"
	"stowright/app/routes"
)

// bindKeys binds the keys that work everywhere.
func (f *Frame) bindKeys(c fyne.Canvas) {
	c.SetOnTypedKey(f.typedKey)
	c.SetOnTypedRune(f.typedRune)
	if c, ok := c.(desktop.Canvas); ok {
		c.SetOnKeyDown(f.keyDown)
	}
	for _, b := range f.bindings() {
		c.AddShortcut(b.shortcut, func(s fyne.Shortcut) { f.typedShortcut(s) })
	}
	for _, s := range []fyne.Shortcut{&fyne.ShortcutSelectAll{}, &fyne.ShortcutCut{}, &fyne.ShortcutPaste{}} {
		c.AddShortcut(s, f.typedShortcut)
	}
}

// keyDown is told of a key before anything is done with it, where nothing has the focus.
func (f *Frame) keyDown(e *fyne.KeyEvent) {
	if e.Name == fyne.KeyTab && f.keyboard.Waits() {
		look.KeepTab(f.canvas())
	}
}

// typedShortcut does what a shortcut is for that nothing with the focus had a use for, in its
// turn. One that edits text may be of use to a field that is on its way.
func (f *Frame) typedShortcut(s fyne.Shortcut) {
	for _, b := range f.bindings() {
		if b.shortcut.ShortcutName() != s.ShortcutName() {
			continue
		}
		do := func() { f.unlessAsked(b.do) }
		if b.always {
			do = b.do
		}
		if !f.keyboard.Took(look.Typed{Do: do}) {
			do()
		}
		return
	}
	f.keyboard.Took(look.Typed{Shortcut: s})
}

// binding is a shortcut that works everywhere and what it does.
type binding struct {
	shortcut fyne.Shortcut
	do       func()
	always   bool // while a question is open too, as the cross of the window
}

func (f *Frame) bindings() []binding {
	var all []binding
	add := func(key fyne.KeyName, mod fyne.KeyModifier, do func()) {
		all = append(all, binding{shortcut: &desktop.CustomShortcut{KeyName: key, Modifier: mod}, do: do})
	}
	const ctrl = fyne.KeyModifierShortcutDefault
	for i, s := range f.onRail() {
		if i == mostNumbered {
			break
		}
		visit := func() { f.visit(routes.Route{Screen: s.Name}) }
		add(fyne.KeyName(rune('1'+i)), ctrl, visit)
		add(fyne.KeyName(rune('1'+i)), fyne.KeyModifierAlt, visit)
	}
	add(fyne.KeyK, ctrl, f.FocusCommand)
	add(fyne.KeyU, ctrl, func() { call(f.options.Lengths) })
	add(fyne.KeyZ, ctrl|fyne.KeyModifierShift, func() { call(f.options.Redo) })
	add(fyne.KeyLeft, fyne.KeyModifierAlt, func() { f.Back() })
	return append(all,
		binding{&desktop.CustomShortcut{KeyName: fyne.KeyQ, Modifier: ctrl}, func() { f.window.Close() }, true},
		binding{shortcut: &fyne.ShortcutCopy{}, do: f.copyChosen},
		binding{shortcut: &fyne.ShortcutUndo{}, do: f.undo},
		binding{shortcut: &fyne.ShortcutRedo{}, do: func() { call(f.options.Redo) }})
}

// unlessAsked does nothing while a question is open: the window behind it waits.
func (f *Frame) unlessAsked(do func()) {
	if f.top() == nil {
		f.keyboard.Asked(do)
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
	if f.keyboard.Took(look.Typed{Key: e}) || len(key) == 1 || key == string(fyne.KeySpace) || modifier(e.Name) {
		return // characters come as runes
	}
	f.left = e.Name == look.LeftField
	f.keyboard.Asked(func() { f.key(key) })
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
	if f.keyboard.Took(look.Typed{Rune: r}) {
		return
	}
	f.keyboard.Asked(func() { f.key(strings.ToUpper(string(r))) })
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
	f.ownKey(key)
}

// ownKey is what a key does on every page.
func (f *Frame) ownKey(key string) {
	switch key {
	case "F1":
		f.askHelp()
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

// goByKey goes to the screen with that key, if there is one: to the camera with what is
// chosen on the page, which it looks for.
func (f *Frame) goByKey(key string) {
	for _, s := range f.options.Screens {
		if s.Key == "" || s.Key != key {
			continue
		}
		to := routes.Route{Screen: s.Name}
		if seeker, ok := f.page.(Seeker); ok && key == cameraKey {
			to.Part = seeker.Seeks()
		}
		f.visit(to)
		return
	}
}

// escape takes away the topmost thing: what was said, a card that lies over the
// work, the page. Esc in a field of the page leaves the field, and not the page too.
func (f *Frame) escape() {
	if f.Hush() {
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
