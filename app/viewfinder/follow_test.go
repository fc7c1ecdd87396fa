package viewfinder

import (
	"fmt"
	"image"
	"image/draw"
	"testing"

	"stowright/app/session"
	"stowright/labels/scan"
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
	out := outline(picture, []session.Reading{reading(100, 100, store.TagFound), reading(300, 100, store.TagForeign), reading(0, 320, store.TagFound)})
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
