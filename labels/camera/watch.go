package camera

import (
	"context"
	"image"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"stowright/labels/scan"
)

// Watch returns each new picture in a folder once, such as those that a phone or a
// camera uploads there.
type Watch struct {
	dir    string
	poll   time.Duration
	seen   map[string]stamp
	closed bool
}

var _ Source = (*Watch)(nil)

// stamp is the state of a file, to detect changes.
type stamp struct {
	size     int64
	modified time.Time
	taken    bool // returned by Next, or there before the watch began
}

// OpenWatch watches dir, polling at an interval. Pictures that are there already are not
// returned.
func OpenWatch(dir string, poll time.Duration) (*Watch, error) {
	names, err := pictureFiles(dir)
	if err != nil {
		return nil, err
	}
	w := &Watch{dir: dir, poll: poll, seen: make(map[string]stamp, len(names))}
	for _, name := range names {
		if info, err := os.Stat(filepath.Join(dir, name)); err == nil {
			w.seen[name] = stampOf(info, true)
		}
	}
	return w, nil
}

func stampOf(info fs.FileInfo, taken bool) stamp {
	return stamp{size: info.Size(), modified: info.ModTime(), taken: taken}
}

// Next waits for a new or changed picture. A file is returned when it has not changed
// from one poll to the next, so that it is complete.
func (w *Watch) Next(ctx context.Context) (image.Image, error) {
	for {
		if w.closed {
			return nil, io.EOF
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		name, err := w.look()
		if err != nil {
			return nil, err
		}
		if name != "" {
			return scan.Open(filepath.Join(w.dir, name))
		}
		if err := wait(ctx, w.poll); err != nil {
			return nil, err
		}
	}
}

// look polls once and returns the name of a new picture that is complete, or "".
func (w *Watch) look() (string, error) {
	names, err := pictureFiles(w.dir)
	if err != nil {
		return "", err
	}
	ready, there := "", make(map[string]stamp, len(names))
	for _, name := range names {
		info, err := os.Stat(filepath.Join(w.dir, name))
		if err != nil {
			continue // gone between listing and looking
		}
		now, before := stampOf(info, false), w.seen[name]
		same := before.size == now.size && before.modified.Equal(now.modified) && now.size > 0
		switch {
		case same && before.taken:
			now.taken = true
		case same && ready == "":
			ready, now.taken = name, true
		}
		there[name] = now
	}
	w.seen = there
	return ready, nil
}

// Close stops watching.
func (w *Watch) Close() error {
	w.closed = true
	return nil
}
