package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"stowright/app/card"
	"stowright/app/notice"
)

// Amount is how many, large, with its unit near, and how that is known: at the
// right where it fits, else on the line below. A widget.Label has one size for
// all of its text, and a widget.RichText breaks at any space.
type Amount struct {
	widget.BaseWidget
	quantity, unit string
	known          *Paragraph
}

// NewAmount draws that quantity: "28", "pieces", "counted 14 Mar by Builder".
func NewAmount(quantity, unit, known string) *Amount {
	a := &Amount{quantity: quantity, unit: unit, known: NewQuiet(known)}
	a.known.role = roleBody().at(15)
	a.ExtendBaseWidget(a)
	return a
}

// Set shows another quantity; an empty one and no words take no height.
func (a *Amount) Set(quantity, unit, known string) {
	a.quantity, a.unit, a.known.text = quantity, unit, known
	a.Refresh()
}

func (a *Amount) big() role { return roleFigure().at(29) }

// parts are the widths of quantity with unit, and of the words of how it is known.
func (a *Amount) parts() (figure, known float32) {
	figure = a.big().width(a.quantity)
	if a.unit != "" {
		figure += Px(8) + roleBody().at(18).width(a.unit)
	}
	return figure, a.known.role.width(a.known.text)
}

// beside reports whether the words fit on the line of the figure.
func (a *Amount) beside(width float32) bool {
	figure, known := a.parts()
	return figure+Px(12)+known <= width
}

// HeightFor is how high the amount has to be at that width.
func (a *Amount) HeightFor(width float32) float32 {
	h := a.big().height()
	if a.quantity == "" {
		h = 0
	}
	if a.known.text != "" && (h == 0 || !a.beside(width)) {
		h += a.known.HeightFor(width)
	}
	return h
}

// CreateRenderer draws the amount.
func (a *Amount) CreateRenderer() fyne.WidgetRenderer {
	figure, unit := newText(), newText()
	r := &drawn{objects: []fyne.CanvasObject{figure, unit, a.known}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(100), a.HeightFor(max(a.Size().Width, Px(100)))) }
	r.layout = func(size fyne.Size) {
		h := a.big().height()
		if a.quantity == "" {
			h = 0
		}
		w := placeText(figure, 0, 0, h).Width
		base := baseline(a.big(), h)
		unitHeight := unit.MinSize().Height
		place(unit, w+Px(8), base-unitHeight*0.79, unit.MinSize().Width, unitHeight)
		if h > 0 && a.beside(size.Width) {
			_, known := a.parts()
			line := a.known.lineHeight()
			place(a.known, size.Width-known-1, base-line*0.79, known+2, line)
			return
		}
		place(a.known, 0, h, size.Width, size.Height-h)
	}
	r.refresh = func() {
		a.big().set(figure, a.quantity, ColorInk)
		roleBody().at(18).set(unit, a.unit, ColorInk)
		a.known.Refresh()
	}
	return r.ready(a)
}

// baseline is about where the letters of a role stand in a line of height h.
func baseline(r role, h float32) float32 { return (h-r.height())/2 + r.height()*0.79 }

// Tallies is a small table: words at the left, figures at the right. A widget.Table
// has a fixed row height and scrolls, and these are never more than a few rows.
type Tallies struct {
	widget.BaseWidget
	tallies []card.Tally
}

// leastWords is what the words of a tally make do with, in points at normal size: its figure
// is never cut.
const leastWords = 120

// NewTallies draws that table.
func NewTallies(tallies []card.Tally) *Tallies {
	t := &Tallies{tallies: tallies}
	t.ExtendBaseWidget(t)
	return t
}

// HeightFor is how high the table is.
func (t *Tallies) HeightFor(float32) float32 { return float32(len(t.tallies)) * Px(31) }

// CreateRenderer draws the table.
func (t *Tallies) CreateRenderer() fyne.WidgetRenderer {
	var words, figures []*canvas.Text
	r := &drawn{}
	r.min = func() fyne.Size {
		var w float32
		for _, tally := range t.tallies {
			w = max(w, min(roleBody().width(tally.Words), Px(leastWords))+Px(14)+roleBold().at(17).width(tally.Figure))
		}
		return fyne.NewSize(w, t.HeightFor(w))
	}
	r.layout = func(size fyne.Size) {
		for i := range t.tallies {
			y, h := float32(i)*Px(31), Px(31)
			w := figures[i].MinSize().Width
			placeText(figures[i], size.Width-w, y, h)
			words[i].Text, words[i].TextSize = t.tallies[i].Words, Px(sizeBody)
			elide(words[i], size.Width-w-Px(10))
			placeText(words[i], 0, y, h)
		}
	}
	r.refresh = func() {
		for len(words) < len(t.tallies) {
			words, figures = append(words, newText()), append(figures, newText())
		}
		words, figures = words[:len(t.tallies)], figures[:len(t.tallies)]
		r.objects = r.objects[:0]
		for i, tally := range t.tallies {
			ink, _ := toneColors(tally.Tone)
			if tally.Tone == notice.Quiet || tally.Tone == notice.OK {
				ink = ColorInk
			}
			roleBody().set(words[i], tally.Words, ink)
			roleBold().at(17).set(figures[i], tally.Figure, ink)
			r.objects = append(r.objects, words[i], figures[i])
		}
	}
	return r.ready(t)
}
