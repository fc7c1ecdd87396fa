package labels

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"image"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"stowright/assets/fonts"
)

// pdfOf is a document as a PDF.
func pdfOf(t *testing.T, doc Document) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := PDF(&buf, doc, PDFOptions{Made: made}); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

var (
	pdfPage   = regexp.MustCompile(`/MediaBox \[0 0 ([0-9.]+) ([0-9.]+)\]`)
	pdfStream = regexp.MustCompile(`(?s)<</Filter /FlateDecode /Length (\d+)>>\s*stream\n`)
)

// contents are what the pages of a PDF draw, unpacked: the streams with no key but a
// filter and a length. Source: ISO 32000-1, 7.3.8 and 7.8.2.
func contents(t *testing.T, pdf []byte) (pages []string) {
	t.Helper()
	for _, at := range pdfStream.FindAllSubmatchIndex(pdf, -1) {
		length, err := strconv.Atoi(string(pdf[at[2]:at[3]]))
		if err != nil {
			t.Fatal(err)
		}
		unpack, err := zlib.NewReader(bytes.NewReader(pdf[at[1] : at[1]+length]))
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(unpack)
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, string(text))
	}
	return pages
}

// operators are what one page of items draws, as words between single spaces, without
// what the library puts first on each page.
func operators(t *testing.T, w, h float64, items ...Item) string {
	t.Helper()
	page := Page{W: w, H: h, Items: items}
	pages := contents(t, pdfOf(t, Document{Pages: []Page{page}}))
	if len(pages) == 0 {
		t.Fatal("no page is found in the PDF")
	}
	return strings.Join(strings.Fields(pages[0]), " ")
}

// Each kind of item is written at its true size in points, from the bottom of the page
// up. Source: ISO 32000-1, 8.5.2 (paths), 8.4.3 (line width and dashes); 1 point is
// 1/72 in, so 25.4 mm are 72.
func TestPDFOperators(t *testing.T) {
	const in = inch
	square := []Point{{in, in}, {2 * in, in}, {2 * in, 2 * in}}
	for _, row := range []struct {
		name string
		item Item
		want []string
	}{
		{"a filled rectangle", Fill{Rect: Rect{in, in, 2 * in, in / 2}}, []string{"72.00 216.00 144.00 -36.00 re f"}},
		{"in grey", Fill{Rect: Rect{in, in, in, in}, Ink: Quiet}, []string{"0.373 g", "72.00 216.00 72.00 -72.00 re f"}},
		{"in white", Fill{Rect: Rect{in, in, in, in}, Ink: White}, []string{"1.000 g"}},
		{"a line", Path{Points: square, Pen: in / 72}, []string{"1.00 w", "1 J 1 j 72.000 216.000 m 144.000 216.000 l 144.000 144.000 l S"}},
		{"a closed line", Path{Points: square, Pen: in / 36, Closed: true}, []string{"2.00 w", "144.000 144.000 l s"}},
		{"a filled path", Path{Points: square, Filled: true}, []string{"144.000 144.000 l f"}},
		{"a line in grey", Path{Points: square, Pen: 1, Ink: Quiet}, []string{"0.373 G"}},
		{
			"a dashed line, whose ends are flat and whose dashes end with it",
			Path{Points: square[:2], Pen: 1, Dashed: true},
			[]string{"0 J 1 j [2.835 1.701 ] 0 d 72.000 216.000 m 144.000 216.000 l S [] 0 d"},
		},
		{"a box with round corners", Box{Rect: Rect{in, in, 2 * in, in}, Radius: in / 4, Pen: in / 72}, []string{"1.00 w", "90.00000 216.00000 m 198.00000 216.00000 l", "216.00000 162.00000 l", "72.00000 198.00000 l"}},
		{
			"a code in whole modules, downwards from its first one",
			Code{X: in, Y: in, Module: in / 72, Size: 21, Runs: []Run{{0, 0, 7}, {20, 4, 1}}},
			[]string{"q 1.000 0 0 -1.000 72.000 216.000 cm 0 0 7 1 re 4 20 1 1 re f Q"},
		},
		{"text at its baseline", Text{X: in, Y: 2 * in, Size: in / 6, Face: fonts.MonoBold, Text: "A"}, []string{"12.00 Tf", "72.00 144.00 Td"}},
		{"text in grey", Text{X: in, Y: in, Size: 3, Face: fonts.TextRegular, Ink: Quiet, Text: "A"}, []string{"q 0.373 g BT"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			got := operators(t, 4*in, 4*in, row.item)
			for _, want := range row.want {
				if !strings.Contains(got, want) {
					t.Errorf("the page has no %q:\n%s", want, got)
				}
			}
		})
	}
}

