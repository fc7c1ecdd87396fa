package frames

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"github.com/skip2/go-qrcode"
)

// PixelsPerModule are the sizes that single frames cycle through, before tilt.
func PixelsPerModule() []float64 { return []float64{1.25, 1.5, 1.75, 2, 2.5, 3, 4} }

// Buckets are the kinds of difficulty of single frames.
func Buckets() []string {
	return []string{
		"plain", "tilt", "rotation", "defocus", "motion", "noise", "contrast", "light", "glare", "occlusion", "jpeg", "inverse", "mixed",
	}
}

const degree = math.Pi / 180

// Single is frame number n of the single frames, w x h, holding one of the given
// tags.
func Single(seed uint64, n, w, h int, tags []string) (Frame, error) {
	buckets, sizes := Buckets(), PixelsPerModule()
	bucket, size := buckets[n%len(buckets)], sizes[n/len(buckets)%len(sizes)]
	return single(newRand(seed, fmt.Sprint("single ", n)), bucket, size, w, h, tags)
}

// Extremes are the kinds of difficulty of extreme frames.
func Extremes() []string { return []string{"jpeg 5 to 12", "light to nothing", "contrast 4 to 10 %"} }

// Extreme is frame number n of those in which some of the single frames' difficulties
// are taken as far as anything is left to see.
func Extreme(seed uint64, n, w, h int, tags []string) (Frame, error) {
	buckets, sizes := Extremes(), PixelsPerModule()
	bucket, size := buckets[n%len(buckets)], sizes[n/len(buckets)%len(sizes)]
	return single(newRand(seed, fmt.Sprint("extreme ", n)), bucket, size, w, h, tags)
}

// single is a frame of one label at a size in pixels a module.
func single(r *rand.Rand, bucket string, size float64, w, h int, tags []string) (Frame, error) {
	text := tags[r.IntN(len(tags))]
	label, err := newLabel(r, text, text[:2]+" "+text[2:6]+" "+text[6:], "drawer "+fmt.Sprint(1+r.IntN(40)))
	if err != nil {
		return Frame{}, err
	}
	c := newCamera(w, h)
	margin := 30 * size
	p := pose{
		module:   size,
		at:       [2]float64{between(r, margin, float64(w)-margin), between(r, margin, float64(h)-margin)},
		rotation: between(r, -8, 8) * degree, tilt: between(r, 0, 15) * degree, axis: between(r, 0, 180) * degree,
	}
	e := daylight(r)
	harden(r, bucket, &p, &e, label)
	m := c.project(p, 10.5, 10.5)
	room := newRoom(r, w, h)
	room.lay(label, m)
	frame := Frame{Bucket: bucket, Labels: []Label{symbolLabel(text, m, 0, 0)}}
	frame.Picture = room.develop(r, e)
	return frame, nil
}

// daylight is what a good webcam does in good light.
func daylight(r *rand.Rand) effects {
	return effects{
		defocus: between(r, 0.35, 0.55), black: between(r, 20, 50), white: between(r, 180, 235),
		noise: between(r, 1, 3), slope: between(r, 0, 0.2), slopeDir: between(r, 0, 360) * degree, jpeg: 92,
	}
}

