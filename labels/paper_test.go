package labels

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"
	"testing"
)

// photograph is a JPEG of one grey.
func photograph(t testing.TB, w, h int, grey uint8) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = grey
	}
	var buf bytes.Buffer
	if err := jpeg.Encode(&buf, img, nil); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

func longPaper(rows int) Paper {
	p := Paper{
		Title: "Crate C1", Tag: "SC0123456J", Under: []string{"order OK-1"},
		Blocks: []Block{{Heading: "H101", Columns: []PaperColumn{{Title: "line", Width: 12, Mono: true}, {Title: "words"}, {Title: "all", Width: 9, Tick: true}, {Title: "found", Width: 20, Line: true}}}},
	}
	for i := range rows {
		p.Blocks[0].Rows = append(p.Blocks[0].Rows, []string{fmt.Sprint(i + 1), strings.Repeat("rivet ", 1+i%30), ""})
	}
	return p
}

// words are the texts of a page.
func words(p Page) string {
	var all []string
	for _, it := range p.Items {
		if t, ok := it.(Text); ok {
			all = append(all, t.Text)
		}
	}
	return strings.Join(all, "\n")
}

// A table goes over as many pages as it needs, each with its headings and its number, with
// a box for every row, and nothing leaves the paper or is set twice.
func TestPaperGoesOverPages(t *testing.T) {
	doc, err := longPaper(120).Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	checkInside(t, doc)
	if len(doc.Pages) < 4 {
		t.Fatalf("%d pages for 120 rows", len(doc.Pages))
	}
	boxes, codes, seen := 0, 0, map[string]int{}
	for n, page := range doc.Pages {
		if w := words(page); !strings.Contains(w, "found") || !strings.Contains(w, fmt.Sprintf("page %d of %d", n+1, len(doc.Pages))) {
			t.Errorf("page %d lacks its headings or its number:\n%s", n+1, w)
		}
		for _, it := range page.Items {
			switch it := it.(type) {
			case Box:
				boxes++
			case Code:
				codes++
				if it.Text != "SC0123456J" {
					t.Errorf("the code says %s", it.Text)
				}
			case Text:
				if it.X == paperMargin && it.Size == paperText {
					seen[it.Text]++
				}
				if it.Ink == Black && it.Y > page.H-paperMargin {
					t.Errorf("page %d: %q stands in the foot", n+1, it.Text)
				}
			}
		}
	}
	if boxes != 120 || codes != 1 || doc.Module != paperCode {
		t.Errorf("%d boxes, %d codes, modules of %.2f mm", boxes, codes, doc.Module)
	}
	for i := range 120 {
		if seen[fmt.Sprint(i+1)] != 1 {
			t.Errorf("line %d stands %d times", i+1, seen[fmt.Sprint(i+1)])
		}
	}
}

// What is on paper is in the file: read back by poppler, which is not ours.
func TestPaperAsPDF(t *testing.T) {
	p := longPaper(3)
	p.Blocks = append(p.Blocks, Block{Heading: "Photographs", Pictures: []PaperPicture{
		{JPEG: photograph(t, 64, 48, 90), W: 64, H: 48, Caption: "P-3, dented"},
		{JPEG: photograph(t, 48, 64, 90), W: 48, H: 64, Caption: "P-4"},
		{JPEG: photograph(t, 64, 48, 90), W: 64, H: 48, Caption: "P-5"},
		{W: 0},
	}})
	doc, err := p.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	checkInside(t, doc)
	text := tool(t, "pdftotext", "-layout", pdfFile(t, doc), "-")
	for _, want := range []string{"Crate C1", "order OK-1", "rivet rivet rivet", "P-3, dented", "P-5", "page 1 of"} {
		if !strings.Contains(text, want) {
			t.Errorf("the file lacks %q:\n%s", want, text)
		}
	}
	if list := tool(t, "pdfimages", "-list", pdfFile(t, doc)); strings.Count(list, "jpeg") < 2 {
		t.Errorf("the photographs are not in the file:\n%s", list)
	}
	img, err := Picture(doc.Pages[0], 4)
	if err != nil {
		t.Fatal(err)
	}
	for _, it := range doc.Pages[0].Items {
		if i, ok := it.(Image); ok {
			x, y := int((i.X+i.W/2)*4), int((i.Y+i.H/2)*4)
			if got := color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y; got < 85 || got > 95 {
				t.Errorf("in the middle of a photograph the page is %d, want 90", got)
			}
		}
	}
}

