package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// headLayout sets the title of a page and its buttons: on one line where both
// have room, the buttons below the title where they have not.
type headLayout struct{}

// headGap is between title and buttons, points at normal size.
const headGap = 12

// Head is the top of a page: its title with the line under it at the left, its
// buttons at the right of the same line, or below where they do not fit there.
// The buttons may be any object that knows its width, such as a Line.
func Head(title, buttons fyne.CanvasObject) *fyne.Container {
	return container.New(&headLayout{}, title, buttons)
}

// beside reports whether both fit on one line, and the width of the buttons.
func (l *headLayout) beside(objects []fyne.CanvasObject, width float32) (buttons float32, ok bool) {
	title, _ := wants(objects[0])
	buttons, _ = wants(objects[1])
	return buttons, title+Px(headGap)+buttons <= width+0.5
}

func (l *headLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	if !objects[1].Visible() {
		return heightFor(objects[0], width)
	}
	if buttons, ok := l.beside(objects, width); ok {
		return max(heightFor(objects[0], width-buttons-Px(headGap)), heightFor(objects[1], buttons))
	}
	return heightFor(objects[0], width) + Px(8) + heightFor(objects[1], width)
}

func (l *headLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	width := max(objects[0].MinSize().Width, objects[1].MinSize().Width)
	return fyne.NewSize(width, l.heightFor(objects, max(width, Px(leastText))))
}

func (l *headLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	title := objects[0]
	if !objects[1].Visible() {
		place(title, 0, 0, size.Width, heightFor(title, size.Width))
		return
	}
	if buttons, ok := l.beside(objects, size.Width); ok {
		left := size.Width - buttons - Px(headGap)
		place(title, 0, 0, left, heightFor(title, left))
		place(objects[1], size.Width-buttons, 0, buttons, heightFor(objects[1], buttons))
		return
	}
	h := heightFor(title, size.Width)
	place(title, 0, 0, size.Width, h)
	place(objects[1], 0, h+Px(8), size.Width, heightFor(objects[1], size.Width))
}

// eitherLayout shows the first of two objects where it fits on one line, else the second.
type eitherLayout struct{}

// Either is the first object where there is room for it on one line, and else the second: a
// button that leads to what the first one shows.
func Either(wide, instead fyne.CanvasObject) *fyne.Container {
	return container.New(&eitherLayout{}, wide, instead)
}

// shown is what fits in a width, and what does not.
func (l *eitherLayout) shown(objects []fyne.CanvasObject, width float32) (fits, other fyne.CanvasObject) {
	if want, _ := wants(objects[0]); want <= width+0.5 {
		return objects[0], objects[1]
	}
	return objects[1], objects[0]
}

func (l *eitherLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	fits, _ := l.shown(objects, width)
	return heightFor(fits, width)
}

// MinSize is that of the second, which is the narrower one.
func (l *eitherLayout) MinSize(objects []fyne.CanvasObject) fyne.Size { return objects[1].MinSize() }

// Layout shows one of the two at the left.
func (l *eitherLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	fits, other := l.shown(objects, size.Width)
	other.Hide()
	fits.Show()
	want, _ := wants(fits)
	place(fits, 0, 0, min(want, size.Width), heightFor(fits, size.Width))
}
