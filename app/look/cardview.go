package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"stowright/app/card"
)

// CardWidth is the width of the card at the right of the window, with the space
// around it, in points at normal size.
const CardWidth = 344

// PhotosID is the ID of the action that leads to the photographs of a card.
const PhotosID = "photographs"

// MoreID is the ID of the action that lists the actions of a card that have no button,
// and MoreKey its key.
const (
	MoreID  = "more"
	MoreKey = "F7"
)

// CardView draws a card.Card: what is chosen, as on its label. Number, place, amount, the
// lit cabinet and the warnings are always in sight; what does not fit of the rest scrolls,
// its actions stay at the bottom. It is made of the widgets here: a
// widget.Card has room for a title and one object.
type CardView struct {
	widget.BaseWidget
	// OnAction is called with the ID of the action that was taken.
	OnAction func(id string)

	card    card.Card
	answer  *fyne.Container // what never scrolls away
	body    *fyne.Container // what scrolls where room lacks
	actions *fyne.Container
	scroll  *Scroller
	layout  *cardLayout
	column  *fyne.Container
}

// NewCardView draws that card.
func NewCardView(c card.Card) *CardView {
	v := &CardView{answer: Rows(8), body: Rows(8), actions: container.New(&pairLayout{})}
	v.scroll = NewScroller(v.body)
	v.layout = &cardLayout{}
	v.column = container.New(v.layout, NewScroller(v.answer), v.scroll, v.actions)
	v.fill(c)
	v.ExtendBaseWidget(v)
	return v
}

// Card is the card that is drawn.
func (v *CardView) Card() card.Card { return v.card }

// TappedSecondary lists what can be done with what the card shows.
func (v *CardView) TappedSecondary(*fyne.PointEvent) { offer(v) }

// SetCard draws another card, from its top. A button that has the focus hands it to the
// one in its place.
func (v *CardView) SetCard(c card.Card) {
	focused := v.focusedAction()
	v.fill(c)
	defer func() { v.focusAction(focused) }()
	v.scroll.ToTop()
	v.Refresh()
}

// fill makes the parts of the card in their order.
func (v *CardView) fill(c card.Card) {
	v.card = c
	*v.layout = cardLayout{answer: v.answer}
	v.answer.Objects, v.body.Objects = v.cardAnswer(c), v.cardBody(c)
	v.actions.Objects = nil
	for _, a := range c.Buttons() {
		rank := Secondary
		if a.Primary {
			rank = Primary
		}
		b := newButton(a.Label, a.Key, rank, func() { v.act(a.ID) })
		b.off = a.Off
		v.actions.Objects = append(v.actions.Objects, b)
	}
	if len(c.More()) > 0 {
		v.actions.Objects = append(v.actions.Objects, NewKeyButton("More", MoreKey, func() { v.act(MoreID) }))
	}
	v.actions.Hidden = len(v.actions.Objects) == 0
}

// noAction is where no action of a card has the focus.
const noAction = -1

// focusedAction is the index of the action that has the focus.
func (v *CardView) focusedAction() int {
	for i, o := range v.actions.Objects {
		if o.(*KeyButton).focused {
			return i
		}
	}
	return noAction
}

// focusAction gives the focus to an action; where there is none any more, nothing has it.
func (v *CardView) focusAction(index int) {
	c := canvasOf(v)
	switch {
	case index == noAction || c == nil:
	case index < len(v.actions.Objects):
		c.Focus(v.actions.Objects[index].(*KeyButton))
	default:
		c.Unfocus()
	}
}

func (v *CardView) act(id string) {
	if v.OnAction != nil {
		v.OnAction(id)
	}
}

