package camera

import (
	"context"
	"fmt"
	"image"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"stowright/labels/scan"
)

// maxFiles limits how many pictures a folder may contain.
const maxFiles = 10_000

// pictureEndings are the file name extensions of pictures.
var pictureEndings = []string{".png", ".jpg", ".jpeg", ".gif"}

func isPictureName(name string) bool {
	return !strings.HasPrefix(name, ".") && slices.Contains(pictureEndings, strings.ToLower(filepath.Ext(name)))
}

// pictureFiles are the names of the pictures in a folder, in order.
func pictureFiles(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("reading the folder %q: %w", dir, err)
	}
	return picturesAmong(dir, entries)
}

// picturesAmong are the names of the pictures among the entries of a folder.
func picturesAmong(dir string, entries []fs.DirEntry) ([]string, error) {
	var names []string
	for _, entry := range entries {
		if !entry.IsDir() && isPictureName(entry.Name()) {
			names = append(names, entry.Name())
		}
	}
	if len(names) > maxFiles {
		return nil, fmt.Errorf("the folder %q contains %d pictures, over the limit of %d; name a smaller one", dir, len(names), maxFiles)
	}
	return names, nil
}

// Folder plays the pictures of a folder in the order of their names, in a loop.
type Folder struct {
	dir    string
	names  []string
	every  time.Duration
	next   int
	shown  time.Time
	closed bool
}

var _ Source = (*Folder)(nil)

// OpenFolder plays the pictures that are in dir now, each for at least the time every; 0
// plays them as fast as Next is called.
func OpenFolder(dir string, every time.Duration) (*Folder, error) {
	names, err := pictureFiles(dir)
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("the folder %q %w", dir, ErrNoPictures)
	}
	return &Folder{dir: dir, names: names, every: every}, nil
}

// Next returns the next picture. A file that is not a picture is an error; the next call
// continues with the next file.
func (f *Folder) Next(ctx context.Context) (image.Image, error) {
	if f.closed {
		return nil, io.EOF
	}
	if !f.shown.IsZero() {
		if err := wait(ctx, f.every-time.Since(f.shown)); err != nil {
			return nil, err
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	name := f.names[f.next]
	f.next = (f.next + 1) % len(f.names)
	f.shown = time.Now()
	return scan.Open(filepath.Join(f.dir, name))
}

// Close stops playing.
func (f *Folder) Close() error {
	f.closed = true
	return nil
}
