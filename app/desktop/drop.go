package desktop

import (
	"path/filepath"

	"fyne.io/fyne/v2"

	"stowright/app/album"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/unpack"
)

// dropped gives the files that were dropped on the window to a page that takes files.
// Elsewhere pictures become photographs of the line in hand, or else the first file
// counts, told by its content: a picture is searched for labels, a shop or a copy of one
// leads to the copies, anything else is read as a packing list, which says what is wrong
// with it if it is none. While a question is open nothing is
// taken.
func (d *Desktop) dropped(_ fyne.Position, files []fyne.URI) {
	if len(files) == 0 || d.window.Canvas().Overlays().Top() != nil {
		return
	}
	if p, ok := d.Page().(interface{ Dropped(paths []string) }); ok {
		p.Dropped(pathsOf(files))
		return
	}
	path := files[0].Path()
	switch kindOf(path) {
	case droppedShop:
		d.Go(routes.Route{Screen: routes.Copies})
		d.Say(notice.Notice{Tone: notice.Warn, Lead: filepath.Base(path) + " is a shop or a copy of one:", Text: "nothing was read from it. Here are the copies of this shop; a copy from elsewhere is restored by its path."})
	case droppedPicture:
		if d.droppedOnLine(pathsOf(files)) {
			return
		}
		d.Go(routes.Route{Screen: routes.Camera, About: path})
	default:
		d.Go(routes.Route{Screen: routes.Unpack, Part: unpack.ListPart, About: path})
	}
}

// photographed is a page with something in hand that can be photographed.
type photographed interface {
	PhotosRoute() (to routes.Route, ok bool)
}

// droppedOnLine keeps pictures that were dropped where a line is in hand as its
// photographs, and shows them.
func (d *Desktop) droppedOnLine(paths []string) bool {
	p, ok := d.Page().(photographed)
	if !ok {
		return false
	}
	to, ok := p.PhotosRoute()
	if !ok {
		return false
	}
	d.Go(to)
	if shown, ok := d.Page().(*album.Page); ok {
		shown.Dropped(paths)
	}
	return true
}

func pathsOf(files []fyne.URI) []string {
	var paths []string
	for _, f := range files {
		paths = append(paths, f.Path())
	}
	return paths
}
