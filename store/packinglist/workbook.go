package packinglist

import (
	"archive/zip"
	"bytes"
	"cmp"
	"errors"
	"io"
	"path"
	"strings"
)

// maxParts bounds the files inside a workbook: those seen have a few dozen.
const maxParts = 1000

// errUnpacked says that a workbook unpacks to more than MaxUnpacked.
var errUnpacked = errors.New("unpacks to far more than a packing list; save the list alone in a new workbook")

// openWorkbook reads a zip archive that should be an XLSX or ODS workbook.
func openWorkbook(name string, data []byte, sheet string) (*Table, error) {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fileProblem(name, "is a workbook that was cut short or damaged; copy or download it again")
	}
	parts, err := checkParts(archive)
	if err != nil {
		return nil, fileProblem(name, "%v", err)
	}
	switch {
	case parts["xl/workbook.bin"]:
		return nil, fileProblem(name, "is an XLSB workbook; save it as XLSX or CSV")
	case parts["[content_types].xml"]:
		return openXLSX(name, data, sheet)
	case parts["content.xml"] && parts["mimetype"]:
		return openODS(name, archive, sheet)
	}
	return nil, fileProblem(name, "is an archive and not a workbook; unpack it, and bring in the XLSX or CSV file inside")
}

// checkParts unpacks everything once, within MaxUnpacked, which also proves the
// checksums, and checks every XML part to its end. It returns the names of the
// parts in small letters; a name may stand there once only, so that what was
// checked is what will be read.
func checkParts(archive *zip.Reader) (map[string]bool, error) {
	if len(archive.File) > maxParts {
		return nil, errUnpacked
	}
	left := int64(MaxUnpacked)
	names := make(map[string]bool, len(archive.File))
	var all partCount
	for _, f := range archive.File {
		name := strings.ToLower(strings.ReplaceAll(f.Name, `\`, "/"))
		if names[name] {
			return nil, damaged(f.Name)
		}
		names[name] = true
		if f.UncompressedSize64 > uint64(left) {
			return nil, errUnpacked
		}
		count, read, err := checkPart(f, left+1)
		left -= read
		switch {
		case left < 0:
			return nil, errUnpacked
		case err != nil:
			return nil, damaged(f.Name)
		}
		all.strings += count.strings
		all.needed = max(all.needed, count.needed)
	}
	if all.needed > all.strings {
		return nil, damaged("sharedStrings.xml")
	}
	return names, nil
}

// checkPart unpacks a part up to limit and says how many bytes it read.
func checkPart(f *zip.File, limit int64) (count partCount, read int64, err error) {
	part, err := f.Open()
	if err != nil {
		return count, 0, err
	}
	defer part.Close()
	body := &io.LimitedReader{R: part, N: limit}
	if ext := strings.ToLower(path.Ext(f.Name)); ext == ".xml" || ext == ".rels" {
		count, err = checkXML(body)
	}
	if err == nil {
		_, err = io.Copy(io.Discard, body)
	}
	return count, limit - body.N, err
}

func damaged(part string) error {
	return errors.New("is a damaged workbook (its part " + clip(path.Base(part)) + " does not hold together); copy or download it again, or save it once more")
}

// choose takes the named sheet, or with no name the first that has headings, or
// else the first that is not empty, and notes which sheets have headings. A
// sheet that cannot be read stands in the way only when it is the one taken.
func choose(name string, sheets []string, want string, read func(sheet string) (*Table, *Problem)) (*Table, error) {
	var taken, filled, broken *candidate
	var listed []string
	for _, s := range sheets {
		t, p := read(s)
		c := &candidate{table: t, problem: p}
		isList := len(Guess(t).Missing()) == 0
		if isList {
			listed = append(listed, s)
		}
		switch {
		case taken == nil && (s == want || want == "" && isList):
			taken = c
		case broken == nil && p != nil:
			broken = c
		case filled == nil && p == nil && len(t.Rows) > 0:
			filled = c
		}
	}
	if want != "" && taken == nil {
		return nil, fileProblem(name, "has no sheet %q; its sheets are %s", clip(want), clip(strings.Join(sheets, ", ")))
	}
	if c := cmp.Or(taken, filled, broken); c != nil {
		return c.whole(name, listed)
	}
	return nil, fileProblem(name, "has no filled sheet; check that this is the right file")
}

// candidate is a sheet that may be the one to read.
type candidate struct {
	table   *Table
	problem *Problem // that ended the reading of it
}

// whole is the table if it was read to its end and holds anything.
func (c *candidate) whole(name string, listed []string) (*Table, error) {
	switch {
	case c.problem != nil:
		return nil, c.problem
	case len(c.table.Rows) == 0:
		return nil, fileProblem(name, "has nothing on sheet %q; choose another", clip(c.table.Sheet))
	}
	c.table.Sheets = listed
	return c.table, nil
}
