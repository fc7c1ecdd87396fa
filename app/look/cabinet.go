package look

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"stowright/app/card"
)

// CabinetPicture draws a cabinet as it looks from the front. Large, its drawers
// carry name, designation and level, can be tapped, and the arrow keys move from
// one to the next; small, on a card, they carry the last digits of their names.
type CabinetPicture struct {
	widget.BaseWidget
	// OnChosen is told which drawer was tapped or moved to, by index.
	OnChosen func(index int, d card.Drawer)
	// OnOpened is told that Enter was pressed on a drawer.
	OnOpened func(index int, d card.Drawer)

	cabinet card.Cabinet
	small   bool
	cursor  int // the drawer the keyboard is at, -1 for none
	focused bool
}

var _ fyne.Focusable = (*CabinetPicture)(nil)

// NewCabinetPicture is the large picture.
func NewCabinetPicture(c card.Cabinet) *CabinetPicture {
	p := &CabinetPicture{cabinet: c, cursor: c.Lit()}
	p.ExtendBaseWidget(p)
	return p
}

// NewCabinetMini is the small picture that a card carries.
func NewCabinetMini(c card.Cabinet) *CabinetPicture {
	p := &CabinetPicture{cabinet: c, cursor: -1, small: true}
	p.ExtendBaseWidget(p)
	return p
}

// SetCabinet shows another cabinet, or the same one changed.
func (p *CabinetPicture) SetCabinet(c card.Cabinet) {
	p.cabinet = c
	if lit := c.Lit(); lit >= 0 || p.cursor >= len(c.Drawers) {
		p.cursor = lit
	}
	p.Refresh()
}

// frontHeight is how high one front wants to be, and the gap between two.
func (p *CabinetPicture) frontHeight() (front, gap float32) {
	if p.small {
		return Px(21), Px(4)
	}
	return Px(90), Px(8)
}

// HeightFor is how high the picture wants to be.
func (p *CabinetPicture) HeightFor(float32) float32 {
	front, gap := p.frontHeight()
	return float32(p.cabinet.Rows)*(front+gap) + gap
}

func (p *CabinetPicture) stretches() {}

// cell is where the drawer with that index is drawn.
func (p *CabinetPicture) cell(index int, size fyne.Size) (fyne.Position, fyne.Size) {
	_, gap := p.frontHeight()
	cols, rows := float32(max(1, p.cabinet.Cols)), float32(max(1, p.cabinet.Rows))
	w, h := (size.Width-gap)/cols, (size.Height-gap)/rows
	x, y := float32(index%max(1, p.cabinet.Cols)), float32(index/max(1, p.cabinet.Cols))
	return fyne.NewPos(gap+x*w, gap+y*h), fyne.NewSize(w-gap, h-gap)
}

// Tapped chooses the drawer under the finger and takes the focus.
func (p *CabinetPicture) Tapped(e *fyne.PointEvent) {
	if p.OnChosen == nil {
		return
	}
	for i := range p.cabinet.Drawers {
		at, size := p.cell(i, p.Size())
		if e.Position.X >= at.X && e.Position.X < at.X+size.Width && e.Position.Y >= at.Y && e.Position.Y < at.Y+size.Height {
			if c := canvasOf(p); c != nil && !p.small {
				c.Focus(p)
			}
			p.choose(i)
			return
		}
	}
}

func (p *CabinetPicture) choose(index int) {
	if index < 0 || index >= len(p.cabinet.Drawers) {
		return
	}
	p.cursor = index
	p.Refresh()
	if p.OnChosen != nil {
		p.OnChosen(index, p.cabinet.Drawers[index])
	}
}

// FocusGained marks the drawer that the keyboard is at.
func (p *CabinetPicture) FocusGained() {
	p.focused = true
	if p.cursor < 0 && len(p.cabinet.Drawers) > 0 {
		p.cursor = 0
	}
	p.Refresh()
}

// FocusLost takes the mark away.
func (p *CabinetPicture) FocusLost() {
	p.focused = false
	p.Refresh()
}

// TypedRune hands letters on to the window.
func (p *CabinetPicture) TypedRune(r rune) { passRune(p, r) }

// TypedShortcut hands shortcuts on to the window.
func (p *CabinetPicture) TypedShortcut(s fyne.Shortcut) { passShortcut(p, s) }

// TypedKey moves from drawer to drawer; Enter opens one.
func (p *CabinetPicture) TypedKey(key *fyne.KeyEvent) {
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
		p.OnOpened(p.cursor, p.cabinet.Drawers[p.cursor])
	default:
		passKey(p, key)
	}
}