// A path of fewer than two points draws nothing.
func TestPDFEmptyPath(t *testing.T) {
	for n := range 2 {
		got := operators(t, 100, 100, Path{Points: make([]Point, n), Pen: 1})
		if strings.Contains(got, " m ") || strings.HasSuffix(got, "S") {
			t.Errorf("a path of %d points draws %q", n, got)
		}
	}
}

// Each page has its own size, in points.
func TestPDFPageSizes(t *testing.T) {
	doc := Document{Pages: []Page{{W: 215.9, H: 279.4}, {W: 100, H: 62}, {W: 31, H: 12}}}
	var got []string
	for _, m := range pdfPage.FindAllSubmatch(pdfOf(t, doc), -1) {
		got = append(got, string(m[1])+" x "+string(m[2]))
	}
	// The library writes the first size once for all pages, and those that differ.
	all := strings.Join(got, ", ")
	for _, want := range []string{"612.00 x 792.00", "283.46 x 175.75", "87.87 x 34.02"} {
		if !strings.Contains(all, want) {
			t.Errorf("no page is %s points; there are %s", want, all)
		}
	}
}

// What a sheet says about itself is drawn after its labels, and labels in their order.
func TestPDFOrder(t *testing.T) {
	fill := func(x float64) Item { return Fill{Rect: Rect{x * inch, inch, inch, inch}} }
	page := Page{W: 200, H: 200, Items: []Item{fill(3)}, Cells: []Cell{{Items: []Item{fill(1)}}, {Items: []Item{fill(2)}}}}
	text := contents(t, pdfOf(t, Document{Pages: []Page{page}}))[0]
	last := -1
	for _, x := range []string{"72.00 ", "144.00 ", "216.00 "} {
		at := strings.Index(text, "\n"+x)
		if at <= last {
			t.Errorf("the rectangle at %sis drawn at byte %d, after %d", x, at, last)
		}
		last = at
	}
}

// Only the typefaces that are used are embedded.
func TestPDFFaces(t *testing.T) {
	text := func(f fonts.Face) Item { return Text{X: 10, Y: 10, Size: 3, Face: f, Text: "A"} }
	for _, row := range []struct {
		name string
		page Page
		want []fonts.Face
	}{
		{"none", Page{W: 50, H: 50}, nil},
		{"in a cell", Page{W: 50, H: 50, Cells: []Cell{{Items: []Item{text(fonts.MonoBold)}}}}, []fonts.Face{fonts.MonoBold}},
		{"on the sheet", Page{W: 50, H: 50, Items: []Item{text(fonts.TextRegular)}}, []fonts.Face{fonts.TextRegular}},
		{
			"in their own order, each once",
			Page{W: 50, H: 50, Items: []Item{text(fonts.MonoMedium), text(fonts.TextBold), text(fonts.MonoMedium)}},
			[]fonts.Face{fonts.TextBold, fonts.MonoMedium},
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			doc := Document{Pages: []Page{row.page}}
			if got := facesOf(doc); fmt.Sprint(got) != fmt.Sprint(row.want) {
				t.Errorf("faces %v, want %v", got, row.want)
			}
			if got := bytes.Count(pdfOf(t, doc), []byte("/FontFile2")); got != len(row.want) {
				t.Errorf("%d typefaces are embedded, want %d", got, len(row.want))
			}
		})
	}
}

