package look

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// One answer of a row is chosen, and says so with a tick and the ring of the keyboard.
func TestChoiceStates(t *testing.T) {
	start(t, Theme{})
	ch := NewChoices(-1, "one", "two")
	c := window(t, ch, 300, 40)
	shows := func() (out []bool) {
		for _, o := range ch.row.Objects {
			parts := test.WidgetRenderer(o.(*choice)).Objects()
			out = append(out, parts[1].Visible(), parts[3].Visible()) // tick and ring
		}
		return out
	}
	told := 0
	ch.OnChosen = func(int) { told++ }
	for _, step := range []struct {
		name string
		do   func()
		want []bool
		told int
	}{
		{"none", func() {}, []bool{false, false, false, false}, 0},
		{"marked", func() { ch.Mark(1) }, []bool{false, false, true, false}, 0},
		{"the same again", func() { ch.Choose(1) }, []bool{false, false, true, false}, 0},
		{"focused", func() { c.Focus(ch) }, []bool{false, false, true, true}, 0},
		{"beyond the last", func() { press(c, fyne.KeyRight) }, []bool{false, false, true, true}, 0},
		{"to the first", func() { press(c, fyne.KeyLeft) }, []bool{true, true, false, false}, 1},
		{"before the first", func() { press(c, fyne.KeyLeft) }, []bool{true, true, false, false}, 1},
		{"left", func() { c.Unfocus() }, []bool{true, false, false, false}, 1},
	} {
		step.do()
		if got := shows(); !slices.Equal(got, step.want) || told != step.told {
			t.Errorf("%s: %v, told %d; want %v, %d", step.name, got, told, step.want, step.told)
		}
	}
}
