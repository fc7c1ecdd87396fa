package gallery

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// BenchmarkFrame is what Fyne asks of every object before each frame it paints:
// its least size. A blinking cursor asks 60 times a second.
func BenchmarkFrame(b *testing.B) {
	test.NewTempApp(b)
	for _, s := range Sketches() {
		b.Run(s.Name, func(b *testing.B) {
			c := canvas(s, Modes()[0])
			var objects []fyne.CanvasObject
			collect(c.Content(), &objects)
			for b.Loop() {
				for _, o := range objects {
					o.MinSize()
				}
			}
		})
	}
}

func collect(o fyne.CanvasObject, into *[]fyne.CanvasObject) {
	if !o.Visible() {
		return
	}
	*into = append(*into, o)
	switch c := o.(type) {
	case *fyne.Container:
		for _, child := range c.Objects {
			collect(child, into)
		}
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(c).Objects() {
			collect(child, into)
		}
	}
}
