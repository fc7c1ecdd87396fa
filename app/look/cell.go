package look

import (
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
	if a.kind == table.Names {
		c.shrinkName(cell, a, r)
	} else {
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
	c.text.Text, c.text.TextSize = lines[0], Px(size)
	if len(lines) > 1 {
		c.sub.Text, c.sub.TextSize, c.sub.TextStyle, c.sub.Color = lines[1], Px(size), c.text.TextStyle, c.text.Color
	}
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
// is a wrong number; words are cut.
func fitText(t *canvas.Text, a cellArea) {
	if a.kind == table.Figure || a.kind == table.Plain {
		least := t.TextSize * 0.55
		for t.TextSize > least && t.MinSize().Width > a.w {
			t.TextSize -= 0.5
		}
	}
	elide(t, a.w)
}

// elide cuts a text that is wider than width and ends it with three dots.
func elide(t *canvas.Text, width float32) {
	if t.Text == "" || t.MinSize().Width <= width+0.5 {
		return
	}
	runes := []rune(t.Text)
	low, high := 0, len(runes)
	for low < high {
		mid := (low + high + 1) / 2
		t.Text = string(runes[:mid]) + "…"
		if t.MinSize().Width <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	t.Text = string(runes[:low]) + "…"
}
