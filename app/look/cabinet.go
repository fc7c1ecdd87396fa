package look

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"stowright/app/drawing"
)

// CabinetView draws a cabinet as it looks from the front. Large, its drawers
// carry name, designation and level, can be tapped, and the arrow keys move from
// one to the next; small, on a card, they carry the last digits of their names.
// Fyne has nothing like it.
type CabinetView struct {
	widget.BaseWidget
	// OnChosen is called with the drawer that was tapped or moved to, by index.
	OnChosen func(index int, d drawing.Drawer)
	// OnOpened is called when Enter was pressed on a drawer.
	OnOpened func(index int, d drawing.Drawer)

	cabinet    drawing.Cabinet
	small      bool
	low        bool // small, and its fronts no higher than their digits
	leftOut    int  // rows above those that are drawn
	drawnRows  int  // 0 is all of them
	cursor     int  // the drawer the keyboard is at, -1 for none
	focused    bool
	onCursor   func()    // the drawer the keyboard is at is another one; nil for nobody to tell
	tappedAt   time.Time // the last tap
	tappedOnce bool      // a second tap may open
}

var _ fyne.Focusable = (*CabinetView)(nil)

// NewCabinetView is the large picture.
func NewCabinetView(c drawing.Cabinet) *CabinetView {
	p := &CabinetView{cabinet: c, cursor: c.Lit()}
	p.ExtendBaseWidget(p)
	return p
}

// NewCabinetMini is the small picture that a card carries.
func NewCabinetMini(c drawing.Cabinet) *CabinetView {
	p := &CabinetView{cabinet: c, cursor: -1, small: true}
	p.ExtendBaseWidget(p)
	return p
}

// NewCabinetLow is NewCabinetMini with its fronts drawn lower, where room lacks.
func NewCabinetLow(c drawing.Cabinet) *CabinetView {
	v := NewCabinetMini(c)
	v.low = true
	return v
}

// SetCabinet shows another cabinet, or the same one changed.
func (p *CabinetView) SetCabinet(c drawing.Cabinet) {
	p.cabinet = c
	if lit := c.Lit(); lit >= 0 || p.cursor >= len(c.Drawers) {
		p.cursor = lit
	}
	p.Refresh()
}

// frontHeight is how high one front wants to be, and the gap between two.
func (p *CabinetView) frontHeight() (front, gap float32) {
	switch {
	case p.low:
		return Px(16), Px(3)
	case p.small:
		return Px(21), Px(4)
	}
	return Px(90), Px(8)
}

// rows is how many rows are drawn.
func (p *CabinetView) rows() int {
	if p.drawnRows > 0 {
		return p.drawnRows
	}
	return p.cabinet.Rows
}

// allRows draws all rows, of their usual height.
func (p *CabinetView) allRows() { p.low, p.leftOut, p.drawnRows = false, 0, 0 }

// lower draws the fronts of a small picture lower.
func (p *CabinetView) lower() { p.low = true }

// fewerRows leaves out the row that is farthest from the lit drawer; it reports whether
// there is another one.
func (p *CabinetView) fewerRows() bool {
	if p.rows() <= 1 {
		return false
	}
	lit := max(0, p.cabinet.Lit()) / max(1, p.cabinet.Cols)
	p.drawnRows = p.rows() - 1
	if above, below := lit-p.leftOut, p.leftOut+p.drawnRows-lit; above > below {
		p.leftOut++
	}
	return true
}

// HeightFor is how high the picture wants to be.
func (p *CabinetView) HeightFor(float32) float32 {
	front, gap := p.frontHeight()
	return float32(p.rows())*(front+gap) + gap
}

func (p *CabinetView) stretches() {}

// cell is where the drawer with that index is drawn.
func (p *CabinetView) cell(index int, size fyne.Size) (fyne.Position, fyne.Size) {
	_, gap := p.frontHeight()
	cols, rows := float32(max(1, p.cabinet.Cols)), float32(max(1, p.rows()))
	w, h := (size.Width-gap)/cols, (size.Height-gap)/rows
	x, y := float32(index%max(1, p.cabinet.Cols)), float32(index/max(1, p.cabinet.Cols)-p.leftOut)
	return fyne.NewPos(gap+x*w, gap+y*h), fyne.NewSize(w-gap, h-gap)
}

// Tapped chooses the drawer under the finger and takes the focus; a second tap at once
// opens it.
func (p *CabinetView) Tapped(e *fyne.PointEvent) {
	once, before, was := p.tappedOnce, p.tappedAt, p.cursor
	p.tappedOnce, p.tappedAt = true, clockOf(p)
	if p.pick(e) && p.cursor == was && p.OnOpened != nil && once && p.tappedAt.Sub(before) <= doubleTap {
		p.tappedOnce = false
		asked(p, func() { p.OnOpened(p.cursor, p.cabinet.Drawers[p.cursor]) })
	}
}

