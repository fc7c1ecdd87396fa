package desktop

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"stowright/app"
	"stowright/app/album"
	"stowright/app/demo"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/app/unpack"
	"stowright/store"
	"stowright/store/phototest"
)

// names are the photographs of a subject, with their captions.
func (b *bench) names(of store.Subject) string {
	b.t.Helper()
	list, err := b.Shop.Photos(of)
	if err != nil {
		b.t.Fatal(err)
	}
	var out []string
	for _, p := range list {
		out = append(out, strings.TrimSpace(p.Name()+" "+p.Caption))
	}
	return strings.Join(out, ", ")
}

// onDisk is a picture file.
func onDisk(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "phone.jpg")
	if err := os.WriteFile(path, phototest.JPEG(64, 48, 3), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// From the line in hand, by keys alone: a file is brought in, described, looked at,
// taken away and brought back, and the way leads back to the same line.
func TestPhotographsByKeys(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+2")
	page := b.d.Page().(*unpack.Page)
	line, ok := page.Saved().(unpack.Saved)
	if !ok {
		t.Fatal("Unpack does not say where it stands")
	}
	of := store.OfLine(line.Shipment, line.Line)
	path := onDisk(t)
	b.press("P")
	if want := (routes.Route{Screen: routes.Photos, About: photos.About(of)}); b.d.Route() != want {
		t.Fatalf("P leads to %+v, want %+v", b.d.Route(), want)
	}
	b.press("F", `"`+path+`"`, "Enter", "F", `"`+path+`"`, "Enter")
	for _, step := range []struct {
		keys []string
		want string
	}{
		{nil, "P-3, P-4"},
		{[]string{"D", `"the edge"`, "Enter"}, "P-3, P-4 the edge"},
		{[]string{"Left", "Enter", "Del"}, "P-4 the edge"},
		{[]string{"Ctrl+Z"}, "P-3, P-4 the edge"},
		{[]string{"Esc"}, "P-3, P-4 the edge"}, // from the large one to all
	} {
		b.press(step.keys...)
		if got := b.names(of); got != step.want {
			t.Errorf("after %v: %s, want %s", step.keys, got, step.want)
		}
	}
	b.press("B")
	back, _ := b.d.Page().(*unpack.Page)
	if back == nil || back.Saved() != any(line) {
		t.Errorf("the way back leads to %+v, want the line %+v", b.d.Route(), line)
	}
}

// The card of a place and of an item leads to its photographs, and shows them.
func TestPhotographsOfCards(t *testing.T) {
	b := sit(t, demo.Unpacked)
	path := onDisk(t)
	for _, row := range []struct {
		name  string
		route routes.Route
		of    store.Subject
	}{
		{"a drawer", routes.Route{Screen: routes.Places, About: b.Place("A-12").ID}, store.OfPlace(b.Place("A-12").ID)},
		{"an item", routes.Route{Screen: routes.Find, About: "AN3-5A"}, store.OfItem("AN3-5A")},
	} {
		t.Run(row.name, func(t *testing.T) {
			b.t = t
			b.d.Go(row.route)
			b.press("Ctrl+K") // as after typing a name
			before := len(b.d.Card().Photos)
			b.press("F3")
			p, ok := b.d.Page().(*album.Page)
			if !ok {
				t.Fatalf("F3 leads to %+v", b.d.Route())
			}
			b.press("C") // there is no camera here
			if b.d.Page() != app.Page(p) {
				t.Fatalf("C leads to %+v", b.d.Route())
			}
			p.Dropped([]string{path})
			b.Drain()
			if b.names(row.of) == "" {
				t.Errorf("nothing was kept of %+v", row.of)
			}
			b.press("B")
			if got := len(b.d.Card().Photos); got != before+1 {
				t.Errorf("the card shows %d photographs, want %d", got, before+1)
			}
		})
	}
}

// A picture that is dropped on the page of photographs is kept, and not read for tags.
func TestDroppedPhotographs(t *testing.T) {
	b := sit(t, demo.Unpacked)
	of := store.OfPlace(b.Place("S1").ID)
	b.d.Go(routes.Route{Screen: routes.Photos, About: photos.About(of)})
	b.Drain()
	b.d.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(onDisk(t)), storage.NewFileURI(onDisk(t))})
	b.Drain()
	if got := b.names(of); got != "P-3, P-4" || b.d.Route().Screen != routes.Photos {
		t.Errorf("kept %q, on %+v", got, b.d.Route())
	}
	// On a line of Unpack it becomes one of the line.
	b.press("Ctrl+2")
	line := b.d.Page().(*unpack.Page).Saved().(unpack.Saved)
	b.d.dropped(fyne.Position{}, []fyne.URI{storage.NewFileURI(onDisk(t))})
	b.Drain()
	if got := b.names(store.OfLine(line.Shipment, line.Line)); got != "P-5" || b.d.Route().Screen != routes.Photos {
		t.Errorf("dropped on line %d: kept %q, on %+v", line.Line, got, b.d.Route())
	}
	b.press("C")
	if got := b.d.Page().(*album.Page); got == nil {
		t.Error("without a camera the page is left")
	}
}
