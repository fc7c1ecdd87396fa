package look

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/table"
)

// A designation is never broken inside a dash group, whatever its width.
func TestFitDesignation(t *testing.T) {
	start(t, Theme{Mode: Light})
	wide := func(s string, size float32) float32 { return roleAt(size).width(s) }
	for _, row := range []struct {
		name, text string
		width      float32
		want       []string
	}{
		{"fits", "AN3-5A", wide("AN3-5A", 15), []string{"AN3-5A"}},
		{"shrinks first", "AN470AD4-7", wide("AN470AD4-7", 13), []string{"AN470AD4-7"}},
		{"breaks after the prefix", "AN470AD4-7", wide("AD4-7xx", 12), []string{"AN470", "AD4-7"}},
		{"letters after the prefix", "NAS1149F0363P", wide("NAS1149x", 12), []string{"NAS1149", "F0363P"}},
		{"dash after the prefix", "MS24665-132", wide("MS24665", 12), []string{"MS24665", "-132"}},
		{"no digits in the prefix", "OQ-10-031-L", wide("OQ-10-x", 12), []string{"OQ-10-", "031-L"}},
		{"a name at its words", "Third shelf, left 12", wide("Third shelf,x", 12), []string{"Third shelf, ", "left 12"}},
		{"nothing to break at", "ABCDEFGHIJ", wide("ABCD", 12), []string{"ABCDEFGHIJ"}},
		{"empty", "", 100, []string{""}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, size := fitDesignation(row.text, row.width, 15, 12)
			if !slices.Equal(got, row.want) {
				t.Errorf("fit %q into %.0f: got %q, want %q", row.text, row.width, got, row.want)
			}
			if strings.Join(got, "") != row.text {
				t.Errorf("fit %q: %q does not join to it", row.text, got)
			}
			if w := widestAt(got, size); w > row.width && size > 1 {
				t.Errorf("fit %q into %.0f: %.2f points are %.1f wide", row.text, row.width, size, w)
			}
		})
	}
}

// Whatever is typed as a designation is set whole, at a size above nothing.
func FuzzFitDesignation(f *testing.F) {
	for _, seed := range []string{"AN470AD4-7", "MS24665-132", "-", "A-", "é-1", "---", "1AN"} {
		f.Add(seed, float32(60))
	}
	f.Fuzz(func(t *testing.T, text string, width float32) {
		if len(text) > 60 || !(width > 1 && width < 2000) || strings.ContainsRune(text, '\uFFFD') {
			return
		}
		start(t, Theme{})
		got, size := fitDesignation(text, width, 15, 12)
		if strings.Join(got, "") != text || len(got) > 2 || size < 1 {
			t.Errorf("fit %q into %v: got %q at %v", text, width, got, size)
		}
	})
}

func TestParagraphWrapsAtWords(t *testing.T) {
	start(t, Theme{Mode: Light})
	p := NewLead("Not AN3-6A", "in A-13: that one is longer.\nLay one on.")
	all := func(width float32) []string {
		var out []string
		for _, line := range p.lines(width) {
			var words []string
			for _, w := range line {
				words = append(words, w.text)
			}
			out = append(out, strings.Join(words, " "))
		}
		return out
	}
	if got, want := all(2000), []string{"Not AN3-6A in A-13: that one is longer.", "Lay one on."}; !slices.Equal(got, want) {
		t.Errorf("wide: got %q, want %q", got, want)
	}
	for _, line := range all(120) {
		if w := p.bold.width(line); w > 135 {
			t.Errorf("narrow: line %q is %.0f wide, want 120 or less", line, w)
		}
	}
	if got := all(1); len(got) != 11 {
		t.Errorf("narrower than a word: got %d lines %q, want one for each of the 11 words", len(got), got)
	}
	if one, more := p.HeightFor(2000), p.HeightFor(120); more < one*2 {
		t.Errorf("height: got %.0f at 120 and %.0f at 2000, want more lines", more, one)
	}
}

