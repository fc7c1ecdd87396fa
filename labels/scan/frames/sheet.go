package frames

import (
	"fmt"
	"image"
	"math"
)

// Printed is a sheet as it comes out of the printer, and where its codes are.
type Printed struct {
	Picture *image.Gray
	Dots    float64    // pixels of Picture a millimetre
	Codes   []SheetTag // on the sheet
}

// SheetTag is one code on a sheet: its text, the top left corner and the side of
// its symbol without quiet zone, in millimetres.
type SheetTag struct {
	Text       string
	X, Y, Side float64
}

// Photograph is frame number n of a printed sheet held before a webcam of w x h,
// so that a module of its codes is about the given size in pixels.
func Photograph(seed uint64, n int, sheet Printed, module float64, w, h int) Frame {
	r := newRand(seed, fmt.Sprint("sheet ", n))
	c := newCamera(w, h)
	perMM := module * 21 / sheet.Codes[0].Side
	p := pose{
		module: perMM / sheet.Dots, at: [2]float64{float64(w) / 2, float64(h) / 2},
		rotation: between(r, -25, 25) * degree, tilt: between(r, 0, 35) * degree, axis: between(r, 0, 180) * degree,
	}
	size := sheet.Picture.Rect.Size()
	m := c.project(p, float64(size.X)/2, float64(size.Y)/2)
	room := newRoom(r, w, h)
	room.layPicture(sheet.Picture, m)
	frame := Frame{Bucket: "sheet"}
	for _, code := range sheet.Codes {
		l := Label{Text: code.Text}
		for i, at := range [4][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
			l.Corners[i][0], l.Corners[i][1] = m.at((code.X+at[0]*code.Side)*sheet.Dots, (code.Y+at[1]*code.Side)*sheet.Dots)
		}
		if l.inside(w, h) {
			l.Module = math.Sqrt(l.area()) / 21
			frame.Labels = append(frame.Labels, l)
		}
	}
	frame.Picture = room.develop(r, daylight(r))
	return frame
}

func (l *Label) inside(w, h int) bool {
	const quietPixels = 8
	for _, c := range l.Corners {
		if c[0] < quietPixels || c[1] < quietPixels || c[0] > float64(w)-quietPixels || c[1] > float64(h)-quietPixels {
			return false
		}
	}
	return true
}

// area of the quadrilateral in square pixels.
func (l *Label) area() float64 {
	sum := 0.0
	for i := range 4 {
		p, q := l.Corners[i], l.Corners[(i+1)%4]
		sum += (p[0]*q[1] - q[0]*p[1]) / 2
	}
	return math.Abs(sum)
}

// layPicture projects a picture onto the canvas.
func (c *canvas) layPicture(picture *image.Gray, m homography) {
	back, size := m.inverse(), picture.Rect.Size()
	for y := range c.h {
		for x := range c.w {
			at := &c.v[y*c.w+x]
			sum := 0.0
			for i := range raysPerSide * raysPerSide {
				u, v := back.at(float64(x)+(float64(i%raysPerSide)+0.5)/raysPerSide, float64(y)+(float64(i/raysPerSide)+0.5)/raysPerSide)
				if u >= 0 && v >= 0 && u < float64(size.X) && v < float64(size.Y) {
					sum += float64(picture.Pix[int(v)*picture.Stride+int(u)]) / 255
				} else {
					sum += float64(*at)
				}
			}
			*at = float32(sum / (raysPerSide * raysPerSide))
		}
	}
}
