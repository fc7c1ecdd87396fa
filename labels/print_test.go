package labels

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// tool runs a program that the tests need and the project does not ship.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if testing.Short() {
		t.Skipf("%s is left to the long tests", name)
	}
	if _, err := exec.LookPath(name); err != nil {
		t.Skipf("NOT CHECKED: %s is not installed", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

func pdfFile(t *testing.T, doc Document) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "labels.pdf")
	var b bytes.Buffer
	if err := PDF(&b, doc, PDFOptions{Made: made}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// rasterized is the top of the first page of a document as a printer would see
// it, at most so many millimetres high.
func rasterized(t *testing.T, doc Document, dpi int, height float64) *image.Gray {
	t.Helper()
	path := pdfFile(t, doc)
	base := strings.TrimSuffix(path, ".pdf")
	tool(t, "pdftoppm", "-r", fmt.Sprint(dpi), "-gray", "-png", "-singlefile",
		"-H", fmt.Sprint(int(math.Min(height, doc.Pages[0].H)*float64(dpi)/inch)), path, base)
	f, err := os.Open(base + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	gray := image.NewGray(img.Bounds())
	draw.Draw(gray, gray.Bounds(), img, image.Point{}, draw.Src)
	return gray
}

func TestPDFIsSound(t *testing.T) {
	for _, stock := range Stocks() {
		t.Run(stock.Name, func(t *testing.T) {
			path := pdfFile(t, mustLayout(t, samples(), stock.Name, Options{CutMarks: true}))
			tool(t, "qpdf", "--check", path)
		})
	}
}

// TestPDFText finds what a person reads in the text of the PDF; the two lines of a long name
// follow each other.
func TestPDFText(t *testing.T) {
	path := pdfFile(t, mustLayout(t, samples(), "letter-3x10", Options{}))
	text := tool(t, "pdftotext", "-layout", path, "-")
	inOrder := strings.Join(strings.Fields(tool(t, "pdftotext", "-raw", path, "-")), "")
	for _, l := range samples() {
		for _, want := range []string{SpacedTag(l.Tag), l.Place} {
			if !strings.Contains(text, want) {
				t.Errorf("pdftotext does not show %q", want)
			}
		}
		if !strings.Contains(inOrder, l.Name) && !strings.Contains(l.Name, " ") {
			t.Errorf("pdftotext does not show the name %q", l.Name)
		}
	}
	for _, want := range []string{Caution, "≠ AN3-6A", "sheet 1 of 1"} {
		if !strings.Contains(text, want) {
			t.Errorf("pdftotext does not show %q", want)
		}
	}
}

// TestModulesAreTrueToSize measures every edge of every dark run of the codes on
// a page at 600 dots an inch: each must be where the display list says, to 0.1 mm.
func TestModulesAreTrueToSize(t *testing.T) {
	for _, name := range []string{"letter-3x10", "a4-5x13", "crate-100x62", "tape-12"} {
		t.Run(name, func(t *testing.T) {
			doc := mustLayout(t, samples(), name, Options{})
			const dpi = 600
			const height = 70 // two rows or more
			img := rasterized(t, doc, dpi, height)
			worst, edges := 0.0, 0
			for _, cell := range doc.Pages[0].Cells {
				for _, it := range cell.Items {
					if code, ok := it.(Code); ok && code.Bounds().Bottom() < height {
						off, n := measureCode(t, img, code, dpi/inch)
						worst, edges = math.Max(worst, off), edges+n
					}
				}
			}
			t.Logf("%d edges, worst %.3f mm off", edges, worst)
			if worst > 0.1 || edges == 0 {
				t.Errorf("%d edges measured, worst is %.3f mm off, want at most 0.1", edges, worst)
			}
		})
	}
}

// measureCode compares the dark runs of a code with those of a picture and
// returns the greatest distance of two edges in millimetres.
func measureCode(t *testing.T, img *image.Gray, code Code, perMM float64) (worst float64, edges int) {
	t.Helper()
	byRow := map[uint8][]float64{}
	for _, r := range code.Runs {
		x := code.X + float64(r.Col)*code.Module
		byRow[r.Row] = append(byRow[r.Row], x, x+float64(r.Len)*code.Module)
	}
	quiet := code.Quiet()
	for row, want := range byRow {
		y := int((code.Y + (float64(row)+0.5)*code.Module) * perMM)
		var got []float64
		dark := false
		for x := int(quiet.X*perMM) + 1; x < int(quiet.Right()*perMM); x++ {
			if now := img.GrayAt(x, y).Y < 128; now != dark {
				got, dark = append(got, float64(x)/perMM), now
			}
		}
		if len(got) != len(want) {
			t.Fatalf("code %q row %d: %d edges in the picture, want %d", code.Text, row, len(got), len(want))
		}
		for i := range want {
			worst = math.Max(worst, math.Abs(got[i]-want[i]))
		}
		edges += len(want)
	}
	return worst, edges
}

// TestCodesReadBack prints full sheets of different tags and reads every code
// with two readers that are not ours, label by label: on a whole sheet one of
// them overlooks many codes, whoever printed them.
func TestCodesReadBack(t *testing.T) {
	readers := []struct {
		name string
		args []string
	}{
		{"zbarimg", []string{"-q", "--raw", "--nodbus", "-Sdisable", "-Sqrcode.enable"}},
		{"ZXingReader", []string{"-1", "-format", "QRCode"}},
	}
	for _, name := range []string{"letter-3x10", "a4-3x8", "letter-4x20"} {
		t.Run(name, func(t *testing.T) {
			stock, err := StockNamed(name)
			if err != nil {
				t.Fatal(err)
			}
			list := repeat(samples()[:3], stock.PerPage())
			for i := range list {
				list[i].Tag = fmt.Sprintf("SP%02dK3M9QX", i)
			}
			files := cutOut(t, mustLayout(t, list, name, Options{}))
			for _, reader := range readers {
				t.Run(reader.name, func(t *testing.T) {
					got := strings.Fields(tool(t, reader.name, append(slices.Clone(reader.args), files...)...))
					for _, l := range list {
						if !slices.ContainsFunc(got, func(s string) bool { return strings.Trim(s, "\"'") == l.Tag }) {
							t.Errorf("%s did not read %s", reader.name, l.Tag)
						}
					}
				})
			}
		})
	}
}

// cutOut rasterizes the first page, cuts it into labels and names their files.
func cutOut(t *testing.T, doc Document) (files []string) {
	t.Helper()
	const dpi = 300
	img := rasterized(t, doc, dpi, doc.Pages[0].H)
	dir := t.TempDir()
	for _, cell := range doc.Pages[0].Cells {
		crop := img.SubImage(image.Rect(int(cell.X*dpi/inch), int(cell.Y*dpi/inch), int(cell.Right()*dpi/inch), int(cell.Bottom()*dpi/inch)))
		file := filepath.Join(dir, fmt.Sprintf("%d.png", cell.Label))
		writePNG(t, file, crop)
		files = append(files, file)
	}
	return files
}

func writePNG(t *testing.T, file string, img image.Image) {
	t.Helper()
	var buf bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(&buf, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, buf.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
}

// TestRulerIsTrueToSize measures both rulers of the test page.
func TestRulerIsTrueToSize(t *testing.T) {
	doc, err := Calibration(Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	checkInside(t, doc)
	perMM := 600 / inch
	img := rasterized(t, doc, 600, 175)
	for _, down := range []bool{false, true} {
		first, last := math.Inf(1), 0.0
		for i := int(20 * perMM); i < int(133*perMM); i++ {
			// Four millimetres off the line only the strokes of the tens are met.
			at := image.Pt(i, int(60*perMM))
			if down {
				at = image.Pt(int(21*perMM), i+int(39*perMM))
			}
			if img.GrayAt(at.X, at.Y).Y < 128 {
				first, last = math.Min(first, float64(i)/perMM), math.Max(last, float64(i+1)/perMM)
			}
		}
		if got := last - first - rulerPen; math.Abs(got-RulerLength) > 0.1 {
			t.Errorf("ruler (down %t) is %.3f mm long, want %g to 0.1", down, got, RulerLength)
		}
	}
}

func TestCalibrationNeedsASheet(t *testing.T) {
	for _, name := range []string{"crate-100x62", "tape-12"} {
		stock, err := StockNamed(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Calibration(stock); err == nil {
			t.Errorf("Calibration(%s) gave no error", name)
		}
	}
}

func TestPDFErrors(t *testing.T) {
	doc := mustLayout(t, samples(), "letter-3x10", Options{})
	stop := errors.New("stopped")
	broken := Document{Pages: []Page{{W: 100, H: 50, Items: []Item{Text{Text: "\U0001F6E9", Size: 3}}}}}
	cases := []struct {
		name string
		doc  Document
		opt  PDFOptions
		want string
	}{
		{"no pages", Document{}, PDFOptions{}, "there is nothing to print"},
		{"stopped", doc, PDFOptions{Progress: func(int, int) error { return stop }}, "stopped"},
		{"the library panics", broken, PDFOptions{}, "write labels as PDF: "},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var buf bytes.Buffer
			err := PDF(&buf, c.doc, c.opt)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("PDF: %v, want %q", err, c.want)
			}
		})
	}
}

func TestPDFDate(t *testing.T) {
	doc := mustLayout(t, samples(), "letter-3x10", Options{})
	var a, b bytes.Buffer
	if err := PDF(&a, doc, PDFOptions{Made: made}); err != nil {
		t.Fatal(err)
	}
	if err := PDF(&b, doc, PDFOptions{Made: made.Add(time.Hour).In(time.FixedZone("", 3600))}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		pdf  []byte
		want string
	}{{a.Bytes(), "(D:20260314090000)"}, {b.Bytes(), "(D:20260314100000)"}} {
		if n := bytes.Count(c.pdf, []byte(c.want)); n != 2 {
			t.Errorf("date %s is in the file %d times, want 2", c.want, n)
		}
	}
}
