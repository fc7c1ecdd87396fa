package viewfinder

import (
	"image"
	"math"
	"strings"
	"testing"

	"stowright/labels/scan"
	"stowright/labels/scan/frames"
	"stowright/store"
)

// wall is a film of the drawers of Cabinet A in these rows and columns, with the index of
// one of them.
func (r *rig) wall(t *testing.T, name string, rows, columns [2]int) (film *frames.Film, at int) {
	t.Helper()
	cabinet := r.Place(name).Parent
	children, err := r.Shop.Children(cabinet)
	if err != nil {
		t.Fatal(err)
	}
	byCell := map[[2]int]store.Place{}
	for _, p := range children {
		byCell[[2]int{p.Row, p.Column}] = p
	}
	var tags []string
	at = -1
	for row := rows[0]; row <= rows[1]; row++ {
		for column := columns[0]; column <= columns[1]; column++ {
			p := byCell[[2]int{row, column}]
			if p.Name == name {
				at = len(tags)
			}
			tags = append(tags, string(p.Tag))
		}
	}
	return frames.NewFilm(3, 1280, 720, columns[1]-columns[0]+1, tags), at
}

func photographed(t *testing.T, film *frames.Film, view frames.View) frames.Frame {
	t.Helper()
	frame, err := film.Frame(0, view)
	if err != nil {
		t.Fatal(err)
	}
	return frame
}

// sees has the model look for an item in one picture.
func (r *rig) sees(item string, picture image.Image) State {
	r.m.Stop()
	r.reels["one"] = &reel{pictures: []image.Image{picture}, once: true}
	r.m.Seek(item)
	r.m.findSought()
	r.Drain()
	r.m.Start("one")
	r.Drain()
	return r.m.State()
}

// What is looked for is shown at its label; where that was not read, where it must be by the
// labels around; and out of the picture, the way to it.
func TestSeek(t *testing.T) {
	r := newRig(t)
	place := r.Place("A-12")
	rows, columns := [2]int{place.Row - 1, place.Row + 1}, [2]int{place.Column - 2, place.Column + 1}
	if columns[0] < 1 {
		columns = [2]int{place.Column, place.Column + 3}
	}
	for _, view := range []frames.View{{Module: 3}, {Module: 2.6, Rotation: 0.2}, {Module: 2.6, Tilt: 0.6}} {
		film, at := r.wall(t, "A-12", rows, columns)
		whole := photographed(t, film, view)
		truth := middleOf(t, whole, string(place.Tag))
		s := r.sees("AN3-5A", whole.Picture)
		if s.Heading != "A-12 is here" || s.Note != "AN3-5A, 28 ea, Garage, Cabinet A, drawer A-12." || s.Card.Designation != "AN3-5A" || len(r.m.hint.found) != 1 {
			t.Errorf("%+v: %q, %q, the card of %q", view, s.Heading, s.Note, s.Card.Designation)
		}
		film.Label(at, "")
		s = r.sees("AN3-5A", photographed(t, film, view).Picture)
		if !strings.HasPrefix(s.Heading, "A-12 is 1 ") || !strings.HasSuffix(s.Note, "that is where the shop has it.") || r.m.hint.outline == nil {
			t.Fatalf("%+v: without its label %q, %q, outlined %v", view, s.Heading, s.Note, r.m.hint.outline)
		}
		if s.Chosen != -1 || s.Card.Designation != "AN3-5A" {
			t.Errorf("%+v: without its label row %d is chosen, the card is that of %q", view, s.Chosen, s.Card.Designation)
		}
		if !within(*r.m.hint.outline, truth) {
			t.Errorf("%+v: it is outlined at %v, and was at %v", view, *r.m.hint.outline, truth)
		}
	}
}

func middleOf(t *testing.T, frame frames.Frame, tag string) scan.Point {
	t.Helper()
	for _, l := range frame.Labels {
		if l.Text == tag {
			return scan.Point{X: (l.Corners[0][0] + l.Corners[2][0]) / 2, Y: (l.Corners[0][1] + l.Corners[2][1]) / 2}
		}
	}
	t.Fatalf("%s is not in the picture", tag)
	return scan.Point{}
}

// within reports whether a point lies in a frame that turns to the right.
func within(corners [4]scan.Point, p scan.Point) bool {
	for i, a := range corners {
		b := corners[(i+1)%4]
		if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) < 0 {
			return false
		}
	}
	return true
}

