package album

import (
	"context"
	"image"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/apptest"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/labels/camera"
	"stowright/store"
)

// bench is the page of the photographs of line 5, of which the demo has one.
type bench struct {
	*sessiontest.Bench
	t    *testing.T
	h    *apptest.Window
	p    *Page
	lens *lens
}

func newBench(t *testing.T) *bench {
	t.Helper()
	v := &bench{Bench: sessiontest.Open(t, demo.Unpacked), t: t, h: apptest.NewWindow(t)}
	ships, err := v.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	v.p = New(v.Session, v.h, routes.Route{Screen: routes.Photos, About: photos.About(store.OfLine(ships[0].ID, 5))}, Options{
		Open: func(context.Context, string) (camera.Source, error) {
			if v.lens == nil {
				return nil, camera.ErrNoCamera
			}
			return v.lens, nil
		},
	})
	v.Drain()
	return v
}

// press does what a key does: the button of the page with it, or the page's own.
func (v *bench) press(key string) {
	v.t.Helper()
	if !look.PressKey(v.p.Object(), key) && !v.p.HandleKey(key) {
		v.t.Errorf("no button and no key %q", key)
	}
	v.Drain()
}

// keys are those of some keys that do something now.
func (v *bench) keys() string {
	var found []string
	for _, key := range strings.Fields("C F Enter D Del A B Left Right Esc") {
		if look.HasKey(v.p.Object(), key) {
			found = append(found, key)
		}
	}
	return strings.Join(found, " ")
}

// The page of all photographs, of one, and of none, with what each can do.
func TestPage(t *testing.T) {
	v := newBench(t)
	if v.p.Title() != "Photographs" || v.p.title.Text() != "Photographs of line 5 OQ-10-020" || v.p.note.Text() != "1 photograph" {
		t.Errorf("%q, %q", v.p.title.Text(), v.p.note.Text())
	}
	if got, want := v.keys(), "C F Enter D Del A B"; got != want {
		t.Errorf("all photographs have the keys %q, want %q", got, want)
	}
	v.p.Dropped(files(t, "a.jpg", "b.jpg"))
	v.Drain()
	if len(v.p.model.State().Photos) != 3 || v.p.said.Hidden || !strings.Contains(v.p.said.Text(), "Kept: P-3, P-4.") {
		t.Errorf("two were dropped: %d photographs, %q", len(v.p.model.State().Photos), v.p.said.Text())
	}
	v.press("Enter")
	if got, want := v.keys(), "Enter Del Left Right"; got != want || v.p.root.Objects[0] != fyne.CanvasObject(v.p.one) {
		t.Errorf("a large photograph has the keys %q, want %q", got, want)
	}
	if !strings.HasPrefix(v.p.heading.Text(), "P-4") {
		t.Errorf("it is headed %q", v.p.heading.Text())
	}
	v.press("Left")
	if !strings.HasPrefix(v.p.heading.Text(), "P-3") {
		t.Errorf("the one before is headed %q", v.p.heading.Text())
	}
	v.press("Esc")
	if v.p.root.Objects[0] != fyne.CanvasObject(v.p.all) {
		t.Error("Esc does not go back to all of them")
	}
	for range 3 {
		v.press("Del")
	}
	if got := v.keys(); got != "C F B" || v.p.empty.Hidden || !v.p.scroll.Hidden {
		t.Errorf("without a photograph the keys are %q, hint hidden %v", got, v.p.empty.Hidden)
	}
	v.press("B")
	if v.h.Backs != 1 {
		t.Errorf("gone back %d times", v.h.Backs)
	}
}

// The arrows move among the photographs; up from the first line belongs to the window, as
// do all keys while there is none.
func TestPageKeys(t *testing.T) {
	v := newBench(t)
	v.p.Dropped(files(t, "a.jpg", "b.jpg", "c.jpg"))
	v.Drain()
	v.p.model.Choose(0)
	for _, row := range []struct {
		key    string
		known  bool
		chosen int
	}{{"Left", true, 0}, {"Right", true, 1}, {"Right", true, 2}, {"Up", true, 1}, {"Down", true, 2}, {"Q", false, 2}, {"Esc", false, 2}, {"Left", true, 1}, {"Left", true, 0}, {"Up", false, 0}} {
		if got := v.p.HandleKey(row.key); got != row.known || v.p.model.State().Chosen != row.chosen {
			t.Errorf("%s: taken %v, photograph %d chosen; want %v, %d", row.key, got, v.p.model.State().Chosen, row.known, row.chosen)
		}
	}
	v.p.tapped(2)
	if v.p.model.State().Chosen != 2 || v.p.model.State().Large != nil {
		t.Error("a tap does not only choose")
	}
	v.p.tapped(2)
	v.Drain()
	if v.p.model.State().Large == nil {
		t.Error("a second tap does not show it large")
	}
	if v.p.HandleKey("Down") {
		t.Error("the arrows move among all while one is large")
	}
}

