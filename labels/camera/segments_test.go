package camera

import (
	"bytes"
	"image/color"
	"testing"

	"stowright/labels/scan"
)

// segment is one segment of a JPEG with its marker and length.
func segment(marker byte, payload ...byte) []byte {
	n := len(payload) + 2
	return append([]byte{0xff, marker, byte(n >> 8), byte(n)}, payload...)
}

// after puts segments behind the start of an image.
func after(jpeg []byte, segments ...[]byte) []byte {
	out := append([]byte{}, jpeg[:2]...)
	for _, s := range segments {
		out = append(out, s...)
	}
	return append(out, jpeg[2:]...)
}

// The start of scan is found by the lengths of what comes before it.
// Source: ITU-T T.81, B.1.1.4 (a length counts itself, and the high byte comes first).
func TestStartOfScan(t *testing.T) {
	soi, sos := []byte{0xff, 0xd8}, segment(0xda, 1, 2)
	long := bytes.Repeat([]byte{7}, 300) // its length needs both bytes
	for _, row := range []struct {
		name   string
		frame  [][]byte
		at     int
		tables bool
	}{
		{"at once", [][]byte{soi, sos}, 2, false},
		{"after a segment", [][]byte{soi, segment(0xe0, 1, 2, 3), sos}, 9, false},
		{"after an empty segment", [][]byte{soi, segment(0xe0), sos}, 6, false},
		{"after a long segment", [][]byte{soi, segment(0xe0, long...), sos}, 2 + 4 + 300, false},
		{"after tables", [][]byte{soi, segment(0xc4, 1), sos}, 7, true},
		{"tables, then another segment", [][]byte{soi, segment(0xc4, 1), segment(0xdb, 1), sos}, 12, true},
		{"tables after the start do not count", [][]byte{soi, sos, segment(0xc4, 1)}, 2, false},
		{"the bytes of a start within a comment", [][]byte{soi, segment(0xfe, 0xff, 0xda, 0, 4), sos}, 10, false},
		{"the bytes of tables within a comment", [][]byte{soi, segment(0xfe, 0xff, 0xc4, 0, 4), sos}, 10, false},
		{"none", [][]byte{soi, segment(0xe0, 1)}, -1, false},
		{"tables alone", [][]byte{soi, segment(0xc4, 1)}, -1, true},
		{"no marker where one should be", [][]byte{soi, {0x12, 0xda, 0, 4, 1, 2}}, -1, false},
		{"cut before its length", [][]byte{soi, {0xff, 0xda, 0}}, -1, false},
		{"exactly long enough", [][]byte{soi, {0xff, 0xda, 0, 2}}, 2, false},
		{"nothing", nil, -1, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if at, tables := startOfScan(bytes.Join(row.frame, nil)); at != row.at || tables != row.tables {
				t.Errorf("at %d, tables %v; want %d, %v", at, tables, row.at, row.tables)
			}
		})
	}
}

// A camera's frame without Huffman tables is read even where a comment before it holds
// the bytes of their marker; one with tables of its own keeps them.
func TestDecodeJPEGTables(t *testing.T) {
	whole := jpegOf(t, 120)
	bare := withoutTables(whole)
	comment := segment(0xfe, 'a', 0xff, 0xc4, 'b')
	for _, row := range []struct {
		name  string
		frame []byte
	}{
		{"without tables", bare},
		{"without tables, their marker in a comment", after(bare, comment)},
		{"with tables, and a comment", after(whole, comment)},
		{"with tables, after bytes that look like a start", after(whole, segment(0xfe, 0xff, 0xda, 0, 4))},
	} {
		t.Run(row.name, func(t *testing.T) {
			was := bytes.Clone(row.frame)
			picture, err := decodeJPEG(row.frame)
			if err != nil {
				t.Fatal(err)
			}
			if got := color.GrayModel.Convert(picture.At(8, 8)).(color.Gray).Y; got != 120 {
				t.Errorf("brightness %d, want 120", got)
			}
			if !bytes.Equal(row.frame, was) {
				t.Error("decoding has changed the frame")
			}
		})
	}
}

