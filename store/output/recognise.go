package output

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// What a shop file and what goes with it are known by. The package store, which writes
// them, has a test that they still are.
const (
	// magic stands at the start of the two first pages of a database of bbolt, behind the
	// head of the page, in the byte order of the machine; a shop file is such a database.
	magic    = 0xED0CDAED
	pageHead = 16
	// The pages of such a file are of a power of two between these, in bytes.
	smallestPage, largestPage = 1 << 9, 1 << 16
	// envelope is what each record starts with, in a shop file and in the log beside it,
	// but for the number of its version, which stands where the first part ends.
	envelopeStart, envelopeEnd = `{"v":`, `,"crc32c":"`
	// shopExt is the ending that the names of shop files and of copies have.
	shopExt = ".stow"
)

// besides are the endings, behind the whole name of a shop file, of what lies beside it:
// the log of its newest entries, and the file that it was before a restore.
var besides = []string{".recent", ".before-restore"}

// largestVersion is how many digits the version of an envelope has at most.
const largestVersion = 3

// scanChunk is how many bytes of a file are looked at in one go.
const scanChunk = 1 << 20

// keeps reports whether a file holds what a shop file, its log or a copy holds, in
// whatever state it is: also one whose start is lost.
func keeps(path string) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	const overlap = len(envelopeStart) + largestVersion + len(envelopeEnd)
	buf := make([]byte, scanChunk+overlap)
	for offset := int64(0); ; offset += scanChunk {
		n, err := f.ReadAt(buf, offset)
		if err != nil && !errors.Is(err, io.EOF) {
			return false, err
		}
		if offset == 0 && hasMagic(buf[:n]) || hasEnvelope(buf[:n]) {
			return true, nil
		}
		if n <= scanChunk {
			return false, nil
		}
	}
}

// hasMagic reports whether a file that starts like this is a database of bbolt. One of
// another program is none the worse for being left alone.
func hasMagic(head []byte) bool {
	is := func(page int) bool {
		at := page + pageHead
		return len(head) >= at+4 && (binary.LittleEndian.Uint32(head[at:]) == magic || binary.BigEndian.Uint32(head[at:]) == magic)
	}
	for page := smallestPage; page <= largestPage; page *= 2 {
		if is(page) {
			return true
		}
	}
	return is(0)
}

// hasEnvelope reports whether a record starts anywhere in these bytes.
func hasEnvelope(b []byte) bool {
	for {
		_, rest, ok := bytes.Cut(b, []byte(envelopeStart))
		if !ok {
			return false
		}
		digits := 0
		for digits < min(len(rest), largestVersion) && rest[digits] >= '0' && rest[digits] <= '9' {
			digits++
		}
		if digits > 0 && bytes.HasPrefix(rest[digits:], []byte(envelopeEnd)) {
			return true
		}
		b = rest
	}
}

// shopName reports whether a file has the name of a shop file or a copy, as Windows reads
// names too, which leaves the last dots and blanks out.
func shopName(path string) bool {
	return strings.EqualFold(filepath.Ext(strings.TrimRight(filepath.Base(path), ". ")), shopExt)
}

// ofShop is the name of the shop file beside which a file lies by its name.
func ofShop(path string) (shop string, ok bool) {
	folder, name := filepath.Split(path)
	folded := strings.ToLower(name)
	for _, ext := range besides {
		if at := strings.LastIndex(folded, ext); at > 0 && len(folded) == len(name) {
			return folder + name[:at], true
		}
	}
	return "", false
}

// sameName reports whether two resolved paths may name one file on some file system.
func sameName(a, b string) bool { return strings.EqualFold(norm.NFC.String(a), norm.NFC.String(b)) }
