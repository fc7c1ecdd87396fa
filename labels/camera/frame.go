package camera

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"

	"stowright/labels/scan"
)

// decodeJPEG decodes one picture of a motion JPEG stream. Cameras may omit the Huffman
// tables, which then are the usual ones: they are inserted.
// Source: the USB Video Class, motion JPEG payload; ITU-T T.81, annex K.3.
func decodeJPEG(frame []byte) (image.Image, error) {
	if at, tables := startOfScan(frame); at > 0 && !tables {
		whole := make([]byte, 0, len(frame)+512)
		whole = append(whole, frame[:at]...)
		whole = append(whole, usualTables()...)
		frame = append(whole, frame[at:]...)
	}
	return scan.Decode(bytes.NewReader(frame))
}

// The markers of a JPEG that are looked for. Source: ITU-T T.81, table B.1.
const (
	markerTables = 0xc4 // DHT, Huffman tables
	markerScan   = 0xda // SOS, the start of scan
)

// startOfScan is where the start-of-scan segment begins, or -1, and reports whether a
// segment before it holds Huffman tables. Segments are stepped over by their lengths:
// the bytes of a marker inside one are not a marker. Source: ITU-T T.81, B.1.1.
func startOfScan(frame []byte) (at int, tables bool) {
	for at := 2; at+4 <= len(frame) && frame[at] == 0xff; {
		switch frame[at+1] {
		case markerScan:
			return at, tables
		case markerTables:
			tables = true
		}
		at += 2 + int(frame[at+2])<<8 + int(frame[at+3])
	}
	return -1, tables
}

// usualTables are the DHT segments of the usual tables (ITU-T T.81 annex K.3),
// which are those of the standard library's encoder.
func usualTables() []byte {
	var out bytes.Buffer
	tiny := image.NewYCbCr(image.Rect(0, 0, 1, 1), image.YCbCrSubsampleRatio444)
	if err := jpeg.Encode(&out, tiny, nil); err != nil {
		return nil
	}
	data := out.Bytes()
	var tables []byte
	for at := 2; at+4 <= len(data) && data[at+1] != markerScan; {
		end := at + 2 + int(data[at+2])<<8 + int(data[at+3])
		if data[at+1] == markerTables {
			tables = append(tables, data[at:end]...)
		}
		at = end
	}
	return tables
}

// shortFrame is the error for a raw frame with too few bytes for its size.
func shortFrame(n, w, h int) error {
	return &scan.PictureError{Reason: fmt.Sprintf("is a raw frame of %d bytes, which are not %d x %d pixels", n, w, h)}
}

// decodeYUYV decodes a raw frame of two bytes a pixel: Y0 U Y1 V.
// Source: the V4L2 specification, V4L2_PIX_FMT_YUYV.
func decodeYUYV(frame []byte, w, h int) (image.Image, error) {
	if w <= 0 || h <= 0 || w%2 != 0 || w > scan.MaxPixels/h || len(frame) < 2*w*h {
		return nil, shortFrame(len(frame), w, h)
	}
	picture := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio422)
	for i := range w * h / 2 {
		picture.Y[2*i], picture.Cb[i] = frame[4*i], frame[4*i+1]
		picture.Y[2*i+1], picture.Cr[i] = frame[4*i+2], frame[4*i+3]
	}
	return picture, nil
}

// decodeGrey decodes a raw frame of one byte a pixel.
// Source: the V4L2 specification, V4L2_PIX_FMT_GREY.
func decodeGrey(frame []byte, w, h int) (image.Image, error) {
	if w <= 0 || h <= 0 || w > scan.MaxPixels/h || len(frame) < w*h {
		return nil, shortFrame(len(frame), w, h)
	}
	picture := image.NewGray(image.Rect(0, 0, w, h))
	copy(picture.Pix, frame[:w*h])
	return picture, nil
}
