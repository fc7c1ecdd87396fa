package scan

import (
	"context"
	"encoding/binary"
	"image"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
	"time"
)

// newNoise gives normal noise of a standard deviation.
func newNoise(sigma float64) func() float64 {
	random := rand.New(rand.NewPCG(1, 2))
	return func() float64 { return sigma * random.NormFloat64() }
}

func painted(w, h int, paint func(x, y int) byte) *image.Gray {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = paint(i%w, i/w)
	}
	return m
}

// finderField is covered with finder patterns, each a possible corner of many.
func finderField(x, y int) byte {
	x, y = x/2%9, y/2%9
	if x < 7 && y < 7 && finderDark(y, x) {
		return 0
	}
	return 255
}

// Whatever the picture, no tag, no panic, and an end soon after the budget.
func TestHostilePictures(t *testing.T) {
	noise := rand.New(rand.NewPCG(1, 2))
	for _, row := range []struct {
		name    string
		picture image.Image
	}{
		{"one pixel", painted(1, 1, func(int, int) byte { return 0 })},
		{"one row", painted(5000, 1, func(x, _ int) byte { return byte(x * 77) })},
		{"one column", painted(1, 5000, func(_, y int) byte { return byte(y * 77) })},
		{"two rows", painted(3000, 2, func(x, y int) byte { return byte(x * y) })},
		{"23 pixels", painted(23, 23, func(x, y int) byte { return byte(255 * (x & y & 1)) })},
		{"all black", painted(1280, 720, func(int, int) byte { return 0 })},
		{"all white", painted(1280, 720, func(int, int) byte { return 255 })},
		{"noise", painted(1280, 720, func(int, int) byte { return byte(noise.IntN(256)) })},
		{"black and white noise", painted(1280, 720, func(int, int) byte { return byte(255 * noise.IntN(2)) })},
		{"coarse noise", painted(1280, 720, func(x, y int) byte {
			h := uint32(x/3*7919+y/3*104729) * 2654435761
			return byte(h >> 24)
		})},
		{"checks", painted(1280, 720, func(x, y int) byte { return byte(255 * ((x/3 + y/3) & 1)) })},
		{"stripes of a finder", painted(1280, 720, func(x, _ int) byte {
			if d := x / 3 % 9; d == 0 || d == 2 || d == 3 || d == 4 || d == 6 {
				return 0
			}
			return 255
		})},
		{"large noise", painted(4000, 3000, func(int, int) byte { return byte(noise.IntN(256)) })},
		{"finders of a pixel a module everywhere", painted(1280, 720, func(x, y int) byte { return finderField(2*x, 2*y) })},
		{"finders everywhere in a large picture", painted(3000, 2000, finderField)},
		{"finders everywhere", painted(1280, 720, finderField)},
	} {
		t.Run(row.name, func(t *testing.T) {
			start := time.Now()
			report, err := New().Read(context.Background(), row.picture, Options{Issued: Issue(madeTags(500)), Budget: 300 * time.Millisecond})
			took := time.Since(start)
			if err != nil {
				t.Fatal(err)
			}
			for _, code := range report.Codes {
				t.Errorf("code %q %v, want none", code.Text, code.How)
			}
			// The machine may be busy with other things.
			if limit := 5 * time.Second; took > limit {
				t.Errorf("took %v, limit %v", took, limit)
			}
			t.Logf("took %v, partial %v, %+v", took, report.Partial, report.Stages)
		})
	}
}

// What was found when the time is up is returned, and said to be partial.
func TestReadBudget(t *testing.T) {
	frame := wallOf(t, true)
	report, err := New().Read(context.Background(), frame.Picture, Options{Budget: time.Microsecond})
	if err != nil || !report.Partial {
		t.Errorf("Read in a microsecond: partial %v, %v, want true", report.Partial, err)
	}
	checkTrue(t, &frame, report.Codes, 1)
}

// Once its buffers have grown, a reader allocates little more than its report.
func TestReadAllocates(t *testing.T) {
	picture := onWhite(640, 480, map[image.Point]image.Image{{100, 60}: printedSymbol(t, madeTag('P', 4711), 1, 3)})
	r := New()
	allocations := testing.AllocsPerRun(5, func() {
		if _, err := r.Read(context.Background(), picture, Options{TagsOnly: true}); err != nil {
			t.Fatal(err)
		}
	})
	if allocations > 20 {
		t.Errorf("%v allocations a picture, want 20 at most", allocations)
	}
}

// Readers share nothing that changes.
func TestReadersSideBySide(t *testing.T) {
	picture := onWhite(640, 480, map[image.Point]image.Image{{100, 60}: printedSymbol(t, madeTag('P', 4711), 1, 3)})
	issued := Issue(madeTags(100))
	results := make(chan int)
	n := max(2, runtime.GOMAXPROCS(0))
	for range n {
		go func() {
			r, found := New(), 0
			for range 5 {
				if report, err := r.Read(context.Background(), picture, Options{Issued: issued}); err == nil {
					found += len(report.Codes)
				}
			}
			results <- found
		}()
	}
	for range n {
		if found := <-results; found != 5 {
			t.Errorf("%d codes in 5 readings, want 5", found)
		}
	}
}

// Any small picture is read without a panic, and its corners are numbers.
func FuzzRead(f *testing.F) {
	symbol := printedSymbol(f, madeTag('P', 1), 1, 2)
	f.Add(uint16(symbol.Rect.Dx()), symbol.Pix)
	f.Add(uint16(1), []byte{0})
	f.Add(uint16(9), binary.LittleEndian.AppendUint64(nil, 0x0123456789abcdef))
	r := New()
	f.Fuzz(func(t *testing.T, width uint16, pix []byte) {
		w := int(width)
		if w == 0 || len(pix) < w || len(pix) > 1<<16 {
			return
		}
		m := &image.Gray{Pix: pix, Stride: w, Rect: image.Rect(0, 0, w, len(pix)/w)}
		report, err := r.Read(context.Background(), m, Options{Budget: time.Second})
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range report.Codes {
			for _, c := range code.Corners {
				if math.IsNaN(c.X+c.Y) || math.IsInf(c.X+c.Y, 0) {
					t.Errorf("%q: corner %v", code.Text, c)
				}
			}
		}
	})
}
