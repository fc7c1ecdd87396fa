package output

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Options are how files are written.
type Options struct {
	// Replace writes over files that are there already. Without it they are refused. A
	// shop file, what lies beside it and a safe copy are refused in any case.
	Replace bool
	// Shop is the shop file in use, which needs not be there yet; empty for none. Neither
	// it nor what lies beside it is written.
	Shop string
}

// File is a file to be written: where, and what.
type File struct {
	Path string
	// Write is called once; what it returns goes to the caller as it is, unless the disk is
	// at fault.
	Write func(to io.Writer) error
	// MakeFolder makes the folder of the file where it is not there, and takes it away
	// again where nothing is written. Without it a folder that is not there is refused.
	MakeFolder bool
}

// filePerm is what a new file is to other people: nothing. One that is written over
// keeps what it was.
const filePerm = 0o600

// Write writes files, all of them or none: each under a hidden name beside its place
// first, then all get their names. Should the machine stop between two names, some of the
// files are there, each of them whole.
func Write(o Options, files ...File) (err error) {
	for _, f := range files {
		if !f.MakeFolder {
			if _, err := find(f.Path, o); err != nil && !errors.Is(err, ErrExist) {
				return err
			}
		}
	}
	made, err := makeFolders(files)
	if err == nil {
		err = write(o, files)
	}
	if err != nil {
		for _, folder := range slices.Backward(made) {
			_ = os.Remove(folder) // which leaves one that is not empty
		}
	}
	return err
}

// write is Write with all folders there.
func write(o Options, files []File) (err error) {
	targets, err := findAll(o, files)
	if err != nil {
		return err
	}
	rooms := map[string]*staging{}
	defer func() {
		for _, room := range rooms {
			room.close()
		}
	}()
	hidden := make([]string, len(files))
	for i, f := range files {
		folder := filepath.Dir(targets[i].real)
		if rooms[folder] == nil {
			if rooms[folder], err = newStaging(folder); err != nil {
				return errWriting(f.Path, err)
			}
		}
		if hidden[i], err = rooms[folder].write(targets[i], f); err != nil {
			return err
		}
	}
	if err := place(o, targets, hidden); err != nil {
		return err
	}
	for folder := range rooms {
		if err := syncFolder(folder); err != nil {
			return errWriting(files[0].Path, err)
		}
	}
	return nil
}

// findAll finds where files go. Of those that are there already all are named at once:
// whoever says that they are to be written over says it of each.
func findAll(o Options, files []File) ([]target, error) {
	targets := make([]target, len(files))
	var there []string
	for i, f := range files {
		var err error
		targets[i], err = find(f.Path, o)
		if known, ok := Existing(err); ok {
			there = append(there, known...)
		} else if err != nil {
			return nil, err
		}
	}
	if len(there) > 0 {
		return nil, errExists(there...)
	}
	return targets, nil
}

// folderPerm is what a new folder is to other people: nothing.
const folderPerm = 0o700

// makeFolders makes the folders of files, and returns those that were not there, an outer
// one before those in it.
func makeFolders(files []File) (made []string, err error) {
	for _, f := range files {
		if !f.MakeFolder {
			continue
		}
		var missing []string
		for folder := filepath.Dir(f.Path); ; folder = filepath.Dir(folder) {
			if _, err := os.Stat(folder); !errors.Is(err, fs.ErrNotExist) || folder == filepath.Dir(folder) {
				break
			}
			missing = append(missing, folder)
		}
		for _, folder := range slices.Backward(missing) {
			if err := os.Mkdir(folder, folderPerm); err != nil {
				return made, refuse(folder, err, "The folder %s cannot be made: name another.", folder)
			}
			made = append(made, folder)
		}
	}
	return made, nil
}

// place gives the files their names. Where one cannot have it, those are removed again
// that were not there before.
func place(o Options, targets []target, hidden []string) (err error) {
	var made []string
	defer func() {
		if err != nil {
			for _, name := range made {
				_ = os.Remove(name) // what went wrong is said already
			}
		}
	}()
	for i, t := range targets {
		// Writing took its time: something else may be there by now.
		if t, err = find(t.named, o); err != nil {
			return err
		}
		if t.there != nil {
			if err := os.Rename(hidden[i], t.real); err != nil {
				return errWriting(t.named, err)
			}
			continue
		}
		if err := placeNew(hidden[i], t); err != nil {
			return err
		}
		made = append(made, t.real)
	}
	return nil
}

// placeNew gives a file a name that nothing has. A link fails where something has it by
// now, which renaming does not; not every file system knows links.
func placeNew(hidden string, t target) error {
	err := os.Link(hidden, t.real)
	switch {
	case err == nil:
		return nil // the hidden name goes with its folder
	case errors.Is(err, fs.ErrExist):
		return errExists(t.named)
	}
	if err := os.Rename(hidden, t.real); err != nil {
		return errWriting(t.named, err)
	}
	return nil
}

// Create makes a file that is written bit by bit while others read it, such as a trace.
// It is there, empty, when Create returns. A pipe, which holds nothing, is written to as
// it is; opening it waits for somebody who reads.
func Create(path string, o Options) (*os.File, error) {
	if info, err := os.Stat(path); err != nil || info.Mode()&fs.ModeNamedPipe == 0 {
		if err := Write(o, File{Path: path, Write: func(io.Writer) error { return nil }}); err != nil {
			return nil, err
		}
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		return nil, errWriting(path, err)
	}
	return f, nil
}

// MayWrite tries whether files can be written in a folder. Only writing tells: a disk may
// be full, or let nobody write whatever the folder says of itself.
func MayWrite(folder string) error {
	room, err := newStaging(folder)
	if err != nil {
		return bare(err)
	}
	room.close()
	return nil
}
