package desktop

import (
	"os"
	"path/filepath"
	"strings"
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
	renamed := func(name, begin string) string {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, []byte(begin), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	picture := renamed("list.csv", "\xff\xd8\xff\xe0\x00\x10JFIF")
	paper := renamed("photo.jpg", "Part,Qty\nAN3-5A,2\n")
	shop := renamed("attachment", strings.Repeat("\x00", 8)+"\x04\x00\x00\x00\x00\x00\x00\x00\xed\xda\x0c\xed"+strings.Repeat("\x00", 44))
	for _, row := range []struct {
		name  string
		keys  []string
		files []string
		want  routes.Route
	}{
		{"a packing list", nil, []string{list}, routes.Route{Screen: routes.Unpack, Part: unpack.ListPart, About: list}},
		{"a paper in another format", nil, []string{"/a/list.pdf"}, routes.Route{Screen: routes.Unpack, Part: unpack.ListPart, About: "/a/list.pdf"}},
		{"a photograph", nil, []string{"/a/photo.JPG"}, routes.Route{Screen: routes.Camera, About: "/a/photo.JPG"}},
		{"a photograph under the name of a list", nil, []string{picture}, routes.Route{Screen: routes.Camera, About: picture}},
		{"a list under the name of a photograph", nil, []string{paper}, routes.Route{Screen: routes.Unpack, Part: unpack.ListPart, About: paper}},
		{"a copy without its ending", nil, []string{shop}, routes.Route{Screen: routes.Copies}},
		{"a copy that is not there", nil, []string{"/a/copy.stow"}, routes.Route{Screen: routes.Copies}},
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
