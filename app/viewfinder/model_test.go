package viewfinder

import (
	"context"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/labels"
	"stowright/labels/camera"
	"stowright/labels/scan"
	"stowright/store"
)

// reel is a source of given pictures, over and over or once.
type reel struct {
	pictures []image.Image
	once     bool
	damaged  int // of the pictures, the one that comes damaged first; 0 for none
	next     int
	closed   bool
}

func (r *reel) Next(ctx context.Context) (image.Image, error) {
	if r.once && r.next == len(r.pictures) {
		return nil, io.EOF
	}
	if r.damaged > 0 && r.next == r.damaged {
		r.damaged = 0
		return nil, &scan.PictureError{File: "half.jpg", Reason: "is cut short"}
	}
	p := r.pictures[r.next%len(r.pictures)]
	r.next++
	return p, ctx.Err()
}

func (r *reel) Close() error {
	r.closed = true
	return nil
}

// rig is a model that looks at reels by their names.
type rig struct {
	*sessiontest.Bench
	m       *Model
	reels   map[string]*reel
	cameras map[string]*cameraReel
	devices []camera.Device
	shown   []State // by watch, one for each picture
}

func newRig(t *testing.T) *rig {
	r := &rig{Bench: sessiontest.Open(t, demo.Unpacked), reels: map[string]*reel{}, cameras: map[string]*cameraReel{}}
	r.m = NewModel(r.Session, func(_ context.Context, where string) (camera.Source, error) {
		if reel, ok := r.reels[where]; ok {
			return reel, nil
		}
		if c, ok := r.cameras[where]; ok {
			return c, nil
		}
		return nil, camera.ErrNoCamera
	}, func(State) {})
	r.m.devices = func() ([]camera.Device, error) { return r.devices, nil }
	return r
}

// printed is a picture of labels with these tags on them.
func printed(t *testing.T, tags ...string) *image.RGBA {
	t.Helper()
	list := make([]labels.Label, 0, len(tags))
	for _, tag := range tags {
		list = append(list, labels.Label{Tag: tag, Name: "label"})
	}
	doc, err := labels.Layout(list, labels.Stocks()[0], labels.Options{})
	if err != nil {
		t.Fatal(err)
	}
	picture, err := labels.Picture(doc.Pages[0], 3)
	if err != nil {
		t.Fatal(err)
	}
	return picture
}

func (r *rig) tag(name string) string { return string(r.Place(name).Tag) }

// Each code in a picture gets the answer that is its own.
func TestAnswers(t *testing.T) {
	r := newRig(t)
	empty := r.Place("A-02")
	if _, err := r.Shop.RetirePlace(empty.ID); err != nil {
		t.Fatal(err)
	}
	other, err := store.NewTag(rand.NewChaCha8([32]byte{1}), store.TagPlace)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name, tag           string
		heading, says, mark string
		card                string
	}{
		{"a drawer", r.tag("A-12"), "1 tag", "AN3-5A", "read", "AN3-5A"},
		{"an empty drawer", r.tag("A-04"), "1 tag", "empty", "read", "A-04"},
		{"a cabinet", r.tag("Cabinet A"), "1 tag", "39 places", "read", "Cabinet A"},
		{"retired", string(empty.Tag), "Not a tag of this shop", "take the label off", "retired", ""},
		{"of another shop", string(other), "Not a tag of this shop", "whether the right shop is open", "unknown", ""},
		{"foreign", "BOLTS 1999", "Not a tag of this shop", "“BOLTS 1999”", "foreign", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			r.reels["file"] = &reel{pictures: []image.Image{printed(t, row.tag)}, once: true}
			r.m.Start("file")
			r.Drain()
			s := r.m.State()
			if s.Heading != row.heading || len(s.Rows) != 1 || s.Running || s.Problem != "" || s.Picture == nil {
				t.Fatalf("%q: %q, %d rows, running %v, problem %q", row.tag, s.Heading, len(s.Rows), s.Running, s.Problem)
			}
			cells := s.Rows[0].Cells
			if !strings.Contains(cells[1].Text, row.says) || cells[2].Mark.Word != row.mark || s.Card.Designation != row.card {
				t.Errorf("%q: says %q, %q, card of %q; want %q, %q, %q", row.tag, cells[1].Text, cells[2].Mark.Word, s.Card.Designation, row.says, row.mark, row.card)
			}
			if _, ok := r.m.Chosen(); ok != (row.card != "") {
				t.Errorf("%q: it leads somewhere: %v", row.tag, ok)
			}
			if !r.reels["file"].closed {
				t.Error("the source is not closed after its last picture")
			}
		})
	}
}

