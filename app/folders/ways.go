package folders

import (
	"cmp"
	"os"
	"path/filepath"
	"strings"

	"stowright/app/loop"
)

// Ways are where looking for files begins: the person's own folder, that of the shop,
// and where something was chosen last. There is one for every open shop. Its methods
// are called on the window's goroutine.
type Ways struct {
	Loop loop.Loop
	// Home is the person's own folder, empty on a machine without one.
	Home string
	// Shop is the folder in which the shop file lies.
	Shop string
	// Read lists a folder. Away from the window, since a disk may have to wake up first.
	Read func(dir string) ([]Entry, error)

	documents     string // the person's documents, once they were found
	read, written string // the folders chosen last, to read from and to write into
}

// New are the ways of a shop file.
func New(l loop.Loop, shopFile string) *Ways {
	home, err := os.UserHomeDir()
	if err != nil {
		home = ""
	}
	return &Ways{Loop: l, Home: home, Shop: filepath.Dir(shopFile), Read: read}
}

// Clean is a path as it was typed, pasted or dropped, without what stands around it,
// and with ~ for the person's own folder.
func (w *Ways) Clean(text string) string {
	path := strings.TrimPrefix(strings.Trim(strings.TrimSpace(text), `"'`), "file://")
	if rest, own := strings.CutPrefix(path, "~"); own && w.Home != "" && (rest == "" || rest[0] == '/') {
		return w.Home + rest
	}
	return path
}

// Short is a path as a field shows it: with ~ for the person's own folder around it, so
// that the end of it can be seen.
func (w *Ways) Short(path string) string {
	if rest, own := strings.CutPrefix(path, w.Home); own && w.Home != "" && strings.HasPrefix(rest, "/") {
		return "~" + rest
	}
	return path
}

// FindDocuments looks for the person's documents, away from the window.
func (w *Ways) FindDocuments() {
	if w.Home == "" {
		return
	}
	documents := filepath.Join(w.Home, "Documents")
	w.Loop.Run(func() {
		if info, err := os.Stat(documents); err == nil && info.IsDir() {
			w.Loop.Post(func() { w.documents = documents })
		}
	})
}

// ToWrite is the folder in which a new file is proposed: the one that was written into
// last, else the person's documents.
func (w *Ways) ToWrite() string { return cmp.Or(w.written, w.documents, w.Home) }

// Check tells why a path cannot be taken, in one sentence, or "". One that can is
// remembered.
func (w *Ways) Check(path string, want Want, back func(problem string)) {
	loop.Do(w.Loop, func() (string, error) { return want.refuse(path), nil }, func(problem string, _ error) {
		if problem == "" {
			w.remember(path, want)
		}
		back(problem)
	})
}

func (w *Ways) remember(path string, want Want) {
	switch want.kind {
	case folder:
		w.written = path
	case newFile:
		w.written = filepath.Dir(path)
	default:
		w.read = filepath.Dir(path)
	}
}

// starts are the folders to begin in, best first.
func (w *Ways) starts(want Want) []string {
	first := w.read
	if want.Writes() {
		first = w.ToWrite()
	}
	var list []string
	for _, dir := range []string{first, w.Home, w.Shop} {
		if dir != "" {
			list = append(list, dir)
		}
	}
	return append(list, string(filepath.Separator))
}
