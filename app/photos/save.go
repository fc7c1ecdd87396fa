package photos

import (
	"bytes"
	"io"
	"os"
	"path/filepath"

	"stowright/store"
	"stowright/store/output"
)

// Save writes photographs into a folder, which is made where it is not there, all of them
// or none, and returns the files in the same order. A file that is there already is
// written over only where replace says so, unless it is that very picture.
func Save(shop *store.Shop, list []store.Photo, folder string, replace bool) (names []string, err error) {
	names, files, err := Files(shop, list, folder)
	if err != nil {
		return nil, err
	}
	if err := output.Write(output.Options{Replace: replace, Shop: shop.File()}, files...); err != nil {
		return nil, err
	}
	return names, nil
}

// Files are photographs as files of a folder, P-17.jpg, for those who write them together
// with others. Their names, in the same order,
// are our own: nothing that was typed or that a camera named becomes one. What lies there
// already as that very picture is among the names and not among the files.
func Files(shop *store.Shop, list []store.Photo, folder string) (names []string, files []output.File, err error) {
	for _, p := range list {
		picture, err := shop.Picture(p.Number)
		if err != nil {
			return nil, nil, err
		}
		name := filepath.Join(folder, p.Name()+".jpg")
		names = append(names, name)
		if known, err := os.ReadFile(name); err == nil && bytes.Equal(known, picture) {
			continue
		}
		files = append(files, output.File{Path: name, MakeFolder: true, Write: func(w io.Writer) error {
			picture, err := shop.Picture(p.Number) // once more: they are not all held at once
			if err == nil {
				_, err = w.Write(picture)
			}
			return err
		}})
	}
	return names, files, nil
}
