package photos

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"stowright/store"
)

// Save writes photographs into a folder as P-17.jpg, all of them or none, and returns
// the files in the same order. The names are our own: nothing that was typed or that a
// camera named becomes one. A file that is there already is not overwritten, unless it
// is that very picture.
func Save(shop *store.Shop, list []store.Photo, folder string) (files []string, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, &store.Error{Kind: store.Invalid, Where: folder, Message: fmt.Sprintf("The folder %s cannot be made: name another.", folder), Err: err}
	}
	var made []string
	defer func() {
		if err == nil {
			return
		}
		for _, name := range made {
			err = errors.Join(err, os.Remove(name))
		}
	}()
	for _, p := range list {
		picture, err := shop.Picture(p.Number)
		if err != nil {
			return nil, err
		}
		name := filepath.Join(folder, p.Name()+".jpg")
		fresh, err := writePicture(name, picture)
		if fresh {
			made = append(made, name)
		}
		if err != nil {
			return nil, err
		}
		files = append(files, name)
	}
	return files, nil
}

// writePicture writes a file that is not there yet, and syncs it.
func writePicture(name string, picture []byte) (fresh bool, err error) {
	if known, err := os.ReadFile(name); err == nil && string(known) == string(picture) {
		return false, nil
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	switch {
	case errors.Is(err, os.ErrExist):
		return false, &store.Error{Kind: store.Conflict, Where: name, Message: fmt.Sprintf("%s is there already and is another picture, and nothing is overwritten: name another folder.", name)}
	case err != nil:
		return false, &store.Error{Kind: store.Invalid, Where: name, Message: fmt.Sprintf("%s cannot be written: name a folder that may be.", name), Err: err}
	}
	_, err = f.Write(picture)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return true, &store.Error{Kind: store.Internal, Where: name, Message: fmt.Sprintf("%s could not be written: see that the disk has room.", name), Err: err}
	}
	return true, nil
}
