package photos

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

// halves is a picture, red at the left and blue at the right.
func halves(w, h int) *image.RGBA {
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := color.RGBA{0xff, 0, 0, 0xff}
			if x >= w/2 {
				c = color.RGBA{0, 0, 0xff, 0xff}
			}
			p.SetRGBA(x, y, c)
		}
	}
	return p
}

func redAt(t *testing.T, data []byte, fx, fy float64) bool {
	t.Helper()
	p, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	b := p.Bounds()
	r, _, blue, _ := p.At(int(fx*float64(b.Dx())), int(fy*float64(b.Dy()))).RGBA()
	return r > blue
}

// withOrientation puts an Exif segment with an orientation, and a text beside it, into
// a JPEG file. Source: CIPA DC-008 (Exif), a TIFF directory of one entry of type SHORT.
func withOrientation(data []byte, orientation uint16, text string) []byte {
	tiff := []byte("II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00")
	tiff = binary.LittleEndian.AppendUint16(tiff, orientation)
	tiff = append(tiff, 0, 0, 0, 0, 0, 0)
	body := append([]byte("Exif\x00\x00"), append(tiff, text...)...)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2))
	return append(append(bytes.Clone(data[:2]), append(segment, body...)...), data[2:]...)
}

// A large photograph taken with the phone on its side comes out upright, at most 1,600
// pixels long, and without what the phone noted.
func TestReadBringsDown(t *testing.T) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, halves(2400, 1200), nil); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "IMG_1.JPG")
	if err := os.WriteFile(file, withOrientation(out.Bytes(), 6, "59.91 N 10.75 E"), 0o600); err != nil {
		t.Fatal(err)
	}
	data, err := Read(file)
	if err != nil {
		t.Fatal(err)
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil || config.Width != 800 || config.Height != 1600 {
		t.Errorf("%d x %d, %v, want 800 x 1600", config.Width, config.Height, err)
	}
	if !redAt(t, data, .5, .25) || redAt(t, data, .5, .75) { // turned clockwise: the left is at the top
		t.Error("it does not stand upright")
	}
	if bytes.Contains(data, []byte("Exif")) || bytes.Contains(data, []byte("59.91")) {
		t.Error("what the phone noted is still there")
	}
	shop := storetest.Open(t, store.Options{})
	place, _, err := shop.AddPlace(store.Place{Kind: store.Room, Name: "Garage"})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.AddPhoto(store.OfPlace(place.ID), "", data); err != nil {
		t.Errorf("the shop does not take it: %v", err)
	}
}

// Whatever the picture, the shop takes what is made of it: noise, which JPEG cannot
// make small, and the smallest and the longest.
func TestPrepareFits(t *testing.T) {
	noise := image.NewRGBA(image.Rect(0, 0, 1700, 1700))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range noise.Pix {
		noise.Pix[i] = byte(r.Uint32())
	}
	for name, p := range map[string]image.Image{
		"noise": noise, "one pixel": halves(1, 1), "a line": halves(5000, 1), "grey": image.NewGray(image.Rect(7, 7, 40, 30)),
		"clear": image.NewNRGBA(image.Rect(0, 0, 8, 8)),
	} {
		data, err := Prepare(p)
		if err != nil || len(data) > store.MaxPhotoBytes {
			t.Fatalf("%s: %d bytes, %v", name, len(data), err)
		}
		config, err := jpeg.DecodeConfig(bytes.NewReader(data))
		if err != nil || max(config.Width, config.Height) > store.MaxPhotoSide || min(config.Width, config.Height) < 1 {
			t.Errorf("%s: %d x %d, %v", name, config.Width, config.Height, err)
		}
		if name == "clear" {
			if got, err := jpeg.Decode(bytes.NewReader(data)); err != nil || got.At(4, 4) != (color.YCbCr{Y: 255, Cb: 128, Cr: 128}) {
				t.Errorf("what lets all through is %v, %v, want white", got.At(4, 4), err)
			}
		}
	}
}

// What is no picture is refused in one sentence that names the file, and says what to do.
func TestReadRefuses(t *testing.T) {
	dir := t.TempDir()
	var bomb bytes.Buffer
	if err := png.Encode(&bomb, image.NewGray(image.Rect(0, 0, 40, 40))); err != nil {
		t.Fatal(err)
	}
	huge := bomb.Bytes()
	binary.BigEndian.PutUint32(huge[16:], 60_000) // its width (PNG, IHDR)
	binary.BigEndian.PutUint32(huge[20:], 60_000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	whole := phototest.JPEG(200, 200, 1)
	for _, row := range []struct {
		name string
		data []byte
		want string
	}{
		{"phone.heic", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), "send it from the phone as JPEG"},
		{"phone.jpg", []byte("\x00\x00\x00\x18ftypmif1\x00\x00\x00\x00mif1heic"), "is a HEIC picture"},
		{"short.heic", []byte("\x00\x00\x00\x18ftyp"), "is not a PNG, JPEG or GIF picture"},
		{"cut.jpg", whole[:len(whole)/2], "is cut short or damaged"},
		{"bomb.png", huge, "over the limit"},
		{"empty.png", nil, "is empty"},
		{"list.csv", []byte("line,crate\n1,C1\n"), "is not a PNG, JPEG or GIF picture"},
	} {
		file := filepath.Join(dir, row.name)
		if err := os.WriteFile(file, row.data, 0o600); err != nil {
			t.Fatal(err)
		}
		_, err := Read(file)
		var e *store.Error
		if !errors.As(err, &e) || e.Kind != store.Invalid || !strings.Contains(e.Message, row.want) || !strings.Contains(e.Message, row.name) {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
	if _, err := Read(filepath.Join(dir, "none.jpg")); err == nil || !strings.Contains(err.Error(), "there is no such file") {
		t.Errorf("no file: %v", err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(phototest.JPEG(16, 16, 1))
	f.Add([]byte("\x00\x00\x00\x18ftypheic"))
	f.Fuzz(func(t *testing.T, data []byte) {
		file := filepath.Join(t.TempDir(), "in.jpg")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		made, err := Read(file)
		if err != nil {
			return
		}
		if config, err := jpeg.DecodeConfig(bytes.NewReader(made)); err != nil || max(config.Width, config.Height) > store.MaxPhotoSide || len(made) > store.MaxPhotoBytes {
			t.Errorf("%d bytes, %+v, %v", len(made), config, err)
		}
	})
}