// CreateRenderer draws the cabinet.
func (p *CabinetPicture) CreateRenderer() fyne.WidgetRenderer {
	body := newBox()
	var fronts []*drawerParts
	r := &drawn{}
	r.min = func() fyne.Size {
		front, gap := p.frontHeight()
		h := max(front*0.62, Px(22))
		return fyne.NewSize(float32(p.cabinet.Cols)*(Px(28)+gap)+gap, float32(p.cabinet.Rows)*(h+gap)+gap)
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
		for i, f := range fronts {
			f.set(p.cabinet.Drawers[i], p.small, p.focused && i == p.cursor)
			r.objects = append(r.objects, f.objects()...)
		}
	}
	return r.ready(p)
}

// drawerParts are the drawn parts of one front.
type drawerParts struct {
	d                            card.Drawer
	small, cursor                bool
	front, ring, track, level    *canvas.Rectangle
	dashes, notEqual             *canvas.Raster
	name, first, second, several *canvas.Text
	count                        *canvas.Text
}

func newDrawerParts() *drawerParts {
	f := &drawerParts{
		front: newBox(), ring: newBox(), track: newBox(), level: newBox(),
		name: newText(), first: newText(), second: newText(), several: newText(),
		count: newText(),
	}
	f.dashes = newDrawing(func(p *pen) {
		w, h := float64(p.size.Width), float64(p.size.Height)
		p.dashed(roundedBox(0.75, 0.75, w-1.5, h-1.5, min(4, h/4)), 1.1, 4, 3, named(ColorQuiet))
	})
	f.notEqual = newDrawing(func(p *pen) {
		ink := named(f.ink())
		w, h := float64(p.size.Width), float64(p.size.Height)
		for _, y := range []float64{0.34, 0.66} {
			p.stroke([]xy{{w * 0.05, h * y}, {w * 0.95, h * y}}, false, h*0.12, ink)
		}
		p.stroke([]xy{{w * 0.72, h * 0.06}, {w * 0.28, h * 0.94}}, false, h*0.12, ink)
	})
	return f
}

func (f *drawerParts) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{f.front, f.dashes, f.track, f.level, f.name, f.first, f.second, f.several, f.count, f.notEqual, f.ring}
}

// ink is the colour of the writing on the front.
func (f *drawerParts) ink() fyne.ThemeColorName {
	switch {
	case f.d.Lit:
		return ColorLitInk
	case f.d.Empty:
		return ColorQuiet
	default:
		return ColorInk
	}
}

func (f *drawerParts) set(d card.Drawer, small, cursor bool) {
	f.d, f.small, f.cursor = d, small, cursor
	fill, edge, width := fyne.ThemeColorName(ColorPanel), fyne.ThemeColorName(""), float32(0)
	switch {
	case d.Lit:
		fill, edge, width = ColorLit, ColorLitEdge, 3
		if small {
			width = 2.5
		}
	case d.Empty:
		fill = ""
	}
	setBox(f.front, fill, edge, width, 4)
	setBox(f.ring, "", ColorAction, 2.5, 5)
	f.ring.Hidden = !cursor
	f.dashes.Hidden = !d.Empty || d.Lit
	f.notEqual.Hidden = !d.LookAlike || small
	f.track.Hidden = small || d.Empty || d.Level < 0
	f.level.Hidden = f.track.Hidden
	track, level := fyne.ThemeColorName(ColorLine), fyne.ThemeColorName(ColorAction)
	if d.Lit {
		track, level = ColorLitInk, ColorPanel
	}
	setBox(f.track, track, "", 0, 2.5)
	setBox(f.level, level, "", 0, 2.5)
	if d.Lit {
		f.track.FillColor = faded(rgb(0x1D2422), 0x40)
		f.level.FillColor = rgb(0x1D2422)
	}
	f.dashes.Refresh()
	f.notEqual.Refresh()
}

func (f *drawerParts) layout(at fyne.Position, size fyne.Size) {
	out := float32(0)
	if f.d.Lit {
		out = Px(2)
	}
	place(f.front, at.X-out, at.Y-out, size.Width+2*out, size.Height+2*out)
	place(f.dashes, at.X, at.Y, size.Width, size.Height)
	place(f.ring, at.X-Px(3), at.Y-Px(3), size.Width+Px(6), size.Height+Px(6))
	if f.small {
		f.layoutSmall(at, size)
		return
	}
	f.layoutLarge(at, size)
}

