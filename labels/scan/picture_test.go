package scan

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestOpenReadsEachKind(t *testing.T) {
	picture := printedSymbol(t, madeTag('P', 9), 1, 4)
	for _, row := range []struct {
		name string
		data []byte
	}{
		{"a.png", encoded(t, "png", picture)},
		{"a.jpg", encoded(t, "jpg", picture)},
		{"a.gif", encoded(t, "gif", picture)},
	} {
		t.Run(row.name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), row.name)
			if err := os.WriteFile(file, row.data, 0o600); err != nil {
				t.Fatal(err)
			}
			got, err := Open(file)
			if err != nil {
				t.Fatal(err)
			}
			report, err := New().Read(context.Background(), got, Options{Budget: time.Minute})
			if err != nil || len(report.Codes) != 1 || report.Codes[0].Text != madeTag('P', 9) {
				t.Errorf("Open then Read: %+v, %v, want %q", report.Codes, err, madeTag('P', 9))
			}
		})
	}
}

func encoded(t testing.TB, kind string, picture image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	var err error
	switch kind {
	case "png":
		err = png.Encode(&out, picture)
	case "jpg":
		err = jpeg.Encode(&out, picture, nil)
	case "gif":
		err = gif.Encode(&out, picture, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// claimedPNG is a PNG whose header claims a size that its few bytes do not hold.
func claimedPNG(w, h uint32) []byte {
	data := []byte("\x89PNG\r\n\x1a\n")
	chunk := binary.BigEndian.AppendUint32([]byte("IHDR"), w)
	chunk = binary.BigEndian.AppendUint32(chunk, h)
	chunk = append(chunk, 8, 0, 0, 0, 0)
	data = binary.BigEndian.AppendUint32(data, uint32(len(chunk)-4))
	data = append(data, chunk...)
	return binary.BigEndian.AppendUint32(data, crc32.ChecksumIEEE(chunk))
}

func TestOpenRefuses(t *testing.T) {
	whole := encoded(t, "jpg", printedSymbol(t, madeTag('P', 9), 1, 4))
	for _, row := range []struct {
		name, want string
		data       []byte
	}{
		{"empty", "is empty", nil},
		{"text", "is not a PNG, JPEG or GIF picture", []byte("no picture at all")},
		{"truncated JPEG", "is cut short", whole[:len(whole)/2]},
		{"truncated PNG", "is cut short", encoded(t, "png", printedSymbol(t, "HELLO", 1, 4))[:200]},
		{"PNG bomb", "over the limit of 25 million", claimedPNG(20_000, 20_000)},
		{"PNG of absurd width", "damaged", claimedPNG(1<<31-1, 1<<31-1)},
		{"PNG header alone", "is cut short", claimedPNG(10, 10)},
		{"damaged", "or damaged", append([]byte("\x89PNG\r\n\x1a\n"), make([]byte, 40)...)},
	} {
		t.Run(row.name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "picture")
			if err := os.WriteFile(file, row.data, 0o600); err != nil {
				t.Fatal(err)
			}
			_, err := Open(file)
			var problem *PictureError
			if !errors.As(err, &problem) || problem.File != file || !strings.Contains(err.Error(), row.want) {
				t.Errorf("Open: %v, want a PictureError on %q saying %q", err, file, row.want)
			}
		})
	}
	t.Run("missing", func(t *testing.T) {
		if _, err := Open(filepath.Join(t.TempDir(), "none")); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("Open: %v, want os.ErrNotExist", err)
		}
	})
	t.Run("folder", func(t *testing.T) {
		if _, err := Open(t.TempDir()); err == nil || !strings.Contains(err.Error(), "folder") {
			t.Errorf("Open: %v, want it to say that it is a folder", err)
		}
	})
}

// withOrientation puts an Exif segment with tag 274 into a JPEG.
// Source: CIPA DC-008 (Exif), 4.6.4, and TIFF 6.0, section 2.
func withOrientation(data []byte, value uint16) []byte {
	tiff := []byte("MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01")
	tiff = binary.BigEndian.AppendUint16(tiff, value)
	tiff = append(tiff, 0, 0, 0, 0, 0, 0)
	exif := append([]byte("Exif\x00\x00"), tiff...)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(exif)+2))
	out := append([]byte{}, data[:2]...)
	out = append(out, segment...)
	out = append(out, exif...)
	return append(out, data[2:]...)
}

// A picture with one dark corner is stored eight ways; each opens with the dark
// corner at the top left of a picture that is wider than high.
func TestDecodeTurnsUpright(t *testing.T) {
	for value := 1; value <= 8; value++ {
		w, h := 64, 32
		if value >= 5 {
			w, h = h, w
		}
		stored := image.NewGray(image.Rect(0, 0, w, h))
		darkX := value == 1 || value == 4 || value == 5 || value == 6
		darkY := value == 1 || value == 2 || value == 5 || value == 8
		for i := range stored.Pix {
			x, y := i%w, i/w
			if (x < 16) != darkX || (y < 16) != darkY {
				stored.Pix[i] = 255
			}
		}
		got, err := Decode(bytes.NewReader(withOrientation(encoded(t, "jpg", stored), uint16(value))))
		if err != nil {
			t.Fatalf("orientation %d: %v", value, err)
		}
		if got.Bounds().Dx() != 64 || color.GrayModel.Convert(got.At(4, 4)).(color.Gray).Y > 64 {
			t.Errorf("orientation %d: got %v with %v at the top left, want 64 wide and dark there", value, got.Bounds(), got.At(4, 4))
		}
	}
}

// Whatever the bytes, Decode answers with a picture or a PictureError.
func FuzzDecode(f *testing.F) {
	picture := printedSymbol(f, madeTag('P', 9), 1, 1)
	for _, kind := range []string{"png", "jpg", "gif"} {
		f.Add(encoded(f, kind, picture))
	}
	f.Add(withOrientation(encoded(f, "jpg", picture), 6))
	f.Add(claimedPNG(20_000, 20_000))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := Decode(bytes.NewReader(data))
		var problem *PictureError
		if err != nil && !errors.As(err, &problem) {
			t.Errorf("Decode: %v, want a PictureError", err)
		}
		if err == nil && got.Bounds().Empty() {
			t.Errorf("Decode: an empty picture and no error")
		}
	})
}
