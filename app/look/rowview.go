package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"stowright/app/table"
)

// rowSpace is the whole height of a list's rows, of which it holds only those in
// sight.
type rowSpace struct {
	widget.BaseWidget
	list *RowList
	rows []*rowView // the rows in sight, reused while scrolling
	draw *drawn
}

func newRowSpace(l *RowList) *rowSpace {
	s := &rowSpace{list: l}
	s.ExtendBaseWidget(s)
	return s
}

// MinSize is as high as all rows.
func (s *rowSpace) MinSize() fyne.Size {
	return fyne.NewSize(1, float32(s.list.count)*s.list.step())
}

// CreateRenderer draws the rows in sight.
func (s *rowSpace) CreateRenderer() fyne.WidgetRenderer {
	s.draw = &drawn{owner: s, min: s.MinSize, refresh: func() {}}
	s.draw.layout = func(fyne.Size) { s.update() }
	return s.draw
}

// update puts the rows in sight where they belong and fills them.
func (s *rowSpace) update() {
	if s.draw == nil {
		return
	}
	l, step := s.list, s.list.step()
	view := l.scroll.Size().Height
	first := max(0, min(int(l.scroll.Offset.Y/step), l.count-1))
	last := min(l.count, int((l.scroll.Offset.Y+view)/step)+1)
	n := max(0, last-first)
	for len(s.rows) < n {
		s.rows = append(s.rows, newRowView(l))
	}
	s.draw.objects = s.draw.objects[:0]
	for i := first; i < last; i++ {
		row := s.rows[i%len(s.rows)] // a row that stays in sight keeps its widget
		place(row, 0, float32(i)*step, s.Size().Width, step)
		row.show(i, l.rowAt(i))
		s.draw.objects = append(s.draw.objects, row)
	}
	canvas.Refresh(s)
}

// rowView draws one row. One widget a row, not one for each label in it, is what
// keeps scrolling cheap.
type rowView struct {
	widget.BaseWidget
	list            *RowList
	index           int
	row             table.Row
	header, hovered bool
}

var (
	_ fyne.Tappable     = (*rowView)(nil)
	_ desktop.Hoverable = (*rowView)(nil)
)

func newRowView(l *RowList) *rowView {
	r := &rowView{list: l, index: -1}
	r.ExtendBaseWidget(r)
	return r
}

func (v *rowView) show(index int, row table.Row) {
	v.index, v.row = index, row
	v.Refresh()
}

// Tapped chooses the row.
func (v *rowView) Tapped(*fyne.PointEvent) {
	if !v.header {
		asked(v.list, func() { v.list.tapped(v.index) })
	}
}

// TappedSecondary chooses the row and lists what can be done with it.
func (v *rowView) TappedSecondary(*fyne.PointEvent) {
	if !v.header {
		v.list.offered(v.index)
	}
}

// MouseIn marks the row under the pointer.
func (v *rowView) MouseIn(*desktop.MouseEvent) {
	v.hovered = true
	v.Refresh()
}

// MouseMoved does nothing.
func (v *rowView) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends the mark.
func (v *rowView) MouseOut() {
	v.hovered = false
	v.Refresh()
}

// rowParts are the drawn parts of a row.
type rowParts struct {
	v                      *rowView
	ground, bar, line, box *canvas.Rectangle
	cells                  []*cellParts
}

// cellParts are the drawn parts of one cell.
type cellParts struct {
	text, sub *canvas.Text
	mark      *markParts
}

// CreateRenderer draws the row.
func (v *rowView) CreateRenderer() fyne.WidgetRenderer {
	p := &rowParts{v: v, ground: newBox(), bar: newBox(), line: newBox(), box: newBox()}
	r := &drawn{objects: []fyne.CanvasObject{p.ground, p.bar, p.line, p.box}}
	for range v.list.columns {
		c := &cellParts{text: newText(), sub: newText(), mark: newMarkParts()}
		p.cells = append(p.cells, c)
		r.objects = append(append(r.objects, c.text, c.sub), c.mark.objects()...)
	}
	r.min = func() fyne.Size { return fyne.NewSize(1, v.list.step()) }
	r.layout, r.refresh = p.layout, p.refresh
	return r.ready(v)
}

func (p *rowParts) refresh() {
	l := p.v.list
	chosen := !p.v.header && p.v.index == l.chosen
	ground := ColorChosen
	if !chosen {
		ground = theme.ColorNameHover
	}
	setBox(p.ground, ground, "", 0, 0)
	p.ground.Hidden = !chosen && (!p.v.hovered || p.v.header)
	setBox(p.bar, ColorAction, "", 0, 0)
	p.bar.Hidden = !chosen
	setBox(p.box, "", ColorAction, 2, 4)
	p.box.Hidden = !chosen || !l.focused
	setBox(p.line, ColorLine, "", 0, 0)
	p.line.Hidden = p.v.header || p.v.index == l.count-1
}

func (p *rowParts) layout(size fyne.Size) {
	place(p.ground, 0, 0, size.Width, size.Height)
	place(p.bar, 0, 0, Px(4), size.Height)
	edge := Px(1.5) // the ring lies within the row: what sticks out of a scroller is not drawn
	place(p.box, edge, edge, size.Width-2*edge, size.Height-1-2*edge)
	place(p.line, 0, size.Height-1, size.Width, 1)
	edges := columnEdges(p.v.list.columns, size.Width)
	for i, c := range p.cells {
		var cell table.Cell
		if i < len(p.v.row.Cells) {
			cell = p.v.row.Cells[i]
		}
		area := cellArea{x: edges[i][0], w: edges[i][1], h: size.Height, kind: p.v.list.columns[i].Kind, dim: p.v.row.Dim}
		if p.v.header {
			c.title(cell, area)
			continue
		}
		c.fill(cell, area)
	}
}

// columnEdges is where each column starts and how wide it is. Columns without a
// width share what is left; when too little is left for a name, the others are
// narrowed alike.
func columnEdges(columns []table.Column, width float32) [][2]float32 {
	pad, gap := Px(14), Px(14)
	room := width - 2*pad - gap*float32(max(0, len(columns)-1))
	var fixed, shares float32
	for _, c := range columns {
		fixed += Px(c.Width)
		if c.Width == 0 {
			shares++
		}
	}
	share, squeeze := float32(0), float32(1)
	if least := shares * min(max(Px(110), room/3), Px(150)); fixed > 0 && fixed+least > room {
		squeeze = max(0.2, (room-least)/fixed)
	}
	if shares > 0 {
		share = max(0, room-fixed*squeeze) / shares
	}
	edges := make([][2]float32, len(columns))
	x := pad
	for i, c := range columns {
		w := share
		if c.Width > 0 {
			w = Px(c.Width) * squeeze
		}
		edges[i] = [2]float32{x, w}
		x += w + gap
	}
	return edges
}
