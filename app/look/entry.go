package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Entry is a text field that leaves to the window what is not text: function
// keys, Esc, and shortcuts that it does not know itself. Screens use it instead
// of widget.Entry, or F9 and Ctrl+K die in their fields.
type Entry struct {
	widget.Entry
	// OnEscape is asked on Esc; true means it was dealt with here.
	OnEscape func() bool
	// TakesCodes says that what a hand scanner reads while the field has the focus is meant
	// for it, and Enter behind it.
	TakesCodes bool
	// OnDown is called for the down arrow in a field of one line.
	OnDown func()

	self fyne.CanvasObject // what the window shows: this field, or what embeds it
	bar  bool              // the command bar, which belongs to no page
	unit *Caption          // of the amount that is typed; nil where none is
}

// NewEntry is an empty field of one line.
func NewEntry(placeholder string) *Entry {
	e := &Entry{}
	e.self = e
	e.PlaceHolder = placeholder
	e.ExtendBaseWidget(e)
	return e
}

// NewAmountEntry is an empty field for an amount, with its unit at its right end: 2 of what is
// kept in pounds are not two pieces.
func NewAmountEntry(unit string) *Entry {
	e := NewEntry("")
	e.unit = NewCaption("", unit)
	e.ActionItem = Inset(6, 0, e.unit) // the border of the field is not to be touched
	return e
}

// SetUnit shows another unit in a field for an amount.
func (e *Entry) SetUnit(unit string) {
	if e.unit != nil && e.unit.Text() != unit {
		e.unit.Set("", unit)
		e.Entry.Refresh()
	}
}

// Unit is the unit that a field for an amount shows; "" for none.
func (e *Entry) Unit() string {
	if e.unit == nil {
		return ""
	}
	return e.unit.Text()
}

// NewNote is an empty field of several lines.
func NewNote(placeholder string, lines int) *Entry {
	e := &Entry{}
	e.self = e
	e.PlaceHolder, e.MultiLine, e.Wrapping = placeholder, true, fyne.TextWrapWord
	e.SetMinRowsVisible(lines)
	e.ExtendBaseWidget(e)
	return e
}

// MinSize is as high as a button, so that fields and buttons line up.
func (e *Entry) MinSize() fyne.Size {
	size := e.Entry.MinSize()
	return fyne.NewSize(size.Width, max(size.Height, Px(buttonHeight)))
}

// AcceptsTab reports whether Tab waits: otherwise it leaves the field, one of several lines too.
func (e *Entry) AcceptsTab() bool { return waits(e.self) }

// TypedRune takes a character, unless the window keeps it.
func (e *Entry) TypedRune(r rune) {
	if !kept(e.self, Typed{Rune: r}) {
		e.Entry.TypedRune(r)
	}
}

// TypedKey handles editing keys and hands the others on.
func (e *Entry) TypedKey(key *fyne.KeyEvent) {
	switch {
	case kept(e.self, Typed{Key: key}):
	case key.Name == fyne.KeyEscape:
		e.escape(key)
	case !e.MultiLine && (key.Name == fyne.KeyReturn || key.Name == fyne.KeyEnter):
		e.enter(key)
	case !e.MultiLine && key.Name == fyne.KeyDown && e.OnDown != nil:
		asked(e.self, e.OnDown)
	case functionKey(key.Name):
		passKey(e.self, key)
	default:
		e.Entry.TypedKey(key)
	}
}

// enter hands in what was typed; without a listener a button may wait for the key.
func (e *Entry) enter(key *fyne.KeyEvent) {
	if e.OnSubmitted == nil {
		passKey(e.self, key)
		return
	}
	asked(e.self, func() { e.Entry.TypedKey(key) })
}

// escape leaves the field, unless Esc is dealt with here.
func (e *Entry) escape(key *fyne.KeyEvent) {
	if e.OnEscape != nil && e.OnEscape() {
		return
	}
	e.leave()
	if !e.bar {
		key = &fyne.KeyEvent{Name: LeftField, Physical: key.Physical}
	}
	passKey(e.self, key)
}

// SelectAll marks the whole text: what is typed next takes its place.
func (e *Entry) SelectAll() { e.Entry.TypedShortcut(&fyne.ShortcutSelectAll{}) }

// SetText replaces the text. What was marked is so no more: Fyne 2.8.1 would keep
// the mark, and the second character typed into the new text would take the place
// of the first.
func (e *Entry) SetText(text string) {
	if e.SelectedText() != "" {
		e.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	}
	e.Entry.SetText(text)
}

