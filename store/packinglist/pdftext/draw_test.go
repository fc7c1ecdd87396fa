package pdftext

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/jung-kurt/gofpdf"
)

// drawn is one for all tests, as shared is.
var drawn *Reader

func drawer(t testing.TB) *Reader {
	t.Helper()
	if drawn == nil {
		var err error
		if drawn, err = NewDrawer(); err != nil {
			t.Fatal(err)
		}
	}
	return drawn
}

// twoBoxes is a PDF whose first page, wider than high, has a red box at the top left, and
// whose second is blue.
func twoBoxes(t testing.TB) []byte {
	t.Helper()
	pdf := gofpdf.New("L", "pt", "A4", "")
	pdf.AddPage()
	pdf.SetFillColor(255, 0, 0)
	pdf.Rect(0, 0, 400, 200, "F")
	pdf.AddPage()
	pdf.SetFillColor(0, 0, 255)
	pdf.Rect(0, 0, 842, 595, "F")
	var buf bytes.Buffer
	if err := pdf.Output(&buf); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// The first page is drawn upright, in its colours on white, as large as it was asked for.
func TestFirstPage(t *testing.T) {
	for _, side := range []int{400, MostSide * 2} {
		picture, err := drawer(t).FirstPage(context.Background(), twoBoxes(t), side)
		if err != nil {
			t.Fatal(err)
		}
		wide, high := picture.Bounds().Dx(), picture.Bounds().Dy()
		if want := min(side, MostSide); wide != want || high < want*2/3 || high > want*3/4 {
			t.Errorf("it has %d x %d pixels, want %d wide", wide, high, want)
		}
		for at, want := range map[[2]int]color.RGBA{{wide / 4, high / 4}: {255, 0, 0, 255}, {wide * 3 / 4, high * 3 / 4}: {255, 255, 255, 255}} {
			if got := picture.At(at[0], at[1]); got != want {
				t.Errorf("at %v it is %v, want %v", at, got, want)
			}
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := drawer(t).FirstPage(ctx, pagesOf(1, deflated(lines(700), 40, "")), 400); !errors.Is(err, context.Canceled) {
		t.Errorf("canceled: %v", err)
	}
}

// A scan of 300 dots an inch is drawn, whether it was packed as a photograph is or without loss.
func TestFirstPageOfScan(t *testing.T) {
	scan := image.NewRGBA(image.Rect(0, 0, 2480, 3508))
	for i := range scan.Pix {
		if scan.Pix[i] = 0xff; i%4 < 3 {
			scan.Pix[i] = byte(200 + i/9973%7*i%11) // paper is never white
		}
	}
	var photo, exact bytes.Buffer
	if err := errors.Join(jpeg.Encode(&photo, scan, nil), (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&exact, scan)); err != nil {
		t.Fatal(err)
	}
	clear := bytes.Clone(scan.Pix)
	for i := range clear {
		clear[i] = byte(200 + i*i/9973%40) // what lets something through is a second picture, and this packs badly
	}
	var large bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&large, &image.RGBA{Pix: clear, Stride: scan.Stride, Rect: scan.Rect}); err != nil {
		t.Fatal(err)
	}
	// An engine with the memory of one that reads has no room for that, and says so.
	if _, err := shared.FirstPage(context.Background(), scanned(t, "PNG", bytes.NewBuffer(large.Bytes())), 1200); !errors.Is(err, ErrNotDrawn) {
		t.Errorf("without room: %v", err)
	}
	for kind, data := range map[string]*bytes.Buffer{"JPG": &photo, "PNG": &exact} {
		file := scanned(t, kind, data)
		picture, err := drawer(t).FirstPage(context.Background(), file, 1200)
		if err != nil {
			t.Fatalf("%s of %d kB after %d million steps: %v", kind, len(file)>>10, drawn.gone>>20, err)
		}
		if r, _, _, _ := picture.At(400, 600).RGBA(); r>>8 < 90 || r>>8 > 245 {
			t.Errorf("%s is drawn in %d", kind, r>>8)
		}
	}
}

// scanned is a PDF of one page that a picture fills.
func scanned(t testing.TB, kind string, picture *bytes.Buffer) []byte {
	t.Helper()
	pdf := gofpdf.New("P", "pt", "A4", "")
	pdf.AddPage()
	pdf.RegisterImageOptionsReader("scan", gofpdf.ImageOptions{ImageType: kind}, picture)
	pdf.ImageOptions("scan", 0, 0, 595, 842, false, gofpdf.ImageOptions{ImageType: kind}, 0, "")
	var buf bytes.Buffer
	if err := pdf.Output(&buf); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// None of the hostile files keeps the engine longer than its steps, nor gets past its memory.
func TestFirstPageOfHostileFiles(t *testing.T) {
	for _, row := range hostileFiles() {
		if row.long && testing.Short() {
			continue
		}
		t.Run(row.name, func(t *testing.T) {
			_, err := drawer(t).FirstPage(context.Background(), row.data(), 800)
			if drawn.gone > drawing+slice {
				t.Errorf("it went %d steps", drawn.gone)
			}
			if errors.Is(row.want, ErrBomb) && !errors.Is(err, ErrNotDrawn) {
				t.Errorf("a bomb: %v", err)
			}
		})
	}
}
