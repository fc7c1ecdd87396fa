package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// Field is a form row: a label, the field under it, and below that a quiet hint or
// what is wrong. A widget.FormItem shows only what a Validator of its own field
// found, and here the model says what is wrong.
type Field struct {
	widget.BaseWidget
	label   *Paragraph
	help    *Paragraph
	body    *fyne.Container
	hint    string
	problem string
}

// NewField puts a label over a field; hint may be "".
func NewField(label string, field fyne.CanvasObject, hint string) *Field {
	f := &Field{label: newParagraph("", label, roleStrong().at(14.5), ColorInk), help: NewFoot(hint), hint: hint}
	f.body = Rows(4, f.label, field, f.help)
	f.label.Hidden, f.help.Hidden = label == "", hint == ""
	f.ExtendBaseWidget(f)
	return f
}

// SetProblem shows what is wrong with the field, in place of the hint; "" for nothing.
func (f *Field) SetProblem(text string) {
	f.problem = text
	f.help.color = ColorQuiet
	f.help.text = f.hint
	if text != "" {
		f.help.color, f.help.text = ColorStop, text
	}
	f.help.Hidden = f.help.text == ""
	f.Refresh()
}

// SetHint shows another hint, and that nothing is wrong.
func (f *Field) SetHint(text string) {
	f.hint = text
	f.SetProblem("")
}

// Problem is what is wrong with the field, or "".
func (f *Field) Problem() string { return f.problem }

func (f *Field) held() []fyne.CanvasObject { return []fyne.CanvasObject{f.body} }

// HeightFor is how high the row has to be at that width.
func (f *Field) HeightFor(width float32) float32 { return heightFor(f.body, width) }

// CreateRenderer draws the row.
func (f *Field) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{f.body}}
	r.min = func() fyne.Size { return f.body.MinSize() }
	r.layout = func(size fyne.Size) { place(f.body, 0, 0, size.Width, size.Height) }
	r.refresh = func() { f.body.Refresh() }
	return r.ready(f)
}

// Choices is a row of answers of which one is chosen: by a tap, or with the arrow
// keys. It wraps where the row is too narrow. A widget.RadioGroup does not wrap, so
// a long row of answers is cut.
type Choices struct {
	widget.BaseWidget
	// OnChosen is called with the answer that was chosen, by index.
	OnChosen func(index int)

	options []string
	chosen  int
	focused bool
	row     *fyne.Container
}

var _ fyne.Focusable = (*Choices)(nil)

// NewChoices is a row of answers; chosen may be -1.
func NewChoices(chosen int, options ...string) *Choices {
	c := &Choices{options: options, chosen: chosen, row: Line()}
	for i, o := range options {
		c.row.Add(newChoice(c, i, o))
	}
	c.ExtendBaseWidget(c)
	return c
}

// Chosen is the index of the chosen answer, -1 for none.
func (c *Choices) Chosen() int { return c.chosen }

// Mark shows an answer as chosen without telling anyone.
func (c *Choices) Mark(index int) {
	c.chosen = index
	c.Refresh()
}

// Choose chooses an answer and tells OnChosen. One that is not there is ignored.
func (c *Choices) Choose(index int) {
	if index < 0 || index >= len(c.options) || index == c.chosen {
		return
	}
	c.Mark(index)
	if c.OnChosen != nil {
		c.OnChosen(index)
	}
}

// FocusGained draws a ring around the chosen answer.
func (c *Choices) FocusGained() { c.focused = true; c.Refresh() }

// FocusLost takes it away.
func (c *Choices) FocusLost() { c.focused = false; c.Refresh() }

// AcceptsTab reports whether Tab waits.
func (c *Choices) AcceptsTab() bool { return waits(c) }

// TypedRune hands letters on to the window.
func (c *Choices) TypedRune(r rune) {
	if !kept(c, Typed{Rune: r}) {
		passRune(c, r)
	}
}

// TypedKey moves the choice.
func (c *Choices) TypedKey(key *fyne.KeyEvent) {
	if kept(c, Typed{Key: key}) {
		return
	}
	switch key.Name {
	case fyne.KeyRight:
		c.Choose(c.chosen + 1)
	case fyne.KeyLeft:
		c.Choose(c.chosen - 1)
	default:
		passKey(c, key)
	}
}

// HeightFor is how high the row has to be at that width.
func (c *Choices) HeightFor(width float32) float32 { return heightFor(c.row, width) }

// wide is the width of all answers on one line.
func (c *Choices) wide() float32 {
	w, _ := wants(c.row)
	return w
}

// CreateRenderer draws the answers.
func (c *Choices) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{c.row}}
	r.min = func() fyne.Size { return c.row.MinSize() }
	r.layout = func(size fyne.Size) { place(c.row, 0, 0, size.Width, size.Height) }
	r.refresh = func() { c.row.Refresh() }
	return r.ready(c)
}

// choice is one answer: a box, with a tick when it is the chosen one.
type choice struct {
	widget.BaseWidget
	all   *Choices
	index int
	text  string
}

func newChoice(all *Choices, index int, text string) *choice {
	o := &choice{all: all, index: index, text: text}
	o.ExtendBaseWidget(o)
	return o
}

// Tapped chooses the answer and takes the focus.
func (o *choice) Tapped(*fyne.PointEvent) {
	if c := canvasOf(o.all); c != nil {
		c.Focus(o.all)
	}
	o.all.Choose(o.index)
}

// Cursor is a hand over the answer.
func (o *choice) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer draws the answer.
func (o *choice) CreateRenderer() fyne.WidgetRenderer {
	box, ring, text := newBox(), newBox(), newText()
	tick := newToneShape(func() notice.Tone { return notice.OK })
	r := &drawn{objects: []fyne.CanvasObject{box, tick, text, ring}}
	chosen := func() bool { return o.all.chosen == o.index }
	r.min = func() fyne.Size {
		return fyne.NewSize(roleBold().width(o.text)+Px(2*12+13+7), Px(38))
	}
	r.layout = func(size fyne.Size) {
		place(box, 0, 0, size.Width, size.Height)
		place(ring, Px(3), Px(3), size.Width-Px(6), size.Height-Px(6))
		w, side := text.MinSize().Width, Px(13)
		x := (size.Width - w) / 2
		if chosen() {
			x = (size.Width - w - side - Px(7)) / 2
			place(tick, x, (size.Height-side)/2, side, side)
			x += side + Px(7)
		}
		placeText(text, x, 0, size.Height)
	}
	r.refresh = func() {
		tick.Hidden = !chosen()
		ring.Hidden = !chosen() || !o.all.focused
		setBox(ring, "", ColorAction, 2, 4)
		if chosen() {
			setBox(box, ColorChosen, ColorAction, 1.25, radiusSmall)
			roleBold().set(text, o.text, ColorInk)
			return
		}
		setBox(box, ColorPanel, ColorEdge, 1.25, radiusSmall)
		roleBody().set(text, o.text, ColorInk)
	}
	return r.ready(o)
}