// leave gives up the focus, so that single keys work again.
func (e *Entry) leave() {
	if c := canvasOf(e.self); c != nil {
		c.Unfocus()
	}
}

// functionKey reports whether a key is F1 to F12.
func functionKey(name fyne.KeyName) bool {
	return len(name) >= 2 && len(name) <= 3 && name[0] == 'F' && name[1] >= '1' && name[1] <= '9'
}

// TypedShortcut edits, or hands a shortcut of the window on.
func (e *Entry) TypedShortcut(s fyne.Shortcut) {
	if kept(e.self, Typed{Shortcut: s}) {
		return
	}
	custom, ok := s.(*desktop.CustomShortcut)
	_, undo := s.(*fyne.ShortcutUndo)
	_, copying := s.(*fyne.ShortcutCopy)
	if (ok && !editing(custom.KeyName)) || (undo && e.Text == "") || (copying && e.SelectedText() == "") {
		passShortcut(e.self, s)
		return
	}
	e.Entry.TypedShortcut(s)
}

// editing reports whether a key with a modifier edits text.
func editing(name fyne.KeyName) bool {
	switch name {
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeyBackspace, fyne.KeyDelete:
		return true
	default:
		return false
	}
}

// CommandEntry is the command bar: it takes typing, or a hand scanner that types
// a tag and Enter. Esc empties it, the down arrow goes to the results.
type CommandEntry struct {
	Entry
	hint *commandHint
}

// NewCommandEntry is the empty command bar. camera is called when its hint is tapped.
func NewCommandEntry(camera func()) *CommandEntry {
	c := &CommandEntry{}
	c.self, c.bar = c, true
	c.PlaceHolder = barSays
	c.OnEscape = c.empty
	c.hint = newCommandHint(camera)
	c.ActionItem = c.hint
	c.ExtendBaseWidget(c)
	return c
}

// narrowBar is the width below which the bar only shows the key of the camera,
// points at normal size.
const narrowBar = 460

// What the empty bar says, and where it is narrow.
const (
	barSays    = "Find anything, or scan a tag"
	narrowSays = "Find or scan"
)

// Resize shortens what the bar says it takes where there is little room.
func (c *CommandEntry) Resize(size fyne.Size) {
	if short := size.Width < Px(narrowBar); short != c.hint.short {
		c.hint.short = short
		if c.PlaceHolder = barSays; short {
			c.PlaceHolder = narrowSays
		}
		c.hint.Refresh()
		c.Entry.Refresh()
	}
	c.Entry.Resize(size)
}

// empty clears the bar; an empty one gives up the focus instead.
func (c *CommandEntry) empty() bool {
	if c.Text == "" {
		return false
	}
	c.SetText("")
	return true
}

// commandHint says what the bar takes, at its right end.
type commandHint struct {
	widget.BaseWidget
	onTapped func()
	short    bool // only the key
}

func newCommandHint(tapped func()) *commandHint {
	h := &commandHint{onTapped: tapped}
	h.ExtendBaseWidget(h)
	return h
}

// Tapped opens the camera.
func (h *commandHint) Tapped(*fyne.PointEvent) {
	if h.onTapped != nil {
		h.onTapped()
	}
}

// Cursor is a hand over the hint.
func (h *commandHint) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer draws the hint.
func (h *commandHint) CreateRenderer() fyne.WidgetRenderer {
	before, after, cap := newText(), newText(), newKeycap()
	r := &drawn{objects: []fyne.CanvasObject{before, after, cap.box, cap.text}}
	const key = "F2"
	words := func() (first, last string) {
		if h.short {
			return "", ""
		}
		return "type, scan, or", "camera"
	}
	role := roleFoot().at(14)
	r.min = func() fyne.Size {
		first, last := words()
		return fyne.NewSize(role.width(first)+role.width(last)+cap.size(key).Width+Px(12+10), Px(24))
	}
	r.layout = func(size fyne.Size) {
		x := placeText(before, 0, 0, size.Height).Width + Px(6)
		cap.place(x, (size.Height-cap.size(key).Height)/2)
		placeText(after, x+cap.size(key).Width+Px(6), 0, size.Height)
	}
	r.refresh = func() {
		first, last := words()
		role.set(before, first, ColorQuiet)
		role.set(after, last, ColorQuiet)
		cap.set(key, ColorQuiet)
	}
	return r.ready(h)
}
