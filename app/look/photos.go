package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"stowright/app/card"
)

// PhotoTiles are photographs small, side by side, each with its name, when it was
// taken and what is on it. As many stand in a line as there is room for. A
// container.GridWrap has tiles of one fixed size, which do not fill the line.
type PhotoTiles struct {
	widget.BaseWidget
	// OnTapped is called with the photograph that was tapped, by index.
	OnTapped func(index int)

	least  float32 // width of a tile, points at normal size
	photos []card.Photo
	chosen int
	tiles  []*photoTile
	draw   *drawn
}

// Measures of a tile, points at normal size.
const (
	tileGap   = 12
	tileWords = 48 // two lines of foot text, with space around
)

// NewPhotoTiles is no photograph yet; a tile has at least that width.
func NewPhotoTiles(least float32) *PhotoTiles {
	t := &PhotoTiles{least: least, chosen: -1}
	t.ExtendBaseWidget(t)
	return t
}

// SetPhotos shows those photographs, of which the one with that index is chosen, -1
// for none.
func (t *PhotoTiles) SetPhotos(photos []card.Photo, chosen int) {
	t.photos, t.chosen = photos, chosen
	for len(t.tiles) < len(photos) {
		t.tiles = append(t.tiles, newPhotoTile(t, len(t.tiles)))
	}
	t.Refresh()
}

// Columns is how many stand in a line.
func (t *PhotoTiles) Columns() int { return t.columns(t.Size().Width) }

func (t *PhotoTiles) columns(width float32) int {
	return max(1, int((width+Px(tileGap))/(Px(t.least)+Px(tileGap))))
}

// tileSize is the size of each tile where the whole has that width.
func (t *PhotoTiles) tileSize(width float32) fyne.Size {
	n := float32(t.columns(width))
	w := (width - (n-1)*Px(tileGap)) / n
	return fyne.NewSize(w, w*3/4+Px(tileWords))
}

// HeightFor is the height at which every photograph is in sight.
func (t *PhotoTiles) HeightFor(width float32) float32 {
	if len(t.photos) == 0 {
		return 0
	}
	lines := float32((len(t.photos) + t.columns(width) - 1) / t.columns(width))
	return lines*(t.tileSize(width).Height+Px(tileGap)) - Px(tileGap)
}

// ChosenAt is where the chosen photograph stands from the top, and how high it is.
func (t *PhotoTiles) ChosenAt() (top, height float32) {
	width := t.Size().Width
	height = t.tileSize(width).Height
	return float32(max(0, t.chosen)/t.columns(width)) * (height + Px(tileGap)), height
}

// CreateRenderer draws the tiles.
func (t *PhotoTiles) CreateRenderer() fyne.WidgetRenderer {
	t.draw = &drawn{}
	t.draw.min = func() fyne.Size { return fyne.NewSize(Px(t.least), t.HeightFor(max(t.Size().Width, Px(t.least)))) }
	t.draw.layout = func(size fyne.Size) {
		tile, n := t.tileSize(size.Width), t.columns(size.Width)
		for i := range t.photos {
			place(t.tiles[i], float32(i%n)*(tile.Width+Px(tileGap)), float32(i/n)*(tile.Height+Px(tileGap)), tile.Width, tile.Height)
		}
	}
	t.draw.refresh = func() {
		t.draw.objects = t.draw.objects[:0]
		for i := range t.photos {
			t.draw.objects = append(t.draw.objects, t.tiles[i])
			t.tiles[i].Refresh()
		}
	}
	return t.draw.ready(t)
}

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
		ring.Hidden = t.index != t.all.chosen
		if p := t.photo().Picture; picture.Image != p {
			picture.Image = p
			picture.Refresh()
		}
		words()
	}
	return r.ready(t)
}