// A tag that fits no code is refused, and so is a file with a photograph that is none.
func TestPaperRefuses(t *testing.T) {
	p := longPaper(1)
	p.Tag = "no tag"
	if _, err := p.Layout(Stocks()[0]); err == nil {
		t.Error("a tag that is none")
	}
	p = longPaper(1)
	p.Blocks[0].Pictures = []PaperPicture{{JPEG: []byte("no picture"), W: 10, H: 10}}
	doc, err := p.Layout(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := PDF(&bytes.Buffer{}, doc, PDFOptions{Made: made}); err == nil {
		t.Error("a photograph that is none is written")
	}
	if _, err := longPaper(200_000).Layout(Stocks()[0]); err == nil || !strings.Contains(err.Error(), "2000 pages") {
		t.Errorf("without end: %v", err)
	}
}

// A paper that opens something says so in its code, which is read back whole; what no
// code can hold is refused, and Opens says so before.
func TestPaperOpens(t *testing.T) {
	for text, side := range map[string]int{"PULL SA-10": 21, "PULL SA-10+SA-21+SA-30+SA-40+SA-41": 25, strings.Repeat("A", longestOpens): 33} {
		doc, err := Paper{Title: "Pull", Opens: text}.Layout(Stocks()[0])
		if err != nil {
			t.Fatal(err)
		}
		checkInside(t, doc)
		var codes []Code
		for _, it := range doc.Pages[0].Items {
			if c, ok := it.(Code); ok {
				codes = append(codes, c)
			}
		}
		if len(codes) != 1 || codes[0].Text != text || codes[0].Size != side || doc.Module != paperCode || !strings.Contains(words(doc.Pages[0]), text) {
			t.Errorf("%q: %d codes, %+v", text, len(codes), codes)
		}
		if !Opens(text) {
			t.Errorf("%q opens nothing", text)
		}
	}
	for _, text := range []string{"pull sa-10", strings.Repeat("A", longestOpens+1), ""} {
		if Opens(text) {
			t.Errorf("%q opens something", text)
		}
	}
	if _, err := (Paper{Title: "Pull", Opens: "pull"}).Layout(Stocks()[0]); err == nil {
		t.Error("a text that no code holds is set")
	}
}

// A cabinet is drawn on paper with its drawer all black, small where it has many drawers,
// and makes room for itself.
func TestPaperGrid(t *testing.T) {
	for name, row := range map[string]struct {
		grid PaperGrid
		at   Point // of the drawer, from the top left of the cabinet
	}{
		"the first":    {PaperGrid{Rows: 5, Cols: 8, Lit: 0}, Point{0, 0}},
		"A-30":         {PaperGrid{Rows: 5, Cols: 8, Lit: 29}, Point{5 * 2.5, 3 * 2}},
		"of very many": {PaperGrid{Rows: 36, Cols: 40, Lit: 41}, Point{.5, .5}},
		"none":         {PaperGrid{Rows: 2, Cols: 2, Lit: -1}, Point{-1, -1}},
		"beyond":       {PaperGrid{Rows: 2, Cols: 2, Lit: 4}, Point{-1, -1}},
	} {
		t.Run(name, func(t *testing.T) {
			doc, err := Paper{Title: "Pull", Blocks: []Block{{
				Columns: []PaperColumn{{Title: "drawer", Width: 22, Grid: true}, {Title: "take"}}, Rows: [][]string{{"", "bolts"}}, Grids: []PaperGrid{row.grid},
			}}}.Layout(Stocks()[0])
			if err != nil {
				t.Fatal(err)
			}
			checkInside(t, doc)
			var frame *Box
			lit := Point{-1, -1}
			for _, it := range doc.Pages[0].Items {
				switch it := it.(type) {
				case Box:
					frame = &it
				case Path:
					if it.Filled {
						lit = Point{it.Points[0].X - frame.X, it.Points[0].Y - frame.Y}
					}
				}
			}
			if frame == nil || frame.W > gridMostW+1e-9 || frame.H > gridMostH+1e-9 {
				t.Fatalf("the cabinet is %+v", frame)
			}
			if math.Abs(lit.X-row.at.X) > 1e-9 || math.Abs(lit.Y-row.at.Y) > 1e-9 {
				t.Errorf("its drawer lies at %+v, want %+v", lit, row.at)
			}
		})
	}
}

// Every page says in its foot what it was printed from, with a code that a camera reads and
// nothing that comes near it or runs into the words.
func TestPaperAnchor(t *testing.T) {
	p := longPaper(120)
	hash := strings.TrimSpace(strings.Repeat("0AF9 ", 16))
	p.Anchor = &PaperAnchor{Words: "Newest entry 1234567, of 14 March 2026 09:12. Its hash, which covers all before it:", Hash: hash, Code: "ENTRY 1234567 " + strings.ReplaceAll(hash, " ", "")}
	for _, stock := range []Stock{Stocks()[0], OfficePaper("Letter"), {PageW: 105, PageH: 148}} {
		doc, err := p.Layout(stock)
		if err != nil {
			t.Fatal(err)
		}
		checkInside(t, doc)
		for n, page := range doc.Pages {
			if w := words(page); !strings.Contains(w, hash) || !strings.Contains(w, "Newest entry 1234567") || !strings.Contains(w, "page") {
				t.Errorf("page %d of %v lacks its anchor:\n%s", n+1, page, w)
			}
			anchorIsClear(t, page, p.Anchor.Code)
		}
	}
	p.Anchor.Code = strings.Repeat("A", longestAnchor+1)
	if _, err := p.Layout(Stocks()[0]); err == nil {
		t.Error("a code too long is laid out")
	}
}

// anchorIsClear sees that the code of an anchor is on a page and that nothing lies in its
// quiet zone, and nothing of the page in the foot.
func anchorIsClear(t *testing.T, page Page, text string) {
	t.Helper()
	var zone Rect
	for _, it := range page.Items {
		if c, ok := it.(Code); ok && c.Text == text {
			q := QuietModules * c.Module
			side := float64(c.Size) * c.Module
			zone = Rect{c.X - q, c.Y - q, side + 2*q, side + 2*q}
			if c.Module < MinModule {
				t.Errorf("its modules are %g mm", c.Module)
			}
		}
	}
	if zone.W == 0 {
		t.Fatal("there is no code")
	}
	for _, it := range page.Items {
		switch it := it.(type) {
		case Text:
			if it.Y > zone.Y && it.Y-it.Size < zone.Y+zone.H && it.X+it.Width > zone.X {
				t.Errorf("%q comes near the code", it.Text)
			}
		case Path:
			for _, at := range it.Points {
				if at.Y > zone.Y && at.X > zone.X {
					t.Errorf("a line at %v comes near the code", at)
				}
			}
		}
	}
}
