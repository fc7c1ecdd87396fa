package folders

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"stowright/store/output"
)

// Entry is one name in a folder.
type Entry struct {
	Name   string
	Folder bool
	Bytes  int64 // of a file
}

// mostEntries bounds what is read of one folder.
const mostEntries = 10_000

// errNoFolder means that something is there that is not a folder.
var errNoFolder = errors.New("no folder")

// read lists a folder of the file system, 10,000 names at most.
func read(dir string) ([]Entry, error) {
	if info, err := os.Stat(dir); err != nil {
		return nil, err
	} else if !info.IsDir() {
		return nil, errNoFolder
	}
	d, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	defer d.Close()
	names, err := d.ReadDir(mostEntries)
	if err != nil && !errors.Is(err, io.EOF) { // an empty folder says EOF
		return nil, err
	}
	out := make([]Entry, 0, len(names))
	for _, n := range names {
		info, err := os.Stat(filepath.Join(dir, n.Name())) // follows links
		if err != nil {
			continue // gone meanwhile, or a link to nothing
		}
		out = append(out, Entry{Name: n.Name(), Folder: info.IsDir(), Bytes: info.Size()})
	}
	return out, nil
}

// sentence is why a path cannot be read, "" for no reason.
func sentence(path string, err error) string {
	switch {
	case err == nil:
		return ""
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Sprintf("There is no %s.", path)
	case errors.Is(err, errNoFolder):
		return fmt.Sprintf("%s is not a folder: choose a folder.", path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Sprintf("%s cannot be read: choose another.", path)
	default:
		return fmt.Sprintf("%s cannot be read: choose another.", path)
	}
}

// refuse is why a path cannot be taken, in one sentence, "" for no reason.
func (w Want) refuse(path string) string {
	info, err := os.Stat(path)
	there := err == nil && info.IsDir()
	switch {
	case w.kind == folder && err != nil:
		return refuseWriting(filepath.Dir(path)) // the last part of the path is made
	case w.kind == folder:
		return refuseWriting(path)
	case w.kind == newFile && there:
		return fmt.Sprintf("%s is a folder: name the file in it too, such as %s.", path, filepath.Join(path, w.name))
	case w.kind == newFile:
		return refuseWriting(filepath.Dir(path))
	case w.kind == file && there:
		return fmt.Sprintf("%s is a folder: choose a file in it.", path)
	case there:
		_, err = read(path)
		return sentence(path, err)
	}
	return refuseFile(path)
}

// refuseFile is why a file cannot be read.
func refuseFile(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return sentence(path, err)
	}
	if !info.Mode().IsRegular() { // opening a pipe would wait for ever
		return fmt.Sprintf("%s is not a file: choose another.", path)
	}
	f, err := os.Open(path)
	if err == nil {
		err = f.Close()
	}
	return sentence(path, err)
}

// refuseWriting is why nothing can be written in a folder.
func refuseWriting(dir string) string {
	if info, err := os.Stat(dir); err != nil {
		return sentence(dir, err)
	} else if !info.IsDir() {
		return sentence(dir, errNoFolder)
	}
	if err := output.MayWrite(dir); err != nil {
		return fmt.Sprintf("Nothing can be written in %s: choose another folder.", dir)
	}
	return ""
}
