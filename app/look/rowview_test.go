package look

import (
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"stowright/app/table"
)

// A figure is set smaller and never cut, in whatever column it stands.
func TestCellsKeepFigures(t *testing.T) {
	start(t, Theme{})
	for _, row := range []struct {
		kind table.Kind
		end  bool // at the right edge
	}{{table.Figure, true}, {table.Plain, true}, {table.Words, false}, {table.Faint, false}} {
		c := &cellParts{text: newText(), sub: newText(), mark: newMarkParts()}
		role, _ := cellRole(row.kind)
		width := role.width("1,680,000") * 0.8
		c.fill(table.T("1,680,000"), cellArea{x: 10, w: width, h: 58, kind: row.kind})
		if c.text.Text != "1,680,000" || c.text.MinSize().Width > width+0.5 {
			t.Errorf("kind %v: says %q, %.1f of %.1f wide", row.kind, c.text.Text, c.text.MinSize().Width, width)
		}
		c.fill(table.T("7"), cellArea{x: 10, w: width, h: 58, kind: row.kind})
		left := c.text.Position().X
		if atEnd := left > 10.5; atEnd != row.end || row.end && (left+c.text.MinSize().Width > 10+width+0.5 || left+c.text.MinSize().Width < 10+width-0.5) {
			t.Errorf("kind %v: a short one stands at %.1f", row.kind, left)
		}
		if c.text.TextSize != Px(role.size) {
			t.Errorf("kind %v: a short one is %v points, want %v", row.kind, c.text.TextSize, Px(role.size))
		}
		c.fill(table.T("7"), cellArea{x: 10, w: width, h: 58, kind: row.kind, dim: true})
		if c.text.Color != theme.Color(ColorQuiet) {
			t.Errorf("kind %v: a dim one is written in %v", row.kind, c.text.Color)
		}
	}
}

// A row shows that it is chosen, and with a ring that the keyboard is there.
func TestRowStates(t *testing.T) {
	start(t, Theme{})
	l := NewRowList(nameColumn())
	l.SetSource(3, blankRow)
	c := window(t, l, 300, 300)
	l.Mark(1)
	row := func(i int) []fyne.CanvasObject { return test.WidgetRenderer(l.space.rows[i]).Objects() }
	shows := func(i int) [3]bool { o := row(i); return [3]bool{o[0].Visible(), o[1].Visible(), o[3].Visible()} }
	for _, step := range []struct {
		name         string
		do           func()
		first, other [3]bool // ground, bar, ring
	}{
		{"marked", func() {}, [3]bool{false, false, false}, [3]bool{true, true, false}},
		{"the pointer on the first", func() { l.space.rows[0].MouseIn(nil) }, [3]bool{true, false, false}, [3]bool{true, true, false}},
		{"the pointer gone", func() { l.space.rows[0].MouseOut() }, [3]bool{false, false, false}, [3]bool{true, true, false}},
		{"focused", func() { c.Focus(l) }, [3]bool{false, false, false}, [3]bool{true, true, true}},
		{"one up", func() { press(c, fyne.KeyUp) }, [3]bool{true, true, true}, [3]bool{false, false, false}},
		{"left", func() { c.Unfocus() }, [3]bool{true, true, false}, [3]bool{false, false, false}},
	} {
		step.do()
		if a, b := shows(0), shows(1); a != step.first || b != step.other {
			t.Errorf("%s: first %v, second %v; want %v and %v", step.name, a, b, step.first, step.other)
		}
	}
	if last := row(2)[2]; last.Visible() {
		t.Error("a line is under the last row")
	}
	if first := row(0)[2]; !first.Visible() {
		t.Error("no line is under the first row")
	}
}

// Lists tell of a tap, and of a second one on the row that was chosen.
func TestTapsOnRows(t *testing.T) {
	start(t, Theme{})
	l := NewRowList(table.Column{Title: "name", Kind: table.Names})
	l.SetSource(3, blankRow)
	window(t, l, 300, 300)
	var got []string
	l.OnChosen = func(_ int, r table.Row) { got = append(got, "chosen "+r.ID) }
	l.OnTapped = func(_ int, r table.Row) { got = append(got, "tapped "+r.ID) }
	l.OnTappedAgain = func() { got = append(got, "again") }
	test.Tap(l.space.rows[1])
	test.Tap(l.space.rows[1])
	test.Tap(l.space.rows[2])
	test.WidgetRenderer(l).Objects()[2].(*rowView).Tapped(nil) // the header
	if want := []string{"chosen 1", "tapped 1", "tapped 1", "again", "chosen 2", "tapped 2"}; !slices.Equal(got, want) {
		t.Errorf("told %q, want %q", got, want)
	}
	if l.SetSource(2, blankRow); l.chosen != -1 {
		t.Errorf("the chosen row is gone: %d is chosen", l.chosen)
	}
	if l.Mark(9); l.chosen != -1 {
		t.Errorf("a row that is not there is marked: %d", l.chosen)
	}
}

// A second tap at once opens a row as Enter does, a late one does not; a right click chooses the
// row and lists what can be done with it.
func TestDoubleTapOpens(t *testing.T) {
	start(t, Theme{})
	for _, row := range []struct {
		name   string
		gap    time.Duration
		second int // the row of the second tap
		want   string
	}{
		{"at once", doubleTap, 1, "1"},
		{"late", doubleTap + time.Millisecond, 1, ""},
		{"on another row", 0, 2, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			l, g, opened := NewRowList(nameColumn()), &gate{now: time.Unix(1, 0)}, ""
			l.SetSource(3, blankRow)
			window(t, NewGated(l, g), 300, 300)
			l.OnOpened = func(_ int, r table.Row) { opened = r.ID }
			test.Tap(l.space.rows[1])
			g.now = g.now.Add(row.gap)
			test.Tap(l.space.rows[row.second])
			if opened != row.want {
				t.Errorf("row %q was opened, want %q", opened, row.want)
			}
			test.TapSecondary(l.space.rows[0])
			if chosen, _ := l.Chosen(); chosen.ID != "0" || g.offered != 1 {
				t.Errorf("a right click: row %q is chosen, offered %d times", chosen.ID, g.offered)
			}
		})
	}
}
