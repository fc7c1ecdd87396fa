package desktop

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/unpack"
)

// dropped gives the files that were dropped on the window to a page that takes files,
// or else takes the first of them: a picture is
// searched for labels, anything else is read as a packing list, which says what is
// wrong with it if it is none. While a question is open nothing is taken.
func (d *Desktop) dropped(_ fyne.Position, files []fyne.URI) {
	if len(files) == 0 || d.window.Canvas().Overlays().Top() != nil {
		return
	}
	if p, ok := d.Page().(interface{ Dropped(paths []string) }); ok {
		p.Dropped(pathsOf(files))
		return
	}
	path := files[0].Path()
	switch strings.ToLower(filepath.Ext(path)) {
	case ".png", ".jpg", ".jpeg":
		d.Go(card.Route{Screen: cameraScreen, About: path})
	default:
		d.Go(card.Route{Screen: card.Unpack, Part: unpack.ListPart, About: path})
	}
}

func pathsOf(files []fyne.URI) []string {
	var paths []string
	for _, f := range files {
		paths = append(paths, f.Path())
	}
	return paths
}
