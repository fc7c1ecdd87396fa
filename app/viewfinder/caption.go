package viewfinder

import (
	"image"
	"image/color"
	"image/draw"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"stowright/app/session"
	"stowright/assets/fonts"
	"stowright/labels/scan"
	"stowright/store"
)

// The type size of the names in a picture: a part of its width, within limits that can be
// read and do not cover the labels around.
const (
	captionPart  = 55
	leastCaption = 13
	mostCaption  = 48
)

// typeface is the typeface of the names, parsed on first use.
var typeface = sync.OnceValues(func() (*opentype.Font, error) { return opentype.Parse(fonts.MonoBold.TrueType()) })

// name writes the name of the place under each code that refers to one, and that of a place
// which a hint points at. If the typeface cannot be used the picture is left as it is: the
// list and the title have the names too.
func name(on *image.RGBA, readings []session.Reading, h hint, origin image.Point) {
	parsed, err := typeface()
	if err != nil {
		return
	}
	size := min(max(on.Bounds().Dx()/captionPart, leastCaption), mostCaption)
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: float64(size), DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		return
	}
	defer face.Close()
	for _, r := range readings {
		if r.Answer == store.TagFound {
			caption(on, face, size, r.Place.Name, under(r.Code.Corners[:], origin))
		}
	}
	switch {
	case h.outline != nil:
		caption(on, face, size, h.caption, under(h.outline[:], origin))
	case h.arrow != nil:
		caption(on, face, size, h.caption, under(h.arrow[1:], origin))
	}
}

// under is the middle of the lower edge of what has these corners, as seen in the picture.
func under(corners []scan.Point, origin image.Point) image.Point {
	x, low := 0.0, 0.0
	for i, c := range corners {
		p := shift(c, origin)
		x += p.X / float64(len(corners))
		if i == 0 || p.Y > low {
			low = p.Y
		}
	}
	return image.Pt(int(x), int(low))
}

// caption writes text in dark on the highlight colour, with the middle of its upper edge
// at a point, moved so that it is inside the picture.
func caption(on *image.RGBA, face font.Face, size int, text string, at image.Point) {
	w := font.MeasureString(face, text).Ceil() + size/2
	h := size * 5 / 4
	box := image.Rect(0, 0, w, h).Add(image.Pt(at.X-w/2, at.Y+size/4))
	bounds := on.Bounds()
	box = box.Add(image.Pt(min(0, bounds.Max.X-box.Max.X), min(0, bounds.Max.Y-box.Max.Y)))
	box = box.Add(image.Pt(max(0, bounds.Min.X-box.Min.X), max(0, bounds.Min.Y-box.Min.Y)))
	draw.Draw(on, box, image.NewUniform(foundColour), image.Point{}, draw.Src)
	d := font.Drawer{Dst: on, Src: image.NewUniform(color.RGBA{0x1C, 0x20, 0x1E, 0xFF}), Face: face}
	d.Dot = fixed.P(box.Min.X+size/4, box.Min.Y+size)
	d.DrawString(text)
}
