package frames

import (
	"image"
	"math"
	"math/rand/v2"
)

// Label is one true tag in a frame.
type Label struct {
	Text string
	// Corners of the symbol without quiet zone: top left, top right, bottom
	// right, bottom left as printed, in pixels (the first pixel's middle is 0.5).
	Corners [4][2]float64
	// Module is the size of a module in pixels: the square root of the symbol's
	// area in the picture, over 21.
	Module float64
}

// Frame is one picture and what is truly in it.
type Frame struct {
	Bucket  string
	Picture *image.Gray
	Labels  []Label
	Foreign []string // texts of other makers' codes
}

// effects are what happens to the picture between the paper and the file.
type effects struct {
	defocus   float64 // standard deviation, pixels
	motion    float64 // length, pixels
	motionDir float64 // radians
	slope     float64 // relative change of light across the frame
	slopeDir  float64
	glare     float64 // radius in pixels, 0 none
	glareAt   [2]float64
	black     float64 // brightness of ink and of paper, 0 to 255
	white     float64
	noise     float64 // standard deviation, grey values
	jpeg      int     // quality, 0 none
}

// camera is a pinhole camera of 65 degrees of view across.
type camera struct {
	w, h  int
	focal float64 // pixels
}

func newCamera(w, h int) camera {
	return camera{w, h, float64(w) / 2 / math.Tan(65*math.Pi/360)}
}

// homography maps label coordinates, in modules, to pixels.
type homography [9]float64

func (m homography) at(u, v float64) (x, y float64) {
	d := m[6]*u + m[7]*v + m[8]
	return (m[0]*u + m[1]*v + m[2]) / d, (m[3]*u + m[4]*v + m[5]) / d
}

func (m homography) inverse() homography {
	a, b, c, d, e, f, g, h, i := m[0], m[1], m[2], m[3], m[4], m[5], m[6], m[7], m[8]
	det := a*(e*i-f*h) - b*(d*i-f*g) + c*(d*h-e*g)
	return homography{
		(e*i - f*h) / det, (c*h - b*i) / det, (b*f - c*e) / det,
		(f*g - d*i) / det, (a*i - c*g) / det, (c*d - a*f) / det,
		(d*h - e*g) / det, (b*g - a*h) / det, (a*e - b*d) / det,
	}
}

// pose is how a plane of labels lies before the camera.
type pose struct {
	module   float64    // pixels a module at the middle
	at       [2]float64 // where the plane's origin appears, pixels
	rotation float64    // in the plane, radians
	tilt     float64    // away from the camera, radians
	axis     float64    // direction of the tilt axis in the picture, radians
}

// project is the homography of a plane whose origin is (u0, v0).
func (c camera) project(p pose, u0, v0 float64) homography {
	sin, cos := math.Sincos(p.rotation)
	tilted := func(u, v float64) [3]float64 {
		x, y := cos*u-sin*v, sin*u+cos*v
		sa, ca := math.Sincos(p.axis)
		along, across := ca*x+sa*y, -sa*x+ca*y
		st, ct := math.Sincos(p.tilt)
		depth := across * st
		across *= ct
		return [3]float64{ca*along - sa*across, sa*along + ca*across, depth}
	}
	eu, ev := tilted(1, 0), tilted(0, 1)
	z := c.focal / p.module
	cx, cy := float64(c.w)/2, float64(c.h)/2
	origin := [3]float64{(p.at[0] - cx) / p.module, (p.at[1] - cy) / p.module, z}
	for i := range origin {
		origin[i] -= eu[i]*u0 + ev[i]*v0
	}
	row := func(f, c float64, i int) [3]float64 {
		return [3]float64{f*eu[i] + c*eu[2], f*ev[i] + c*ev[2], f*origin[i] + c*origin[2]}
	}
	x, y := row(c.focal, cx, 0), row(c.focal, cy, 1)
	return homography{x[0], x[1], x[2], y[0], y[1], y[2], eu[2], ev[2], origin[2]}
}

// symbolLabel is the truth about a symbol of 21 modules whose top left corner is
// at (u, v) on its plane.
func symbolLabel(text string, m homography, u, v float64) Label {
	l := Label{Text: text}
	for i, c := range [4][2]float64{{0, 0}, {21, 0}, {21, 21}, {0, 21}} {
		l.Corners[i][0], l.Corners[i][1] = m.at(u+c[0], v+c[1])
	}
	l.Module = math.Sqrt(l.area()) / 21
	return l
}

func newRand(seed uint64, stream string) *rand.Rand {
	h := uint64(14695981039346656037)
	for _, c := range []byte(stream) {
		h = (h ^ uint64(c)) * 1099511628211
	}
	return rand.New(rand.NewPCG(seed, h))
}

func between(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
