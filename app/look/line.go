package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
)

// Gap in a Line pushes what follows to the right edge.
func Gap() fyne.CanvasObject { return layout.NewSpacer() }

// lineLayout sets objects side by side, centred on one line, and goes on to a
// next line when they do not fit.
type lineLayout struct {
	gap    float32
	spread bool // every object takes its part of what is left
}

// Spread sets buttons side by side over the whole width, and wraps when they do
// not fit.
func Spread(buttons ...*KeyButton) *fyne.Container {
	c := container.New(&lineLayout{gap: 8, spread: true})
	for _, b := range buttons {
		c.Add(b)
	}
	return c
}

// Line sets objects side by side with 8 points between them. Text in it takes the
// width it wants and wraps when there is less; a field or a Gap takes what is
// left. What does not fit goes on to a next line.
func Line(objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&lineLayout{gap: 8}, objects...)
}

// grower is a widget that makes use of any width: a field.
type grower interface{ grows() }

func (e *Entry) grows()    {}
func (f *Field) grows()    {}
func (p *PathPick) grows() {}

// wide is anything that knows the width it wants besides its least one.
type wide interface{ wide() float32 }

// wideLayout is a layout that can say the same of its container.
type wideLayout interface {
	wideFor(objects []fyne.CanvasObject) float32
}

// wants is the width an object wants, and whether it can do with less.
func wants(o fyne.CanvasObject) (width float32, soft bool) {
	if w, ok := o.(wide); ok {
		return w.wide(), true
	}
	if c, ok := o.(*fyne.Container); ok {
		if l, ok := c.Layout.(wideLayout); ok {
			return l.wideFor(c.Objects), true
		}
	}
	return o.MinSize().Width, false
}

// WidthOf is the width that an object wants on one line, for layouts of a screen's own.
func WidthOf(o fyne.CanvasObject) float32 {
	width, _ := wants(o)
	return width
}

// greedy reports whether an object takes the width that is left.
func (l *lineLayout) greedy(o fyne.CanvasObject) bool {
	if l.spread {
		return true
	}
	if _, ok := o.(grower); ok {
		return true
	}
	_, ok := o.(layout.SpacerObject)
	return ok
}

func (p *Paragraph) wide() float32 {
	w := p.role.width(p.text) + 2
	if p.lead != "" {
		w += p.bold.width(p.lead) + p.role.width(" ")
	}
	return w
}

func (l *rowsLayout) wideFor(objects []fyne.CanvasObject) float32 {
	var w float32
	for _, o := range objects {
		if o.Visible() {
			want, _ := wants(o)
			w = max(w, want)
		}
	}
	return w
}

func (l *insetLayout) wideFor(objects []fyne.CanvasObject) float32 {
	want, _ := wants(objects[0])
	return want + 2*Px(l.x)
}

// wideFor is the width of everything on one line.
func (l *lineLayout) wideFor(objects []fyne.CanvasObject) float32 {
	var w float32
	for _, o := range objects {
		if o.Visible() {
			want, _ := wants(o)
			w += want + Px(l.gap)
		}
	}
	return max(0, w-Px(l.gap))
}

// leastText is how narrow text in a line becomes before it goes on to a next line.
const leastText = 200

// least is the width below which an object goes on to a next line.
func least(o fyne.CanvasObject) float32 {
	want, soft := wants(o)
	if soft {
		return min(want, max(Px(leastText), o.MinSize().Width))
	}
	return want
}

// split divides the visible objects into lines of that width.
func (l *lineLayout) split(objects []fyne.CanvasObject, width float32) [][]fyne.CanvasObject {
	var rows [][]fyne.CanvasObject
	var row []fyne.CanvasObject
	var used float32
	for _, o := range objects {
		if !o.Visible() {
			continue
		}
		w := least(o)
		if len(row) > 0 && used+Px(l.gap)+w > width+0.5 {
			rows, row, used = append(rows, row), nil, 0
		}
		if len(row) > 0 {
			used += Px(l.gap)
		}
		row, used = append(row, o), used+w
	}
	if len(row) > 0 {
		rows = append(rows, row)
	}
	return rows
}

// widths shares a width out among the objects of one line: first their least
// widths, then what texts want, then the rest to whatever is greedy.
func (l *lineLayout) widths(row []fyne.CanvasObject, width float32) []float32 {
	out := make([]float32, len(row))
	left := width - Px(l.gap)*float32(len(row)-1)
	takers := 0
	for i, o := range row {
		out[i] = least(o)
		left -= out[i]
		if l.greedy(o) {
			takers++
		}
	}
	for i, o := range row {
		want, _ := wants(o)
		more := max(0, min(left, want-out[i]))
		out[i] += more
		left -= more
	}
	for i, o := range row {
		if l.greedy(o) && left > 0 {
			out[i] += left / float32(takers)
		}
		out[i] = min(out[i], max(width, 1))
	}
	return out
}

func (l *lineLayout) rowHeight(row []fyne.CanvasObject, widths []float32) float32 {
	var h float32
	for i, o := range row {
		h = max(h, heightFor(o, widths[i]))
	}
	return h
}

func (l *lineLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	var h float32
	for i, row := range l.split(objects, width) {
		if i > 0 {
			h += Px(l.gap)
		}
		h += l.rowHeight(row, l.widths(row, width))
	}
	return h
}

func (l *lineLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(leastWidth(objects), l.heightFor(objects, max(l.wideFor(objects), 1)))
}

func (l *lineLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	var y float32
	for _, row := range l.split(objects, size.Width) {
		widths := l.widths(row, size.Width)
		h := l.rowHeight(row, widths)
		var x float32
		for i, o := range row {
			oh := min(h, heightFor(o, widths[i]))
			place(o, x, y+(h-oh)/2, widths[i], oh)
			x += widths[i] + Px(l.gap)
		}
		y += h + Px(l.gap)
	}
}

// columnsLayout sets objects side by side in columns of one width and full height.
type columnsLayout struct{ gap float32 }

// Columns sets objects side by side in columns of one width and of all the height
// there is.
func Columns(gap float32, objects ...fyne.CanvasObject) *fyne.Container {
	return container.New(&columnsLayout{gap}, objects...)
}

// width is the width of one column.
func (l *columnsLayout) width(objects []fyne.CanvasObject, whole float32) float32 {
	n := float32(max(1, len(objects)))
	return (whole - (n-1)*Px(l.gap)) / n
}

func (l *columnsLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	var h float32
	for _, o := range objects {
		h = max(h, heightFor(o, l.width(objects, width)))
	}
	return h
}

func (l *columnsLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	n, h := float32(len(objects)), float32(0)
	for _, o := range objects {
		h = max(h, o.MinSize().Height)
	}
	return fyne.NewSize(leastWidth(objects)*n+Px(l.gap)*max(0, n-1), h)
}

func (l *columnsLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	w := l.width(objects, size.Width)
	for i, o := range objects {
		place(o, float32(i)*(w+Px(l.gap)), 0, w, size.Height)
	}
}
