package album

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/photos"
	"stowright/app/session/sessiontest"
	"stowright/labels/camera"
	"stowright/store"
	"stowright/store/phototest"
)

// lens is a camera that has seen its last picture when all were asked for.
type lens struct {
	pictures []image.Image
	closed   bool
}

func (l *lens) Next(ctx context.Context) (image.Image, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if len(l.pictures) == 0 {
		return nil, io.EOF
	}
	p := l.pictures[0]
	l.pictures = l.pictures[1:]
	return p, nil
}

func (l *lens) Close() error {
	l.closed = true
	return nil
}

func grey(level uint8) image.Image {
	p := image.NewGray(image.Rect(0, 0, 80, 60))
	for i := range p.Pix {
		p.Pix[i] = level
	}
	return p
}

// rig is a model of the photographs of line 5, of which the demo has one.
type rig struct {
	*sessiontest.Bench
	t    *testing.T
	m    *Model
	of   store.Subject
	lens *lens // what the camera key opens; nil for none
	err  error // of opening it
}

func newRig(t *testing.T) *rig {
	r := &rig{Bench: sessiontest.Open(t, demo.Unpacked), t: t, err: camera.ErrNoCamera}
	ships, err := r.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	r.of = store.OfLine(ships[0].ID, 5)
	r.m = NewModel(r.Session, photos.About(r.of), func(context.Context, string) (camera.Source, error) {
		if r.lens == nil {
			return nil, r.err
		}
		return r.lens, nil
	}, func(State) {})
	r.m.Load()
	r.Drain()
	return r
}

// names are the photographs as they are shown, the chosen one in brackets.
func (r *rig) names() string {
	var out []string
	for i, p := range r.m.State().Photos {
		if p.Picture == nil {
			r.t.Errorf("%s has no picture", p.Name)
		}
		if i == r.m.State().Chosen {
			p.Name = "[" + p.Name + "]"
		}
		out = append(out, p.Name)
	}
	return strings.Join(out, " ")
}

func (r *rig) want(when, names string) {
	r.t.Helper()
	r.Drain()
	if got := r.names(); got != names {
		r.t.Errorf("%s: %s, want %s (%q %q)", when, got, names, r.m.State().Said, r.m.State().Problem)
	}
}

