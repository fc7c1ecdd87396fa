package look

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// tall is anything whose height follows from its width: wrapped text and what
// holds it. Fyne's own layouts ask for a least size before a width is known,
// which cuts wrapped text; the layouts here ask this first.
type tall interface {
	HeightFor(width float32) float32
}

// tallLayout is a layout that can say the same of its container.
type tallLayout interface {
	heightFor(objects []fyne.CanvasObject, width float32) float32
}

// heightFor is how high o has to be at that width.
func heightFor(o fyne.CanvasObject, width float32) float32 {
	if t, ok := o.(tall); ok {
		return t.HeightFor(width)
	}
	if c, ok := o.(*fyne.Container); ok {
		if l, ok := c.Layout.(tallLayout); ok {
			return l.heightFor(c.Objects, width)
		}
	}
	return o.MinSize().Height
}

// HeightFor is how high an object has to be at that width, for layouts of a screen's own.
func HeightFor(o fyne.CanvasObject, width float32) float32 { return heightFor(o, width) }

// leastWidth is the least width of the widest visible object.
func leastWidth(objects []fyne.CanvasObject) float32 {
	var w float32
	for _, o := range objects {
		if o.Visible() {
			w = max(w, o.MinSize().Width)
		}
	}
	return w
}

// rowsLayout stacks objects at full width, each as high as its text needs.
type rowsLayout struct {
	gap  float32 // points at normal size
	last float32 // the width of the last layout
}

// Rows stacks objects from the top at full width with a gap between them (points
// at normal size). Wrapped text inside is never cut.
func Rows(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&rowsLayout{gap: gap}, objects...)
}

func (l *rowsLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	var y, gap float32
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		y += gap + heightFor(o, width)
		gap = Px(l.gap) // after what has no height too, as when they are placed
	}
	return y
}

func (l *rowsLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	least := leastWidth(objects)
	return fyne.NewSize(least, l.heightFor(objects, max(l.last, least)))
}

func (l *rowsLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	var y float32
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := heightFor(o, size.Width)
		place(o, 0, y, size.Width, h)
		y += h + Px(l.gap)
	}
}

// stretcher is a widget that makes use of any height: a list, a scroller, a
// cabinet.
type stretcher interface{ stretches() }

// fillLayout is rowsLayout in a given height: the first stretcher, or else the
// last object, gets what the others leave.
type fillLayout struct {
	rowsLayout
	pin bool // what follows the stretcher is at the bottom

	spare  []fyne.CanvasObject // that give way where the stretcher would be lower than least
	least  float32
	wanted func() bool // whether they are to be seen at all
}

// Fill stacks like Rows in the height there is. The first list, scroller or
// cabinet in it (else the last object) is as high as its content when that fits,
// and takes what the others leave when it does not.
func Fill(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&fillLayout{rowsLayout: rowsLayout{gap: gap}}, objects...)
}

// Pin stacks like Fill, but the stretcher always takes all that is left, so that
// what follows it is at the bottom: buttons under a card.
func Pin(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&fillLayout{rowsLayout: rowsLayout{gap: gap}, pin: true}, objects...)
}

// Spare has objects of a Fill or Pin give way where its stretcher would be lower than
// least (points at normal size). Wanted reports whether they are to be seen at all.
func Spare(c *fyne.Container, least float32, wanted func() bool, objects ...fyne.CanvasObject) {
	if l, ok := c.Layout.(*fillLayout); ok {
		l.spare, l.least, l.wanted = objects, least, wanted
	}
}

// fit hides what gives way where there is too little height, and else shows it.
func (l *fillLayout) fit(objects []fyne.CanvasObject, size fyne.Size) {
	hide := func(hidden bool) {
		for _, o := range l.spare {
			if o.Visible() == hidden {
				if hidden {
					o.Hide()
				} else {
					o.Show()
				}
			}
		}
	}
	if hide(!l.wanted()); !l.wanted() {
		return
	}
	left, flex := size.Height, l.flexible(objects)
	for i, o := range objects {
		if o.Visible() && i != flex {
			left -= heightFor(o, size.Width) + Px(l.gap)
		}
	}
	hide(flex >= 0 && left < min(Px(l.least), heightFor(objects[flex], size.Width)))
}

// flexible is the index of the object that gives and takes height, -1 for none.
func (l *fillLayout) flexible(objects []fyne.CanvasObject) int {
	last := -1
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		if stretches(o) {
			return i
		}
		last = i
	}
	return last
}

// stretches reports whether an object makes use of any height: a widget that does,
// or a Fill that holds one.
func stretches(o fyne.CanvasObject) bool {
	if c, ok := o.(*fyne.Container); ok {
		_, fill := c.Layout.(*fillLayout)
		return fill && slices.ContainsFunc(c.Objects, func(o fyne.CanvasObject) bool { return o.Visible() && stretches(o) })
	}
	if _, ok := o.(layout.SpacerObject); ok { // a Gap pushes what follows to the bottom
		return true
	}
	_, ok := o.(stretcher)
	return ok
}

// leastFor is how high o has to be at that width once the list of a Fill has given way.
func leastFor(o fyne.CanvasObject, width float32) float32 {
	h := heightFor(o, width)
	if c, ok := o.(*fyne.Container); ok {
		if l, ok := c.Layout.(*fillLayout); ok {
			if i := l.flexible(c.Objects); i >= 0 {
				h -= heightFor(c.Objects[i], width) - c.Objects[i].MinSize().Height
			}
		}
	}
	return h
}

func (l *fillLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	size := l.rowsLayout.MinSize(objects)
	if i := l.flexible(objects); i >= 0 {
		width := max(l.last, size.Width)
		size.Height -= heightFor(objects[i], width) - objects[i].MinSize().Height
	}
	return size
}

func (l *fillLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	if l.spare != nil {
		l.fit(objects, size)
	}
	flex := l.flexible(objects)
	if flex < 0 {
		return
	}
	left, last := size.Height, flex
	for i, o := range objects {
		if o.Visible() && i != flex {
			left -= heightFor(o, size.Width) + Px(l.gap)
			last = max(last, i)
		}
	}
	var y float32
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		h := heightFor(o, size.Width)
		if i == flex && (l.pin || i == last || h > left) {
			h = max(left, o.MinSize().Height)
		}
		place(o, 0, y, size.Width, h)
		y += h + Px(l.gap)
	}
}

// insetLayout keeps space around its one object.
type insetLayout struct{ x, y float32 }

// Inset keeps that much space at the sides and above and below (points at normal size).
func Inset(x, y float32, o fyne.CanvasObject) *fyne.Container {
	return container.New(&insetLayout{x, y}, o)
}

func (l *insetLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	return heightFor(objects[0], width-2*Px(l.x)) + 2*Px(l.y)
}

func (l *insetLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return objects[0].MinSize().AddWidthHeight(2*Px(l.x), 2*Px(l.y))
}

func (l *insetLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	place(objects[0], Px(l.x), Px(l.y), size.Width-2*Px(l.x), size.Height-2*Px(l.y))
}