// What is out of the picture has an arrow the way to it, and so has what stands in one line
// with all that is in it.
func TestSeekBeyondThePicture(t *testing.T) {
	r := newRig(t)
	for _, row := range []struct {
		name, place, item string
		rows              [2]int // from the row of the drawer
		shift             float64
		heading           string
		down              float64 // the sign of the way
	}{
		{"rows below it", "A-12", "AN3-5A", [2]int{1, 2}, -150, "1 above A-20, out of the picture", -1},
		{"rows above it", "A-30", "NAS1149F0363P", [2]int{-2, -1}, 150, "1 below A-22, out of the picture", 1},
		{"one row above it", "A-30", "NAS1149F0363P", [2]int{-1, -1}, 0, "1 below A-22", 1},
	} {
		place := r.Place(row.place)
		film, _ := r.wall(t, row.place, [2]int{place.Row + row.rows[0], place.Row + row.rows[1]}, [2]int{max(1, place.Column-2), place.Column + 1})
		s := r.sees(row.item, photographed(t, film, frames.View{Module: 3.6, Shift: [2]float64{0, row.shift}}).Picture)
		if s.Heading != row.place+" is "+row.heading || r.m.hint.arrow == nil {
			t.Errorf("%s: %q, arrow %v", row.name, s.Heading, r.m.hint.arrow)
			continue
		}
		if way := r.m.hint.arrow; (way[1].Y-way[0].Y)*row.down <= math.Abs(way[1].X-way[0].X) {
			t.Errorf("%s: the arrow goes from %v to %v", row.name, way[0], way[1])
		}
	}
}

// Drawers that have changed places are not taken for a lattice: the nearest label says the way.
func TestSeekAmongDrawersThatChangedPlaces(t *testing.T) {
	r := newRig(t)
	place := r.Place("A-12")
	film, at := r.wall(t, "A-12", [2]int{place.Row, place.Row + 1}, [2]int{1, 4})
	film.Label(at, "")
	others := []int{}
	for i := range 8 {
		if i != at {
			others = append(others, i)
		}
	}
	first, last := others[0], others[len(others)-1]
	tags := r.cellTags(t, place, place.Row, 4)
	film.Label(first, tags[last])
	film.Label(last, tags[first])
	r.sees("AN3-5A", photographed(t, film, frames.View{Module: 3}).Picture)
	if r.m.hint.outline != nil || r.m.hint.arrow == nil {
		t.Errorf("outlined at %v, arrow %v", r.m.hint.outline, r.m.hint.arrow)
	}
}

// cellTags are the tags of two rows of a cabinet.
func (r *rig) cellTags(t *testing.T, of store.Place, row, columns int) []string {
	t.Helper()
	children, err := r.Shop.Children(of.Parent)
	if err != nil {
		t.Fatal(err)
	}
	tags := make([]string, 2*columns)
	for _, p := range children {
		if p.Row >= row && p.Row <= row+1 && p.Column <= columns {
			tags[(p.Row-row)*columns+p.Column-1] = string(p.Tag)
		}
	}
	return tags
}

// Where nothing near it is in the picture, and where there is none of it, that is said.
func TestSeekElsewhere(t *testing.T) {
	r := newRig(t)
	s := r.sees("AN3-5A", printed(t, r.tag("S1")))
	if s.Heading != "A-12 is not in the picture" || s.Note != "AN3-5A, 28 ea, Garage, Cabinet A, drawer A-12. Show the camera where that stands." || s.Problem != "" {
		t.Errorf("%q, %q, %q", s.Heading, s.Note, s.Problem)
	}
	s = r.sees("AN3-77A", printed(t, r.tag("A-12")))
	if s.Heading != "1 tag" || s.Problem != "There is no AN3-77A in the shop: Find says what is listed and owed of it." {
		t.Errorf("%q, %q", s.Heading, s.Problem)
	}
}

// The label of a cabinet is enough to say that it is in that.
func TestSeekWithin(t *testing.T) {
	r := newRig(t)
	if s := r.sees("AN3-5A", printed(t, r.tag("Cabinet A"))); s.Heading != "A-12 is in Cabinet A" {
		t.Errorf("%q", s.Heading)
	}
}

// On a walk the stop in hand is what is looked for.
func TestSeekOnAWalk(t *testing.T) {
	r := newRig(t)
	r.m.walk = &walkTo{place: r.Place("A-30")}
	if s := r.sees("", printed(t, r.tag("A-12"), r.tag("A-30"))); s.Heading != "A-30 is here" || s.Note != "Garage, Cabinet A, drawer A-30." || s.Rows[1].Cells[2].Mark.Word != "it is here" {
		t.Errorf("%q, %q, %+v", s.Heading, s.Note, s.Rows)
	}
}

// walkTo is a walk whose next stop is a place.
type walkTo struct{ place store.Place }

func (w *walkTo) Wants(place store.Place) bool { return place.ID == w.place.ID }

func (w *walkTo) Next() (string, bool) { return w.place.ID, true }

func (w *walkTo) Take(store.Resolution) bool { return false }
