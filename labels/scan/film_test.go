package scan

import (
	"cmp"
	"math"
	"slices"
	"testing"
	"time"

	"stowright/labels/scan/frames"
)

// A cabinet before a moving camera: whatever the movement, no tag is reported
// where it is not, nearly all are in every picture, and so are a label put in the
// place of another and one that comes new, while one taken off is gone at once.
func TestFollowerOnFilm(t *testing.T) {
	inFull(t)
	const still, pictures = 1.9, 14
	tags := madeTags(20)
	like := mostLike(t, tags[2])
	for _, row := range []struct {
		name string
		view func(i float64) frames.View
		jump bool // the picture may be looked through once more before all are there again
	}{
		{name: "at rest", view: func(float64) frames.View { return frames.View{Module: still} }},
		{name: "drifting", view: func(i float64) frames.View {
			return frames.View{Module: still, Shift: [2]float64{3.7 * i, -1.9 * i}, Motion: 1}
		}},
		{name: "shaking", view: func(i float64) frames.View {
			return frames.View{Module: still, Shift: [2]float64{7 * math.Sin(2.1*i), 6 * math.Cos(1.7*i)}, Motion: 1.5}
		}},
		{name: "turning", view: func(i float64) frames.View {
			return frames.View{Module: still, Rotation: 0.035 * i}
		}},
		{name: "coming nearer", view: func(i float64) frames.View {
			return frames.View{Module: 1.5 * math.Pow(1.03, i)}
		}},
		{name: "going away, tilting", view: func(i float64) frames.View {
			return frames.View{Module: 2.2 * math.Pow(0.98, i), Tilt: 0.025 * i, Shift: [2]float64{2 * i, i}}
		}},
		{name: "jumping", jump: true, view: func(i float64) frames.View {
			return frames.View{Module: still, Shift: [2]float64{40 * math.Floor(i/5), -25 * math.Floor(i/5)}}
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			film := frames.NewFilm(5, 640, 400, 4, tags[:12])
			follower := NewFollower()
			seen, labels := 0, 0
			for i := range pictures {
				switch i {
				case 5:
					film.Label(2, like) // in the place of the one that it is most like
					film.Label(7, tags[15])
				case 8:
					film.Label(5, "")
				case 11:
					film.Label(5, tags[16])
				}
				view := row.view(float64(i))
				view.Rotation += 0.03 // no hand holds a camera straight
				frame, err := film.Frame(i, view)
				if err != nil {
					t.Fatal(err)
				}
				report, err := follower.Read(t.Context(), frame.Picture, Options{TagsOnly: true, Budget: time.Minute})
				if err != nil {
					t.Fatal(err)
				}
				in := slices.DeleteFunc(report.Codes, func(c Code) bool { return atEdge(c, 640, 400) })
				n := checkTrue(t, &frame, in, 0.4)
				if n < len(frame.Labels)-1 && !row.jump {
					t.Errorf("picture %d: %d tags, want %d", i, n, len(frame.Labels))
				}
				seen, labels = seen+n, labels+len(frame.Labels)
			}
			if float64(seen) < 0.97*float64(labels) {
				t.Errorf("%d of %d tags in all pictures, want 97 %%", seen, labels)
			}
		})
	}
}

// mostLike is the one of many tags whose printed symbol differs least from a tag's.
func mostLike(t *testing.T, tag string) string {
	t.Helper()
	bits := printedSymbol(t, tag, 1, 1).Pix
	best, least := "", len(bits)
	for _, other := range madeTags(1000)[20:] {
		differ := 0
		for i, v := range printedSymbol(t, other, 1, 1).Pix {
			if v != bits[i] {
				differ++
			}
		}
		if differ < least {
			best, least = other, differ
		}
	}
	return best
}

// atEdge says whether a code is one that the film does not count as in the picture.
func atEdge(c Code, w, h float64) bool {
	x := func(a, b Point) int { return cmp.Compare(a.X, b.X) }
	y := func(a, b Point) int { return cmp.Compare(a.Y, b.Y) }
	const border = 10
	corners := c.Corners[:]
	return slices.MinFunc(corners, x).X < border || slices.MinFunc(corners, y).Y < border ||
		slices.MaxFunc(corners, x).X > w-border || slices.MaxFunc(corners, y).Y > h-border
}
