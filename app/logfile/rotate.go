package logfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// What the log and its folder are to other people: nothing.
const (
	filePerm   = 0o600
	folderPerm = 0o700
)

// rotating is a file that is set aside as NAME.1 when it has become too long, and what was
// NAME.1 as NAME.2. Several programs may write the same one.
type rotating struct {
	path  string
	limit int64 // bytes
	parts int   // files that are kept

	mu   sync.Mutex
	file *os.File
}

// Write adds a line in one piece. What cannot be written is lost without a word: the
// program has something else to do.
func (r *rotating) Write(line []byte) (int, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if int64(len(line)) > r.limit {
		line = append(line[:r.limit-1:r.limit-1], '\n')
	}
	if err := r.ready(int64(len(line))); err == nil {
		_, _ = r.file.Write(line)
	}
	return len(line), nil
}

// ready opens the file, and begins another one where this one has no room.
func (r *rotating) ready(room int64) error {
	info, err := os.Stat(r.path)
	if err == nil && info.Size()+room > r.limit {
		for n := r.parts - 1; n > 0; n-- {
			_ = os.Rename(r.part(n-1), r.part(n)) // one that is not there is not missed
		}
	}
	if r.file != nil {
		// Another program may have set it aside.
		open, err := r.file.Stat()
		there, err2 := os.Stat(r.path)
		if err == nil && err2 == nil && os.SameFile(open, there) {
			return nil
		}
		_ = r.file.Close()
		r.file = nil
	}
	if err := os.MkdirAll(filepath.Dir(r.path), folderPerm); err != nil {
		return err
	}
	r.file, err = os.OpenFile(r.path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, filePerm)
	if err == nil {
		err = r.file.Chmod(filePerm) // one that somebody else could read
	}
	return err
}

// part is the name of a part, of which 0 is the newest.
func (r *rotating) part(n int) string {
	if n == 0 {
		return r.path
	}
	return fmt.Sprintf("%s.%d", r.path, n)
}

// Close closes the file.
func (r *rotating) Close() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.file == nil {
		return nil
	}
	err := r.file.Close()
	r.file = nil
	return err
}

// tail copies the last lines of all parts.
func (r *rotating) tail(lines int, to io.Writer) error {
	var kept []byte
	for n := range r.parts {
		data, err := os.ReadFile(r.part(n))
		if errors.Is(err, fs.ErrNotExist) {
			break
		}
		if err != nil {
			return fmt.Errorf("reading the log: %w", err)
		}
		kept = append(data, kept...)
		if bytes.Count(kept, []byte("\n")) >= lines {
			break
		}
	}
	from := len(kept)
	for range lines {
		if from == 0 {
			break
		}
		from = bytes.LastIndexByte(kept[:from-1], '\n') + 1
	}
	_, err := to.Write(kept[from:])
	return err
}