// Several tags are listed, the first that names something is chosen, and what was
// read stays while the label is out of sight.
func TestSeveral(t *testing.T) {
	r := newRig(t)
	blank := image.NewRGBA(image.Rect(0, 0, 64, 64))
	r.reels[""] = &reel{pictures: []image.Image{printed(t, "BOLTS 1999", r.tag("A-30"), r.tag("A-12")), blank}, once: true}
	r.m.Start("")
	if s := r.m.State(); !s.Running || s.Heading != "Looking" {
		t.Errorf("before the first picture: %q, running %v", s.Heading, s.Running)
	}
	r.Drain()
	s := r.m.State()
	if s.Heading != "2 tags" || len(s.Rows) != 3 || s.Seen != 2 {
		t.Errorf("%q with %d rows after %d pictures, want 2 tags, 3 rows, 2 pictures", s.Heading, len(s.Rows), s.Seen)
	}
	if reading, ok := r.m.Chosen(); !ok || reading.Place.Name == "" || s.Card.Empty() {
		t.Errorf("chosen: %+v, %v", reading.Place, ok)
	}
	r.m.Choose(9)
	r.m.Choose(-1)
	if r.m.State().Chosen != s.Chosen {
		t.Error("a row that is not there is chosen")
	}
}

// A camera is watched until another source is opened or the page is left; then it
// is closed, and what it still sees is not shown.
func TestStop(t *testing.T) {
	r := newRig(t)
	first, second := &reel{pictures: []image.Image{printed(t, r.tag("A-30"))}}, &reel{pictures: []image.Image{printed(t, r.tag("A-12"))}}
	r.reels[""], r.reels["phone"] = first, second
	r.m.Start("")
	for range 8 {
		r.Step()
	}
	if s := r.m.State(); s.Card.Designation != "NAS1149F0363P" || first.closed {
		t.Fatalf("the first camera shows %q, closed %v", s.Card.Designation, first.closed)
	}
	r.m.Start("phone")
	for range 12 {
		r.Step()
	}
	if s := r.m.State(); s.Card.Designation != "AN3-5A" || !first.closed || second.closed || !s.Running {
		t.Errorf("the phone shows %q; the first closed %v, the phone %v, running %v", s.Card.Designation, first.closed, second.closed, s.Running)
	}
	r.m.Stop()
	seen := r.m.State().Seen
	r.Drain() // ends, because the source does
	if s := r.m.State(); !second.closed || s.Seen != seen || s.Running || s.Problem != "" {
		t.Errorf("stopped: closed %v, %d more pictures, running %v, %q", second.closed, s.Seen-seen, s.Running, s.Problem)
	}
}

func TestNothingToSee(t *testing.T) {
	r := newRig(t)
	r.m.Start("")
	r.Drain()
	if s := r.m.State(); !s.Help || s.Heading != "No camera here" || s.Problem != "" || s.Running {
		t.Errorf("no camera: %+v", s)
	}
	r.reels["blank"] = &reel{pictures: []image.Image{image.NewRGBA(image.Rect(0, 0, 64, 64))}, once: true}
	r.m.Start("blank")
	r.Drain()
	if s := r.m.State(); s.Heading != "No code in the picture" || s.Help || s.Picture == nil {
		t.Errorf("a blank picture: %q, help %v", s.Heading, s.Help)
	}
	r.m.open = func(context.Context, string) (camera.Source, error) { return nil, errors.New("the stream ended") }
	r.m.Start("http://phone")
	r.Drain()
	if s := r.m.State(); s.Heading != "No picture" || s.Problem != "The stream ended." || !s.Help {
		t.Errorf("a stream that ends: %q, %q, help %v", s.Heading, s.Problem, s.Help)
	}
}

