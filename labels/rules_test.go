package labels

import (
	"math"
	"slices"
	"strings"
	"testing"

	"stowright/assets/fonts"
)

// cards are the samples laid out on every stock, each label as a cell of its own stock.
func cards(t *testing.T, visit func(stock Stock, label Label, cell Cell)) {
	t.Helper()
	list := samples()
	for _, stock := range Stocks() {
		doc := mustLayout(t, list, stock.Name, Options{})
		for _, page := range doc.Pages {
			for _, cell := range page.Cells {
				visit(stock, list[cell.Label], cell)
			}
		}
	}
}

// codeOf is the code of a cell.
func codeOf(cell Cell) (code Code, ok bool) {
	for _, it := range cell.Items {
		if code, ok = it.(Code); ok {
			return code, true
		}
	}
	return Code{}, false
}

// Nothing is set in less than 5 points, which is the least that is read in a shop, but
// for the small print of strips, which has a size of its own.
func TestNothingIsTooSmall(t *testing.T) {
	cards(t, func(stock Stock, label Label, cell Cell) {
		for _, it := range cell.Items {
			if text, ok := it.(Text); ok && text.Size*pointsPerMM < 5-1e-6 {
				t.Errorf("%s, %q: %q is set in %.2f points", stock.Name, label.Name, text.Text, text.Size*pointsPerMM)
			}
		}
	})
}

// The quiet zone stays white: no text, box or line of the label reaches into it.
// Source: ISO/IEC 18004, 9.1.
func TestQuietZoneStaysWhite(t *testing.T) {
	cards(t, func(stock Stock, label Label, cell Cell) {
		code, ok := codeOf(cell)
		if !ok {
			return
		}
		quiet := code.Quiet()
		for _, it := range cell.Items {
			b := it.Bounds()
			if text, words := it.(Text); words {
				// What is inked of a line: from the capitals' height to below the baseline.
				b = Rect{text.X, text.Y - capHeight*text.Size, text.Width, capHeight * text.Size}
			}
			if _, same := it.(Code); same {
				continue
			}
			const near = 0.01
			if b.X < quiet.Right()-near && b.Right() > quiet.X+near && b.Y < quiet.Bottom()-near && b.Bottom() > quiet.Y+near {
				t.Errorf("%s, %q: %#v reaches into the quiet zone %+v", stock.Name, label.Name, it, quiet)
			}
		}
	})
}

// The tag stands under its code in plain characters, as wide as the code with its quiet zone
// at most, and in the middle of it; on low labels it is in the small print.
func TestTagUnderCode(t *testing.T) {
	seen := 0
	cards(t, func(stock Stock, label Label, cell Cell) {
		code, ok := codeOf(cell)
		if !ok || cell.H <= stripHeight {
			return
		}
		for _, it := range cell.Items {
			text, ok := it.(Text)
			if !ok || text.Text != SpacedTag(label.Tag) {
				continue
			}
			seen++
			if text.Size > smallest+1e-9 {
				if most := code.Quiet().W; text.Width > most+1e-6 {
					t.Errorf("%s, %q: the tag is %.2f mm wide under a code of %.2f", stock.Name, label.Name, text.Width, code.Bounds().W)
				}
				if most := 3 * codeModules * code.Module / 10; text.Size > most+1e-6 {
					t.Errorf("%s, %q: the tag is set in %.2f mm, want %.2f at most", stock.Name, label.Name, text.Size, most)
				}
			}
			if top := text.Y - capHeight*text.Size; top < code.Quiet().Bottom()-0.01 {
				t.Errorf("%s, %q: the tag begins %.2f mm into the quiet zone", stock.Name, label.Name, code.Quiet().Bottom()-top)
			}
			if upright(cell.Rect) {
				// Below the code of an upright label it begins where the text does.
				if text.X > cell.X+3.4+1e-6 || text.X+text.Width > cell.Right()-1 {
					t.Errorf("%s, %q: the tag goes from %.2f to %.2f mm", stock.Name, label.Name, text.X-cell.X, text.X+text.Width-cell.X)
				}
				continue
			}
			if middle := text.X + text.Width/2; math.Abs(middle-code.X-code.Bounds().W/2) > 1 {
				t.Errorf("%s, %q: the tag is %.2f mm aside", stock.Name, label.Name, middle-code.X-code.Bounds().W/2)
			}
		}
	})
	if seen < 60 {
		t.Errorf("%d tags were seen under codes, want 60", seen)
	}
}

