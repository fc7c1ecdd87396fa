package camera

import (
	"bytes"
	"image/color"
	"testing"
)

// withoutTables takes the DHT segments out of a JPEG, as many cameras send it.
func withoutTables(data []byte) []byte {
	out := append([]byte{}, data[:2]...)
	for at := 2; ; {
		if data[at+1] == 0xda {
			return append(out, data[at:]...)
		}
		end := at + 2 + int(data[at+2])<<8 + int(data[at+3])
		if data[at+1] != 0xc4 {
			out = append(out, data[at:end]...)
		}
		at = end
	}
}

func TestDecodeJPEG(t *testing.T) {
	whole := jpegOf(t, 120)
	for _, row := range []struct {
		name string
		data []byte
		ok   bool
	}{
		{"whole", whole, true},
		{"without Huffman tables", withoutTables(whole), true},
		{"cut short", whole[:len(whole)/2], false},
		{"empty", nil, false},
		{"segment length beyond the end", []byte{0xff, 0xd8, 0xff, 0xe0, 0xff, 0xff}, false},
		{"no JPEG", []byte("hello, this is no picture"), false},
	} {
		t.Run(row.name, func(t *testing.T) {
			picture, err := decodeJPEG(row.data)
			if (err == nil) != row.ok {
				t.Fatalf("decodeJPEG(%d bytes): error %v, want ok %v", len(row.data), err, row.ok)
			}
			if row.ok && color.GrayModel.Convert(picture.At(8, 8)).(color.Gray).Y != 120 {
				t.Errorf("decodeJPEG: %v at the middle, want 120", picture.At(8, 8))
			}
		})
	}
}

func FuzzDecodeJPEG(f *testing.F) {
	whole := jpegOf(f, 120)
	f.Add(whole)
	f.Add(withoutTables(whole))
	f.Add([]byte{0xff, 0xd8, 0xff, 0xc4, 0, 0, 0xff, 0xda})
	f.Fuzz(func(t *testing.T, data []byte) {
		if picture, err := decodeJPEG(data); err == nil && picture.Bounds().Empty() {
			t.Error("decodeJPEG: an empty picture and no error")
		}
	})
}

func TestRawFrames(t *testing.T) {
	yuyv := bytes.Repeat([]byte{100, 128, 200, 128}, 4) // 4 x 2 pixels, no colour
	picture, err := decodeYUYV(yuyv, 4, 2)
	if err != nil {
		t.Fatal(err)
	}
	for x, want := range []uint8{100, 200, 100, 200} {
		if got := color.GrayModel.Convert(picture.At(x, 1)).(color.Gray).Y; got != want {
			t.Errorf("YUYV pixel %d: %d, want %d", x, got, want)
		}
	}
	grey, err := decodeGrey([]byte{1, 2, 3, 4, 5, 6}, 3, 2)
	if err != nil || grey.At(2, 1) != (color.Gray{Y: 6}) {
		t.Errorf("grey: %v, %v, want 6 at the end", grey, err)
	}
	for _, row := range []struct {
		name string
		w, h int
	}{{"short", 4, 3}, {"odd width", 3, 2}, {"no size", 0, 0}, {"huge", 1 << 30, 1 << 30}} {
		if _, err := decodeYUYV(yuyv, row.w, row.h); err == nil {
			t.Errorf("YUYV %s (%d x %d): no error", row.name, row.w, row.h)
		}
	}
	if _, err := decodeGrey(yuyv, 1<<30, 1<<30); err == nil {
		t.Error("grey huge: no error")
	}
}
