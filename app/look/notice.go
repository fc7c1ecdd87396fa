package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// Notice is a box of one or more sentences of one tone, with its shape. Fyne has nothing like it:
// its dialogs stop the work, its notifications leave the window.
type Notice struct {
	widget.BaseWidget
	tone notice.Tone
	body *fyne.Container // of paragraphs
}

// NewNotice draws those notices, which have one tone, each on lines of its own.
func NewNotice(list ...notice.Notice) *Notice {
	n := &Notice{body: Rows(4)}
	n.fill(list)
	n.ExtendBaseWidget(n)
	return n
}

// SetNotice replaces what the box says.
func (n *Notice) SetNotice(list ...notice.Notice) {
	n.fill(list)
	n.Refresh()
}

func (n *Notice) fill(list []notice.Notice) {
	n.tone = list[0].Tone
	ink, _ := toneColors(n.tone)
	if n.tone == notice.Quiet || n.tone == notice.OK {
		ink = ColorInk
	}
	n.body.Objects = nil
	for _, c := range list {
		n.body.Add(newParagraph(c.Lead, c.Text, roleFoot().at(14.5), ink))
	}
}

// side is the room that the shape takes at the left, and the padding.
func (n *Notice) side() (left, pad float32) { return Px(36), Px(10) }

// HeightFor is how high the notice has to be at that width.
func (n *Notice) HeightFor(width float32) float32 {
	left, pad := n.side()
	return heightFor(n.body, width-left-pad) + 2*pad
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
		place(shape, (left-s)/2+Px(1), pad+(n.body.Objects[0].(*Paragraph).lineHeight()-s)/2, s, s)
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
func (n *Notice) Text() string {
	var said []string
	for _, o := range n.body.Objects {
		said = append(said, o.(*Paragraph).Text())
	}
	return strings.Join(said, "\n")
}
