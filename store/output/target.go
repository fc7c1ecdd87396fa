package output

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// target is where a file goes.
type target struct {
	named string      // as the person named it
	real  string      // without links
	there fs.FileInfo // what is there already; nil for nothing
}

// mostLinks is how many links may lead from one to the next.
const mostLinks = 40

// resolve follows links, also one to a file that is not there.
func resolve(path string) (string, error) {
	for range mostLinks {
		folder, name := filepath.Split(path)
		if folder == "" {
			folder = "."
		}
		real, err := filepath.EvalSymlinks(folder)
		if err != nil {
			return "", err
		}
		if real, err = filepath.Abs(real); err != nil {
			return "", err
		}
		path = filepath.Join(real, name)
		to, err := os.Readlink(path)
		if err != nil { // no link, or nothing at all
			return path, nil
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(real, to)
		}
		path = to
	}
	return "", errors.New("links lead round in a circle")
}

// find looks where a file goes and what is there, and says why it may not go there.
func find(path string, o Options) (target, error) {
	if path == "" || filepath.Base(path) == string(filepath.Separator) {
		return target{}, refuse(path, nil, "Say where to write it: a folder and a name.")
	}
	t := target{named: path}
	var err error
	if t.real, err = resolve(path); errors.Is(err, fs.ErrNotExist) {
		return t, refuse(path, err, "There is no folder %s: make it, or name another for %s.", filepath.Dir(path), filepath.Base(path))
	} else if err != nil {
		return t, refuse(path, err, "%s cannot be written: name a file in a folder that is there and may be read.", path)
	}
	switch t.there, err = os.Lstat(t.real); {
	case errors.Is(err, fs.ErrNotExist):
		t.there = nil
	case err != nil:
		return t, refuse(path, err, "%s cannot be looked at: name a file in another folder.", path)
	}
	return t, t.check(o)
}

// check says why a file may not go there.
func (t target) check(o Options) error {
	switch {
	case t.there != nil && t.there.IsDir():
		return refuse(t.named, nil, "%s is a folder: name the file in it too.", t.named)
	case t.there != nil && !t.there.Mode().IsRegular():
		return refuse(t.named, nil, "%s is not a file: name another.", t.named)
	}
	if err := t.checkShop(o.Shop); err != nil {
		return err
	}
	if t.there == nil {
		return nil
	}
	kept, err := keeps(t.real)
	switch {
	case err != nil:
		return refuse(t.named, err, "%s may not be read, so that nobody can tell what would be lost: name another.", t.named)
	case kept:
		return errKept(t.named)
	case !o.Replace:
		return errExists(t.named)
	case t.there.Mode().Perm()&0o200 == 0:
		return refuse(t.named, fs.ErrPermission, "%s is closed to writing: name another, or open it first.", t.named)
	}
	return nil
}

// checkShop refuses what is, or by its name would be, a shop file or lies beside one.
func (t target) checkShop(shop string) error {
	if shopName(t.named) || shopName(t.real) {
		return errKept(t.named)
	}
	own := []string{t.real}
	if of, beside := ofShop(t.real); beside {
		if kept, err := keeps(of); err == nil && kept || shopName(of) {
			return errKept(t.named)
		}
		own = append(own, of)
	}
	if shop == "" {
		return nil
	}
	info, err := os.Stat(shop)
	if err == nil && t.there != nil && os.SameFile(info, t.there) {
		return errKept(t.named)
	}
	real, err := resolve(shop)
	if err != nil {
		return nil // its folder is not there, and so the file is another one
	}
	for _, path := range own {
		if sameName(path, real) {
			return errKept(t.named)
		}
	}
	return nil
}
