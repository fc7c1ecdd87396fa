package labels

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
)

// A viewer fits a page to the paper unless the file says otherwise, and then a label
// misses its sheet and a piece is not at its size. The PDF library cannot say it, so it is
// written into the catalog afterwards. The catalog is the last object of the file, so that
// of all the places in it that are listed only that of the list itself moves on.

// trueScale has viewers print at the real size (ISO 32000-1, table 150; since PDF 1.6).
const trueScale = "/ViewerPreferences << /PrintScaling /None >>\n"

// The parts of a file of the library that are looked for.
const (
	pdfHead     = "%PDF-1.3\n"
	pdfHeadTrue = "%PDF-1.6\n"
	pdfCatalog  = "\n/Type /Catalog\n"
	pdfList     = "startxref\n"
)

// printTrue is a PDF of the library, which viewers print at its real size.
func printTrue(pdf []byte) ([]byte, error) {
	catalog := bytes.LastIndex(pdf, []byte(pdfCatalog))
	list := bytes.LastIndex(pdf, []byte(pdfList))
	if !bytes.HasPrefix(pdf, []byte(pdfHead)) || catalog < 0 || list < catalog {
		return nil, errors.New("the PDF is not laid out as expected")
	}
	rest := pdf[list+len(pdfList):]
	digits, after, _ := bytes.Cut(rest, []byte("\n"))
	at, err := strconv.Atoi(string(digits))
	if err != nil || at < catalog || at > list {
		return nil, fmt.Errorf("the PDF has its list of objects at %q", digits)
	}
	in := catalog + len(pdfCatalog)
	return slices.Concat([]byte(pdfHeadTrue), pdf[len(pdfHead):in], []byte(trueScale), pdf[in:list],
		[]byte(pdfList), strconv.AppendInt(nil, int64(at+len(trueScale)), 10), []byte("\n"), after), nil
}

// trueSize is what the library puts out, so that viewers print it at its real size.
func trueSize(output func(io.Writer) error) ([]byte, error) {
	var made bytes.Buffer
	if err := output(&made); err != nil {
		return nil, err
	}
	return printTrue(made.Bytes())
}
