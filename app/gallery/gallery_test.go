package gallery

import (
	"os"
	"testing"

	"fyne.io/fyne/v2/test"
)

// Every state is laid out in every mode and no text may be cut off. With
// STOWRIGHT_PICTURES set to a folder the pictures are written there.
func TestNothingIsClipped(t *testing.T) {
	test.NewTempApp(t)
	states := append(Sketches(), Widgets()...)
	for _, s := range states {
		for _, m := range Modes() {
			t.Run(s.Name+"/"+m.Name, func(t *testing.T) {
				for _, text := range Clipped(s, m, test.WidgetRenderer) {
					t.Error(text)
				}
			})
		}
	}
	if dir := os.Getenv("STOWRIGHT_PICTURES"); dir != "" {
		if _, err := Write(dir, states); err != nil {
			t.Fatal(err)
		}
	}
}