// layoutSmall writes the last digits in the middle of the front.
func (f *drawerParts) layoutSmall(at fyne.Position, size fyne.Size) {
	r := roleMono().at(11.5)
	if f.d.Lit {
		r = roleAt(12)
	}
	text := f.d.Short()
	if w := r.width(text); w > size.Width-2 && w > 0 {
		r = r.at(r.size * (size.Width - 2) / w)
	}
	r.set(f.name, text, f.ink())
	for _, t := range []*canvas.Text{f.first, f.second, f.several, f.count} {
		t.Text = ""
	}
	placeText(f.name, at.X+(size.Width-f.name.MinSize().Width)/2, at.Y, size.Height)
}

// layoutLarge writes name, designation and level; what does not fit a low front
// gives way from the bottom.
func (f *drawerParts) layoutLarge(at fyne.Position, size fyne.Size) {
	pad := min(Px(10), size.Width*0.09)
	inner := size.Width - 2*pad
	name := roleMono()
	if w := name.width(f.d.Name); w > inner-Px(18) && w > 0 {
		name = name.at(name.size * (inner - Px(18)) / w)
	}
	name.set(f.name, f.d.Name, f.quietInk())
	nameHeight := f.name.MinSize().Height
	top := at.Y + min(Px(7), size.Height*0.08)
	placeText(f.name, at.X+pad, top, nameHeight)
	sign := Px(12)
	place(f.notEqual, at.X+size.Width-pad-sign, top+(nameHeight-sign)/2, sign, sign)

	bar := Px(5)
	bottom := at.Y + size.Height - min(Px(9), size.Height*0.11) - bar
	place(f.track, at.X+pad, bottom, inner, bar)
	place(f.level, at.X+pad, bottom, inner*float32(max(0, min(1, f.d.Level))), bar)
	if f.track.Hidden {
		bottom = f.writeCount(at, size, pad, top+nameHeight)
	}
	f.write(at.X+pad, top+nameHeight, inner, bottom-top-nameHeight)
}

// writeCount puts the count, where there is one and room for it under the
// designation, at the foot of the front, and returns where the room above it ends.
func (f *drawerParts) writeCount(at fyne.Position, size fyne.Size, pad, top float32) float32 {
	bottom := at.Y + size.Height - min(Px(6), size.Height*0.07)
	roleFoot().set(f.count, f.d.Count, f.quietInk())
	h := f.count.MinSize().Height
	if f.d.Count == "" || bottom-h-top < 1.7*roleAt(12).height() || f.count.MinSize().Width > size.Width-2*pad {
		f.count.Text = ""
		return bottom
	}
	placeText(f.count, at.X+pad, bottom-h, h)
	return bottom - h
}

// quietInk is the colour of the drawer's name.
func (f *drawerParts) quietInk() fyne.ThemeColorName {
	if f.d.Lit {
		return ColorLitInk
	}
	return ColorQuiet
}

// write puts the designation, or the word empty, into the middle of the front.
func (f *drawerParts) write(x, y, w, h float32) {
	f.second.Text, f.several.Text = "", ""
	if f.d.Empty && f.d.Designation == "" {
		roleFoot().set(f.first, "empty", ColorQuiet)
		placeText(f.first, x, y, h)
		return
	}
	if f.d.More > 0 {
		roleFoot().at(12).set(f.several, fmt.Sprintf("and %d more", f.d.More), f.quietInk())
	}
	lines, size := fitDesignation(f.d.Designation, w, 15, 12)
	lines = append(lines, "")
	roleAt(size).set(f.first, lines[0], f.ink())
	roleAt(size).set(f.second, lines[1], f.ink())
	line := roleAt(size).height() * 0.98
	whole := line
	if lines[1] != "" {
		whole += line
	}
	if whole > h && h > 0 { // a low front: smaller rather than over its level
		size, line, whole = size*h/whole, line*h/whole, h
		roleAt(size).set(f.first, lines[0], f.ink())
		roleAt(size).set(f.second, lines[1], f.ink())
	}
	more := float32(0)
	if f.several.Text != "" {
		more = f.several.MinSize().Height
		if whole+more > h {
			f.several.Text, more = "", 0
		}
	}
	y += max(0, (h-whole-more)/2)
	placeText(f.first, x, y, line)
	placeText(f.second, x, y+line, line)
	placeText(f.several, x, y+whole, more)
}
