package labels

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/math/fixed"

	"stowright/assets/fonts"
	"stowright/assets/standards"
)

// partNumbers are the columns of the tables of hardware that hold whole designations.
var partNumbers = regexp.MustCompile(`number|^an960$|^nas1149$|^cotter_pin$`)

var partNumber = regexp.MustCompile(`^(AN|MS|NAS)[0-9]+[A-Z0-9./-]*$`)

// longestDesignations are the longest of the published tables.
func longestDesignations(t *testing.T, count int) []string {
	t.Helper()
	seen := map[string]bool{}
	for _, name := range standards.Names() {
		table, err := standards.Read(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, column := range table.Header() {
			for _, row := range table.Rows {
				for _, text := range strings.Split(row.Get(column), " / ") {
					if partNumbers.MatchString(column) && partNumber.MatchString(text) {
						seen[text] = true
					}
				}
			}
		}
	}
	list := slices.SortedFunc(maps.Keys(seen), func(a, b string) int { return cmp.Or(len(b)-len(a), strings.Compare(a, b)) })
	if len(list) < count {
		t.Fatalf("the tables hold %d designations, want %d", len(list), count)
	}
	return list[:count]
}

// capitals are the heights of the capitals of a name on a label, from the lines that are
// drawn of it; 0 where they are not all of it.
func capitals(cell Cell, name string) float64 {
	var whole strings.Builder
	least := math.Inf(1)
	for _, it := range cell.Items {
		if text, ok := it.(Text); ok && text.Face == fonts.MonoBold && strings.HasPrefix(name[whole.Len():], text.Text) {
			whole.WriteString(text.Text)
			least = min(least, text.Size*capHeight)
		}
	}
	if whole.String() != name {
		return 0
	}
	return least
}

// The capitals of the longest designations are read at 60 cm on every stock, with a place,
// a look-alike as long and a piece on the label. The table names what has no room for a code.
func TestCapitals(t *testing.T) {
	names := longestDesignations(t, 200)
	var table strings.Builder
	fmt.Fprintf(&table, "capitals of the %d longest designations, mm\n%-14s %15s %6s %6s %6s %6s %s\n", len(names), "stock", "label", "least", "median", "most", "module", "why")
	for _, stock := range Stocks() {
		var list []Label
		for i, name := range names {
			other := names[(i+1)%len(names)]
			list = append(list, Label{
				Tag: "SP7K3M9QXD", Name: name, Title: "Washer 3/16, thick .063", Place: "A-12", PlacePath: "Cabinet A",
				Beware: Beware{other, "that one is 1/8 longer"}, Piece: bolt(),
			})
		}
		doc := mustLayout(t, list, stock.Name, Options{})
		var heights []float64
		for _, page := range doc.Pages {
			for _, cell := range page.Cells {
				height := capitals(cell, list[cell.Label].Name)
				if height < LeastCapital-1e-9 {
					t.Errorf("%s: the capitals of %q are %.2f mm, want %g", stock.Name, list[cell.Label].Name, height, LeastCapital)
				}
				heights = append(heights, height)
			}
		}
		slices.Sort(heights)
		why := ""
		if doc.Module == 0 {
			why = fmt.Sprintf("no code: %d modules of %g mm do not fit %g mm", codeModules+2*QuietModules, MinModule, stock.CellH)
		}
		fmt.Fprintf(&table, "%-14s %6.1f x %6.1f %6.2f %6.2f %6.2f %6.2f %s\n", stock.Name, stock.CellW, stock.CellH,
			heights[0], heights[len(heights)/2], heights[len(heights)-1], doc.Module, why)
	}
	t.Log(table.String())
}

// The capitals are as high in the typefaces, and on the printed page, as the layout counts
// with.
func TestCapitalsAsPrinted(t *testing.T) {
	set := testSetter(t)
	for _, f := range fonts.Faces() {
		font := set.faces[f].font
		glyph, err := font.GlyphIndex(&set.buffer, 'H')
		if err != nil {
			t.Fatal(err)
		}
		units := fixed.I(int(font.UnitsPerEm()))
		segments, err := font.LoadGlyph(&set.buffer, glyph, units, nil)
		if err != nil {
			t.Fatal(err)
		}
		box := segments.Bounds()
		if got := float64(box.Max.Y-box.Min.Y) / float64(units); math.Abs(got-capHeight) > 0.001 {
			t.Errorf("%s: a capital is %.4f of the em, want %g", f, got, capHeight)
		}
	}
	const dpi = 600
	doc := mustLayout(t, samples()[2:3], "letter-3x10", Options{})
	img := rasterized(t, doc, dpi, 40)
	for _, text := range texts(doc) {
		if text.Face != fonts.MonoBold || !strings.Contains("NAS1149F0363P", text.Text) {
			continue
		}
		top, bottom := math.Inf(1), 0.0
		for y := int((text.Y - 0.75*text.Size) * dpi / inch); y < int((text.Y+0.1*text.Size)*dpi/inch); y++ {
			for x := int(text.X * dpi / inch); x < int((text.X+text.Width)*dpi/inch); x++ {
				if img.GrayAt(x, y).Y < 128 {
					top, bottom = min(top, float64(y)), float64(y+1)
				}
			}
		}
		// Round letters go a hundredth of the em over the flat ones, above and below.
		if got := (bottom - top) * inch / dpi; got < LeastCapital || math.Abs(got-text.Size*capHeight) > 0.03*text.Size {
			t.Errorf("%q is printed %.2f mm high, laid out %.2f", text.Text, got, text.Size*capHeight)
		}
	}
}

// The label of an empty drawer and of a crate is filled by the name: to the right edge or
// down to the foot, and larger than that of a full drawer.
func TestNameFillsItsLabel(t *testing.T) {
	for _, stock := range Stocks() {
		full := samples()[0]
		for _, label := range []Label{
			{Tag: full.Tag, Name: "A-04", PlacePath: "Cabinet A"},
			{Tag: full.Tag, Name: "C2", Title: "Crate 2 of 3", Lines: []string{"order OK-20731"}, Due: "damage by 19 March", Later: "shortages by 13 April"},
		} {
			doc := mustLayout(t, []Label{label, full}, stock.Name, Options{})
			cell, other := doc.Pages[0].Cells[0], doc.Pages[len(doc.Pages)-1].Cells[max(0, len(doc.Pages[0].Cells)-1)]
			got, drawer := capitals(cell, label.Name), capitals(other, full.Name)
			right, lines := 0.0, []Rect{{Y: cell.Bottom()}}
			for _, text := range texts(doc) {
				if text.Text == label.Name {
					right = cell.Right() - text.X - text.Width
				} else if text.Text == SpacedTag(label.Tag) && cell.H > stripHeight {
					continue
				}
				lines = append(lines, Rect{Y: text.Y - capHeight*text.Size, H: capHeight * text.Size})
			}
			slices.SortFunc(lines, func(a, b Rect) int { return cmp.Compare(a.Y, b.Y) })
			blank, last, larger := 0.0, cell.Y, 1.2
			if code, _ := codeOf(cell); upright(cell.Rect) {
				last = code.Quiet().Bottom()
			}
			if stock.Tape {
				larger = 1.05 // a drawer's own name has all the length that it needs
			}
			for _, line := range lines {
				blank, last = max(blank, line.Y-last), max(last, line.Bottom())
			}
			if got < larger*drawer || right > 0.15*cell.W && blank > 0.26*cell.H {
				t.Errorf("%s: the capitals of %s are %.2f mm, those of a drawer %.2f; %.1f mm are blank at the right, %.1f of %.1f down", stock.Name, label.Name, got, drawer, right, blank, cell.H)
			}
		}
	}
}

// The words of the scale are no smaller than the rest of their label, and the look-alike
// and the tag take the room that is there.
func TestSmallPrint(t *testing.T) {
	cards(t, func(stock Stock, label Label, cell Cell) {
		least, scale := math.Inf(1), math.Inf(1)
		for _, it := range cell.Items {
			if text, ok := it.(Text); ok && strings.HasPrefix(text.Text, "1:") {
				scale = text.Size
			} else if ok {
				least = min(least, text.Size)
			}
		}
		if scale < least-1e-9 {
			t.Errorf("%s, %q: the scale is set in %.2f mm, the smallest of the rest in %.2f", stock.Name, label.Name, scale, least)
		}
	})
	for name, want := range map[string][2]float64{"letter-3x10": {1.75, 2.1}, "a4-3x7": {2, 1.9}, "letter-2x5": {3, 3.4}, "tape-12": {1.3, 1.3}} {
		doc := mustLayout(t, samples()[:1], name, Options{})
		for _, text := range texts(doc) {
			if is := strings.Contains(text.Text, SpacedTag("SP7K3M9QXD")); is && text.Size*capHeight < want[0] {
				t.Errorf("%s: the capitals of the tag are %.2f mm, want %g", name, text.Size*capHeight, want[0])
			}
			if is := strings.Contains(text.Text, unlike); is && text.Size*capHeight < want[1] {
				t.Errorf("%s: the capitals of the look-alike are %.2f mm, want %g", name, text.Size*capHeight, want[1])
			}
		}
	}
}
