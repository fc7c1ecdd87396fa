package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
)

// sized gives an object a size and returns what it draws, in order.
func sized(w fyne.Widget, width, height float32) []fyne.CanvasObject {
	w.Resize(fyne.NewSize(width, height))
	return test.WidgetRenderer(w).Objects()
}

// written is the text that says that, nil where none does.
func written(o fyne.CanvasObject, says string) *canvas.Text {
	for _, t := range inked(o) {
		if t.Text == says {
			return t
		}
	}
	return nil
}
