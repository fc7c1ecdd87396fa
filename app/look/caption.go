package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Caption is one line of small text: a quiet label and, after it, bold words. It is
// cut with dots where it is given less room than it wants. A widget.Label has one
// style for all of its text.
type Caption struct {
	widget.BaseWidget
	label, words string
}

// NewCaption is "Shop: Type Q"; without a label the words are quiet and regular.
func NewCaption(label, words string) *Caption {
	c := &Caption{label: label, words: words}
	c.ExtendBaseWidget(c)
	return c
}

// Set changes the caption.
func (c *Caption) Set(label, words string) {
	c.label, c.words = label, words
	c.Refresh()
}

// Text is the words without the label.
func (c *Caption) Text() string { return c.words }

// CreateRenderer draws the caption.
func (c *Caption) CreateRenderer() fyne.WidgetRenderer {
	label, words := newText(), newText()
	r := &drawn{objects: []fyne.CanvasObject{label, words}}
	set := func() {
		roleFoot().set(label, c.label, ColorQuiet)
		if c.label == "" {
			roleFoot().set(words, c.words, ColorQuiet)
			return
		}
		roleFootBold().set(words, c.words, ColorInk)
	}
	gap := func() float32 {
		if c.label == "" {
			return 0
		}
		return Px(5)
	}
	r.min = func() fyne.Size {
		bold := roleFootBold()
		if c.label == "" {
			bold = roleFoot()
		}
		return fyne.NewSize(roleFoot().width(c.label)+gap()+bold.width(c.words), roleFoot().height())
	}
	r.layout = func(size fyne.Size) {
		set()
		x := placeText(label, 0, 0, size.Height).Width + gap()
		elide(words, size.Width-x)
		placeText(words, x, 0, size.Height)
	}
	r.refresh = set
	return r.ready(c)
}