// A code takes no more than about half of its label's width, and its modules are whole
// dots of the printer and none smaller than 0.33 mm.
func TestCodeSize(t *testing.T) {
	cards(t, func(stock Stock, label Label, cell Cell) {
		code, ok := codeOf(cell)
		if !ok {
			return
		}
		if code.Module < MinModule {
			t.Errorf("%s, %q: a module is %.3f mm", stock.Name, label.Name, code.Module)
		}
		if dots := code.Module / stock.Dot; math.Abs(dots-math.Round(dots)) > 1e-6 {
			t.Errorf("%s, %q: a module is %.3f dots", stock.Name, label.Name, dots)
		}
		if cell.H <= stripHeight {
			return
		}
		// The share of the width goes from 0.36 to 0.44 with the height of the card.
		tall := math.Min(math.Max(stock.CellH/cardH/(stock.CellW/cardW), 1), 1.6)
		share := 0.36 + 0.13*(tall-1)
		if upright(cell.Rect) {
			share = uprightShare
		}
		margin := math.Max(math.Min(math.Max(0.06*cell.H, 1.2), 3.4), stock.Edge-cell.X)
		if wide := code.Quiet().Right() - cell.X; wide > share*cell.W*1.04+margin+1e-6 {
			t.Errorf("%s, %q: the code with its quiet zone takes %.2f of %.2f mm", stock.Name, label.Name, wide, cell.W)
		}
	})
}

// A look-alike is printed by its name, by what is different, or by both.
func TestBewareParts(t *testing.T) {
	for _, row := range []struct {
		beware Beware
		want   []string
	}{
		{Beware{"AN3-6A", ""}, []string{"≠ AN3-6A"}},
		{Beware{"", "that one is longer"}, []string{"that one is longer"}},
		{Beware{"AN3-6A", "that one is longer"}, []string{"≠ AN3-6A", "that one is longer"}},
		{Beware{}, nil},
	} {
		doc := mustLayout(t, []Label{{Tag: "SP7K3M9QXD", Name: "AN3-5A", Beware: row.beware}}, "letter-2x5", Options{})
		var got []string
		for _, text := range texts(doc) {
			if text.Text != "AN3-5A" && text.Text != SpacedTag("SP7K3M9QXD") {
				got = append(got, text.Text)
			}
		}
		if !slices.Equal(got, row.want) || len(doc.Notes) != 0 {
			t.Errorf("%+v prints %q, notes %v; want %q", row.beware, got, doc.Notes, row.want)
		}
	}
}

// The place stands in a box at the right, in the middle of it and inside its line; what
// does not fit ends in an ellipsis, and that is said.
func TestPlaceBox(t *testing.T) {
	for _, row := range []struct {
		place string
		whole bool
	}{{"A-12", true}, {"R1", true}, {strings.Repeat("SHELF-", 9), false}} {
		doc := mustLayout(t, []Label{{Tag: "SP7K3M9QXD", Name: "AN3-5A", Place: row.place}}, "letter-3x10", Options{})
		cell := doc.Pages[0].Cells[0]
		var box Box
		var word Text
		for _, it := range cell.Items {
			switch it := it.(type) {
			case Box:
				box = it
			case Text:
				if it.Text == row.place || strings.HasPrefix(row.place, strings.TrimSuffix(it.Text, ellipsis)) && it.Text != "" {
					word = it
				}
			}
		}
		if box.W == 0 || word.Text == "" {
			t.Fatalf("%q: box %+v, text %+v", row.place, box, word)
		}
		if (word.Text == row.place) != row.whole || (len(doc.Notes) == 0) != row.whole {
			t.Errorf("%q is printed as %q, notes %v", row.place, word.Text, doc.Notes)
		}
		if word.X < box.X+box.Pen || word.X+word.Width > box.Right()-box.Pen {
			t.Errorf("%q: the text goes from %.2f to %.2f, its box from %.2f to %.2f", row.place, word.X, word.X+word.Width, box.X, box.Right())
		}
		if middle := word.X + word.Width/2; math.Abs(middle-box.X-box.W/2) > 0.01 {
			t.Errorf("%q is %.3f mm beside the middle of its box", row.place, middle-box.X-box.W/2)
		}
		if middle := word.Y - capHeight*word.Size/2; math.Abs(middle-box.Y-box.H/2) > 0.01 {
			t.Errorf("%q is %.3f mm below the middle of its box", row.place, middle-box.Y-box.H/2)
		}
		if box.Right() > cell.Right() || cell.Right()-box.Right() > 2 {
			t.Errorf("%q: the box ends %.2f mm from the edge of the label", row.place, cell.Right()-box.Right())
		}
	}
}

