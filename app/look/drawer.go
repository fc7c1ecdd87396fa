package look

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"stowright/app/drawing"
)

// drawerParts are the drawn parts of one front.
type drawerParts struct {
	d                            drawing.Drawer
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

func (f *drawerParts) set(d drawing.Drawer, small, cursor bool) {
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
		roleFoot().set(f.first, "empty", f.quietInk())
		placeText(f.first, x, y, h)
		return
	}
	if f.d.More > 0 {
		roleFoot().at(sizeTiny).set(f.several, fmt.Sprintf("and %d more", f.d.More), f.quietInk())
	}
	lines, size := fitDesignation(f.d.Designation, w, 15, 12)
	lines = []string{lines[0], strings.Join(lines[1:], " ")}
	roleAt(size).set(f.first, lines[0], f.ink())
	roleAt(size).set(f.second, lines[1], f.ink())
	elide(f.second, w)
	lines[1] = f.second.Text
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
