package scan

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/draw"
	_ "image/gif" // the kinds of picture that Open reads
	_ "image/jpeg"
	_ "image/png"
	"io"
	"os"
	"time"

	"github.com/bep/imagemeta"
)

// MaxFileBytes is the largest picture file that Open reads.
const MaxFileBytes = 64 << 20

// PictureError is why a file cannot be read as a picture: one sentence, with what to do.
type PictureError struct {
	File   string // as given to Open; empty for Decode
	Reason string
	Err    error // the cause, or nil
}

func (e *PictureError) Error() string {
	if e.File == "" {
		return "picture: " + e.Reason
	}
	return fmt.Sprintf("picture %q: %s", e.File, e.Reason)
}

func (e *PictureError) Unwrap() error { return e.Err }

// Open reads a picture file: PNG, JPEG or GIF (its first frame), turned upright
// as the camera noted it. Files over MaxFileBytes, pictures over MaxPixels,
// truncated files and anything else give a PictureError.
func Open(file string) (image.Image, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, &PictureError{File: file, Reason: openReason(err), Err: err}
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, &PictureError{File: file, Reason: "is a folder; name a PNG, JPEG or GIF file in it"}
	}
	picture, err := Decode(f)
	var problem *PictureError
	if errors.As(err, &problem) {
		problem.File = file
	}
	return picture, err
}

func openReason(err error) string {
	switch {
	case errors.Is(err, os.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, os.ErrPermission):
		return "you are not allowed to read it"
	}
	return "cannot be opened"
}

// Decode reads a picture as Open does.
func Decode(r io.Reader) (image.Image, error) {
	data, err := io.ReadAll(io.LimitReader(bufio.NewReader(r), MaxFileBytes+1))
	if err != nil {
		return nil, &PictureError{Reason: "cannot be read to its end", Err: err}
	}
	if len(data) > MaxFileBytes {
		return nil, &PictureError{Reason: fmt.Sprintf("is larger than %d MB; save it smaller", MaxFileBytes>>20)}
	}
	return decodeBytes(data)
}

// decodeBytes checks the size that the picture claims before any pixel is made.
// A decoder's panic on a damaged file is an error like any other.
func decodeBytes(data []byte) (picture image.Image, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			picture, err = nil, damaged(fmt.Errorf("%v", fault))
		}
	}()
	if len(data) == 0 {
		return nil, &PictureError{Reason: "is empty; take it again"}
	}
	header, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if errors.Is(err, image.ErrFormat) {
		return nil, &PictureError{Reason: "is not a PNG, JPEG or GIF picture; save it as one of these", Err: err}
	}
	if err != nil {
		return nil, damaged(err)
	}
	if header.Width <= 0 || header.Height <= 0 {
		return nil, &PictureError{Reason: "has no pixels; take it again"}
	}
	if header.Width > MaxPixels/header.Height {
		return nil, &PictureError{Reason: fmt.Sprintf("is %d x %d pixels, over the limit of %d million; save it smaller",
			header.Width, header.Height, MaxPixels/1_000_000)}
	}
	picture, _, err = image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, damaged(err)
	}
	return upright(picture, orientation(data, kind)), nil
}

// damaged does not distinguish truncated from altered files: the decoders cannot always.
func damaged(err error) error {
	return &PictureError{Reason: "is cut short or damaged; copy it or take it again", Err: err}
}

// metadataTime bounds the search for the orientation in a hostile file.
const metadataTime = 200 * time.Millisecond

// orientation is the EXIF orientation, 1 (upright) to 8; 1 when there is none.
// Source: CIPA DC-008 (Exif), tag 274.
func orientation(data []byte, kind string) int {
	format := imagemeta.JPEG
	switch kind {
	case "jpeg":
	case "png":
		format = imagemeta.PNG
	default:
		return 1
	}
	found := 1
	// On an error the picture is not rotated: it can still be shown.
	_, _ = imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: format, Sources: imagemeta.EXIF, Timeout: metadataTime,
		ShouldHandleTag: func(tag imagemeta.TagInfo) bool { return tag.Tag == "Orientation" },
		HandleTag: func(tag imagemeta.TagInfo) error {
			if v, ok := tag.Value.(uint16); ok && v >= 1 && v <= 8 {
				found = int(v)
			}
			return imagemeta.ErrStopWalking
		},
	})
	return found
}

// upright turns and mirrors a picture by its EXIF orientation.
func upright(picture image.Image, orientation int) image.Image {
	if orientation <= 1 {
		return picture
	}
	b := picture.Bounds()
	from := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(from, from.Bounds(), picture, b.Min, draw.Src)
	w, h := b.Dx(), b.Dy()
	size := image.Rect(0, 0, w, h)
	if orientation >= 5 {
		size = image.Rect(0, 0, h, w)
	}
	to := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			sx, sy := storedAt(orientation, x, y, w, h)
			copy(to.Pix[to.PixOffset(x, y):][:4], from.Pix[from.PixOffset(sx, sy):][:4])
		}
	}
	return to
}

// storedAt is the stored pixel, of w x h, that belongs at x, y of the upright
// picture. Source: CIPA DC-008 (Exif), the meaning of tag 274.
func storedAt(orientation, x, y, w, h int) (int, int) {
	switch orientation {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, h - 1 - x
	case 7:
		return w - 1 - y, h - 1 - x
	case 8:
		return w - 1 - y, x
	}
	return x, y
}
