package desktop

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// dropKind is what a file that was dropped on the window is.
type dropKind int

const (
	droppedList dropKind = iota // or anything else: reading it says what is wrong with it
	droppedPicture
	droppedShop
)

// kindOf tells a file by how it begins, whatever it is called: phones and mail programs name
// files as they like. One that cannot be read is told by its name.
func kindOf(path string) dropKind {
	begin := make([]byte, 64)
	f, err := os.Open(path)
	if err == nil {
		defer f.Close()
		var n int
		n, err = io.ReadFull(f, begin)
		begin = begin[:n]
	}
	if err != nil && len(bytes.Trim(begin, "\x00")) == 0 {
		switch strings.ToLower(filepath.Ext(path)) {
		case ".png", ".jpg", ".jpeg":
			return droppedPicture
		case ".stow":
			return droppedShop
		}
		return droppedList
	}
	switch {
	case bytes.HasPrefix(begin, []byte("\x89PNG\r\n\x1a\n")), bytes.HasPrefix(begin, []byte("\xff\xd8\xff")):
		return droppedPicture
	case len(begin) >= 20 && bytes.Equal(begin[16:20], []byte("\xed\xda\x0c\xed")): // a meta page of bbolt, behind its header
		return droppedShop
	}
	return droppedList
}
