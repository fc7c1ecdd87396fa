package desktop

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"

	"stowright/app/demo"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/app/unpack"
	demofiles "stowright/assets/demo"
)

func TestDroppedFiles(t *testing.T) {
	list := filepath.Join(t.TempDir(), "list.CSV")
	if err := os.WriteFile(list, demofiles.PackingList(demofiles.PackingListCSV), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name  string
		keys  []string
		files []string
		want  routes.Route
	}{
		{"a packing list", nil, []string{list}, routes.Route{Screen: routes.Unpack, Part: unpack.ListPart, About: list}},
		{"a paper in another format", nil, []string{"/a/list.pdf"}, routes.Route{Screen: routes.Unpack, Part: unpack.ListPart, About: "/a/list.pdf"}},
		{"a photograph", nil, []string{"/a/photo.JPG"}, routes.Route{Screen: routes.Camera, About: "/a/photo.JPG"}},
		{"nothing", nil, nil, routes.Route{Screen: routes.Today}},
		{"while a question is open", []string{"F9"}, []string{list}, routes.Route{Screen: routes.Today}},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sitAt(t, sessiontest.Open(t, demo.Furnished))
			b.press(row.keys...)
			var files []fyne.URI
			for _, path := range row.files {
				files = append(files, storage.NewFileURI(path))
			}
			b.d.dropped(fyne.Position{}, files)
			b.Drain()
			if got := b.d.Route(); got != row.want {
				t.Errorf("dropping %q leads to %+v, want %+v", row.files, got, row.want)
			}
		})
	}
}
