package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// besideLayout sets two objects side by side at full height.
type besideLayout struct{ width float32 }

// Beside sets two objects side by side at full height, the left one that wide
// (points at normal size), the right one with what is left.
func Beside(width float32, left, right fyne.CanvasObject) *fyne.Container {
	return container.New(&besideLayout{width}, left, right)
}

const besideGap = 16

func (l *besideLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	height := max(objects[0].MinSize().Height, objects[1].MinSize().Height)
	return fyne.NewSize(Px(l.width+besideGap)+objects[1].MinSize().Width, height)
}

func (l *besideLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	left := min(Px(l.width), size.Width/2)
	place(objects[0], 0, 0, left, min(heightFor(objects[0], left), size.Height))
	place(objects[1], left+Px(besideGap), 0, size.Width-left-Px(besideGap), size.Height)
}

// illustratedLayout sets a picture at the right of what it belongs to.
type illustratedLayout struct{ last float32 }

// pictureWidth is how wide the picture is at the most, in points at normal size.
const pictureWidth = 280

// Illustrated sets words with what answers them at the left and their picture at the right.
// Neither is cut.
func Illustrated(words, picture fyne.CanvasObject) *fyne.Container {
	return container.New(&illustratedLayout{}, words, picture)
}

func (l *illustratedLayout) widths(width float32) (words, picture float32) {
	picture = min(Px(pictureWidth), width*0.42)
	return width - picture - Px(besideGap), picture
}

func (l *illustratedLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	words, picture := l.widths(width)
	return max(heightFor(objects[0], words), heightFor(objects[1], picture))
}

func (l *illustratedLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	least := Px(300)
	return fyne.NewSize(least, l.heightFor(objects, max(l.last, least)))
}

func (l *illustratedLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	l.last = size.Width
	words, picture := l.widths(size.Width)
	place(objects[0], 0, 0, words, size.Height)
	place(objects[1], words+Px(besideGap), 0, picture, min(heightFor(objects[1], picture), size.Height))
}
