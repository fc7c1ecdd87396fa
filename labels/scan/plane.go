package scan

import (
	"image"
	"image/color"
)

// plane is a picture in grey, row by row, 0 black to 255 white.
type plane struct {
	w, h int
	pix  []byte
}

// resize sets the size and makes room; the values are not cleared.
func (p *plane) resize(w, h int) {
	p.w, p.h = w, h
	if cap(p.pix) < w*h {
		p.pix = make([]byte, w*h)
	}
	p.pix = p.pix[:w*h]
}

// fill takes the brightness of a picture. Transparent parts count as white
// paper. The kinds of picture that cameras and decoders give are copied fast.
func (p *plane) fill(picture image.Image) {
	b := picture.Bounds()
	p.resize(b.Dx(), b.Dy())
	for y := range p.h {
		row := p.pix[y*p.w : (y+1)*p.w]
		switch m := picture.(type) {
		case *image.Gray:
			copy(row, m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):])
		case *image.YCbCr:
			copy(row, m.Y[m.YOffset(b.Min.X, b.Min.Y+y):])
		case *image.RGBA:
			fillRGBA(row, m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):])
		case *image.NRGBA:
			fillNRGBA(row, m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):])
		default:
			for x := range row {
				row[x] = brightness(picture.At(b.Min.X+x, b.Min.Y+y))
			}
		}
	}
}

// The weights of red, green and blue in brightness, in 1/256.
// Source: ITU-R BT.601 (0.299, 0.587, 0.114).
const (
	redWeight   = 77
	greenWeight = 150
	blueWeight  = 29
)

func luma(r, g, b uint32) uint32 { return (redWeight*r + greenWeight*g + blueWeight*b + 128) >> 8 }

// fillRGBA reads premultiplied pixels, which over white are pixel + 255 - alpha.
func fillRGBA(row, pix []byte) {
	for x := range row {
		q := pix[4*x : 4*x+4 : 4*x+4]
		row[x] = byte(min(255, luma(uint32(q[0]), uint32(q[1]), uint32(q[2]))+255-uint32(q[3])))
	}
}

func fillNRGBA(row, pix []byte) {
	for x := range row {
		q := pix[4*x : 4*x+4 : 4*x+4]
		v, a := luma(uint32(q[0]), uint32(q[1]), uint32(q[2])), uint32(q[3])
		row[x] = byte((v*a + 255*(255-a) + 127) / 255)
	}
}

func brightness(c color.Color) byte {
	r, g, b, a := c.RGBA()
	return byte(min(255, luma(r>>8, g>>8, b>>8)+255-a>>8))
}
