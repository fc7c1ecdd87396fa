package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"stowright/store/fault"
)

// Ext is how the name of a shop file ends.
const Ext = ".stow"

// Resolve follows symbolic links to the file that a path names, so that the write-ahead
// log lies beside that file and what replaces it replaces the file and not the link. A
// file that is not there yet is named in the folder that the path leads to.
func Resolve(path string) (string, error) {
	for range mostLinks {
		real, err := filepath.EvalSymlinks(path)
		if err == nil {
			return real, nil
		}
		if !errors.Is(err, os.ErrNotExist) {
			return "", fault.Wrap(err, fault.Invalid, path, "The shop file %s cannot be looked at: see that its folder is there and may be read.", path)
		}
		target, err := os.Readlink(path)
		if err != nil {
			return beyondLinks(path), nil
		}
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(path), target)
		}
		path = target
	}
	return "", fault.New(fault.Invalid, path, "The link %s leads nowhere: name the shop file with --shop.", path)
}

// mostLinks bounds how many links lead to each other.
const mostLinks = 40

// beyondLinks resolves what is there of the folders of a file that is not.
func beyondLinks(path string) string {
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return path // the folder is made with the file
	}
	return filepath.Join(folder, filepath.Base(path))
}

// UnusedName is the name of a file that is not there yet: stem and ext with a number
// between them where that is needed.
func UnusedName(stem, ext string) string {
	name := stem + ext
	for n := 2; ; n++ {
		if _, err := os.Lstat(name); errors.Is(err, os.ErrNotExist) {
			return name
		}
		name = fmt.Sprintf("%s-%d%s", stem, n, ext)
	}
}
