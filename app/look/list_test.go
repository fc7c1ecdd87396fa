package look

import (
	"fmt"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/table"
)

// nameColumn is one column of names.
func nameColumn() table.Column { return table.Column{Kind: table.Names} }

func blankRow(i int) table.Row {
	return table.Row{ID: fmt.Sprint(i), Cells: []table.Cell{table.Name(fmt.Sprintf("OQ-%d", i), "part")}}
}

// window shows o in a window of that size and returns its canvas.
func window(t *testing.T, o fyne.CanvasObject, w, h float32) fyne.Canvas {
	t.Helper()
	win := test.NewTempWindow(t, o)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	return win.Canvas()
}

func press(c fyne.Canvas, keys ...fyne.KeyName) {
	for _, k := range keys {
		c.Focused().TypedKey(&fyne.KeyEvent{Name: k})
	}
}

func TestRowListKeys(t *testing.T) {
	start(t, Theme{Mode: Light})
	list := NewRowList(nameColumn())
	list.SetSource(50, blankRow)
	var chosen []int
	opened := -1
	list.OnChosen = func(i int, _ table.Row) { chosen = append(chosen, i) }
	list.OnOpened = func(i int, _ table.Row) { opened = i }
	c := window(t, list, 400, 300)
	c.Focus(list)
	press(c, fyne.KeyDown, fyne.KeyDown, fyne.KeyUp, fyne.KeyEnd, fyne.KeyDown, fyne.KeyHome, fyne.KeyPageDown, fyne.KeyPageUp, fyne.KeyReturn)
	if want := []int{0, 1, 2, 1, 49, 0, 4, 0}; !slices.Equal(chosen, want) {
		t.Errorf("chosen: got %v, want %v", chosen, want)
	}
	if opened != 0 {
		t.Errorf("opened: got %d, want 0", opened)
	}
	list.Choose(49)
	if bottom, view := list.scroll.Offset.Y+list.scroll.Size().Height, float32(50*rowHeight); bottom < view-1 {
		t.Errorf("last row chosen: sight ends at %v, want %v", bottom, view)
	}
}

// A list that is as high as it asks for has nothing to scroll, in any size of the type.
func TestRowListAsHighAsItsRows(t *testing.T) {
	for _, theme := range []Theme{{}, {Shop: true}} {
		start(t, theme)
		for n := range 12 {
			list := NewRowList(table.Column{Title: "called", Kind: table.Names})
			list.SetSource(n, blankRow)
			window(t, list, 400, 900)
			list.Resize(fyne.NewSize(400, list.HeightFor(400)))
			if view, all := list.scroll.Size().Height, list.space.MinSize().Height; view < all {
				t.Errorf("%d rows, larger %v: %v of %v are in sight", n, theme.Shop, view, all)
			}
		}
	}
}

// What the list has no use for reaches the window: letters, F keys, Up at the top.
func TestRowListPassesOn(t *testing.T) {
	start(t, Theme{Mode: Light})
	list := NewRowList(nameColumn())
	list.SetSource(3, blankRow)
	c := window(t, list, 400, 300)
	var got []string
	c.SetOnTypedRune(func(r rune) { got = append(got, string(r)) })
	c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, string(k.Name)) })
	c.Focus(list)
	test.Type(list, "a")
	press(c, fyne.KeyF9, fyne.KeyUp, fyne.KeyReturn)
	if want := []string{"a", "F9", "Up", "Return"}; !slices.Equal(got, want) {
		t.Errorf("passed on: got %q, want %q", got, want)
	}
}

func TestRowListTapChoosesAndFocuses(t *testing.T) {
	start(t, Theme{Mode: Light})
	list := NewRowList(table.Column{Title: "part", Kind: table.Names})
	list.SetSource(3, blankRow)
	told := 0
	list.OnChosen = func(int, table.Row) { told++ }
	c := window(t, list, 400, 300)
	test.TapCanvas(c, fyne.NewPos(100, 34+58+20))
	if row, _ := list.Chosen(); row.ID != "1" {
		t.Errorf("tap on the second row: chosen %q, want 1", row.ID)
	}
	if told != 1 {
		t.Errorf("tap: told of %d rows, want 1", told)
	}
	if c.Focused() != fyne.Focusable(list) {
		t.Error("tap: the list has no focus")
	}
	test.TapCanvas(c, fyne.NewPos(100, 10))
	if row, _ := list.Chosen(); row.ID != "1" {
		t.Errorf("tap on the header: chosen %q, want 1 still", row.ID)
	}
}

func TestRowListKeepsTheChosenRow(t *testing.T) {
	start(t, Theme{})
	list := NewRowList(nameColumn())
	rows := []table.Row{blankRow(0), blankRow(1), blankRow(2)}
	list.SetRows(rows)
	list.Choose(1)
	told := 0
	list.OnChosen = func(int, table.Row) { told++ }
	list.SetRows([]table.Row{blankRow(9), blankRow(8), blankRow(1)})
	if row, ok := list.Chosen(); !ok || row.ID != "1" || told != 0 {
		t.Errorf("the row moved: got %q told %d times, want 1 and 0", row.ID, told)
	}
	list.SetRows([]table.Row{blankRow(9)})
	if row, ok := list.Chosen(); ok {
		t.Errorf("the row went: got %q chosen, want none", row.ID)
	}
	list.SetRows(nil)
	list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	list.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEnd})
	if _, ok := list.Chosen(); ok {
		t.Error("no rows: one is chosen")
	}
}

// However many rows there are, only those in sight are made and asked for.
func TestRowListHoldsOnlyWhatIsInSight(t *testing.T) {
	start(t, Theme{Mode: Light})
	asked := map[int]bool{}
	list := NewRowList(nameColumn())
	list.SetSource(100_000, func(i int) table.Row { asked[i] = true; return blankRow(i) })
	window(t, list, 400, 580)
	list.Choose(99_999)
	list.Choose(50_000)
	if len(asked) > 60 {
		t.Errorf("rows asked for: got %d, want 60 at most", len(asked))
	}
	if len(list.space.rows) > 14 {
		t.Errorf("rows made: got %d, want 14 at most", len(list.space.rows))
	}
}

func BenchmarkRowListScroll(b *testing.B) {
	Theme{}.Apply()
	list := NewRowList(nameColumn(), table.Column{Kind: table.Figure, Width: 90}, table.Column{Kind: table.States, Width: 120})
	list.SetSource(100_000, blankRow)
	list.Resize(fyne.NewSize(800, 600))
	for i := 0; b.Loop(); i++ {
		list.Choose(i * 7 % 100_000)
	}
}

// Where not all columns fit, a name keeps the room for the line under it.
func TestColumnEdgesKeepTheName(t *testing.T) {
	start(t, Theme{})
	edges := columnEdges([]table.Column{{}, {Width: 150}, {Width: 290}}, 470)
	if got := edges[0][1]; got < 135 {
		t.Errorf("the name has %v, want 135 or more", got)
	}
}

func TestColumnEdges(t *testing.T) {
	start(t, Theme{})
	columns := []table.Column{{Width: 40}, {}, {Width: 100}}
	for _, width := range []float32{1200, 700, 400, 200} {
		edges := columnEdges(columns, width)
		last := edges[len(edges)-1]
		if end := last[0] + last[1]; end > width-13 {
			t.Errorf("width %v: last column ends at %v, want %v or less", width, end, width-14)
		}
		for i := 1; i < len(edges); i++ {
			if edges[i][0] < edges[i-1][0]+edges[i-1][1] {
				t.Errorf("width %v: column %d starts at %v within the one before", width, i, edges[i][0])
			}
		}
	}
}
