package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// Notice is a boxed sentence with the shape of its tone. Fyne has nothing like it:
// its dialogs stop the work, its notifications leave the window.
type Notice struct {
	widget.BaseWidget
	tone notice.Tone
	body *Paragraph
}

// NewNotice draws that notice.
func NewNotice(n notice.Notice) *Notice {
	out := &Notice{body: newParagraph("", "", roleFoot().at(14.5), ColorInk)}
	out.fill(n)
	out.ExtendBaseWidget(out)
	return out
}

// SetNotice replaces the notice.
func (n *Notice) SetNotice(c notice.Notice) {
	n.fill(c)
	n.Refresh()
}

func (n *Notice) fill(c notice.Notice) {
	n.tone = c.Tone
	ink, _ := toneColors(c.Tone)
	if c.Tone == notice.Quiet || c.Tone == notice.OK {
		ink = ColorInk
	}
	n.body.color = ink
	n.body.lead, n.body.text = c.Lead, c.Text
}

// side is the room that the shape takes at the left, and the padding.
func (n *Notice) side() (left, pad float32) { return Px(36), Px(10) }

// HeightFor is how high the notice has to be at that width.
func (n *Notice) HeightFor(width float32) float32 {
	left, pad := n.side()
	return n.body.HeightFor(width-left-pad) + 2*pad
}

// CreateRenderer draws the notice.
func (n *Notice) CreateRenderer() fyne.WidgetRenderer {
	box := newBox()
	shape := newToneShape(func() notice.Tone { return n.tone })
	r := &drawn{objects: []fyne.CanvasObject{box, shape, n.body}}
	r.min = func() fyne.Size {
		left, pad := n.side()
		return n.body.MinSize().AddWidthHeight(left+pad, 2*pad)
	}
	r.layout = func(size fyne.Size) {
		left, pad := n.side()
		place(box, 0, 0, size.Width, size.Height)
		s := Px(15)
		place(shape, (left-s)/2+Px(1), pad+(n.body.lineHeight()-s)/2, s, s)
		place(n.body, left, pad, size.Width-left-pad, size.Height-2*pad)
	}
	r.refresh = func() {
		_, ground := toneColors(n.tone)
		switch n.tone {
		case notice.OK:
			ground = ColorChosen
		case notice.Quiet:
			ground = ColorGround
		}
		setBox(box, ground, "", 0, radiusSmall)
		if n.tone == notice.OK || n.tone == notice.Quiet {
			setBox(box, ground, ColorLine, 1, radiusSmall)
		}
		shape.Refresh()
		n.body.Refresh()
	}
	return r.ready(n)
}

// Text is what the notice says.
func (n *Notice) Text() string { return n.body.Text() }
