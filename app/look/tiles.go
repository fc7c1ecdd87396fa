package look

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"stowright/app/drawing"
	"stowright/app/notice"
)

// Tiles are sub-assemblies side by side in their order, each with one square a
// requirement and how it stands in a word with its shape. As many stand in a line as
// there is room for. Fyne has nothing like it.
type Tiles struct {
	widget.BaseWidget
	// OnTapped is called with the tile that was tapped, by index.
	OnTapped func(index int)

	tiles []drawing.Tile
	views []*tileView
	grid  tileGrid
}

// Measures of a tile, points at normal size.
const (
	tileWidth    = 186 // at least
	tileHeight   = 116
	tilesGap     = 10
	tilePad      = 12
	squareSize   = 15
	squareGap    = 3
	squareLines  = 2 // where one line does not do
	smallSquares = 11
)

// NewTiles is no tile yet.
func NewTiles() *Tiles {
	t := &Tiles{}
	t.grid = tileGrid{least: tileWidth, gap: tilesGap, chosen: -1, high: func(float32) float32 { return Px(tileHeight) }}
	t.ExtendBaseWidget(t)
	return t
}

// SetTiles shows those tiles, of which the one with that index is chosen, -1 for none.
func (t *Tiles) SetTiles(tiles []drawing.Tile, chosen int) {
	t.tiles, t.grid.chosen, t.grid.shown = tiles, chosen, nil
	for i := range tiles {
		if i == len(t.views) {
			t.views = append(t.views, newTileView(t, i))
		}
		t.grid.shown = append(t.grid.shown, t.views[i])
	}
	t.Refresh()
}

// Columns is how many stand in a line.
func (t *Tiles) Columns() int { return t.grid.columns(t.Size().Width) }

// HeightFor is the height at which every tile is in sight.
func (t *Tiles) HeightFor(width float32) float32 { return t.grid.heightFor(width) }

// ChosenAt is where the chosen tile stands from the top, and how high it is.
func (t *Tiles) ChosenAt() (top, height float32) { return t.grid.chosenAt(t.Size().Width) }

// CreateRenderer draws the tiles.
func (t *Tiles) CreateRenderer() fyne.WidgetRenderer { return t.grid.renderer(t) }

// tileView is one tile among others.
type tileView struct {
	widget.BaseWidget
	all   *Tiles
	index int
}

var (
	_ fyne.Tappable      = (*tileView)(nil)
	_ desktop.Cursorable = (*tileView)(nil)
)

func newTileView(all *Tiles, index int) *tileView {
	v := &tileView{all: all, index: index}
	v.ExtendBaseWidget(v)
	return v
}

// Tapped tells which one it is.
func (v *tileView) Tapped(*fyne.PointEvent) {
	if v.all.OnTapped != nil {
		asked(v, func() { v.all.OnTapped(v.index) })
	}
}

// Cursor is a hand.
func (v *tileView) Cursor() desktop.Cursor { return desktop.PointerCursor }

func (v *tileView) tile() drawing.Tile {
	if v.index < len(v.all.tiles) {
		return v.all.tiles[v.index]
	}
	return drawing.Tile{}
}

func (v *tileView) chosen() bool { return v.index == v.all.grid.chosen }

// CreateRenderer draws the tile.
func (v *tileView) CreateRenderer() fyne.WidgetRenderer {
	p := &tileParts{v: v, box: newBox(), code: newText(), corner: newText(), name: newText(), word: newText(), rest: newText(), cap: newKeycap()}
	p.edge = newDrawing(p.drawEdge)
	p.squares = newDrawing(p.drawSquares)
	p.shape = newToneShape(func() notice.Tone { return v.tile().Mark.Tone })
	r := &drawn{objects: []fyne.CanvasObject{p.box, p.edge, p.code, p.corner, p.name, p.squares, p.rest, p.shape, p.word, p.cap.box, p.cap.text}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(tileWidth), Px(tileHeight)) }
	r.layout, r.refresh = p.layout, p.refresh
	return r.ready(v)
}

// tileParts are the drawn parts of a tile.
type tileParts struct {
	v                              *tileView
	box                            *canvas.Rectangle
	edge, squares, shape           *canvas.Raster
	code, corner, name, word, rest *canvas.Text
	cap                            keycap // of the place for the next one
}

// drawEdge is the dashed edge of the place for the next one.
func (p *tileParts) drawEdge(pen *pen) {
	w, h := float64(pen.size.Width), float64(pen.size.Height)
	pen.dashed(roundedBox(0.75, 0.75, w-1.5, h-1.5, radius), 1.2, 5, 4, named(ColorQuiet))
}

