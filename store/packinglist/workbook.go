package packinglist

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"path"
	"strings"
)

// maxParts bounds the files inside a workbook: those seen have a few dozen.
const maxParts = 1000

// errUnpacked says that a workbook unpacks to more than MaxUnpacked.
var errUnpacked = errors.New("unpacks to far more than a packing list; save the list alone in a new workbook")

// archive is the zip archive that a workbook is.
type archive struct {
	parts map[string]*zip.File // by name in small letters
	left  int64                // bytes that may still be unpacked
}

// openWorkbook reads a zip archive that should be an XLSX or ODS workbook.
func openWorkbook(b *Book, data []byte) error {
	zipped, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return errors.New("is a workbook that was cut short or damaged; copy or download it again")
	}
	a, err := newArchive(zipped)
	if err != nil {
		return err
	}
	switch {
	case a.has("xl/workbook.bin"):
		return errors.New("is an XLSB workbook; save it as XLSX or CSV")
	case a.has("[Content_Types].xml"):
		b.Format = "XLSX"
		if !a.has("xl/workbook.xml") && !a.has("_rels/.rels") {
			return errors.New("is a workbook that cannot be opened; save it once more as XLSX, or as CSV")
		}
		return openXLSX(b, a)
	case a.has("content.xml") && a.has("mimetype"):
		b.Format = "ODS"
		return openODS(b, a)
	}
	return errors.New("is an archive and not a workbook; unpack it, and bring in the XLSX or CSV file inside")
}

// newArchive lists the parts. Together they may not unpack to more than
// MaxUnpacked, and a name may stand there once only: two programs could read two
// different parts by it.
func newArchive(zipped *zip.Reader) (*archive, error) {
	if len(zipped.File) > maxParts {
		return nil, errUnpacked
	}
	a := &archive{parts: make(map[string]*zip.File, len(zipped.File)), left: MaxUnpacked}
	var all uint64
	for _, f := range zipped.File {
		name := partName(f.Name)
		if a.parts[name] != nil {
			return nil, damaged(f.Name)
		}
		a.parts[name] = f
		if all += f.UncompressedSize64; f.UncompressedSize64 > MaxUnpacked || all > MaxUnpacked {
			return nil, errUnpacked
		}
	}
	return a, nil
}

func partName(name string) string { return strings.ToLower(strings.ReplaceAll(name, `\`, "/")) }

func (a *archive) has(name string) bool { return a.parts[partName(name)] != nil }

// walk hands every token of a part to take, and proves that the part is whole:
// its markup closed, its checksum right.
func (a *archive) walk(name string, take func(*markup) error) error {
	f := a.parts[partName(name)]
	if f == nil {
		return damaged(name)
	}
	part, err := f.Open()
	if err != nil {
		return damaged(name)
	}
	defer part.Close()
	body := &io.LimitedReader{R: part, N: a.left + 1}
	m := newMarkup(body)
	for err = m.next(); err == nil; err = m.next() {
		if err = take(m); err != nil {
			break
		}
	}
	a.left = body.N - 1
	switch {
	case a.left < 0 || err == errUnpacked:
		return errUnpacked
	case err == io.EOF:
		return nil
	}
	return damaged(name)
}

// walkIfThere is walk for a part that a workbook may do without.
func (a *archive) walkIfThere(name string, take func(*markup) error) error {
	if name == "" || !a.has(name) {
		return nil
	}
	return a.walk(name, take)
}

func damaged(part string) error {
	return errors.New("is a damaged workbook (its part " + clip(path.Base(part)) + " does not hold together); copy or download it again, or save it once more")
}