// harden makes a frame difficult in the way of its bucket.
func harden(r *rand.Rand, bucket string, p *pose, e *effects, label *texture) {
	switch bucket {
	case "tilt":
		p.tilt = between(r, 15, 60) * degree
	case "rotation":
		p.rotation = between(r, 0, 360) * degree
	case "defocus":
		e.defocus = between(r, 0.25, 0.6) * p.module
	case "motion":
		e.motion, e.motionDir = between(r, 0.5, 1.6)*p.module, between(r, 0, 180)*degree
	case "noise":
		e.noise, e.jpeg = between(r, 8, 30), 0
	case "contrast":
		e.black = between(r, 60, 140)
		e.white = e.black + between(r, 25, 70)
	case "light":
		e.slope = between(r, 1, 1.6)
		p.rotation = between(r, -20, 20) * degree
	case "glare":
		e.glare = between(r, 4, 9) * p.module
		far := between(r, 3, 12) * p.module
		sin, cos := math.Sincos(between(r, 0, 360) * degree)
		e.glareAt = [2]float64{p.at[0] + cos*far, p.at[1] + sin*far}
	case "occlusion":
		cover(r, label, between(r, 0.02, 0.14))
	case "jpeg":
		e.jpeg = 15 + r.IntN(40)
	case "jpeg 5 to 12":
		e.jpeg = 5 + r.IntN(8)
	case "light to nothing":
		e.slope, e.white = between(r, 1.7, 2), between(r, 100, 235)
	case "contrast 4 to 10 %":
		e.black = between(r, 60, 180)
		e.white = e.black + between(r, 10, 25)
	case "inverse":
		label.invert = true
	case "mixed":
		p.tilt, p.rotation = between(r, 0, 40)*degree, between(r, 0, 360)*degree
		e.defocus = between(r, 0.2, 0.4) * p.module
		e.noise = between(r, 3, 10)
		e.white = e.black + between(r, 60, 150)
		e.slope = between(r, 0.2, 1)
		e.jpeg = 50 + r.IntN(40)
	}
}

// cover hides a part of the symbol's area with a box that begins at its edge.
func cover(r *rand.Rand, t *texture, part float64) {
	long := between(r, 0.3, 0.9) * t.size
	deep := part * t.size * t.size / long
	along := between(r, 0, t.size-long)
	boxes := [][4]float64{
		{along, -quiet, along + long, deep},
		{along, t.size - deep, along + long, t.size + quiet},
		{-quiet, along, deep, along + long},
		{t.size - deep, along, t.size + quiet, along + long},
	}
	t.cover, t.covers = boxes[r.IntN(4)], true
}

// Wall is frame number n of a cabinet of 12 to 40 labels at w x h; the same n
// shows the same cabinet at any size.
func Wall(seed uint64, n int, hard bool, w, h int, tags []string) (Frame, error) {
	r := newRand(seed, fmt.Sprint("wall ", hard, n))
	columns := 4 + r.IntN(5)
	rows := max(3, min(5, 40/columns-r.IntN(2)))
	c := newCamera(w, h)
	fill := between(r, 0.7, 0.98)
	p := pose{
		module:   fill * math.Min(float64(w)/(float64(columns)*pitchU), float64(h)/(float64(rows)*pitchV)),
		at:       [2]float64{float64(w) / 2, float64(h) / 2},
		rotation: between(r, -4, 4) * degree, tilt: between(r, 0, 15) * degree, axis: between(r, 0, 180) * degree,
	}
	e := daylight(r)
	scale := float64(w) / 1280
	e.defocus *= math.Sqrt(scale)
	bucket := "wall easy"
	if hard {
		bucket = "wall hard"
		p.tilt, p.rotation = between(r, 15, 40)*degree, between(r, -15, 15)*degree
		p.module *= 0.9
		e.defocus = between(r, 0.5, 0.95) * scale
		e.noise, e.slope, e.jpeg = between(r, 3, 9), between(r, 0.3, 1), 60+r.IntN(30)
		e.white = e.black + between(r, 70, 150)
	}
	u0, v0 := float64(columns)*pitchU/2, float64(rows)*pitchV/2
	m := c.project(p, u0, v0)
	room := newRoom(r, w, h)
	frame := Frame{Bucket: bucket}
	order := r.Perm(len(tags))
	for i := range columns * rows {
		text := tags[order[i%len(tags)]]
		label, err := newLabel(r, text, text[:2]+" "+text[2:6]+" "+text[6:], fmt.Sprintf("drawer %d", i+1))
		if err != nil {
			return Frame{}, err
		}
		u := float64(i%columns)*pitchU + 12 + between(r, -2, 2)
		v := float64(i/columns)*pitchV + 8 + between(r, -2, 2)
		local := m.shift(u, v)
		room.lay(label, local)
		frame.Labels = append(frame.Labels, symbolLabel(text, local, 0, 0))
	}
	frame.Picture = room.develop(r, e)
	return frame, nil
}

