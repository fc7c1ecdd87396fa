package viewfinder

import (
	"fmt"
	"image"
	"image/draw"
	"testing"

	"stowright/app/session"
	"stowright/labels/scan"
	"stowright/labels/scan/frames"
	"stowright/store"
)

// cameraReel is a reel whose pictures are those of a camera.
type cameraReel struct{ reel }

func (c *cameraReel) Live() bool { return true }

// watch shows the pictures to a model that believes it has a camera, and calls look
// after each.
func (r *rig) watch(t *testing.T, pictures []image.Image, look func(i int, s State)) {
	t.Helper()
	r.cameras[""] = &cameraReel{reel{pictures: pictures, once: true}}
	seen := 0
	r.m.show = func(s State) {
		for ; seen < s.Seen; seen++ {
			r.shown = append(r.shown, s)
		}
	}
	r.m.Start("")
	r.Drain()
	for i, s := range r.shown {
		look(i, s)
	}
}

// A hand shakes and a shadow falls: the list and what is chosen stand still until a
// label has been away for a while.
func TestSteady(t *testing.T) {
	r := newRig(t)
	both := printed(t, r.tag("A-12"), r.tag("A-30"))
	one := image.NewRGBA(both.Bounds())
	draw.Draw(one, one.Bounds(), image.White, image.Point{}, draw.Src)
	left := image.Rect(0, 0, both.Bounds().Dx()/3, both.Bounds().Dy())
	draw.Draw(one, left, both, image.Point{}, draw.Src)
	pictures := []image.Image{both, one, one, both, both, both, both}
	last := len(pictures) - 1 // that shows both
	for range keptPictures + 2 {
		pictures = append(pictures, one)
	}
	r.watch(t, pictures, func(i int, s State) {
		want := 2
		if i > last+keptPictures {
			want = 1
		}
		if len(s.Rows) != want || s.Chosen != 0 {
			t.Errorf("picture %d: %d rows, %d chosen; want %d rows, the first chosen", i, len(s.Rows), s.Chosen, want)
		}
	})
}

// A cabinet before a moving camera: each label is lit at its true corners, in every
// picture, whatever moves, and one that is taken off or changed is so no more.
func TestLitOnFilm(t *testing.T) {
	r := newRig(t)
	names := []string{"A-12", "A-30", "A-04", "A-20", "A-31", "A-15"}
	tags := make([]string, len(names))
	for i, name := range names {
		tags[i] = r.tag(name)
	}
	film := frames.NewFilm(3, 640, 360, 3, tags)
	var pictures []image.Image
	var truth []frames.Frame
	for i := range 12 {
		switch i {
		case 4:
			film.Label(1, "")
		case 8:
			film.Label(1, r.tag("A-16"))
		}
		at := float64(i)
		frame, err := film.Frame(i, frames.View{Module: 2.3 + 0.02*at, Rotation: 0.02 + 0.01*at, Shift: [2]float64{3 * at, -2 * at}})
		if err != nil {
			t.Fatal(err)
		}
		pictures, truth = append(pictures, frame.Picture), append(truth, frame)
	}
	came := 0
	r.watch(t, pictures, func(i int, s State) {
		unlit := 0
		for _, l := range truth[i].Labels {
			for _, c := range l.Corners {
				// The pen is two pixels wide, the corner good to a third of a module.
				if !near(s.Picture, int(c[0]), int(c[1]), 2) {
					unlit++
					break
				}
			}
		}
		if i > 8 && unlit == 0 && came == 0 {
			came = i
		}
		if waits := i >= 8 && i < 8+4; unlit > 1 || unlit > 0 && !waits {
			t.Errorf("picture %d: %d of %d labels are not lit at their corners", i, unlit, len(truth[i].Labels))
		}
	})
	if came == 0 {
		t.Error("the label that came is never lit")
	}
}

// near reports whether a pixel of a picture is lit, or one a few pixels around.
func near(picture *image.RGBA, x, y, reach int) bool {
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			if picture.RGBAAt(x+dx, y+dy) == foundColour {
				return true
			}
		}
	}
	return false
}