// The same typeface can be used for a second PDF: the library cuts its bytes down.
func TestPDFTwice(t *testing.T) {
	doc := Document{Pages: []Page{{W: 50, H: 50, Items: []Item{Text{X: 5, Y: 9, Size: 3, Face: fonts.MonoBold, Text: "AN3-5A"}}}}}
	whole := len(fonts.MonoBold.TrueType())
	first := pdfOf(t, doc)
	if len(fonts.MonoBold.TrueType()) != whole || !bytes.Equal(first, pdfOf(t, doc)) {
		t.Error("writing a PDF has changed the typeface")
	}
}

// Progress is told after each page, and can stop the work.
func TestPDFProgress(t *testing.T) {
	doc := Document{Pages: []Page{{W: 50, H: 50}, {W: 50, H: 50}, {W: 50, H: 50}}}
	var told []string
	stop := errors.New("enough")
	for _, row := range []struct {
		stopAt int
		want   string
		err    error
	}{{0, "[1/3 2/3 3/3]", nil}, {2, "[1/3 2/3]", stop}} {
		told = nil
		var buf bytes.Buffer
		err := PDF(&buf, doc, PDFOptions{Made: made, Progress: func(done, total int) error {
			told = append(told, fmt.Sprintf("%d/%d", done, total))
			if done == row.stopAt {
				return stop
			}
			return nil
		}})
		if fmt.Sprint(told) != row.want || !errors.Is(err, row.err) {
			t.Errorf("stopped at %d: told %v, error %v; want %s, %v", row.stopAt, told, err, row.want, row.err)
		}
		if (err != nil) != (buf.Len() == 0) {
			t.Errorf("stopped at %d: %d bytes are written", row.stopAt, buf.Len())
		}
	}
}

// A writer that fails is an error, not half a file without a word.
func TestPDFWriterFails(t *testing.T) {
	doc := Document{Pages: []Page{{W: 50, H: 50}}}
	full := errors.New("disk full")
	if err := PDF(failing{full}, doc, PDFOptions{Made: made}); !errors.Is(err, full) {
		t.Errorf("writing to a full disk: %v", err)
	}
}

// failing is a writer that takes nothing.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// The code in the PDF is dark where the display list says: every module of the page
// stream, counted back from its rectangles.
func TestPDFCodeModules(t *testing.T) {
	const tag = "SP7K3M9QXD"
	runs, err := runsOf(tag)
	if err != nil {
		t.Fatal(err)
	}
	text := operators(t, 50, 50, Code{X: 5, Y: 5, Module: 1, Size: codeModules, Runs: runs, Text: tag})
	var drawn grid
	for _, m := range regexp.MustCompile(`(\d+) (\d+) (\d+) 1 re`).FindAllStringSubmatch(text, -1) {
		var v [3]int
		for i := range v {
			if v[i], err = strconv.Atoi(m[i+1]); err != nil {
				t.Fatal(err)
			}
		}
		for x := v[0]; x < v[0]+v[2]; x++ {
			drawn[v[1]][x] = true
		}
	}
	if drawn != gridOf(runs) {
		t.Error("the modules in the PDF are not those of the code")
	}
	if _, got, err := drawn.decode(maskOf(drawn)); got != tag || err != nil {
		t.Errorf("the modules in the PDF say %q, %v; want %s", got, err, tag)
	}
}

func maskOf(g grid) int {
	_, mask := g.format()
	return mask
}

// dark lists the pixels of a picture that are darker than half.
func dark(img *image.RGBA) (pixels []image.Point) {
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if img.RGBAAt(x, y).R < 128 {
				pixels = append(pixels, image.Pt(x, y))
			}
		}
	}
	return pixels
}
