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
