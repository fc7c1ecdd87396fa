package look

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// fullCard is a card with all that one can have, the drawer lit in the given row.
func fullCard(row, lookAlikes int) card.Card {
	cabinet := drawing.Blank("A", 5, 8)
	cabinet.Drawers[8*row+3].Lit = true
	c := card.Card{
		Designation: "NAS1149F0363P", Title: "Washer, flat, steel, .063 thick, for a No. 10 bolt", Piece: drawing.PieceOf(hardware.Decode("AN3-5A"), measure.InInches),
		At: cabinet.Drawers[8*row+3].Name, Place: "Garage, Cabinet A, drawer " + cabinet.Drawers[8*row+3].Name, Cabinet: &cabinet,
		Quantity: "150", Unit: "pieces", Known: "counted 14 Mar by Builder",
		Notes: []string{"needed by SA-10 Fin (6), SA-21 Rudder hinges (20), SA-41 Elevator hinges (8)", "6 kept for SA-10, 18 for SA-21; 0 free"},
	}
	for i := range lookAlikes {
		c.Beware = append(c.Beware, notice.Notice{Tone: notice.Warn, Lead: fmt.Sprintf("Not NAS1149F%04dP", i), Text: "in A-31: that one is .032 thick."})
	}
	for _, label := range []string{"Take out", "Move", "Count", "Label"} {
		c.Actions = append(c.Actions, card.Action{ID: label, Label: label, Key: label[:1]})
	}
	return c
}

// inSight are the texts of a card that neither lie below something that scrolls nor outside
// of the card, by what they say.
func inSight(o fyne.CanvasObject, at fyne.Position, size fyne.Size, seen map[string]*canvas.Text) {
	if !o.Visible() {
		return
	}
	at = at.Add(o.Position())
	switch c := o.(type) {
	case *canvas.Text:
		if at.Y >= -1 && at.Y+c.MinSize().Height <= size.Height+1 && at.X >= -1 && at.X+c.MinSize().Width <= size.Width+1 {
			seen[c.Text] = c
		}
	case *container.Scroll:
		inSight(c.Content, fyne.NewPos(0, -c.Offset.Y), c.Size(), seen)
	case *fyne.Container:
		for _, child := range c.Objects {
			inSight(child, at, size, seen)
		}
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(c).Objects() {
			inSight(child, at, size, seen)
		}
	}
}

// Number, place, amount, the lit drawer and every warning are in sight at every size of the
// window; number, place and amount are equally large, and in the larger size of the window
// 50 points: 20 minutes of arc from two metres, at 96 points an inch.
func TestCardKeepsItsAnswerInSight(t *testing.T) {
	for _, row := range []struct {
		name          string
		theme         Theme
		width, height float32
		lookAlikes    int
		whole         bool // the title is in its place and all rows of the cabinet are drawn
	}{
		{"1280 x 800", Theme{}, 328, 674, 1, true},
		{"1280 x 800, three look-alikes", Theme{}, 328, 674, 3, true},
		{"1000 x 640", Theme{}, 328, 514, 1, false},
		{"larger, 1280 x 800", Theme{Shop: true}, 414, 624, 1, false},
		{"larger, 1280 x 800, two look-alikes", Theme{Shop: true}, 414, 624, 2, false},
		{"larger, 1000 x 640", Theme{Shop: true}, 414, 484, 1, false},
		{"larger, 1920 x 1080", Theme{Shop: true}, 414, 904, 3, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			start(t, row.theme)
			for lit := range 5 {
				c := fullCard(lit, row.lookAlikes)
				v := NewCardView(c)
				sized(v, row.width, row.height)
				seen := map[string]*canvas.Text{}
				inSight(v, fyne.NewPos(0, 0), v.Size(), seen)
				wanted := []string{c.Designation, c.At, c.Quantity, c.Cabinet.Drawers[8*lit+3].Short(), "Take out", "Label"}
				for i := range row.lookAlikes {
					wanted = append(wanted, fmt.Sprintf("Not NAS1149F%04dP", i))
				}
				for _, want := range wanted {
					if seen[want] == nil {
						t.Errorf("row %d: %q is not in sight", lit, want)
					}
				}
				if at, n := seen[c.At], seen[c.Quantity]; at != nil && n != nil && (at.TextSize != n.TextSize || row.theme.Shop && at.TextSize < 50) {
					t.Errorf("the place is %v large, the amount %v", at.TextSize, n.TextSize)
				}
				if whole := !v.layout.title.Hidden && v.layout.cabinet.rows() == 5; whole != row.whole {
					t.Errorf("row %d: title in place %v, %d rows", lit, !v.layout.title.Hidden, v.layout.cabinet.rows())
				}
			}
		})
	}
}

// What gave way comes back with the room for it.
func TestCardTakesBackWhatGaveWay(t *testing.T) {
	start(t, Theme{})
	v := NewCardView(fullCard(4, 2))
	sized(v, 328, 400)
	if !v.layout.title.Hidden || v.layout.below.Hidden || v.layout.cabinet.rows() == 5 || v.layout.cabinet.leftOut == 0 {
		t.Errorf("low: title in place %v, %d rows from %d", !v.layout.title.Hidden, v.layout.cabinet.rows(), v.layout.cabinet.leftOut)
	}
	sized(v, 328, 900)
	if v.layout.title.Hidden || !v.layout.below.Hidden || v.layout.cabinet.rows() != 5 || v.layout.cabinet.leftOut != 0 {
		t.Errorf("high again: title in place %v, %d rows from %d", !v.layout.title.Hidden, v.layout.cabinet.rows(), v.layout.cabinet.leftOut)
	}
}