// files are picture files as a person brings them.
func files(t *testing.T, names ...string) (paths []string) {
	t.Helper()
	dir := t.TempDir()
	for i, name := range names {
		data := phototest.JPEG(40+i, 30, uint64(i))
		if strings.HasPrefix(name, "cut") {
			data = data[:len(data)/2]
		}
		paths = append(paths, filepath.Join(dir, name))
		if err := os.WriteFile(paths[i], data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return paths
}

// Files are brought in, all or none; described, taken away, and brought back.
func TestFiles(t *testing.T) {
	r := newRig(t)
	if s := r.m.State(); s.Title != "Photographs of line 5 OQ-10-020" || s.Note != "1 photograph" || s.Photos[0].When != "14 Mar 2026, Builder" {
		t.Errorf("at first: %q, %q, %+v", s.Title, s.Note, s.Photos)
	}
	r.want("at first", "[P-1]")
	journal := r.Journal()
	r.m.Bring(files(t, "a.jpg", "b.jpg")...)
	r.Waits(journal)
	r.m.Bring(files(t, "c.jpg")...) // a second Enter while the first works does nothing
	r.want("two brought in", "P-1 P-3 [P-4]")
	if got := r.m.State().Said; got != "Kept: P-3, P-4. Ctrl+Z undoes it." {
		t.Errorf("said %q", got)
	}
	journal = r.Journal()
	r.m.Bring(files(t, "d.jpg", "cut.jpg")...)
	r.want("one of two is cut", "P-1 P-3 [P-4]")
	if got := r.m.State().Problem; r.Journal() != journal || !strings.Contains(got, `"cut.jpg" is cut short`) {
		t.Errorf("%d entries more, %q", r.Journal()-journal, got)
	}
	r.m.Step(-1)
	r.m.Describe(" from below ")
	r.want("described", "P-1 [P-3] P-4")
	if p := r.m.State().Photos[1]; p.Caption != "from below" {
		t.Errorf("the caption is %q", p.Caption)
	}
	journal = r.Journal()
	r.m.Describe("from below")
	r.Drain()
	if r.Journal() != journal {
		t.Error("the same words again are an entry")
	}
	r.m.Remove()
	r.want("taken away", "P-1 [P-4]")
	if _, err := r.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	r.m.Changed()
	r.want("brought back", "P-1 P-3 [P-4]")
	if got := r.m.State().Said; got != "" {
		t.Errorf("after an undo it still says %q", got)
	}
	r.m.Step(1)
	r.m.Choose(-1)
	r.want("beyond the ends", "P-1 P-3 [P-4]")
}

func TestLarge(t *testing.T) {
	r := newRig(t)
	r.m.Bring(files(t, "a.jpg")...)
	r.Drain()
	r.m.Open()
	r.Drain()
	if s := r.m.State(); s.Large == nil || s.Large.Bounds().Dx() != 40 {
		t.Fatalf("large: %v, %q", s.Large, s.Problem)
	}
	r.m.Step(-1)
	r.m.Step(1)
	r.m.Step(-1) // only the last wish counts
	r.Drain()
	if got := r.m.State().Large.Bounds().Dx(); got != 960 {
		t.Errorf("the one before is %d pixels wide, want the demo's 960", got)
	}
	r.m.Remove()
	r.Drain()
	if s := r.m.State(); s.Large == nil || s.Large.Bounds().Dx() != 40 {
		t.Errorf("after taking it away the next one is not shown: %v", s.Large)
	}
	r.m.Remove()
	r.Drain()
	if s := r.m.State(); s.Large != nil || s.Chosen != -1 || s.Note != "0 photographs" {
		t.Errorf("none is left: %v, %d chosen, %q", s.Large, s.Chosen, s.Note)
	}
	r.m.Open()
	r.m.Remove()
	r.Drain()
	r.m.Bring(files(t, "b.jpg")...)
	r.Drain()
	r.m.Open()
	r.m.Shut() // before it was there
	r.Drain()
	if r.m.State().Large != nil {
		t.Error("a picture that came late is shown")
	}
}

// Enter keeps what the camera sees at that moment, and the camera goes on.
func TestCamera(t *testing.T) {
	r := newRig(t)
	r.lens = &lens{pictures: []image.Image{grey(10), grey(200)}}
	r.m.Look("")
	r.m.Take() // before the first picture there is nothing to take
	for r.m.State().Picture == nil {
		r.Step()
	}
	r.m.Take()
	for len(r.m.State().Photos) < 2 && r.Step() {
	}
	if s := r.m.State(); s.Said != "Kept: P-3. Ctrl+Z undoes it." {
		t.Errorf("said %q, %q", s.Said, s.Problem)
	}
	r.Drain()
	if s := r.m.State(); s.Live || !r.lens.closed || !strings.Contains(s.Problem, "no more pictures") {
		t.Errorf("after its last picture: live %v, closed %v, %q", s.Live, r.lens.closed, s.Problem)
	}
	data, err := r.Shop.Picture(3)
	if err != nil {
		t.Fatal(err)
	}
	p, _, err := image.Decode(bytes.NewReader(data))
	if err != nil || color.GrayModel.Convert(p.At(20, 20)).(color.Gray).Y > 60 {
		t.Errorf("what was taken is %v, %v; want the first, dark one", p.At(20, 20), err)
	}
	r.lens = &lens{pictures: []image.Image{grey(1), grey(2), grey(3)}}
	r.m.Look("")
	r.Step()
	r.m.Done()
	r.Drain()
	if s := r.m.State(); s.Live || s.Picture != nil || !r.lens.closed || s.Problem != "" {
		t.Errorf("left: live %v, closed %v, %q", s.Live, r.lens.closed, s.Problem)
	}
}

// Without a camera, or with one that fails, the page says what to do instead.
func TestNoCamera(t *testing.T) {
	for _, row := range []struct {
		err  error
		want string
	}{
		{camera.ErrNoCamera, "take the photograph with a phone"},
		{errors.New("the stream ended"), "The stream ended."},
	} {
		r := newRig(t)
		r.err = row.err
		r.m.Look("")
		r.Drain()
		if s := r.m.State(); s.Live || !strings.Contains(s.Problem, row.want) {
			t.Errorf("%v: live %v, %q", row.err, s.Live, s.Problem)
		}
		r.lens = &lens{pictures: []image.Image{grey(9)}}
		r.m.Bring(t.TempDir()) // a folder that pictures come from
		if !r.m.State().Live {
			t.Error("a folder is not looked at")
		}
	}
}

func TestSave(t *testing.T) {
	r := newRig(t)
	r.m.Bring(files(t, "a name of a phone.jpg")...)
	r.Drain()
	folder := filepath.Join(t.TempDir(), "out")
	r.m.Save(folder)
	r.Drain()
	if got := r.m.State().Said; got != "2 photographs saved in "+folder+"." {
		t.Errorf("said %q, %q", got, r.m.State().Problem)
	}
	found, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(found) != 2 || filepath.Base(found[0]) != "P-1.jpg" || filepath.Base(found[1]) != "P-3.jpg" {
		t.Errorf("saved %v, %v", found, err)
	}
}

// What is not there any more says so.
func TestOfNothing(t *testing.T) {
	r := newRig(t)
	for _, about := range []string{"", "item AN3-8", "line x", "place none"} {
		m := NewModel(r.Session, about, nil, func(State) {})
		m.Load()
		r.Drain()
		if m.State().Problem == "" || m.State().Loading {
			t.Errorf("%q: %+v", about, m.State())
		}
	}
}
