package building

import (
	"fyne.io/fyne/v2"

	"stowright/app/look"
)

// walkLayout stacks a walk so that the stop in hand is always in sight, with its place, its
// number and the look-alike to beware of: where not all fits, what can be done without gives
// way first, then the list, which scrolls by itself. The page never scrolls around it.
type walkLayout struct{ page *WalkPage }

// walkGap is between the parts, points at normal size; leastRows is how high the list is
// before anything gives way for it: its header and two stops.
const (
	walkGap   = 12
	leastRows = 34 + 2*58 + 2
)

// walkRoom is how much of a walk is shown.
type walkRoom int

// From all of it to what cannot be done without. In each, less is there than in the one
// before it.
const (
	allOfWalk walkRoom = iota
	withoutHint
	withoutBar
	withoutLinks
)

// MinSize is small: the list gives way.
func (l *walkLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(300), look.Px(300))
}

// Layout shows what has room and places it.
func (l *walkLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	p := l.page
	var whole float32 // of the list
	if p.list.Visible() {
		whole = p.list.HeightFor(size.Width)
	}
	for room := allOfWalk; room <= withoutLinks; room++ {
		p.give(room)
		if size.Height == 0 || l.others(objects, size.Width)+min(look.Px(leastRows), whole) <= size.Height {
			break
		}
	}
	list := max(0, min(whole, size.Height-l.others(objects, size.Width)))
	var y float32
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		h := look.HeightFor(o, size.Width)
		if o == fyne.CanvasObject(p.list) {
			h = list
		}
		shrunk := o.Size().Height > h
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		if o == fyne.CanvasObject(p.list) && shrunk {
			p.list.Mark(p.model.State().Current) // which may be out of sight now
		}
		y += h + look.Px(walkGap)
	}
}

// others is how high everything but the list is, with the gaps.
func (l *walkLayout) others(objects []fyne.CanvasObject, width float32) float32 {
	var height float32
	for i, o := range objects {
		if !o.Visible() {
			continue
		}
		if i > 0 {
			height += look.Px(walkGap)
		}
		if o != fyne.CanvasObject(l.page.list) {
			height += look.HeightFor(o, width)
		}
	}
	return height
}

// give shows as much of the walk as that.
func (p *WalkPage) give(room walkRoom) {
	s := p.model.State()
	none := len(s.notOnWalk()) == 0
	p.short.Hidden, p.shorter.Hidden = none || room >= withoutBar, none || room < withoutBar
	p.bar.Hidden = s.Of == 0 || room >= withoutBar
	p.note.Hidden = room >= withoutBar
	v := p.hand
	v.hint.Hidden, v.leave.Hidden = room >= withoutHint, room >= withoutHint
	v.beware.Hidden = room < withoutHint || s.Hand.Beware.Text == "" // the card has it in sight
	v.links.Hidden = room >= withoutLinks
}
