package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image/jpeg"
	"image/png"

	"stowright/store/disk"
)

// Kept is what the file keeps beside the records, as a blob under a number of its own: the
// picture of a photograph or the file of a paper. It is written once, with the entry that
// brought it in, and stays.
type Kept struct {
	Photo Photo     // zero where it is the file of a paper
	Paper uint64    // number of the paper that brought the file in; 0 where it is a picture
	File  PaperFile // of that paper
}

// The blobs of papers have numbers above those of photographs, which count up from 1.
const paperBlobs = MaxPhotos + 1

// MaxPapers bounds the numbers of papers, as MaxPhotos does those of photographs.
const MaxPapers = MaxPhotos

// Number is that of the blob.
func (k Kept) Number() uint64 {
	if k.Paper > 0 {
		return paperBlobs + k.Paper
	}
	return k.Photo.Number
}

// KeptName names what the blob of a number is of: P-17 or PA-3.
func KeptName(number uint64) string {
	if IsPaper(number) {
		return PaperName(number - paperBlobs)
	}
	return photoName(number)
}

// IsPaper reports whether a blob is the file of a paper, by its number.
func IsPaper(number uint64) bool { return number > paperBlobs }

// Name is what people call the photograph or the paper: P-17, PA-3.
func (k Kept) Name() string { return KeptName(k.Number()) }

// What names it in a sentence: "the picture of photograph P-17", "the file of paper PA-3".
func (k Kept) What() string { return keptWhat(k.Number()) }

func keptWhat(number uint64) string {
	if IsPaper(number) {
		return "the file of paper " + KeptName(number)
	}
	return "the picture of photograph " + KeptName(number)
}

// Size is how many bytes it has.
func (k Kept) Size() int {
	if k.Paper > 0 {
		return int(k.File.Bytes)
	}
	return k.Photo.Bytes
}

func (k Kept) sum() string {
	if k.Paper > 0 {
		return k.File.SHA256
	}
	return k.Photo.SHA256
}

func (k Kept) same(size int, sum []byte) error {
	if size != k.Size() || hex.EncodeToString(sum) != k.sum() {
		return fmt.Errorf("%s is not the one that was brought in", k.What())
	}
	return nil
}

// Proves reports as an error whether bytes from outside are what was brought in, and such as
// would have been taken. No bytes are some that were lost.
func (k Kept) Proves(data []byte) error {
	if k.Paper == 0 {
		return k.Photo.Proves(data)
	}
	if len(data) == 0 {
		return nil
	}
	sum := sha256.Sum256(data)
	if err := k.same(len(data), sum[:]); err != nil {
		return err
	}
	_, err := PaperForm(data)
	return err
}

// MaxPaperBytes is the most that the file of a paper may have: a scan of some pages has less.
const MaxPaperBytes = disk.MaxBlob

// maxPaperPixels bounds what a picture of a paper may become when it is looked at: a sheet of
// A3 at 600 dots an inch has 70 million.
const maxPaperPixels = 100_000_000

// PaperForm is how the name of a file of a paper ends by what is in it, ".pdf", ".jpg" or
// ".png". It looks at the beginning and the end, and at the size that a picture claims;
// nothing is unpacked.
func PaperForm(data []byte) (ext string, err error) {
	refused := func(format string, args ...any) (string, error) {
		return "", fail(Invalid, "paper", "The file "+format, args...)
	}
	var width, height int
	switch tail := data[max(0, len(data)-2048):]; {
	case len(data) == 0:
		return refused("is empty: choose the file of the paper.")
	case len(data) > MaxPaperBytes:
		return refused("is larger than %d MB: scan the paper smaller, or in parts.", MaxPaperBytes>>20)
	case bytes.HasPrefix(data, []byte("%PDF-")):
		if !bytes.Contains(tail, []byte("startxref")) || !bytes.Contains(tail, []byte("%%EOF")) {
			return refused("is a PDF that was cut short or damaged: get it again.")
		}
		return ".pdf", nil
	case bytes.HasPrefix(data, []byte("\xff\xd8")):
		config, err := jpeg.DecodeConfig(bytes.NewReader(data))
		if err != nil || !bytes.Contains(tail, []byte{0xff, 0xd9}) {
			return refused("is a JPEG picture that was cut short or damaged: get it again.")
		}
		width, height, ext = config.Width, config.Height, ".jpg"
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		config, err := png.DecodeConfig(bytes.NewReader(data))
		if err != nil || !bytes.Contains(tail, []byte("IEND")) {
			return refused("is a PNG picture that was cut short or damaged: get it again.")
		}
		width, height, ext = config.Width, config.Height, ".png"
	default:
		return refused("is no PDF, JPEG or PNG: save the paper as one of them.")
	}
	if width < 1 || height < 1 || width > maxPaperPixels/height {
		return refused("is a picture of %d x %d pixels, more than a scan of a paper has: save it smaller.", width, height)
	}
	return ext, nil
}

// keptBy is what the record that a change leaves keeps; false where it keeps nothing.
func keptBy(c Change) (k Kept, ok bool, err error) {
	if c.After == nil {
		return k, false, nil
	}
	switch c.Table {
	case tablePhotos:
		k.Photo, err = decode[Photo](c.After)
		if err == nil && (k.Photo.Number < 1 || k.Photo.Number > MaxPhotos) {
			err = fmt.Errorf("photograph %s changes its picture", k.Photo.Name())
		}
		return k, true, err
	case tablePapers:
		p, err := decode[Paper](c.After)
		if err != nil || p.File == nil || p.File.In == 0 {
			return k, false, err
		}
		if p.File.In > p.Number || p.Number > MaxPapers {
			return k, false, fmt.Errorf("paper %s names a file that no paper before it brought in", p.Name())
		}
		return Kept{Paper: p.File.In, File: *p.File}, true, nil
	}
	return k, false, nil
}

// brings reports whether a change is the one that brings what a record keeps in.
func brings(e Entry, c Change, k Kept) bool {
	if c.Before != nil {
		return false
	}
	if k.Paper > 0 {
		return c.Key == numberKey(k.Paper)
	}
	return e.Verb == VerbPhoto // an undo or redo brings no picture
}

// keptBlobs are what entries have brought in, by the number of its blob, whether the record was
// taken away since or not.
type keptBlobs map[uint64]Kept

// note follows a change. What a photograph or a paper keeps never becomes another.
func (m keptBlobs) note(c Change) error {
	k, ok, err := keptBy(c)
	if err != nil || !ok {
		return err
	}
	known, again := m[k.Number()]
	switch {
	case again && (known.sum() != k.sum() || known.Size() != k.Size()):
		return fmt.Errorf("%s becomes another", k.What())
	case !again && k.Paper > 0 && c.Key != numberKey(k.Paper):
		return fmt.Errorf("%s was never brought in", k.What())
	}
	m[k.Number()] = k
	return nil
}
