package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"stowright/app/notice"
	"stowright/app/table"
)

// cellArea is where one cell is drawn, and how.
type cellArea struct {
	x, w, h float32
	kind    table.Kind
	dim     bool
}

// title draws a column title.
func (c *cellParts) title(cell table.Cell, a cellArea) {
	c.mark.set(notice.Mark{})
	c.sub.Text = ""
	roleFoot().set(c.text, cell.Text, ColorQuiet)
	elide(c.text, a.w)
	c.putText(c.text, a, 0, a.h)
}

// fill draws a cell by the kind of its column.
func (c *cellParts) fill(cell table.Cell, a cellArea) {
	c.mark.set(cell.Mark)
	c.mark.place(a.x, (a.h-Px(27))/2, a.w)
	r, ink := cellRole(a.kind)
	if a.dim {
		ink = ColorQuiet
	}
	r.set(c.text, cell.Text, ink)
	roleFoot().set(c.sub, cell.Sub, ColorQuiet)
	elide(c.sub, a.w)
	switch {
	case a.kind == table.Names:
		c.shrinkName(cell, a, r)
	case c.sub.Text == "" && a.kind != table.Figure && a.kind != table.Plain:
		c.wrapText(a)
	default:
		fitText(c.text, a)
	}
	if c.sub.Text == "" {
		c.putText(c.text, a, 0, a.h)
		return
	}
	top, bottom := c.text.MinSize().Height, c.sub.MinSize().Height
	y := (a.h - top - bottom) / 2
	c.putText(c.text, a, y, top)
	c.putText(c.sub, a, y+top, bottom)
}

// shrinkName sets a designation smaller until it fits; one that never fits is
// broken after its prefix and takes the place of the line under it.
func (c *cellParts) shrinkName(cell table.Cell, a cellArea, r role) {
	lines, size := fitDesignation(cell.Text, a.w, r.size, r.size*0.68)
	if high := float32(len(lines)) * r.at(size).height(); len(lines) > 1 && high > a.h {
		size *= a.h / high
	}
	c.text.Text, c.text.TextSize = lines[0], Px(size)
	if len(lines) > 1 {
		rest := strings.Join(lines[1:], " ")
		c.sub.Text, c.sub.TextSize, c.sub.TextStyle, c.sub.Color = rest, Px(size), c.text.TextStyle, c.text.Color
		elide(c.sub, a.w)
	}
}

// wrapText sets words that are too long for one line in two, where no other line stands
// under them and the row is high enough.
func (c *cellParts) wrapText(a cellArea) {
	words := strings.Fields(c.text.Text)
	if squeeze(c.text, a.w) || len(words) < 2 || a.h < 2*c.text.MinSize().Height {
		elide(c.text, a.w)
		return
	}
	whole := c.text.Text
	first := 1
	for n := 1; n < len(words); n++ {
		if c.text.Text = strings.Join(words[:n], " "); c.text.MinSize().Width <= a.w {
			first = n
		}
	}
	rest := strings.Join(words[first:], " ")
	c.text.Text, c.sub.Text, c.sub.TextSize, c.sub.TextStyle, c.sub.FontSource, c.sub.Color =
		strings.TrimSuffix(whole, rest), rest, c.text.TextSize, c.text.TextStyle, c.text.FontSource, c.text.Color
	c.text.Text = strings.TrimSpace(c.text.Text)
	elide(c.text, a.w)
	elide(c.sub, a.w)
}

// cellRole is the text of a kind of column.
func cellRole(k table.Kind) (role, fyne.ThemeColorName) {
	switch k {
	case table.Names:
		return roleName().at(18), ColorInk
	case table.Figure:
		return roleFigure(), ColorInk
	case table.Plain:
		return roleBody().at(17), ColorInk
	case table.Faint:
		return roleBody(), ColorQuiet
	default:
		return roleBody(), ColorInk
	}
}

// putText places a text in the cell, at the right edge for figures.
func (c *cellParts) putText(t *canvas.Text, a cellArea, y, h float32) {
	x := a.x
	if a.kind == table.Figure || a.kind == table.Plain {
		x += a.w - t.MinSize().Width
	}
	placeText(t, x, y, h)
}

// fitText makes a text fit its cell: a figure is set smaller, since half a number
// is a wrong number; of words the last ones give way.
func fitText(t *canvas.Text, a cellArea) {
	if figure := a.kind == table.Figure || a.kind == table.Plain; figure && len(strings.Fields(t.Text)) < 3 {
		least := t.TextSize * 0.55
		for t.TextSize > least && t.MinSize().Width > a.w {
			t.TextSize -= 0.5
		}
	}
	elide(t, a.w)
}