// A photograph is described in a question, which can be left.
func TestPageDescribes(t *testing.T) {
	v := newBench(t)
	v.press("D")
	entry := v.h.First.(*look.Entry)
	entry.SetText("the bent corner")
	v.h.Dialog.Key("Esc")
	v.Drain()
	if got := v.p.model.State().Photos[0].Caption; got == "the bent corner" {
		t.Error("a description that was not kept is there")
	}
	v.press("D")
	entry = v.h.First.(*look.Entry)
	entry.SetText("the bent corner")
	v.h.Dialog.Key("Enter")
	v.Drain()
	if got := v.p.model.State().Photos[0].Caption; got != "the bent corner" {
		t.Errorf("the description is %q", got)
	}
	v.press("D")
	if got := v.h.First.(*look.Entry).Text; got != "the bent corner" {
		t.Errorf("asked again, the field has %q", got)
	}
}

// All photographs are saved into a folder that is asked for.
func TestPageSaves(t *testing.T) {
	v := newBench(t)
	dir := filepath.Join(t.TempDir(), "photographs")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	v.press("A")
	v.h.First.(*look.Entry).SetText(dir)
	v.h.Dialog.Key("Enter")
	v.Drain()
	if found, err := os.ReadDir(dir); err != nil || len(found) != 1 || found[0].Name() != "P-1.jpg" {
		t.Errorf("saved %v, %v: %q", found, err, v.p.said.Text())
	}
}

// The camera takes the place of the photographs while it looks, and gives it back.
func TestPageCamera(t *testing.T) {
	v := newBench(t)
	v.lens = &lens{pictures: []image.Image{grey(10), grey(20), grey(30)}}
	look.PressKey(v.p.Object(), "C")
	if v.p.heading.Text() != "The camera is starting" || !v.p.picture.Hidden || v.keys() != "Enter Esc" {
		t.Errorf("at first: %q, keys %q", v.p.heading.Text(), v.keys())
	}
	for v.p.model.State().Picture == nil && v.Step() {
	}
	if v.p.heading.Text() != "Enter takes the photograph" || v.p.picture.Hidden {
		t.Errorf("with a picture: %q, hidden %v", v.p.heading.Text(), v.p.picture.Hidden)
	}
	look.PressKey(v.p.Object(), "Enter")
	look.PressKey(v.p.Object(), "Esc")
	v.Drain()
	if s := v.p.model.State(); s.Live || len(s.Photos) != 2 || !v.lens.closed {
		t.Errorf("afterwards: live %v, %d photographs, closed %v", s.Live, len(s.Photos), v.lens.closed)
	}
	v.lens = nil
	v.press("C")
	if v.p.said.Hidden || !strings.Contains(v.p.said.Text(), "take the photograph with a phone") {
		t.Errorf("without a camera: %q", v.p.said.Text())
	}
	v.lens = &lens{pictures: []image.Image{grey(1)}}
	look.PressKey(v.p.Object(), "C")
	v.p.Leave()
	v.Drain()
	if v.p.model.State().Live || !v.lens.closed {
		t.Error("a page that was left goes on looking")
	}
}

// A file that was named is brought in, and its field is empty for the next one.
func TestPageFile(t *testing.T) {
	v := newBench(t)
	rested := v.h.Rested
	file := files(t, "phone.jpg")[0]
	v.p.file.SetPath(file)
	v.p.file.OnPicked(file)
	v.Drain()
	if got := v.p.file.Path(); got != "" || v.h.Rested != rested+1 {
		t.Errorf("the field has %q, and the keys went to the page %d times", got, v.h.Rested-rested)
	}
	bad := filepath.Join(t.TempDir(), "none.jpg")
	v.p.file.SetPath(bad)
	v.p.file.OnPicked(bad)
	v.Drain()
	if v.p.file.Path() == "" || v.p.said.Hidden {
		t.Errorf("of a file that is not there the field has %q: %q", v.p.file.Path(), v.p.said.Text())
	}
}