// What a sheet says about itself: the caution at the left, which sheet it is at the right,
// apart from each other; nothing where there is no margin, and that is said once.
func TestSheetFooter(t *testing.T) {
	for _, row := range []struct {
		stock  string
		lines  int // on each sheet
		noted  bool
		labels int
	}{
		{"letter-3x10", 2, false, 31},
		{"letter-2x5", 2, false, 11},
		{"a4-3x10", 0, true, 31},
		{"crate-100x62", 0, false, 2},
		{"tape-12", 0, false, 2},
	} {
		doc := mustLayout(t, repeat(samples()[4:5], row.labels), row.stock, Options{})
		for i, page := range doc.Pages {
			var lines []Text
			for _, it := range page.Items {
				lines = append(lines, it.(Text))
			}
			if len(lines) != row.lines {
				t.Fatalf("%s, sheet %d says %d lines, want %d", row.stock, i+1, len(lines), row.lines)
			}
			if row.lines < 2 {
				continue
			}
			if lines[0].Text != Caution || lines[0].Ink != Quiet || lines[1].Ink != Quiet || lines[0].Y != lines[1].Y {
				t.Errorf("%s, sheet %d says %+v", row.stock, i+1, lines[0])
			}
			if want := []string{"sheet 1 of 2", "sheet 2 of 2"}[i]; !strings.Contains(lines[1].Text, want) || !strings.Contains(lines[1].Text, "print at actual size, 100 %") {
				t.Errorf("%s, sheet %d says %q", row.stock, i+1, lines[1].Text)
			}
			if gap := lines[1].X - lines[0].X - lines[0].Width; gap < 4-1e-6 {
				t.Errorf("%s: %.2f mm between the two lines", row.stock, gap)
			}
			grid := doc.Stock.Cell(doc.Stock.PerPage() - 1)
			for _, line := range lines {
				if line.Y-capHeight*line.Size < grid.Bottom() || line.Y > page.H-doc.Stock.Edge || line.X+line.Width > page.W-doc.Stock.Edge+1e-6 {
					t.Errorf("%s: %q at %.2f, %.2f is not in the bottom margin", row.stock, line.Text, line.X, line.Y)
				}
			}
		}
		noted := 0
		for _, n := range doc.Notes {
			if n.Label == -1 && strings.Contains(n.Text, Caution) {
				noted++
			}
		}
		if (noted == 1) != row.noted || noted > 1 {
			t.Errorf("%s: said %d times that there is no margin", row.stock, noted)
		}
	}
}

