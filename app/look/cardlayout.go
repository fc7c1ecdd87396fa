package look

import "fyne.io/fyne/v2"

// cardLayout stacks what a card answers, the scroller of the rest and the actions. Where the
// answer and the actions do not fit, it makes the buttons lower, then draws the cabinet
// lower, then leaves the title out, then draws the rows of the cabinet about the lit one
// alone. What is left of the height is the scroller's.
type cardLayout struct {
	answer  *fyne.Container
	title   *Paragraph   // of the answer; nil for none
	below   *Paragraph   // the same title as the first of the rest, where it gave way
	cabinet *CabinetView // of the answer; nil for none
}

// lowButton is how high a button is at the least, in points as drawn: a finger's breadth.
const lowButton = 46

func (l *cardLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(leastWidth(objects), objects[2].MinSize().Height+Px(120))
}

func (l *cardLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	shown, rest, actions := objects[0], objects[1], objects[2]
	gap := Px(12)
	buttons := func() float32 {
		if !actions.Visible() {
			return 0
		}
		return heightFor(actions, size.Width) + gap
	}
	high := func() float32 { return heightFor(l.answer, size.Width-2*scrollBleed) + 2*scrollBleed }
	fits := func() bool { return high()+l.leastRest(rest, size.Width)+buttons() <= size.Height }
	l.whole(actions)
	if !fits() {
		actions.(*fyne.Container).Layout.(*pairLayout).low = true
	}
	if !fits() && l.cabinet != nil {
		l.cabinet.lower()
	}
	if !fits() {
		l.showTitle(false)
	}
	for !fits() && l.cabinet != nil && l.cabinet.fewerRows() {
	}
	if l.cabinet != nil {
		l.cabinet.Refresh()
	}
	below := size.Height - buttons()
	end := min(high(), below)
	place(shown, 0, 0, size.Width, end)
	place(rest, 0, end+Px(4), size.Width, max(0, below-end-Px(4)))
	place(actions, 0, below+gap, size.Width, size.Height-below-gap)
}

// leastRest is how high what is left has to be, if there is something: two lines.
func (l *cardLayout) leastRest(rest fyne.CanvasObject, width float32) float32 {
	return min(heightFor(rest, width), Px(44))
}

// whole takes back all that gave way.
func (l *cardLayout) whole(actions fyne.CanvasObject) {
	actions.(*fyne.Container).Layout.(*pairLayout).low = false
	if l.cabinet != nil {
		l.cabinet.allRows()
	}
	l.showTitle(true)
}

// showTitle shows the title in the answer, or else below it.
func (l *cardLayout) showTitle(in bool) {
	if l.title != nil {
		l.title.Hidden, l.below.Hidden = !in, in
	}
}
