package packinglist

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"strconv"
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
	if err := checkParts(archive); err != nil {
		return nil, fileProblem(name, "%v", err)
	}
	switch {
	case hasPart(archive, "xl/workbook.xml"):
		return openXLSX(name, data, sheet)
	case hasPart(archive, "content.xml") && hasPart(archive, "mimetype"):
		return openODS(name, archive, sheet)
	}
	return nil, fileProblem(name, "is an archive and not a workbook; unpack it, and bring in the XLSX or CSV file inside")
}

func hasPart(archive *zip.Reader, name string) bool {
	for _, f := range archive.File {
		if f.Name == name {
			return true
		}
	}
	return false
}

// checkParts unpacks everything once, within MaxUnpacked, which also proves the
// checksums, and parses every XML part to its end. The library that reads the
// workbook takes the end of a broken part for the end of the sheet, and a cell
// that points outside the table of strings for an empty one; both would lose
// lines unseen.
func checkParts(archive *zip.Reader) error {
	if len(archive.File) > maxParts {
		return errUnpacked
	}
	left := int64(MaxUnpacked)
	strs, highest := 0, -1
	for _, f := range archive.File {
		if f.UncompressedSize64 > uint64(left) {
			return errUnpacked
		}
		part, err := f.Open()
		if err != nil {
			return damaged(f.Name)
		}
		body := &io.LimitedReader{R: part, N: left + 1}
		var count partCount
		if ext := path.Ext(f.Name); ext == ".xml" || ext == ".rels" {
			count, err = checkXML(body)
		}
		if err == nil {
			_, err = io.Copy(io.Discard, body)
		}
		part.Close()
		left = body.N - 1
		switch {
		case left < 0:
			return errUnpacked
		case err != nil:
			return damaged(f.Name)
		}
		strs += count.strings
		highest = max(highest, count.highest)
	}
	if highest >= strs {
		return damaged("xl/sharedStrings.xml")
	}
	return nil
}

func damaged(part string) error {
	return errors.New("is a damaged workbook (its part " + path.Base(part) + " does not read to the end); copy or download it again, or save it once more")
}

// partCount is what must agree between the parts of a workbook.
type partCount struct {
	strings int // strings that the part defines
	highest int // highest string that a cell of the part points to; -1 for none
}

// checkXML parses to the end.
func checkXML(r io.Reader) (partCount, error) {
	count := partCount{highest: -1}
	dec := xml.NewDecoder(r)
	dec.CharsetReader = func(string, io.Reader) (io.Reader, error) { return nil, errors.New("not UTF-8") }
	sharedCell, value, root := false, false, ""
	for {
		token, err := dec.Token()
		if err == io.EOF {
			return count, nil
		}
		if err != nil {
			return count, err
		}
		switch el := token.(type) {
		case xml.StartElement:
			switch name := el.Name.Local; {
			case root == "":
				root = name
			case name == "si" && root == "sst":
				count.strings++
			case name == "c" && root == "worksheet":
				sharedCell = attr(el, "t") == "s"
			}
			value = sharedCell && el.Name.Local == "v"
		case xml.EndElement:
			value = false
			sharedCell = sharedCell && el.Name.Local != "c"
		case xml.CharData:
			if !value {
				continue
			}
			n, err := strconv.Atoi(strings.TrimSpace(string(el)))
			if err != nil || n < 0 {
				return count, errors.New("a cell points to no string")
			}
			count.highest = max(count.highest, n)
		case xml.Directive:
			return count, errors.New("a document type in a workbook")
		}
	}
}

// attr is the value of the attribute with that local name, empty for none.
func attr(el xml.StartElement, local string) string {
	for _, a := range el.Attr {
		if a.Name.Local == local {
			return a.Value
		}
	}
	return ""
}

// choose takes the named sheet, or with no name the first that has headings, or
// else the first that is not empty, and notes which sheets have headings. A
// sheet that cannot be read stands in the way only when it is the one taken.
func choose(name string, sheets []string, want string, read func(sheet string) (*Table, *Problem)) (*Table, error) {
	var chosen *Table
	var firstProblem *Problem
	var listed []string
	found := false
	for _, s := range sheets {
		t, p := read(s)
		hasHeadings := len(Guess(t).Missing()) == 0
		if hasHeadings {
			listed = append(listed, s)
		}
		switch {
		case want != "" && s != want, found:
			continue
		case p != nil && (s == want || hasHeadings):
			return nil, p
		case p != nil:
			if firstProblem == nil {
				firstProblem = p
			}
			continue
		}
		found = s == want || hasHeadings
		if len(t.Rows) > 0 && (chosen == nil || found) {
			chosen = t
		}
	}
	switch {
	case want != "" && !found:
		return nil, fileProblem(name, "has no sheet %q; its sheets are %s", clip(want), clip(strings.Join(sheets, ", ")))
	case chosen != nil:
		chosen.Sheets = listed
		return chosen, nil
	case firstProblem != nil:
		return nil, firstProblem
	}
	return nil, fileProblem(name, "has no filled sheet; check that this is the right file")
}