// TappedSecondary chooses the drawer and lists what can be done with it.
func (p *CabinetView) TappedSecondary(e *fyne.PointEvent) {
	if p.pick(e) {
		offer(p)
	}
}

// pick chooses the drawer under the finger, and reports whether there is one.
func (p *CabinetView) pick(e *fyne.PointEvent) bool {
	if p.OnChosen == nil {
		return false
	}
	for i := range p.cabinet.Drawers {
		at, size := p.cell(i, p.Size())
		if e.Position.X >= at.X && e.Position.X < at.X+size.Width && e.Position.Y >= at.Y && e.Position.Y < at.Y+size.Height {
			p.choose(i) // before the focus, which would choose the first one
			if c := canvasOf(p); c != nil && !p.small {
				c.Focus(p)
			}
			return true
		}
	}
	return false
}

func (p *CabinetView) choose(index int) {
	if index < 0 || index >= len(p.cabinet.Drawers) {
		return
	}
	p.cursor = index
	p.Refresh()
	if p.onCursor != nil {
		p.onCursor()
	}
	if p.OnChosen != nil {
		asked(p, func() { p.OnChosen(index, p.cabinet.Drawers[index]) })
	}
}

// FocusGained marks the drawer that the keyboard is at, or chooses the first one.
func (p *CabinetView) FocusGained() {
	p.focused = true
	if p.cursor < 0 {
		p.choose(0)
	}
	p.Refresh()
}

// FocusLost takes the mark away.
func (p *CabinetView) FocusLost() {
	p.focused = false
	p.Refresh()
}

// AcceptsTab reports whether Tab waits.
func (p *CabinetView) AcceptsTab() bool { return waits(p) }

// TypedRune hands letters on to the window.
func (p *CabinetView) TypedRune(r rune) {
	if !kept(p, Typed{Rune: r}) {
		passRune(p, r)
	}
}

// TypedShortcut hands shortcuts on to the window.
func (p *CabinetView) TypedShortcut(s fyne.Shortcut) { passShortcut(p, s) }

// TypedKey moves from drawer to drawer; Enter opens one.
func (p *CabinetView) TypedKey(key *fyne.KeyEvent) {
	if kept(p, Typed{Key: key}) {
		return
	}
	cols := max(1, p.cabinet.Cols)
	switch key.Name {
	case fyne.KeyLeft:
		p.choose(p.cursor - 1)
	case fyne.KeyRight:
		p.choose(p.cursor + 1)
	case fyne.KeyUp:
		p.choose(p.cursor - cols)
	case fyne.KeyDown:
		p.choose(p.cursor + cols)
	case fyne.KeyReturn, fyne.KeyEnter:
		if p.OnOpened == nil || p.cursor < 0 || p.cursor >= len(p.cabinet.Drawers) {
			passKey(p, key)
			return
		}
		asked(p, func() { p.OnOpened(p.cursor, p.cabinet.Drawers[p.cursor]) })
	default:
		passKey(p, key)
	}
}

// CreateRenderer draws the cabinet.
func (p *CabinetView) CreateRenderer() fyne.WidgetRenderer {
	body := newBox()
	var fronts []*drawerParts
	r := &drawn{}
	r.min = func() fyne.Size {
		front, gap := p.frontHeight()
		return fyne.NewSize(float32(p.cabinet.Cols)*(Px(28)+gap)+gap, float32(p.rows())*(max(front*0.62, Px(16))+gap)+gap)
	}
	r.layout = func(size fyne.Size) {
		place(body, 0, 0, size.Width, size.Height)
		for i, f := range fronts {
			at, cell := p.cell(i, size)
			f.layout(at, cell)
		}
	}
	r.refresh = func() {
		setBox(body, ColorBody, "", 0, radius)
		for len(fronts) < len(p.cabinet.Drawers) {
			fronts = append(fronts, newDrawerParts())
		}
		fronts = fronts[:len(p.cabinet.Drawers)]
		r.objects = append(r.objects[:0], body)
		var lit []fyne.CanvasObject // before its neighbours, which its edge reaches over
		for i, f := range fronts {
			f.set(p.cabinet.Drawers[i], p.small, p.focused && i == p.cursor)
			row := i/max(1, p.cabinet.Cols) - p.leftOut
			switch {
			case row < 0 || row >= p.rows():
			case p.cabinet.Drawers[i].Lit:
				lit = append(lit, f.objects()...)
			default:
				r.objects = append(r.objects, f.objects()...)
			}
		}
		r.objects = append(r.objects, lit...)
	}
	return r.ready(p)
}
