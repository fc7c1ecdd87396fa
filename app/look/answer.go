package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Answer is what one came for: where a thing lies and how many there are, as large as its
// number on the card, and below in words where that place is and how the amount is known.
// Left and right stand side by side where both fit. A widget.Label has one size for all of
// its text.
type Answer struct {
	widget.BaseWidget
	at             *Designation
	quantity, unit string
	around, known  *Paragraph
}

// NewAnswer says that: "A-12" in "Garage, Cabinet A", "28" "pieces", "counted 14 Mar by
// Builder". Each of them may be empty.
func NewAnswer(at, around, quantity, unit, known string) *Answer {
	a := &Answer{
		at: NewDesignation(at, sizeCard), quantity: quantity, unit: unit,
		around: newParagraph("", around, roleStrong(), ColorInk), known: newParagraph("", known, roleBody().at(15), ColorQuiet),
	}
	a.ExtendBaseWidget(a)
	return a
}

func (a *Answer) figure() role   { return roleFigure().at(sizeCard) }
func (a *Answer) unitRole() role { return roleBody().at(18) }

// amountWidth is the width of the figure with its unit.
func (a *Answer) amountWidth() float32 {
	if a.quantity == "" {
		return 0
	}
	w := a.figure().width(a.quantity)
	if a.unit != "" {
		w += Px(8) + a.unitRole().width(a.unit)
	}
	return w
}

// beside reports whether place and amount fit on one line.
func (a *Answer) beside(width float32) bool {
	return a.at.text != "" && a.quantity != "" && a.at.wide()+Px(16)+a.amountWidth() <= width
}

// large is how high place and amount are at that width.
func (a *Answer) large(width float32) float32 {
	var h float32
	if a.at.text != "" {
		h = a.at.HeightFor(width)
	}
	if a.quantity != "" && !a.beside(width) {
		h += a.figure().height()
	}
	return h
}

// onOneLine reports whether the words below them fit on one line.
func (a *Answer) onOneLine(width float32) bool {
	return a.around.role.width(a.around.text)+Px(12)+a.known.role.width(a.known.text) <= width
}

// HeightFor is how high the answer has to be at that width.
func (a *Answer) HeightFor(width float32) float32 {
	around, known := heightOf(a.around, width), heightOf(a.known, width)
	if a.onOneLine(width) {
		return a.large(width) + max(around, known)
	}
	return a.large(width) + around + known
}

// heightOf is how high a paragraph is at that width; an empty one takes none.
func heightOf(p *Paragraph, width float32) float32 {
	if p.text == "" {
		return 0
	}
	return p.HeightFor(width)
}

// CreateRenderer draws the answer.
func (a *Answer) CreateRenderer() fyne.WidgetRenderer {
	figure, unit := newText(), newText()
	r := &drawn{objects: []fyne.CanvasObject{a.at, figure, unit, a.around, a.known}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(100), a.HeightFor(max(a.Size().Width, Px(100)))) }
	r.layout = func(size fyne.Size) {
		h := a.figure().height()
		left, top := float32(0), float32(0)
		switch {
		case a.at.text == "":
		case a.beside(size.Width):
			place(a.at, 0, 0, a.at.wide(), h)
			left = size.Width - a.amountWidth()
		default:
			top = a.at.HeightFor(size.Width)
			place(a.at, 0, 0, size.Width, top)
		}
		w := placeText(figure, left, top, h).Width
		unitHeight := unit.MinSize().Height
		place(unit, left+w+Px(8), top+baseline(a.figure(), h)-unitHeight*0.79, unit.MinSize().Width, unitHeight)
		below, around := a.large(size.Width), heightOf(a.around, size.Width)
		place(a.around, 0, below, size.Width, around)
		if known := a.known.role.width(a.known.text); a.onOneLine(size.Width) {
			place(a.known, size.Width-known-1, below+max(around, heightOf(a.known, size.Width))-heightOf(a.known, size.Width), known+2, heightOf(a.known, size.Width))
			return
		}
		place(a.known, 0, below+around, size.Width, heightOf(a.known, size.Width))
	}
	r.refresh = func() {
		a.at.Hidden = a.at.text == ""
		a.figure().set(figure, a.quantity, ColorInk)
		a.unitRole().set(unit, a.unit, ColorInk)
		if a.quantity == "" {
			unit.Text = ""
		}
		a.around.Hidden, a.known.Hidden = a.around.text == "", a.known.text == ""
	}
	return r.ready(a)
}
