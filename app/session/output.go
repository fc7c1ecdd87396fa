package session

import (
	"io"

	"stowright/labels"
	"stowright/store/output"
)

// AskReplace asks a person whether files are written over, and calls replace where they
// are. Nil: nobody is asked, and nothing is written over.
type AskReplace func(files []string, replace func())

// Asks reports whether writing failed because files are there already, and asks about
// them; replace writes again, over them.
func (ask AskReplace) Asks(err error, replace func()) bool {
	files, there := output.Existing(err)
	if !there || ask == nil {
		return false
	}
	ask(files, replace)
	return true
}

// WritePDF writes a document as a PDF file. The file is held against the options as
// output.Write says.
func WritePDF(path string, doc labels.Document, pdf labels.PDFOptions, o output.Options) error {
	return output.Write(o, output.File{Path: path, Write: func(w io.Writer) error { return labels.PDF(w, doc, pdf) }})
}

// SavePDF is WritePDF beside an open shop, dated by its clock.
func (s *Session) SavePDF(path string, doc labels.Document, replace bool) error {
	return WritePDF(path, doc, labels.PDFOptions{Made: s.Shop.Now()}, output.Options{Replace: replace, Shop: s.Shop.File()})
}
