package look

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/table"
)

// A text that is too long is set a little smaller, then loses its last words, and never a part
// of a word that has a figure in it.
func TestElide(t *testing.T) {
	start(t, Theme{})
	const stowed = "NAS1149F0463P: 24 ea stowed in A-30"
	wide := func(s string) float32 { return roleBody().width(s) }
	for _, row := range []struct {
		name, text string
		width      float32
		want       string
		least      float32 // size of the text, in points
	}{
		{"fits", "Cabinet A", 500, "Cabinet A", sizeBody},
		{"a little smaller", stowed, wide(stowed) * 0.9, stowed, sizeBody * squeezed},
		{"the last words give way", stowed, wide("NAS1149F0463P: 24 ea stowed …"), "NAS1149F0463P: 24 ea stowed …", sizeBody},
		{"no number is cut", stowed, wide("NAS1149F0463P: 2…"), "NAS1149F0463P: …", sizeBody},
		{"a number alone is set smaller", stowed, wide("NAS1149F"), "NAS1149F0463P: …", 1},
		{"a word is cut", "Cupboard", wide("Cupb…"), "Cupb…", sizeBody},
		{"nothing fits", "Cabinet A", 1, "…", sizeBody},
		{"no number fits", "AN3-5A", 0.5, "…", 1},
		{"nothing there", "", 1, "", sizeBody},
	} {
		t.Run(row.name, func(t *testing.T) {
			text := newText()
			roleBody().set(text, row.text, ColorInk)
			if elide(text, row.width); text.Text != row.want {
				t.Errorf("got %q, want %q", text.Text, row.want)
			}
			if text.TextSize < row.least-0.01 || text.TextSize > sizeBody {
				t.Errorf("size %v, want %v at least", text.TextSize, row.least)
			}
			if row.want != dots && text.Text != "" && text.MinSize().Width > row.width+0.5 {
				t.Errorf("%v wide, want %v at most", text.MinSize().Width, row.width)
			}
		})
	}
}

// Words that are too long for their cell go on in a second line where nothing else stands there.
func TestRowWrapsItsWords(t *testing.T) {
	start(t, Theme{})
	const long = "AN3-5A, AN3-6A, AN365-1032A, MS21042-3, NAS1149F0363P"
	for _, row := range []struct {
		name string
		cell table.Cell
		want []string
	}{
		{"in two lines", table.T(long), []string{"AN3-5A, AN3-6A,", "AN365-1032A, …"}},
		{"one line over another", table.Cell{Text: long, Sub: "Builder"}, []string{"AN3-5A, AN3-6A, …", "Builder"}},
		{"short", table.T("AN3-5A, AN3-6A"), []string{"AN3-5A, AN3-6A"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			l := NewRowList(table.Column{Kind: table.Words})
			l.SetRows([]table.Row{{Cells: []table.Cell{row.cell}}})
			l.Resize(fyne.NewSize(roleBody().width("AN3-5A, AN3-6A, AN3")+28, 200))
			var got []string
			for _, text := range inked(l) {
				if text.Text != "" {
					got = append(got, text.Text)
				}
			}
			if !slices.Equal(got, row.want) {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}
