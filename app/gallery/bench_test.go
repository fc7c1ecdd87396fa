package gallery

import (
	"testing"

	"fyne.io/fyne/v2/test"
)

// BenchmarkFrame is what Fyne asks of every object before each frame it paints:
// its least size. A blinking cursor asks 60 times a second.
func BenchmarkFrame(b *testing.B) {
	for _, s := range Sketches() {
		b.Run(s.Name, func(b *testing.B) {
			c := canvas(s, Modes()[0])
			objects := shown(c.Content(), test.WidgetRenderer)
			for b.Loop() {
				for _, o := range objects {
					o.MinSize()
				}
			}
		})
	}
}