// shift moves the origin of the plane to (u, v).
func (m homography) shift(u, v float64) homography {
	for i := range 3 {
		m[3*i+2] += m[3*i]*u + m[3*i+1]*v
	}
	return m
}

// Empty is frame number n of those that hold no tag: in turn text, squares like
// finder patterns, noise, codes of other makers, and codes that are nearly tags.
func Empty(seed uint64, n int, w, h int) (Frame, error) {
	r := newRand(seed, fmt.Sprint("empty ", n))
	kinds := []string{"text", "squares", "noise", "foreign", "nearly tags"}
	frame := Frame{Bucket: kinds[n%len(kinds)]}
	room, e := newRoom(r, w, h), daylight(r)
	c := newCamera(w, h)
	for range 3 + r.IntN(5) {
		p := pose{
			module:   between(r, 1.5, 5),
			at:       [2]float64{between(r, 100, float64(w)-100), between(r, 100, float64(h)-100)},
			rotation: between(r, -40, 40) * degree, tilt: between(r, 0, 45) * degree, axis: between(r, 0, 180) * degree,
		}
		label, text, err := decoy(r, frame.Bucket)
		if err != nil {
			return Frame{}, err
		}
		if label == nil {
			break
		}
		room.lay(label, c.project(p, label.size/2, label.size/2))
		if text != "" {
			frame.Foreign = append(frame.Foreign, text)
		}
	}
	if frame.Bucket == "noise" {
		e.noise = between(r, 20, 120)
	}
	frame.Picture = room.develop(r, e)
	return frame, nil
}

// decoy is one thing that is no tag, and its text if it is a code.
func decoy(r *rand.Rand, kind string) (*texture, string, error) {
	letters := func(n int) string {
		var b strings.Builder
		for range n {
			b.WriteByte("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"[r.IntN(36)])
		}
		return b.String()
	}
	switch kind {
	case "text":
		lines := make([]string, 6)
		for i := range lines {
			lines[i] = letters(4+r.IntN(6)) + " " + letters(3+r.IntN(8))
		}
		return textOnly(lines), "", nil
	case "squares":
		return squares(r), "", nil
	case "foreign":
		text := "https://example.org/" + letters(4+r.IntN(30))
		t, err := newSymbol(r, text, 4+r.IntN(5), qrcode.RecoveryLevel(r.IntN(2)))
		return t, text, err
	case "nearly tags":
		text := "S" + string("PBCS"[r.IntN(4)]) + letters(7) + "O" // O is no check character of ours
		t, err := newLabel(r, text, text)
		return t, text, err
	}
	return nil, "", nil
}

func textOnly(lines []string) *texture {
	m := drawText(lines)
	w, h := float64(m.Rect.Dx())/3, float64(m.Rect.Dy())/3
	return &texture{text: m, textAt: [4]float64{0, 0, w, h}, box: [4]float64{-2, -2, w + 2, h + 2}}
}

// squares is a grid of 21 modules of random finder patterns and random dots, so
// that everything of a symbol is there but its sense.
func squares(r *rand.Rand) *texture {
	t := &texture{size: 21, box: [4]float64{-quiet, -quiet, 21 + quiet, 21 + quiet}}
	t.bits = make([][]bool, 21)
	for y := range t.bits {
		t.bits[y] = make([]bool, 21)
		for x := range t.bits[y] {
			t.bits[y][x] = r.IntN(2) == 0
		}
	}
	for _, at := range [][2]int{{0, 0}, {14, 0}, {0, 14}, {14, 14}} {
		if r.IntN(5) == 0 {
			continue
		}
		for y := -1; y < 8; y++ {
			for x := -1; x < 8; x++ {
				if X, Y := at[0]+x, at[1]+y; X >= 0 && Y >= 0 && X < 21 && Y < 21 {
					ring := max(abs(x-3), abs(y-3))
					t.bits[Y][X] = ring != 2 && ring != 4
				}
			}
		}
	}
	return t
}

func abs(v int) int { return max(v, -v) }
