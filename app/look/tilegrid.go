package look

import "fyne.io/fyne/v2"

// tileGrid lays out tiles of one size side by side, as many in a line as there is room
// for, so that they fill it. A container.GridWrap has tiles of one fixed size, which do not.
type tileGrid struct {
	least, gap float32                     // width of a tile at least, space between two: points at normal size
	high       func(width float32) float32 // of a tile of that width, scaled as that is

	shown  []fyne.CanvasObject // in order
	chosen int                 // index; -1 for none
}

func (g *tileGrid) columns(width float32) int {
	return max(1, int((width+Px(g.gap))/(Px(g.least)+Px(g.gap))))
}

// size is that of each tile where the whole has that width.
func (g *tileGrid) size(width float32) fyne.Size {
	n := float32(g.columns(width))
	w := (width - (n-1)*Px(g.gap)) / n
	return fyne.NewSize(w, g.high(w))
}

// heightFor is the height at which every tile is in sight.
func (g *tileGrid) heightFor(width float32) float32 {
	if len(g.shown) == 0 {
		return 0
	}
	n := g.columns(width)
	lines := float32((len(g.shown) + n - 1) / n)
	return lines*(g.size(width).Height+Px(g.gap)) - Px(g.gap)
}

// chosenAt is where the chosen tile stands from the top, and how high it is.
func (g *tileGrid) chosenAt(width float32) (top, height float32) {
	height = g.size(width).Height
	return float32(max(0, g.chosen)/g.columns(width)) * (height + Px(g.gap)), height
}

// renderer draws the tiles of a widget.
func (g *tileGrid) renderer(of fyne.Widget) fyne.WidgetRenderer {
	d := &drawn{}
	d.min = func() fyne.Size {
		return fyne.NewSize(Px(g.least), g.heightFor(max(of.Size().Width, Px(g.least))))
	}
	d.layout = func(size fyne.Size) {
		tile, n := g.size(size.Width), g.columns(size.Width)
		for i, o := range g.shown {
			place(o, float32(i%n)*(tile.Width+Px(g.gap)), float32(i/n)*(tile.Height+Px(g.gap)), tile.Width, tile.Height)
		}
	}
	d.refresh = func() {
		d.objects = append(d.objects[:0], g.shown...)
		for _, o := range g.shown {
			o.Refresh()
		}
	}
	return d.ready(of)
}
