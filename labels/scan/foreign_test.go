package scan

import (
	"fmt"
	"image"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	multi "github.com/makiuchi-d/gozxing/multi/qrcode"
	"github.com/skip2/go-qrcode"

	"stowright/labels/scan/frames"
)

// generalAlone is what the general library reads by its own multiple reader, without
// limit and without a clock.
func generalAlone(t *testing.T, picture image.Image) (texts []string) {
	t.Helper()
	bitmap, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		t.Fatal(err)
	}
	hints := map[gozxing.DecodeHintType]interface{}{gozxing.DecodeHintType_TRY_HARDER: true}
	results, err := multi.NewQRCodeMultiReader().DecodeMultiple(bitmap, hints)
	if err != nil {
		return nil // it finds none
	}
	for _, result := range results {
		if result.GetText() != "" {
			texts = append(texts, result.GetText())
		}
	}
	return texts
}

// checkNeverFewer fails for every code that the general library reads alone and the
// reader does not.
func checkNeverFewer(t *testing.T, name string, picture image.Image) (alone, all int) {
	t.Helper()
	want := generalAlone(t, picture)
	report, err := New().Read(t.Context(), picture, Options{Budget: time.Minute})
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range want {
		if !slices.ContainsFunc(report.Codes, func(c Code) bool { return c.Text == text }) {
			t.Errorf("%s: %.40q is read by the general library alone only; got %.400s", name, text, texts(report.Codes))
		}
	}
	return len(want), len(report.Codes)
}

// With nothing but a few labels at hand the reader finds no fewer codes of other
// makers than the general library does alone.
func TestForeignNeverFewer(t *testing.T) {
	inFull(t)
	random := rand.New(rand.NewPCG(1, 2))
	found := 0
	for i := range 12 {
		frame, err := frames.Empty(5, 3+5*random.IntN(1000), 640, 480)
		if err != nil {
			t.Fatal(err)
		}
		n, _ := checkNeverFewer(t, fmt.Sprint("frame ", i), frame.Picture)
		found += n
	}
	if found == 0 {
		t.Error("the general library reads nothing: nothing was compared")
	}
}

// So does it in a picture too large for the library to search at once, for codes of
// every size of symbol, wherever they lie.
func TestForeignInParts(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	at := map[image.Point]image.Image{}
	for i, version := range []int{1, 2, 4, 7, 10, 14, 19, 25, 32, 40} {
		text := make([]byte, 5+10*version)
		for j := range text {
			text[j] = byte('a' + random.IntN(26))
		}
		code, err := qrcode.NewWithForcedVersion(string(text), version, qrcode.Low)
		if err != nil {
			t.Fatal(err)
		}
		bits := code.Bitmap()
		module := 2 + i%3
		at[image.Pt(i%5*640+random.IntN(20), i/5*800+random.IntN(60))] = painted(len(bits)*module, len(bits)*module, func(x, y int) byte {
			if bits[y/module][x/module] {
				return 20
			}
			return 235
		})
	}
	alone, all := checkNeverFewer(t, "large picture", onWhite(3200, 1800, at))
	if alone < 6 || all < 10 {
		t.Errorf("the general library reads %d, the reader %d; want 6 and all 10", alone, all)
	}
}

// A picture crowded with what looks like finders, more than the library is given at
// once, is read in parts. A crowd in rows and columns, each three of which may be a
// code, takes as long as the budget; then what was found is said to be partial.
func TestForeignInCrowd(t *testing.T) {
	inFull(t)
	random := rand.New(rand.NewPCG(5, 6))
	for _, row := range []struct {
		name string
		rows bool
	}{{"anyhow", false}, {"in rows", true}} {
		t.Run(row.name, func(t *testing.T) {
			at := map[image.Point]image.Image{{620, 330}: printedSymbol(t, "HELLO", 1, 4), {40, 40}: printedSymbol(t, "IN A CORNER", 2, 4)}
			for i := range 25 * 16 {
				p, module := image.Pt(i%25*50, i/25*44), 2
				if p.In(image.Rect(560, 280, 760, 490)) || p.In(image.Rect(0, 0, 200, 200)) {
					continue
				}
				if !row.rows {
					module = 1 + random.IntN(4)
					p = p.Add(image.Pt(random.IntN(13), random.IntN(9)))
				}
				at[p] = painted(9*module, 9*module, func(x, y int) byte { return finderField(2*x/module, 2*y/module) })
			}
			budget := 10 * time.Second
			if row.rows {
				budget = time.Second
			}
			report, err := New().Read(t.Context(), onWhite(1280, 720, at), Options{Budget: budget})
			if err != nil {
				t.Fatal(err)
			}
			for _, text := range []string{"HELLO", "IN A CORNER"} {
				if !slices.ContainsFunc(report.Codes, func(c Code) bool { return c.Text == text }) && !(row.rows && report.Partial) {
					t.Errorf("%q is not read: %s, partial %v", text, texts(report.Codes), report.Partial)
				}
			}
			if took := report.Stages.Foreign; took > 2*budget {
				t.Errorf("took %v, want %v", took, budget)
			}
		})
	}
}

// Parts cover the whole and overlap.
func TestDivide(t *testing.T) {
	for _, row := range []struct{ n, length, overlap int }{{100, 100, 40}, {101, 100, 40}, {5000, 1732, 400}, {1733, 1732, 400}, {24_000, 1732, 400}, {50, 100, 40}} {
		starts := divide(row.n, row.length, row.overlap)
		if last := starts[len(starts)-1]; starts[0] != 0 || last+row.length < row.n || last != max(0, row.n-row.length) {
			t.Errorf("%+v: %v does not cover it", row, starts)
		}
		for i := 1; i < len(starts); i++ {
			if shared := starts[i-1] + row.length - starts[i]; shared < row.overlap {
				t.Errorf("%+v: %v share only %d", row, starts, shared)
			}
		}
	}
}

// A large photograph with a small code of another maker and a small tag in it:
// both are read, and where they are.
func TestForeignInLargePicture(t *testing.T) {
	tag := madeTag('C', 12)
	paper := onWhite(2600, 1800, map[image.Point]image.Image{{1900, 1200}: printedSymbol(t, "HELLO", 1, 3), {2100, 1200}: printedSymbol(t, tag, 1, 3)})
	report, err := New().Read(t.Context(), paper, Options{Budget: time.Minute})
	if err != nil || len(report.Codes) != 2 || report.Codes[0].Text != "HELLO" || report.Codes[1].Text != tag {
		t.Fatalf("Read: %s, %v, want HELLO and %q", texts(report.Codes), err, tag)
	}
	near(t, report.Codes[0].Corners, [4]Point{{1912, 1212}, {1975, 1212}, {1975, 1275}, {1912, 1275}}, 3)
}