// Another label held in the place of the one before is the one that is meant.
func TestSwapped(t *testing.T) {
	r := newRig(t)
	first, second := printed(t, r.tag("A-12")), printed(t, r.tag("A-30"))
	r.watch(t, []image.Image{first, first, first, second, second, second}, func(i int, s State) {
		want := "A-12"
		if i >= 3 {
			want = "A-30"
		}
		if got := s.Rows[s.Chosen].Cells[0].Text; got != want {
			t.Errorf("picture %d: %s is chosen, want %s", i, got, want)
		}
	})
	if got := r.m.State().Card.Designation; got != "NAS1149F0363P" {
		t.Errorf("the card is of %s, want what lies in A-30", got)
	}
}

// What was read once stays read, and a change of what a tag names is shown.
func TestMemory(t *testing.T) {
	of := func(text string, how scan.How, answer store.Answer) session.Reading {
		return session.Reading{Code: scan.Code{Text: text, How: how}, Resolution: store.Resolution{Answer: answer}}
	}
	m := memory{patience: 1}
	for i, row := range []struct {
		now     []session.Reading
		changed bool
		want    string
	}{
		{[]session.Reading{of("a", scan.Recognised, store.TagFound)}, true, "a recognised found"},
		{[]session.Reading{of("a", scan.Read, store.TagFound)}, true, "a read found"},
		{[]session.Reading{of("a", scan.Recognised, store.TagFound)}, false, "a read found"},
		{nil, false, "a read found"},
		{[]session.Reading{of("b", scan.Read, store.TagForeign)}, true, "a read found, b read foreign"},
		{[]session.Reading{of("a", scan.Read, store.TagRetired)}, true, "a read retired, b read foreign"},
		{[]session.Reading{of("a", scan.Read, store.TagRetired)}, true, "a read retired"},
	} {
		changed, _ := m.take(row.now)
		got := ""
		for j, r := range m.readings() {
			if j > 0 {
				got += ", "
			}
			got += fmt.Sprintf("%s %v %v", r.Code.Text, r.Code.How, r.Answer)
		}
		if changed != row.changed || got != row.want {
			t.Errorf("step %d: changed %v, %q; want %v, %q", i, changed, got, row.changed, row.want)
		}
	}
}

// The name of a place stands under its code, within the picture even at its edge, and
// nothing is written under what leads nowhere.
func TestCaption(t *testing.T) {
	picture := image.NewGray(image.Rect(0, 0, 640, 360))
	square := func(x, y float64) [4]scan.Point {
		return [4]scan.Point{{X: x, Y: y}, {X: x + 40, Y: y}, {X: x + 40, Y: y + 40}, {X: x, Y: y + 40}}
	}
	reading := func(x, y float64, answer store.Answer) session.Reading {
		return session.Reading{Code: scan.Code{Corners: square(x, y)}, Resolution: store.Resolution{Answer: answer, Place: store.Place{Name: "A-12"}}}
	}
	out := outline(picture, []session.Reading{reading(100, 100, store.TagFound), reading(300, 100, store.TagForeign), reading(0, 320, store.TagFound)}, hint{})
	lit := func(r image.Rectangle) (n int) {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				if out.RGBAAt(x, y) == foundColour {
					n++
				}
			}
		}
		return n
	}
	for _, row := range []struct {
		name string
		box  image.Rectangle
		want bool
	}{
		{"under the tag", image.Rect(100, 143, 140, 165), true},
		{"under the foreign code", image.Rect(300, 143, 340, 165), false},
		{"at the edge of the picture", image.Rect(3, 343, 40, 357), true},
	} {
		if n := lit(row.box); (n > row.box.Dx()*row.box.Dy()/3) != row.want {
			t.Errorf("%s: %d of %d pixels are lit, want a name %v", row.name, n, row.box.Dx()*row.box.Dy(), row.want)
		}
	}
}
