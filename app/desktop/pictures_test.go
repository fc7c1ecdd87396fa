package desktop

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/labels"
	"stowright/store"
)

// scene is a state of the window that is looked at.
type scene struct {
	name  string
	shop  func(t *testing.T) *sessiontest.Bench
	reach func(b *bench)
}

func at(s demo.Scene) func(t *testing.T) *sessiontest.Bench {
	return func(t *testing.T) *sessiontest.Bench { return sessiontest.Open(t, s) }
}

func empty(t *testing.T) *sessiontest.Bench { return sessiontest.Empty(t) }

func keysOf(names ...string) func(b *bench) { return func(b *bench) { b.press(names...) } }

func scenes() []scene {
	return []scene{
		{"first-today", empty, keysOf("Ctrl+1")},
		{"first-unpack", empty, keysOf("Ctrl+2")},
		{"first-find", empty, keysOf("Ctrl+3")},
		{"first-places", empty, keysOf("Ctrl+4")},
		{"first-labels", empty, keysOf("Ctrl+5")},
		{"find-all", at(demo.Unpacked), keysOf("Ctrl+3")},
		{"find-nothing", at(demo.Unpacked), keysOf("Ctrl+K", `"xyz-9"`)},
		{"find-no-such", at(demo.Unpacked), keysOf("Ctrl+K", `"an3-8a"`)},
		{"find-place", at(demo.Unpacked), keysOf("Ctrl+K", `"a-12"`)},
		{"count", at(demo.Unpacked), keysOf("Ctrl+K", `"an3-5a"`, "Down", "C")},
		{"count-wrong", at(demo.Unpacked), keysOf("Ctrl+K", `"an3-5a"`, "Down", "C", `"many"`, "Enter")},
		{"move", at(demo.Unpacked), keysOf("Ctrl+K", `"an3-5a"`, "Down", "M", `"a-1"`)},
		{"take-out", at(demo.Unpacked), keysOf("Ctrl+K", `"an3-5a"`, "Down", "T")},
		{"send-back", at(demo.Unpacked), keysOf("Ctrl+K", `"an3-5a"`, "Down", "M", "F7")},
		{"put-in", at(demo.Unpacked), func(b *bench) { b.drawer("A-02"); b.press("P") }},
		{"aircraft-form", at(demo.Unpacked), keysOf("F11", "N")},
		{"component-form", at(demo.Unpacked), keysOf("F11", "2", "N")},
		{"due-form", at(demo.Unpacked), keysOf("F11", "3", "N")},
		{"due-form-wrong", at(demo.Unpacked), keysOf("F11", "3", "N", "Enter", "Enter", "Enter", "Enter", "Enter", "Enter", "Enter", "Enter", "Enter")},
		{"position-form", at(demo.Unpacked), keysOf("F11", "4", "N")},
		{"places-shop", at(demo.Unpacked), keysOf("Ctrl+4", "U")},
		{"places-room", at(demo.Unpacked), keysOf("Ctrl+4", "/", "Down")},
		{"places-shelf", at(demo.Unpacked), func(b *bench) { b.drawer("S1") }},
		{"new-place", at(demo.Unpacked), keysOf("Ctrl+4", "N")},
		{"new-cabinet", at(demo.Unpacked), keysOf("Ctrl+4", "K")},
		{"move-place", at(demo.Unpacked), keysOf("Ctrl+4", "U", "N", `"Hangar"`, "Enter", "/", "Down", "Enter", "/", "Down", "M")},
		{"rename", at(demo.Unpacked), func(b *bench) { b.drawer("A-02"); b.press("R") }},
		{"retire", at(demo.Unpacked), func(b *bench) { b.drawer("A-02"); b.press("X") }},
		{"hand", at(demo.Unpacked), keysOf("F9")},
		{"help", at(demo.Unpacked), keysOf("Ctrl+2", "F1")},
		{"help-card", at(demo.Unpacked), keysOf("Ctrl+1", "F1", "P")},
		{"where-to", at(demo.Unpacked), keysOf("F1", "F1")},
		{"labels-used", at(demo.Unpacked), func(b *bench) { b.press("Ctrl+5"); b.stock(0, 11) }},
		{"labels-no-margin", at(demo.Unpacked), func(b *bench) { b.press("Ctrl+5"); b.stock(7, 1) }},
		{"labels-tape", at(demo.Unpacked), func(b *bench) { b.press("Ctrl+5"); b.stock(12, 1); b.press("T") }},
		{"put-in-doubt", at(demo.Unpacked), func(b *bench) { b.drawer("A-02"); b.press("P", `"AN3-8A"`, "Enter") }},
		{"put-in-known", at(demo.Unpacked), func(b *bench) { b.drawer("A-02"); b.press("P", `"an4-6a"`) }},
		{"tag-unknown", at(demo.Unpacked), func(b *bench) { b.press("Ctrl+4"); b.scan("SP7K3M9QXD") }},
		{"camera-none", at(demo.Unpacked), func(b *bench) { b.d.Go(routes.Route{Screen: routes.Camera}) }},
		{"camera-photo", at(demo.Unpacked), func(b *bench) { b.d.Go(routes.Route{Screen: routes.Camera, About: b.photo("A-12", "A-13", "A-30")}) }},
		{"camera-foreign", at(demo.Unpacked), func(b *bench) { b.d.Go(routes.Route{Screen: routes.Camera, About: b.photoOf("SPAAAAAAA")}) }},
		{"claim-sent", at(demo.Unpacked), func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Unpack, Part: "claim"})
			b.Elapse()
			b.press("M", `"by e-mail"`, "Enter")
		}},
		{"claim-sent-wrong", at(demo.Unpacked), func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Unpack, Part: "claim"})
			b.Elapse()
			b.press("M", "Tab", `"9 March 2026"`, "Enter")
		}},
		{"claim-answer", at(demo.Unpacked), func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Unpack, Part: "claim"})
			b.Elapse()
			b.press("M", "Enter", "A")
		}},
		{"copies-none", at(demo.Unpacked), keysOf("F12")},
		{"copies", at(demo.Unpacked), func(b *bench) { b.older(); b.press("F12", "N") }},
		{"copies-restore", at(demo.Unpacked), func(b *bench) { b.older(); b.press("F12", "Enter") }},
		{"copies-elsewhere", at(demo.Unpacked), keysOf("F12", "O")},
		{"first-copies", empty, keysOf("F12")},
		{"long-names", longNames, func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Places, About: b.Place("The long workbench under the north window of the old barn").ID})
		}},
	}
}