// cardAnswer is what one came for: what it is, where it lies and how many, and what not to
// take in its place.
func (v *CardView) cardAnswer(c card.Card) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	head := Rows(2)
	if c.Designation != "" {
		head.Add(NewDesignation(c.Designation, sizeCard))
	}
	if c.Title != "" {
		v.layout.title, v.layout.below = NewQuiet(c.Title), NewQuiet(c.Title)
		head.Add(v.layout.title)
		v.layout.showTitle(true)
	}
	out = append(out, head)
	if c.At != "" || c.Quantity != "" || c.Known != "" || c.Around() != "" {
		out = append(out, NewAnswer(c.At, c.Around(), c.Quantity, c.Unit, c.Known))
	}
	if c.Mark.Word != "" {
		out = append(out, NewStateMark(c.Mark))
	}
	if c.Cabinet != nil {
		v.layout.cabinet = NewCabinetMini(*c.Cabinet)
		out = append(out, v.layout.cabinet)
	}
	for beware := c.Beware; len(beware) > 0; {
		n := 1
		for n < len(beware) && beware[n].Tone == beware[0].Tone {
			n++
		}
		out = append(out, NewNotice(beware[:n]...))
		beware = beware[n:]
	}
	return out
}

// cardBody is what scrolls where room lacks.
func (v *CardView) cardBody(c card.Card) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	if v.layout.below != nil {
		out = append(out, v.layout.below)
	}
	if len(c.Tallies) > 0 {
		out = append(out, NewTallies(c.Tallies))
	}
	if c.Piece != nil {
		out = append(out, NewPieceView(*c.Piece))
		if c.Piece.Caption != "" {
			out = append(out, NewFoot(c.Piece.Caption))
		}
	}
	if len(c.Photos) > 0 {
		tiles := NewPhotoTiles(130)
		tiles.SetPhotos(c.Photos, -1)
		out = append(out, tiles)
	}
	return append(out, v.cardNotes(c)...)
}

// cardNotes are the quiet lines; the way to the photographs stands beside the last one.
func (v *CardView) cardNotes(c card.Card) []fyne.CanvasObject {
	notes, last := Rows(2), Line()
	for i, n := range c.Notes {
		if i == len(c.Notes)-1 && c.Photographed != "" {
			last.Add(NewFoot(n))
			break
		}
		notes.Add(NewFoot(n))
	}
	if c.Photographed != "" {
		label := "Photograph it"
		if len(c.Photos) > 0 {
			label = "Photographs"
		}
		last.Add(Gap())
		last.Add(NewFootLink(label, "F3", func() { v.act(PhotosID) }))
		notes.Add(last)
	}
	if len(notes.Objects) == 0 {
		return nil
	}
	return []fyne.CanvasObject{notes}
}

func (v *CardView) held() []fyne.CanvasObject { return []fyne.CanvasObject{v.column} }

// CreateRenderer draws the card on its panel.
func (v *CardView) CreateRenderer() fyne.WidgetRenderer {
	box := newBox()
	r := &drawn{objects: []fyne.CanvasObject{box, v.column}}
	r.min = func() fyne.Size { return v.column.MinSize().AddWidthHeight(2*Px(16), 2*Px(16)) }
	r.layout = func(size fyne.Size) {
		place(box, 0, 0, size.Width, size.Height)
		place(v.column, Px(16), Px(14), size.Width-2*Px(16), size.Height-Px(14)-Px(16))
	}
	r.refresh = func() {
		setBox(box, ColorPanel, ColorLine, 1, radius)
		v.column.Refresh()
	}
	return r.ready(v)
}

// pairLayout sets buttons in two columns of one width; a last one without a
// neighbour gets the whole width.
type pairLayout struct{ low bool }

func (l *pairLayout) heightFor(objects []fyne.CanvasObject, _ float32) float32 {
	rows := float32((len(objects) + 1) / 2)
	if rows == 0 {
		return 0
	}
	return rows*(l.high()+Px(8)) - Px(8)
}

// high is how high a button is.
func (l *pairLayout) high() float32 {
	if l.low {
		return min(lowButton, Px(buttonHeight))
	}
	return Px(buttonHeight)
}

func (l *pairLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(2*Px(70), l.heightFor(objects, 0))
}

func (l *pairLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	half := (size.Width - Px(8)) / 2
	for i, o := range objects {
		w := half
		if i%2 == 0 && i == len(objects)-1 {
			w = size.Width
		}
		place(o, float32(i%2)*(half+Px(8)), float32(i/2)*(l.high()+Px(8)), w, l.high())
	}
}

// Pair sets buttons in two columns of one width, as on a card.
func Pair(buttons ...*KeyButton) *fyne.Container {
	c := container.New(&pairLayout{})
	for _, b := range buttons {
		c.Add(b)
	}
	return c
}