// A person names a picture, a folder of pictures, or something that is neither.
func TestOpenSource(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "label.png")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(png.Encode(f, printed(t, "BOLTS 1999")), f.Close()); err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(t.TempDir(), "bad.png")
	if err := os.WriteFile(bad, []byte("no picture"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name, where, refuse string
		again               bool // a second picture comes
	}{
		{"a picture", path, "", false},
		{"a folder", dir, "", true},
		{"no picture", bad, "bad.png", false},
		{"nothing there", filepath.Join(dir, "none.png"), "none.png", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			source, err := OpenSource(t.Context(), row.where)
			if row.refuse != "" {
				if err == nil || !strings.Contains(err.Error(), row.refuse) {
					t.Errorf("got %v, want an error that names %q", err, row.refuse)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			defer source.Close()
			if picture, err := source.Next(t.Context()); err != nil || picture.Bounds().Empty() {
				t.Errorf("the picture: %v, %v", picture, err)
			}
			if _, err := source.Next(t.Context()); (err == nil) != row.again {
				t.Errorf("after the first picture: %v", err)
			}
		})
	}
}

// What looks like a tag but could not be read lights its drawer with a warning.
func TestRecognised(t *testing.T) {
	r := newRig(t)
	resolution, err := r.Shop.Resolve(r.tag("A-12"))
	if err != nil {
		t.Fatal(err)
	}
	reading := session.Reading{Code: scan.Code{Text: r.tag("A-12"), How: scan.Recognised}, Resolution: resolution}
	r.m.saw(r.m.source.Start(), seen{picture: image.NewRGBA(image.Rect(0, 0, 1, 1)), readings: []session.Reading{reading}})
	r.Drain()
	s := r.m.State()
	if got := s.Rows[0].Cells[2].Mark; got != (notice.Mark{Word: "recognised", Tone: notice.Warn}) {
		t.Errorf("the mark is %+v", got)
	}
	if len(s.Card.Beware) == 0 || s.Card.Beware[0].Lead != "Recognised, not read:" {
		t.Errorf("the card warns of %+v", s.Card.Beware)
	}
}

// Codes are outlined where they are, tags that lead somewhere in another colour
// than the rest, on a picture of its own.
func TestOutline(t *testing.T) {
	picture := image.NewGray(image.Rect(10, 10, 110, 60))
	square := func(x float64) [4]scan.Point {
		return [4]scan.Point{{X: x, Y: 20}, {X: x + 20, Y: 20}, {X: x + 20, Y: 40}, {X: x, Y: 40}}
	}
	out := outline(picture, []session.Reading{
		{Code: scan.Code{Corners: square(20)}, Resolution: store.Resolution{Answer: store.TagFound}},
		{Code: scan.Code{Corners: square(60)}, Resolution: store.Resolution{Answer: store.TagForeign}},
	}, hint{})
	for _, row := range []struct {
		name string
		x, y int
		want color.RGBA
	}{
		{"the edge of the tag", 20, 10, foundColour},
		{"its other edge", 30, 20, foundColour},
		{"the edge of the other", 60, 10, otherColour},
		{"within", 20, 20, color.RGBA{A: 0xFF}},
		{"outside", 90, 40, color.RGBA{A: 0xFF}},
	} {
		if got := out.RGBAAt(row.x, row.y); got != row.want {
			t.Errorf("%s, at %d,%d: %v, want %v", row.name, row.x, row.y, got, row.want)
		}
	}
	if picture.GrayAt(30, 20).Y != 0 {
		t.Error("the picture itself was drawn on")
	}
}
