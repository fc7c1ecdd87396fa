package scan

import (
	"context"
	"errors"
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"
	"time"

	"github.com/skip2/go-qrcode"
)

// printedSymbol is a printed symbol with its quiet zone, module pixels a module.
func printedSymbol(t testing.TB, text string, version, module int) *image.Gray {
	t.Helper()
	code, err := qrcode.NewWithForcedVersion(text, version, qrcode.Highest)
	if err != nil {
		t.Fatal(err)
	}
	bits := code.Bitmap()
	picture := image.NewGray(image.Rect(0, 0, len(bits)*module, len(bits)*module))
	for y := range picture.Rect.Dy() {
		for x := range picture.Rect.Dx() {
			if !bits[y/module][x/module] {
				picture.SetGray(x, y, color.Gray{Y: 255})
			}
		}
	}
	return picture
}

// onWhite puts pictures on white paper at the given places.
func onWhite(w, h int, at map[image.Point]image.Image) *image.RGBA {
	paper := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(paper, paper.Bounds(), image.White, image.Point{}, draw.Src)
	for p, picture := range at {
		draw.Draw(paper, picture.Bounds().Add(p), picture, picture.Bounds().Min, draw.Src)
	}
	return paper
}

func TestRead(t *testing.T) {
	tag, other := madeTag('P', 77), madeTag('C', 78)
	paper := onWhite(400, 300, map[image.Point]image.Image{
		{20, 30}:   printedSymbol(t, tag, 1, 4),
		{200, 30}:  printedSymbol(t, other, 1, 4),
		{100, 150}: printedSymbol(t, "HELLO", 1, 4),
	})
	report, err := New().Read(context.Background(), paper, Options{Budget: time.Minute})
	if err != nil || report.Partial {
		t.Fatalf("Read: error %v, partial %v", err, report.Partial)
	}
	want := []Code{{Text: tag, Tag: true}, {Text: other, Tag: true}, {Text: "HELLO"}}
	if len(report.Codes) != len(want) {
		t.Fatalf("Read: %d codes %+v, want %d", len(report.Codes), report.Codes, len(want))
	}
	for i, code := range report.Codes {
		if code.Text != want[i].Text || code.Tag != want[i].Tag || code.How != Read {
			t.Errorf("code %d: got %q tag %v %v, want %q tag %v read", i, code.Text, code.Tag, code.How, want[i].Text, want[i].Tag)
		}
	}
	// The quiet zone is 4 modules of 4 pixels, the symbol 21 modules.
	near(t, report.Codes[0].Corners, [4]Point{{36, 46}, {120, 46}, {120, 130}, {36, 130}}, 2)

	if report.Stages.Total() <= 0 {
		t.Errorf("Stages: %+v, want times above zero", report.Stages)
	}
}

func near(t *testing.T, got, want [4]Point, limit float64) {
	t.Helper()
	for i := range got {
		if d := math.Hypot(got[i].X-want[i].X, got[i].Y-want[i].Y); d > limit {
			t.Errorf("corner %d: got %.2f, want %.2f within %.2f pixels, is %.2f off", i, got[i], want[i], limit, d)
		}
	}
}

func TestReadTagsOnly(t *testing.T) {
	report, err := New().Read(context.Background(), printedSymbol(t, "HELLO", 1, 4), Options{TagsOnly: true})
	if err != nil || len(report.Codes) != 0 {
		t.Errorf("Read with TagsOnly: %+v, %v, want no codes", report.Codes, err)
	}
}

// A picture cut out of a larger one keeps the larger one's coordinates.
func TestReadSubImage(t *testing.T) {
	paper := onWhite(300, 300, map[image.Point]image.Image{{100, 120}: printedSymbol(t, madeTag('P', 5), 1, 4)})
	part := paper.SubImage(image.Rect(90, 110, 300, 300))
	report, err := New().Read(context.Background(), part, Options{Budget: time.Minute})
	if err != nil || len(report.Codes) != 1 {
		t.Fatalf("Read: %+v, %v, want one code", report.Codes, err)
	}
	near(t, report.Codes[0].Corners, [4]Point{{116, 136}, {200, 136}, {200, 220}, {116, 220}}, 2)
}

func TestReadRefuses(t *testing.T) {
	for _, row := range []struct {
		name    string
		picture image.Image
	}{
		{"nil", nil},
		{"empty", image.NewGray(image.Rect(0, 0, 0, 10))},
		{"huge", image.NewUniform(color.White)},
	} {
		t.Run(row.name, func(t *testing.T) {
			if report, err := New().Read(context.Background(), row.picture, Options{}); err == nil {
				t.Errorf("Read: %+v, want an error", report)
			}
		})
	}
}

func TestReadCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	report, err := New().Read(ctx, printedSymbol(t, madeTag('P', 5), 1, 4), Options{})
	if !errors.Is(err, context.Canceled) || !report.Partial {
		t.Errorf("Read: error %v, partial %v, want context.Canceled and true", err, report.Partial)
	}
}

// Every kind of picture gives the same brightness, the fast ones and any other.
func TestPlaneFill(t *testing.T) {
	rect := image.Rect(3, 5, 7, 8)
	src := image.NewNRGBA(rect)
	for i := range src.Pix {
		src.Pix[i] = byte(37 * i)
	}
	rgba := image.NewRGBA(rect)
	draw.Draw(rgba, rect, src, rect.Min, draw.Src)
	slow := struct{ image.Image }{rgba}
	var fast, other, straight plane
	fast.fill(rgba)
	other.fill(slow)
	straight.fill(src)
	for i := range fast.pix {
		if d := int(fast.pix[i]) - int(other.pix[i]); d < -1 || d > 1 {
			t.Errorf("pixel %d: RGBA %d, any other %d", i, fast.pix[i], other.pix[i])
		}
		if d := int(fast.pix[i]) - int(straight.pix[i]); d < -2 || d > 2 {
			t.Errorf("pixel %d: RGBA %d, NRGBA %d", i, fast.pix[i], straight.pix[i])
		}
	}
	empty := image.NewRGBA(image.Rect(0, 0, 1, 1))
	fast.fill(empty)
	if fast.pix[0] != 255 {
		t.Errorf("transparent pixel: got %d, want 255, as on white paper", fast.pix[0])
	}
}
