package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"stowright/app/card"
)

// PhotoTiles are photographs small, side by side, each with its name, when it was
// taken and what is on it.
type PhotoTiles struct {
	widget.BaseWidget
	// OnTapped is called with the photograph that was tapped, by index.
	OnTapped func(index int)

	photos []card.Photo
	tiles  []*photoTile
	grid   tileGrid
}

// Measures of a tile, points at normal size.
const (
	tileGap   = 12
	tileWords = 48 // two lines of foot text, with space around
)

// NewPhotoTiles is no photograph yet; a tile has at least that width, points at normal size.
func NewPhotoTiles(least float32) *PhotoTiles {
	t := &PhotoTiles{}
	t.grid = tileGrid{least: least, gap: tileGap, chosen: -1, high: func(width float32) float32 { return width*3/4 + Px(tileWords) }}
	t.ExtendBaseWidget(t)
	return t
}

// SetPhotos shows those photographs, of which the one with that index is chosen, -1
// for none.
func (t *PhotoTiles) SetPhotos(photos []card.Photo, chosen int) {
	t.photos, t.grid.chosen, t.grid.shown = photos, chosen, nil
	for i := range photos {
		if i == len(t.tiles) {
			t.tiles = append(t.tiles, newPhotoTile(t, i))
		}
		t.grid.shown = append(t.grid.shown, t.tiles[i])
	}
	t.Refresh()
}

// Columns is how many stand in a line.
func (t *PhotoTiles) Columns() int { return t.grid.columns(t.Size().Width) }

// HeightFor is the height at which every photograph is in sight.
func (t *PhotoTiles) HeightFor(width float32) float32 { return t.grid.heightFor(width) }

// ChosenAt is where the chosen photograph stands from the top, and how high it is.
func (t *PhotoTiles) ChosenAt() (top, height float32) { return t.grid.chosenAt(t.Size().Width) }

// CreateRenderer draws the tiles.
func (t *PhotoTiles) CreateRenderer() fyne.WidgetRenderer { return t.grid.renderer(t) }

// photoTile is one photograph among others.
type photoTile struct {
	widget.BaseWidget
	all   *PhotoTiles
	index int
}

var _ fyne.Tappable = (*photoTile)(nil)

func newPhotoTile(all *PhotoTiles, index int) *photoTile {
	t := &photoTile{all: all, index: index}
	t.ExtendBaseWidget(t)
	return t
}

// Tapped tells which one it is.
func (t *photoTile) Tapped(*fyne.PointEvent) {
	if t.all.OnTapped != nil {
		t.all.OnTapped(t.index)
	}
}

// Cursor is a hand where a tap does something.
func (t *photoTile) Cursor() desktop.Cursor {
	if t.all.OnTapped == nil {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

func (t *photoTile) photo() card.Photo {
	if t.index < len(t.all.photos) {
		return t.all.photos[t.index]
	}
	return card.Photo{}
}

// CreateRenderer draws the picture with its words under it.
func (t *photoTile) CreateRenderer() fyne.WidgetRenderer {
	box, ring := newBox(), newBox()
	picture := &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleSmooth}
	name, when, caption := newText(), newText(), newText()
	r := &drawn{objects: []fyne.CanvasObject{box, picture, name, when, caption, ring}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(60), Px(45+tileWords)) }
	words := func() {
		p := t.photo()
		roleMono().set(name, p.Name, ColorInk)
		roleFoot().set(when, p.When, ColorQuiet)
		roleFoot().set(caption, p.Caption, ColorInk)
	}
	r.layout = func(size fyne.Size) {
		words()
		pad, high := Px(6), size.Height-Px(tileWords)
		place(box, 0, 0, size.Width, size.Height)
		place(ring, 0, 0, size.Width, size.Height)
		place(picture, pad, pad, size.Width-2*pad, high-pad)
		line := roleFoot().height()
		placeText(name, pad, high+Px(4), line)
		x := pad + name.MinSize().Width + Px(8)
		elide(when, size.Width-pad-x)
		placeText(when, x, high+Px(4), line)
		elide(caption, size.Width-2*pad)
		placeText(caption, pad, high+Px(4)+line, line)
	}
	r.refresh = func() {
		setBox(box, ColorPanel, ColorLine, 1, radiusSmall)
		setBox(ring, "", ColorAction, 2.5, radiusSmall)
		ring.Hidden = t.index != t.all.grid.chosen
		if p := t.photo().Picture; picture.Image != p {
			picture.Image = p
			picture.Refresh()
		}
		words()
	}
	return r.ready(t)
}
