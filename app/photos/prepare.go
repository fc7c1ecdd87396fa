package photos

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"slices"

	"golang.org/x/image/draw"

	"stowright/labels/scan"
	"stowright/store"
)

// qualities are the JPEG qualities that are tried until a picture is small enough:
// nearly all are with the first one.
var qualities = []int{85, 70, 50, 30}

// Prepare makes of a picture the JPEG file that a shop keeps.
func Prepare(picture image.Image) ([]byte, error) {
	small := scaled(picture, store.MaxPhotoSide)
	var out bytes.Buffer
	for _, quality := range qualities {
		out.Reset()
		if err := jpeg.Encode(&out, small, &jpeg.Options{Quality: quality}); err != nil {
			return nil, fmt.Errorf("making the photograph: %w", err)
		}
		if out.Len() <= store.MaxPhotoBytes {
			break
		}
	}
	return out.Bytes(), nil
}

// scaled is a picture whose longer side has at most so many pixels, on white where it
// lets something through.
func scaled(picture image.Image, side int) *image.RGBA {
	size := picture.Bounds().Size()
	if longer := max(size.X, size.Y); longer > side {
		size.X, size.Y = max(1, size.X*side/longer), max(1, size.Y*side/longer)
	}
	out := image.NewRGBA(image.Rectangle{Max: size})
	draw.Draw(out, out.Bounds(), image.White, image.Point{}, draw.Src)
	if size == picture.Bounds().Size() {
		draw.Draw(out, out.Bounds(), picture, picture.Bounds().Min, draw.Over)
	} else {
		draw.BiLinear.Scale(out, out.Bounds(), picture, picture.Bounds(), draw.Over, nil)
	}
	return out
}

// Read makes of a picture file, which may be any PNG, JPEG or GIF of a phone or a
// camera, the JPEG file that a shop keeps.
func Read(file string) ([]byte, error) {
	picture, err := scan.Open(file)
	if err == nil {
		return Prepare(picture)
	}
	e := &store.Error{Kind: store.Invalid, Where: file, Message: "The photograph cannot be read: name a PNG, JPEG or GIF file."}
	var problem *scan.PictureError
	switch {
	case phoneFormat(file):
		e.Message = fmt.Sprintf("%q is a HEIC picture, which is not read here: send it from the phone as JPEG, or set its camera to make JPEG pictures.", filepath.Base(file))
	case errors.As(err, &problem):
		e.Message = fmt.Sprintf("%q %s.", filepath.Base(file), problem.Reason)
	}
	return nil, e
}

// phoneFormats are the brands by which files of the HEIF family begin. Source: ISO/IEC
// 23008-12 annex B, and for avif the AV1 Image File Format; from memory.
var phoneFormats = []string{"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif"}

// phoneFormat reports whether a file is in the format that phones make unless set
// otherwise. Its decoders are large and old faults in them many: none is used here.
func phoneFormat(file string) bool {
	f, err := os.Open(file)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 12)
	if _, err := io.ReadFull(f, head); err != nil {
		return false
	}
	return string(head[4:8]) == "ftyp" && slices.Contains(phoneFormats, string(head[8:12]))
}