// The caution is on a sheet alone where both lines do not fit beside each other.
func TestSheetFooterNarrow(t *testing.T) {
	set := testSetter(t)
	caution := set.width(fonts.TextRegular, furnitureSize, Caution)
	narrow := Stock{
		Name: "n", Words: "Narrow", PageH: 100, Cols: 1, Rows: 2, CellH: 30, PitchY: 30, Left: 2, Top: 5, Dot: 0.1,
	}
	for _, row := range []struct {
		wide  float64
		lines int
	}{{caution + 0.1, 1}, {caution - 0.1, 0}, {caution + 30, 1}, {3 * caution, 2}} {
		s := narrow
		s.CellW = row.wide
		s.PageW = row.wide + 4
		doc, err := Layout([]Label{{Name: "A"}}, s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if got := len(doc.Pages[0].Items); got != row.lines {
			t.Errorf("%.1f mm wide, and the caution is %.1f: %d lines, want %d", row.wide, caution, got, row.lines)
		}
	}
}

// Progress is told after each label, and can stop the work with nothing laid out.
func TestLayoutProgress(t *testing.T) {
	var told []int
	doc, err := Layout(repeat(samples(), 5), Stocks()[0], Options{Progress: func(done, total int) error {
		if total != 5 {
			t.Errorf("of %d labels", total)
		}
		told = append(told, done)
		return nil
	}})
	if err != nil || !slices.Equal(told, []int{1, 2, 3, 4, 5}) || doc.Labels() != 5 {
		t.Errorf("told %v, %d labels, %v", told, doc.Labels(), err)
	}
}

// Where text is broken, shortened and fitted, by its own widths: the longest that fits.
func TestShortenIsLongest(t *testing.T) {
	s := testSetter(t)
	const text = "AN470AD4-7 dome rivet"
	dots := s.width(fonts.TextRegular, 2, ellipsis)
	for width := dots; width < s.width(fonts.TextRegular, 2, text)+1; width += 0.37 {
		out, cut := s.shorten(fonts.TextRegular, 2, text, width)
		got := s.width(fonts.TextRegular, 2, out)
		if got > width+slack {
			t.Errorf("%.2f mm: %q is %.2f wide", width, out, got)
		}
		if !cut {
			if out != text {
				t.Errorf("%.2f mm: %q is not cut", width, out)
			}
			continue
		}
		kept := strings.TrimSuffix(out, ellipsis)
		if !strings.HasPrefix(text, kept) {
			t.Fatalf("%.2f mm: %q is no beginning of it", width, out)
		}
		longer := text[:len(kept)+1]
		if strings.HasSuffix(longer, " ") {
			continue // a space before the ellipsis is left out
		}
		if w := s.width(fonts.TextRegular, 2, longer) + dots; w <= width-1e-9 {
			t.Errorf("%.2f mm: %q, and %q would fit as well", width, out, longer+ellipsis)
		}
	}
}

// Widths add up, scale with the size, and those of the mono face are all alike.
func TestWidth(t *testing.T) {
	s := testSetter(t)
	a, b := s.width(fonts.TextRegular, 3, "AN3"), s.width(fonts.TextRegular, 3, "-5A")
	if both := s.width(fonts.TextRegular, 3, "AN3-5A"); math.Abs(both-a-b) > 1e-9 {
		t.Errorf("%.4f is not %.4f and %.4f", both, a, b)
	}
	if twice := s.width(fonts.TextRegular, 6, "AN3"); math.Abs(twice-2*a) > 1e-9 {
		t.Errorf("twice as large it is %.4f wide, want %.4f", twice, 2*a)
	}
	one := s.width(fonts.MonoBold, 1, "i")
	for _, r := range "W0-/≠…" {
		if w := s.width(fonts.MonoBold, 1, string(r)); math.Abs(w-one) > 1e-9 {
			t.Errorf("%c is %.4f wide in the mono face, an i %.4f", r, w, one)
		}
	}
	if _, ok := s.advance(fonts.MonoBold, '螺'); ok {
		t.Error("a character that the face lacks has an advance")
	}
}

// What stands in for characters that the typefaces lack.
func TestStandIn(t *testing.T) {
	for in, want := range map[rune]rune{
		'µ': 'μ', '‐': '-', '‑': '-', '‒': '-', '−': '-', '′': '\'', '‘': '\'', '’': '\'', 'ʹ': '\'', '″': '"', '“': '"', '”': '"', '×': 'x', 'a': 'a', '螺': '螺',
	} {
		if got := standIn(in); got != want {
			t.Errorf("for %c stands %c, want %c", in, got, want)
		}
	}
}

// A page in words.
func TestPageString(t *testing.T) {
	if got := (Page{W: 215.9, H: 279.4}).String(); got != "215.9 x 279.4 mm" {
		t.Errorf("a page is called %q", got)
	}
}

// A piece at its real size: bars of an inch and of 25 mm, views below each other, and a
// page that it does not fit is refused, not scaled.
func TestTrueSizeLayout(t *testing.T) {
	letter := Stocks()[0]
	sheet := func(views ...NamedDrawing) (Document, error) {
		return TrueSize{Name: "AN3-5A", Title: "Bolt", Views: views, Notes: []string{"Source: a sheet"}}.Layout(letter)
	}
	doc, err := sheet(block(30, 20), block(10, 5))
	if err != nil {
		t.Fatal(err)
	}
	var pieces []Rect
	for _, it := range doc.Pages[0].Items {
		if p, ok := it.(Path); ok && p.Closed {
			pieces = append(pieces, boundsOf(p.Points))
		}
	}
	if len(pieces) != 2 || pieces[1].Y <= pieces[0].Bottom() || pieces[0].X != sheetMargin || pieces[1].X != sheetMargin {
		t.Errorf("the views lie at %+v, want below each other at the left margin", pieces)
	}
	for i, want := range []Rect{{W: 30, H: 20}, {W: 10, H: 5}} {
		if got := pieces[i]; math.Abs(got.W-want.W) > 1e-9 || math.Abs(got.H-want.H) > 1e-9 {
			t.Errorf("view %d is %.3f x %.3f mm, want %g x %g", i, got.W, got.H, want.W, want.H)
		}
	}
	wide := letter.PageW - 2*sheetMargin
	for _, row := range []struct {
		name string
		view NamedDrawing
		fits bool
	}{
		{"as wide as the page allows", block(wide, 10), true},
		{"wider", block(wide+0.1, 10), false},
		{"far too high", block(10, 260), false},
		{"as high as leaves no room for words", block(10, 205), false},
		{"high", block(10, 150), true},
	} {
		doc, err := sheet(row.view)
		if (err == nil) != row.fits || (len(doc.Pages) == 1) != row.fits {
			t.Errorf("%s: %d pages, %v", row.name, len(doc.Pages), err)
		}
		if err == nil {
			checkInside(t, doc)
		} else if !strings.Contains(err.Error(), "AN3-5A does not fit a page of") {
			t.Errorf("%s: %v", row.name, err)
		}
	}
}
