package operation

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"stowright/app/session"
	"stowright/labels/scan"
	"stowright/store"
	"stowright/store/packinglist/pdftext"
)

// AddPaper records a paper: a file, whose bytes the shop keeps, or one that is on paper only.
type AddPaper struct {
	Kind   string // "letter"
	Title  string // its own number or name
	Issuer string
	Date   string // day
	Kept   string // "binder 2"
	File   string // path; "": it is on paper only
	Note   string
}

// Do records it.
func (o AddPaper) Do(_ context.Context, s *session.Session) (Result, error) {
	p := store.Paper{Kind: store.PaperKind(o.Kind), Title: o.Title, Issuer: o.Issuer, Kept: o.Kept, Note: o.Note}
	if err := setDay(s, &p.Date, o.Date); err != nil {
		return Result{}, err
	}
	if o.File == "" {
		_, e, err := s.Shop.AddPaper(p)
		return did(e, err)
	}
	data, err := readPaper(o.File)
	if err != nil {
		return Result{}, err
	}
	_, e, err := s.Shop.AddPaperFile(p, filepath.Base(o.File), data)
	return did(e, err)
}

// mostUnpacked is what the streams of a PDF of a paper may unpack to: a page scanned in colours
// and packed without loss comes to 26 MB.
const mostUnpacked = 400 << 20

// readPaper reads the file of a paper that can be looked at: pictures are decoded once, and
// PDFs looked through, before the shop has any of it.
func readPaper(path string) ([]byte, error) {
	data, err := readBounded(path)
	if err != nil {
		return nil, err
	}
	ext, err := store.PaperForm(data)
	if err != nil {
		return nil, about(path, err)
	}
	if ext != ".pdf" {
		_, err := scan.Decode(bytes.NewReader(data))
		var problem *scan.PictureError
		if errors.As(err, &problem) {
			return nil, invalid("%s %s.", path, problem.Reason)
		}
		return data, err
	}
	switch err := pdftext.Whole(data, mostUnpacked); {
	case errors.Is(err, pdftext.ErrBomb):
		return nil, invalid("%s is a PDF that unpacks to more than %d MB: save it smaller, or as pictures.", path, mostUnpacked>>20)
	case err != nil:
		return nil, invalid("%s %v.", path, err)
	}
	return data, nil
}

// readBounded reads a file that is no larger than a paper may be.
func readBounded(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		if errors.Is(err, os.ErrNotExist) {
			return nil, missing(path, "There is no file %s: see how its name is spelled.", path)
		}
		return nil, invalid("%s cannot be read: see that it is a file, and yours to read.", path)
	}
	defer func() { _ = f.Close() }() // it was only read
	data, err := io.ReadAll(io.LimitReader(f, store.MaxPaperBytes+1))
	if err != nil {
		return nil, invalid("%s cannot be read: see that it is a file, and yours to read.", path)
	}
	return data, nil
}

// about names the file in what the store says of it.
func about(path string, err error) error {
	var e *store.Error
	if errors.As(err, &e) {
		return &store.Error{Kind: e.Kind, Where: path, Message: fmt.Sprintf("%s: %s", path, e.Message), Err: e.Err}
	}
	return err
}
