package look

import (
	"testing"

	"fyne.io/fyne/v2/test"
)

// What is typed takes the place of what is marked, once, however the text changes
// in between.
func TestEntryMarked(t *testing.T) {
	test.NewTempApp(t)
	for _, row := range []struct {
		name string
		do   func(e *Entry)
		want string
	}{
		{"typed over", func(e *Entry) { e.SelectAll() }, "xyz"},
		{"emptied", func(e *Entry) { e.SelectAll(); e.SetText("") }, "xyz"},
		{"replaced", func(e *Entry) { e.SelectAll(); e.SetText("an") }, "anxyz"},
		{"marked while empty", func(e *Entry) { e.SetText(""); e.SelectAll() }, "xyz"},
	} {
		t.Run(row.name, func(t *testing.T) {
			e := NewEntry("")
			e.SetText("an3-5a")
			row.do(e)
			if row.name == "replaced" {
				e.CursorColumn = len(e.Text)
			}
			test.Type(e, "xyz")
			if e.Text != row.want {
				t.Errorf("typed xyz: got %q, want %q", e.Text, row.want)
			}
		})
	}
}
