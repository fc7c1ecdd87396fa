package frames

import (
	"fmt"
	"math"
	"slices"
)

// Film is a cabinet of labels before a camera that moves.
type Film struct {
	seed    uint64
	camera  camera
	text    []string // of each drawer's label, row by row; empty for none
	columns int
}

// View is how the camera of a film stands to the cabinet.
type View struct {
	Shift    [2]float64 // of the cabinet's middle from the picture's, pixels
	Rotation float64    // radians
	Tilt     float64    // radians
	Module   float64    // pixels a module at the middle
	Motion   float64    // pixels that the camera moves while it takes the picture
}

// NewFilm sets up a cabinet of rows and columns, with tags row by row.
func NewFilm(seed uint64, w, h, columns int, tags []string) *Film {
	return &Film{seed: seed, camera: newCamera(w, h), text: slices.Clone(tags), columns: columns}
}

// Label puts another tag on a drawer; an empty one takes its label off.
func (f *Film) Label(drawer int, tag string) { f.text[drawer] = tag }

// Drawers are as far apart as those of Wall, in modules.
const (
	pitchU = 72.0
	pitchV = 55.0
)

// Frame is picture number n of the film. Labels not wholly in the picture are not
// among its labels.
func (f *Film) Frame(n int, view View) (Frame, error) {
	w, h := f.camera.w, f.camera.h
	r := newRand(f.seed, "film")
	room, light := newRoom(r, w, h), daylight(r)
	light.motion, light.motionDir = view.Motion, between(r, 0, 180)*degree
	rows := (len(f.text) + f.columns - 1) / f.columns
	m := f.camera.project(pose{
		module: view.Module, at: [2]float64{float64(w)/2 + view.Shift[0], float64(h)/2 + view.Shift[1]},
		rotation: view.Rotation, tilt: view.Tilt, axis: math.Pi / 3,
	}, float64(f.columns)*pitchU/2, float64(rows)*pitchV/2)
	frame := Frame{Bucket: "film"}
	for i, text := range f.text {
		u := float64(i%f.columns)*pitchU + 12 + between(r, -2, 2)
		v := float64(i/f.columns)*pitchV + 8 + between(r, -2, 2)
		if text == "" {
			continue
		}
		label, err := newLabel(newRand(f.seed, text), text, text[:2]+" "+text[2:6]+" "+text[6:], fmt.Sprintf("drawer %d", i+1))
		if err != nil {
			return Frame{}, err
		}
		local := m.shift(u, v)
		room.lay(label, local)
		if l := symbolLabel(text, local, 0, 0); l.inside(w, h) {
			frame.Labels = append(frame.Labels, l)
		}
	}
	frame.Picture = room.develop(newRand(f.seed, fmt.Sprint("film ", n)), light)
	return frame, nil
}
