package photos

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkRead brings a photograph of 12 million pixels down, as a phone makes it.
func BenchmarkRead(b *testing.B) {
	p := image.NewRGBA(image.Rect(0, 0, 4032, 3024))
	for y := range 3024 {
		for x := range 4032 {
			v := uint8(128 + 60*math.Sin(float64(x)/9) + 60*math.Sin(float64(y*x)/9000))
			copy(p.Pix[p.PixOffset(x, y):], []uint8{v, v / 2, 255 - v, 255})
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, p, nil); err != nil {
		b.Fatal(err)
	}
	file := filepath.Join(b.TempDir(), "phone.jpg")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Read(file); err != nil {
			b.Fatal(err)
		}
	}
}
