package look

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Photo shows a picture whole, as large as its room allows. It is a canvas.Image
// with a limit: a bare one asks for no height of its own in a column.
type Photo struct {
	widget.BaseWidget
	picture image.Image // nil for none
}

// mostPhoto is how high a picture is at most, points at normal size.
const mostPhoto = 440

// NewPhoto shows no picture yet.
func NewPhoto() *Photo {
	p := &Photo{}
	p.ExtendBaseWidget(p)
	return p
}

// SetPicture shows another picture.
func (p *Photo) SetPicture(picture image.Image) {
	p.picture = picture
	p.Refresh()
}

func (p *Photo) stretches() {}

// HeightFor is the height at which the picture has that width, within bounds.
func (p *Photo) HeightFor(width float32) float32 {
	if p.picture == nil || p.picture.Bounds().Dx() == 0 {
		return 0
	}
	size := p.picture.Bounds().Size()
	return min(width*float32(size.Y)/float32(size.X), Px(mostPhoto))
}

// CreateRenderer draws the picture.
func (p *Photo) CreateRenderer() fyne.WidgetRenderer {
	img := canvas.NewImageFromImage(image.NewRGBA(image.Rect(0, 0, 1, 1)))
	img.FillMode = canvas.ImageFillContain
	r := &drawn{objects: []fyne.CanvasObject{img}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(200), Px(160)) }
	r.layout = func(size fyne.Size) { place(img, 0, 0, size.Width, size.Height) }
	r.refresh = func() {
		if p.picture != nil {
			img.Image = p.picture
		}
		img.Refresh()
	}
	return r.ready(p)
}

// atMostLayout keeps its one object from growing beyond a height.
type atMostLayout struct{ most float32 }

// AtMost gives an object the height that it wants, up to that many points at normal
// size: a list that scrolls beside something more important.
func AtMost(most float32, o fyne.CanvasObject) *fyne.Container {
	return container.New(&atMostLayout{most}, o)
}

func (l *atMostLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	return min(heightFor(objects[0], width), max(Px(l.most), objects[0].MinSize().Height))
}

func (l *atMostLayout) MinSize(objects []fyne.CanvasObject) fyne.Size { return objects[0].MinSize() }

func (l *atMostLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	place(objects[0], 0, 0, size.Width, size.Height)
}