// Line keeps a text as wide as it wants, pushes after a Gap, and wraps.
func TestLine(t *testing.T) {
	start(t, Theme{Mode: Light})
	left, right := NewTitle("Crate C1"), NewKeyButton("Print", "L", nil)
	line := Line(left, Gap(), right)
	line.Resize(fyne.NewSize(600, 50))
	if end := right.Position().X + right.Size().Width; end != 600 {
		t.Errorf("after a gap: ends at %v, want 600", end)
	}
	if left.Size().Width < roleTitle().width("Crate C1") {
		t.Errorf("text: got %v wide, want %v", left.Size().Width, roleTitle().width("Crate C1"))
	}
	a, b := NewKeyButton("One button", "A", nil), NewKeyButton("Another button", "B", nil)
	narrow := Line(a, b)
	narrow.Resize(fyne.NewSize(a.MinSize().Width+20, 200))
	if b.Position().X != 0 || b.Position().Y == 0 {
		t.Errorf("narrow: second button at %v, want below the first", b.Position())
	}
	spread := Spread(a, b)
	spread.Resize(fyne.NewSize(600, 46))
	if end := b.Position().X + b.Size().Width; end < 599 || end > 601 {
		t.Errorf("spread: ends at %v, want 600", end)
	}
}

// Fill gives a list what others leave; Pin keeps buttons at the bottom.
func TestFillAndPin(t *testing.T) {
	start(t, Theme{Mode: Light})
	const whole, button = 370, buttonHeight
	for _, row := range []struct {
		name       string
		rows       int
		pin        bool
		list, foot float32 // height of the list, top of what follows
	}{
		{"few rows", 2, false, 2*rowHeight + 2, 2*rowHeight + 2 + 10},
		{"many rows", 100, false, whole - button - 10, whole - button},
		{"pinned", 2, true, whole - button - 10, whole - button},
	} {
		t.Run(row.name, func(t *testing.T) {
			list, foot := NewRowList(nameColumn()), NewKeyButton("Do", "D", nil)
			list.SetSource(row.rows, blankRow)
			c := Fill(10, list, foot)
			if row.pin {
				c = Pin(10, list, foot)
			}
			c.Resize(fyne.NewSize(500, whole))
			if got := list.Size().Height; got != row.list {
				t.Errorf("list: got %v high, want %v", got, row.list)
			}
			if got := foot.Position().Y; got != row.foot {
				t.Errorf("foot: got at %v, want %v", got, row.foot)
			}
		})
	}
}

// What can be spared gives way where the list would get too low, and comes back.
func TestSpareGivesWay(t *testing.T) {
	start(t, Theme{})
	list := NewRowList(table.Column{})
	list.SetRows(make([]table.Row, 20))
	button, picture := NewKeyButton("Pick", "P", nil), NewHeading("enlarged")
	wanted := true
	c := Fill(10, list, button, picture)
	Spare(c, 200, func() bool { return wanted }, picture)
	for _, row := range []struct {
		height float32
		wanted bool
		seen   bool
	}{{400, true, true}, {200, true, false}, {400, true, true}, {400, false, false}} {
		wanted = row.wanted
		c.Resize(fyne.NewSize(300, row.height))
		c.Refresh()
		if picture.Visible() != row.seen {
			t.Errorf("at %v, wanted %v: seen %v, want %v", row.height, row.wanted, picture.Visible(), row.seen)
		}
	}
}

// A part number that is wider than its column is broken behind a dash, nowhere else.
func TestParagraphBreaksLongNumbers(t *testing.T) {
	start(t, Theme{Mode: Light})
	p := NewText("not AN3-6A but OQ-40-2117-1033-0085-LH")
	for _, row := range []struct {
		width string // of this text
		want  []string
	}{
		{"OQ-40-2117-1033", []string{"not AN3-6A but", "OQ-40-2117-", "1033-0085-LH"}},
		{"not", []string{"not", "AN3-6A", "but", "OQ-40-2117-1033-0085-LH"}}, // no part fits
	} {
		var got []string
		for _, line := range p.lines(p.role.width(row.width)) {
			var words []string
			for _, w := range line {
				words = append(words, w.text)
			}
			got = append(got, strings.Join(words, " "))
		}
		if !slices.Equal(got, row.want) {
			t.Errorf("as wide as %q: got %q, want %q", row.width, got, row.want)
		}
	}
}