// fits is how many squares there is room for, and how large each is.
func (p *tileParts) fits(n int) (shown int, side, gap float32) {
	width := p.v.Size().Width - 2*Px(tilePad)
	side, gap = Px(squareSize), Px(squareGap)
	if int((width+gap)/(side+gap)) >= n {
		return n, side, gap
	}
	side, gap = Px(smallSquares), Px(squareGap-1)
	room := squareLines * int((width+gap)/(side+gap))
	if n <= room {
		return n, side, gap
	}
	return max(0, room-3), side, gap // the rest stands there as a number
}

func (p *tileParts) drawSquares(pen *pen) {
	squares := p.v.tile().Squares
	n, side, gap := p.fits(len(squares))
	perLine := max(1, int((pen.size.Width+gap)/(side+gap)))
	for i := range n {
		x, y := float64(i%perLine)*float64(side+gap), float64(i/perLine)*float64(side+gap)
		pen.square(squares[i], x, y, float64(side))
	}
}

// square draws what one requirement is like.
func (p *pen) square(s drawing.Square, x, y, side float64) {
	in := side * 0.07
	box := roundedBox(x+in, y+in, side-2*in, side-2*in, side*0.12)
	width := side * 0.13
	switch s {
	case drawing.InHand:
		p.fill(box, named(ColorAction))
	case drawing.Estimated:
		p.fill([]xy{{x + in, y + in}, {x + side - in, y + in}, {x + in, y + side - in}}, named(ColorLit))
		p.stroke([]xy{{x + side - 2*in, y + 2*in}, {x + 2*in, y + side - 2*in}}, false, width*0.7, named(ColorWarn))
		p.stroke(box, true, width, named(ColorWarn))
	case drawing.Missing:
		p.stroke(box, true, width, named(ColorStop))
	default:
		p.dashed(box, width, side*0.22, side*0.2, named(ColorInk))
	}
}

func (p *tileParts) layout(size fyne.Size) {
	pad, inner := Px(tilePad), size.Width-2*Px(tilePad)
	place(p.box, 0, 0, size.Width, size.Height)
	place(p.edge, 0, 0, size.Width, size.Height)
	t := p.v.tile()
	p.words()
	if t.New {
		placeText(p.name, (size.Width-p.name.MinSize().Width)/2, size.Height/2-Px(26), Px(24))
		p.cap.place((size.Width-p.cap.size(t.Corner).Width)/2, size.Height/2+Px(4))
		return
	}
	placeText(p.corner, size.Width-pad-p.corner.MinSize().Width, Px(9), Px(24))
	elide(p.code, inner-p.corner.MinSize().Width-Px(6))
	placeText(p.code, pad, Px(8), Px(26))
	elide(p.name, inner)
	placeText(p.name, pad, Px(35), Px(24))
	place(p.squares, pad, Px(63), inner, Px(squareSize*2-3))
	p.layoutRest(pad, inner)
	sign := Px(14)
	place(p.shape, pad, Px(96)-sign/2, sign, sign)
	elide(p.word, inner-sign-Px(6))
	placeText(p.word, pad+sign+Px(6), Px(84), Px(24))
}

// layoutRest puts how many squares are not drawn behind the last one.
func (p *tileParts) layoutRest(pad, inner float32) {
	all := len(p.v.tile().Squares)
	n, side, gap := p.fits(all)
	p.rest.Text = ""
	if n < all {
		roleTiny().set(p.rest, fmt.Sprintf("+%d", all-n), ColorQuiet)
	}
	perLine := max(1, int((inner+gap)/(side+gap)))
	placeText(p.rest, pad+float32(n%perLine)*(side+gap), Px(63)+float32(n/perLine)*(side+gap), side)
}

func (p *tileParts) words() {
	t := p.v.tile()
	ink, _ := toneColors(t.Mark.Tone)
	roleName().at(18).set(p.code, t.Code, ColorInk)
	roleFoot().set(p.corner, t.Corner, ColorQuiet)
	roleBody().set(p.name, t.Name, ColorInk)
	roleBold().set(p.word, t.Mark.Word, ink)
	if t.New {
		roleBody().set(p.name, t.Name, ColorQuiet)
		p.corner.Text = ""
	}
}

func (p *tileParts) refresh() {
	t := p.v.tile()
	fill, edge, width := ColorPanel, fyne.ThemeColorName(ColorLine), float32(1)
	switch {
	case t.New:
		fill, edge = "", ""
	case p.v.chosen():
		fill, edge, width = ColorChosen, ColorAction, 3
	case t.Taken:
		edge, width = ColorAction, 1.5
	}
	setBox(p.box, fill, edge, width, radius)
	p.edge.Hidden = !t.New
	p.cap.set("", ColorInk)
	if t.New {
		p.cap.set(t.Corner, ColorInk)
	}
	p.shape.Hidden, p.squares.Hidden = t.New || t.Mark.Word == "", t.New
	p.words()
	for _, o := range []*canvas.Raster{p.edge, p.squares, p.shape} {
		o.Refresh()
	}
}