// longNames is a shop whose places and things have long names.
func longNames(t *testing.T) *sessiontest.Bench {
	b := sessiontest.Open(t, demo.Unpacked)
	room := b.Place("Garage")
	bench, _, err := b.Shop.AddPlace(store.Place{Parent: room.ID, Kind: store.Rack, Name: "The long workbench under the north window of the old barn"})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"Coffee tin with all that nobody could name in 2019", "Box", "Second shelf from the top, left"} {
		if _, _, err := b.Shop.AddPlace(store.Place{Parent: bench.ID, Kind: store.Bin, Name: name}); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// stock chooses a stock of labels by its index, and its first free label.
func (b *bench) stock(index, first int) {
	b.t.Helper()
	b.press("K")
	shownOf[*look.RowList](b.t, b.w.Canvas().Overlays().Top())[0].Choose(index)
	b.press("Enter")
	entries := shownOf[*look.Entry](b.t, b.d.Object())
	entries[len(entries)-2].SetText(strconv.Itoa(first))
	b.Elapse()
}

// drawer goes to a place by its tag.
func (b *bench) drawer(name string) {
	b.t.Helper()
	b.press("Esc")
	b.scan(string(b.Place(name).Tag))
}

// photo is a picture file of the labels of places.
func (b *bench) photo(names ...string) string {
	b.t.Helper()
	var list []labels.Label
	for _, name := range names {
		l, err := b.Label(b.Place(name))
		if err != nil {
			b.t.Fatal(err)
		}
		list = append(list, l)
	}
	return b.print(list...)
}

// photoOf is a picture file of labels with other tags on them.
func (b *bench) photoOf(tags ...string) string {
	b.t.Helper()
	var list []labels.Label
	for _, tag := range tags {
		list = append(list, labels.Label{Tag: tag, Name: "label"})
	}
	return b.print(list...)
}

func (b *bench) print(list ...labels.Label) string {
	b.t.Helper()
	doc, err := labels.Layout(list, labels.Stocks()[0], labels.Options{})
	if err != nil {
		b.t.Fatal(err)
	}
	picture, err := labels.Picture(doc.Pages[0], 4)
	if err != nil {
		b.t.Fatal(err)
	}
	path := filepath.Join(b.t.TempDir(), "photo.png")
	f, err := os.Create(path)
	if err != nil {
		b.t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, picture.SubImage(image.Rect(0, 30, 864, 400))); err != nil {
		b.t.Fatal(err)
	}
	return path
}

// keysDiffer fails where two buttons that can be pressed at once have one key: only
// the first of them would ever hear it.
func (b *bench) keysDiffer(mode string) {
	b.t.Helper()
	if b.w.Canvas().Overlays().Top() != nil {
		return
	}
	seen := map[string]string{}
	for _, button := range shownOf[*look.KeyButton](b.t, b.d.Object()) {
		key := button.Key()
		if key == "" || button.Off() {
			continue
		}
		if other, twice := seen[key]; twice && other != button.Label() {
			b.t.Errorf("%s: %s presses %q, and %q does not hear it", mode, key, other, button.Label())
		}
		seen[key] = button.Label()
	}
}

// Every state of the window is laid out in every mode, and no text may be cut off: reached
// in the first, and with the theme changed under it in the others. With STOWRIGHT_PICTURES
// set to a folder they are written there; STOWRIGHT_SCENE names the ones to look at.
func TestPictures(t *testing.T) {
	inModes(t, slices.Concat(scenes(), handbookScenes()), gallery.Modes(), func(b *bench, s scene, mode string) {
		b.keysDiffer(mode)
		b.whole(mode, gallery.LeastText)
		b.picture("see-" + s.name + "-" + mode)
	})
}

// inModes looks at each scene in all the modes, and in a short run in one of them by turns:
// those of one mode after each other, since with each change of the theme Fyne reads the
// typefaces again, which takes longer than a scene.
func inModes(t *testing.T, scenes []scene, modes []gallery.Mode, look func(b *bench, s scene, mode string)) {
	at := func(s scene, modes []gallery.Mode) {
		if !strings.Contains(s.name, os.Getenv("STOWRIGHT_SCENE")) {
			return
		}
		t.Run(s.name, func(t *testing.T) {
			b := sitIn(t, s.shop(t), modes[0].Theme)
			s.reach(b)
			for _, m := range modes {
				m.Theme.Apply()
				b.d.Redraw()
				b.Elapse() // a page may be made again for other sizes
				b.layOut()
				look(b, s, m.Name)
			}
		})
	}
	if !testing.Short() {
		for _, s := range scenes {
			at(s, modes)
		}
		return
	}
	for first := range modes {
		for i := first; i < len(scenes); i += len(modes) {
			at(scenes[i], modes[first:first+1])
		}
	}
}

// whole fails where a text of the window is cut off, too faint, or smaller than least.
func (b *bench) whole(mode string, least float32) {
	b.t.Helper()
	for _, text := range gallery.UnreadableIn(b.w.Canvas(), least, test.WidgetRenderer) {
		b.t.Errorf("%s: %s", mode, text)
	}
}

// inline is the shop of a bench where all is done at once, as in the gallery.
func inline(t *testing.T, b *sessiontest.Bench) *session.Session {
	t.Helper()
	s, err := session.Open(t.Context(), b.Shop, session.Inline(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Every question of the gallery is drawn, with nothing cut off in the larger size; and the screens of
// a shop that has nothing yet.
func TestGalleryAsks(t *testing.T) {
	look.Theme{Mode: look.Light}.Apply()
	questions, err := QuestionStates(inline(t, sessiontest.Open(t, demo.Unpacking)))
	if err != nil || len(questions) < 8 {
		t.Fatalf("%d questions, %v", len(questions), err)
	}
	for _, q := range questions {
		over := q.Make().(*fyne.Container).Objects
		dialog, ok := over[len(over)-1].(*look.Dialog)
		inPage := q.Name == "ask-some" || q.Name == "ask-price" // in the card; of a line to order, which this shop has none of
		if !ok && !inPage || ok && !dialog.Visible() {
			t.Errorf("%s asks nothing", q.Name)
		}
	}
	none := EmptyStates(inline(t, sessiontest.Empty(t)))
	if len(none) != len(railEntries())+1 {
		t.Errorf("%d empty screens", len(none))
	}
	for _, s := range append(questions, none...) {
		for _, text := range gallery.Unreadable(s, gallery.Modes()[2], test.WidgetRenderer) { // in the larger size
			t.Errorf("%s: %s", s.Name, text)
		}
	}
}
