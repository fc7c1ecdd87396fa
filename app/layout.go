package app

import (
	"fyne.io/fyne/v2"

	"stowright/app/look"
)

// Measures of the frame, in points at normal size.
const (
	topHeight    = 64
	railWidth    = 92
	footerHeight = 30
	narrow       = 1100 // below this width the card slides over the work of most pages
	tight        = 900  // from this width on it stands beside a page that gives way
	tightRail    = 78   // the rail and the card of a narrow window
	tightCard    = 312
	edge         = 16  // around the card and above the work
	workEdge     = 20  // at the sides of the work
	leastCommand = 300 // the command bar, before the pills beside it take a second line
	workBleed    = 8   // of it, what the page's scroller takes, so that edges are not cut
)

// frameLayout sets the parts of the frame. The order of the objects is the one
// that NewFrame gives them in, which is that of the work, since Tab goes by it: the page, its
// card, the last entry, the command bar, the rail.
type frameLayout struct{ frame *Frame }

// MinSize is small, so that the window can be: parts scroll or give way.
func (l *frameLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(640, 480)
}

func (l *frameLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	ground, right, work, bottom, top := objects[0], objects[1], objects[2], objects[4], objects[5]
	name, foot, rail := objects[6], objects[7], objects[12]
	topH, railW, footH := look.Px(topHeight), look.Px(railWidth), max(look.Px(footerHeight), look.LeastTarget())
	isNarrow := size.Width < look.Px(narrow)
	if isNarrow {
		railW = look.Px(tightRail)
	}
	put(ground, 0, 0, size.Width, size.Height)
	put(top, 0, 0, size.Width, topH)
	put(right, 0, topH, railW, size.Height-topH-footH)
	put(bottom, 0, size.Height-footH, size.Width, footH)
	put(foot, 0, size.Height-footH, size.Width, footH)
	put(rail, 0, topH, railW-1, size.Height-topH-footH)

	s := l.frame.side
	s.over = isNarrow && (size.Width < look.Px(tight) || !givesWay(l.frame.page))
	cardW := min(look.Px(look.CardWidth), size.Width-railW)
	if isNarrow && !s.over {
		cardW = look.Px(tightCard)
	}
	x, y, h := railW+look.Px(workEdge), topH+look.Px(edge), size.Height-topH-footH-2*look.Px(edge)
	w := size.Width - x - look.Px(workEdge)
	s.object.Hidden, l.frame.opener.Hidden = !s.visible(), !s.waits()
	l.layoutTop(name, objects[8:12], size.Width, topH)
	if s.visible() && !s.over {
		w -= cardW
	}
	bleed := look.Px(workBleed)
	put(work, x-bleed, y-bleed, w+2*bleed, h+2*bleed)
	if s.visible() {
		put(s.object, size.Width-cardW, topH, cardW, size.Height-topH-footH)
	}
}

// layoutTop sets name, command bar and pills; the command bar takes what is left. Where that
// is too little for what it says, the pills give way.
func (l *frameLayout) layoutTop(name fyne.CanvasObject, objects []fyne.CanvasObject, width, height float32) {
	command, pills := objects[0], objects[1:]
	gap, pad := look.Px(14), look.Px(16)
	size := name.MinSize()
	put(name, pad, (height-size.Height)/2, size.Width, size.Height)
	x := pad + name.MinSize().Width + gap
	right := width - pad
	wanted := right - x - look.Px(leastCommand)
	for _, p := range pills {
		if p.Visible() {
			wanted -= p.MinSize().Width + gap
		}
	}
	for i := len(pills) - 1; i >= 0; i-- {
		pill := pills[i].(*look.Pill)
		if !pill.Visible() {
			continue
		}
		w := pill.MinSize().Width
		if wanted < 0 { // its words go on in a second line
			narrowed := max(pill.Least(), w+wanted)
			wanted += w - narrowed
			w = narrowed
		}
		h := pill.HeightFor(w)
		right -= w
		put(pill, right, (height-h)/2, w, h)
		right -= gap
	}
	h := command.MinSize().Height
	put(command, x, (height-h)/2, max(look.Px(120), right-x), h)
}

// put moves and resizes.
func put(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

// railLayout stacks the screens from the top, closer together on a low window.
type railLayout struct{}

func (railLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(railWidth), look.Px(40)*float32(len(objects)))
}

func (railLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if len(objects) == 0 {
		return
	}
	top := look.Px(8)
	h := look.Px(70)
	if room := size.Height / float32(len(objects)); room < h+top/float32(len(objects)) {
		h, top = room, 0
	}
	for i, o := range objects {
		put(o, 0, top+float32(i)*h, size.Width, h)
	}
}

// workLayout gives the page all the room, or what is left of it over what is said at its
// foot: that never lies over a button.
type workLayout struct{}

func (workLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(200), look.Px(200))
}

func (workLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if len(objects) == 0 {
		return
	}
	bleed := look.Px(workBleed)
	w, left := size.Width-2*bleed, size.Height
	for _, o := range objects[1:] {
		h := o.(*look.Notice).HeightFor(w)
		put(o, bleed, left-bleed-h, w, h)
		left -= h + bleed
	}
	put(objects[0], 0, 0, size.Width, left)
}