// The usual tables are the four of annex K.3: 2 for brightness and 2 for colour, each
// with as many codes as its list of lengths says. Source: ITU-T T.81, K.3.3.
func TestUsualTables(t *testing.T) {
	tables := usualTables()
	want := map[byte]int{0x00: 12, 0x10: 162, 0x01: 12, 0x11: 162} // by class and number: codes
	got := map[byte]int{}
	for at := 0; at+4 <= len(tables); {
		if tables[at] != 0xff || tables[at+1] != 0xc4 {
			t.Fatalf("byte %d begins no table segment: %x", at, tables[at:at+2])
		}
		end := at + 2 + int(tables[at+2])<<8 + int(tables[at+3])
		for p := at + 4; p+17 <= end; {
			codes := 0
			for _, n := range tables[p+1 : p+17] {
				codes += int(n)
			}
			got[tables[p]] = codes
			p += 17 + codes
		}
		at = end
	}
	if len(got) != len(want) {
		t.Errorf("%d tables, want %d", len(got), len(want))
	}
	for id, codes := range want {
		if got[id] != codes {
			t.Errorf("table %#02x has %d codes, want %d", id, got[id], codes)
		}
	}
}

// Raw frames of every size that there is and is not; none is read beyond its end.
func TestRawFrameSizes(t *testing.T) {
	bytesOf := func(n int) []byte { return bytes.Repeat([]byte{9}, n) }
	for _, row := range []struct {
		name       string
		n, w, h    int
		yuyv, grey bool
	}{
		{"the least of two bytes a pixel", 4, 2, 1, true, true},
		{"one byte less", 3, 2, 1, false, true},
		{"the least of one byte a pixel", 2, 2, 1, false, true},
		{"too little for either", 1, 2, 1, false, false},
		{"more than is needed", 9, 2, 1, true, true},
		{"an odd width, which no two pixels share", 6, 3, 1, false, true},
		{"an odd height", 12, 2, 3, true, true},
		{"no width", 8, 0, 1, false, false},
		{"no height", 8, 2, 0, false, false},
		{"negative width", 8, -2, 1, false, false},
		{"negative height", 8, 2, -1, false, false},
		{"both negative", 8, -2, -2, false, false},
		{"more pixels than a picture may have", 8, scan.MaxPixels, 2, false, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, f := range []struct {
				name   string
				decode func([]byte, int, int) error
				want   bool
			}{
				{"YUYV", func(b []byte, w, h int) error { _, err := decodeYUYV(b, w, h); return err }, row.yuyv},
				{"grey", func(b []byte, w, h int) error { _, err := decodeGrey(b, w, h); return err }, row.grey},
			} {
				if err := f.decode(bytesOf(row.n), row.w, row.h); (err == nil) != f.want {
					t.Errorf("%s, %d bytes for %d x %d: %v, want ok %v", f.name, row.n, row.w, row.h, err, f.want)
				}
			}
		})
	}
	_, err := decodeGrey(bytesOf(5), 3, 2)
	if want := "picture: is a raw frame of 5 bytes, which are not 3 x 2 pixels"; err == nil || err.Error() != want {
		t.Errorf("a short frame says %v, want %q", err, want)
	}
}

// Colour is shared by two pixels of a row. Source: V4L2_PIX_FMT_YUYV; the colours by
// ITU-R BT.601, as JFIF uses it.
func TestYUYVColour(t *testing.T) {
	// Red, then blue of half brightness, one row of four pixels; then grey.
	frame := []byte{
		76, 85, 76, 255, 15, 191, 15, 118,
		10, 128, 20, 128, 30, 128, 40, 128,
	}
	picture, err := decodeYUYV(frame, 4, 2)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		x, y    int
		r, g, b int
	}{
		{0, 0, 254, 0, 0},
		{1, 0, 254, 0, 0},
		{2, 0, 1, 0, 126},
		{3, 0, 1, 0, 126},
		{0, 1, 10, 10, 10},
		{1, 1, 20, 20, 20},
		{2, 1, 30, 30, 30},
		{3, 1, 40, 40, 40},
	} {
		r, g, b, _ := picture.At(row.x, row.y).RGBA()
		if off(int(r>>8), row.r) > 2 || off(int(g>>8), row.g) > 2 || off(int(b>>8), row.b) > 2 {
			t.Errorf("pixel %d, %d is %d %d %d, want %d %d %d", row.x, row.y, r>>8, g>>8, b>>8, row.r, row.g, row.b)
		}
	}
}

func off(a, b int) int { return max(a-b, b-a) }
