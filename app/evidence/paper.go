package evidence

import (
	"context"
	"io"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
	"stowright/store/exchange"
	"stowright/store/output"
	"stowright/store/progress"
)

// Paper is a book as pages, with its contents, photographs that can be read, and on each
// page its number and the newest entry of the shop. Picture reads a photograph when it is
// written; it may be nil where the book has none.
func (b Book) Paper(picture func(number uint64) ([]byte, error)) labels.Paper {
	p := labels.Paper{Title: b.Title, Under: append([]string{wording.FullDay(b.Day)}, b.Under...), Foot: "As of " + b.Day.String() + ".", Anchor: session.AnchorOf(b.Head)}
	for _, c := range b.Chapters {
		p.Blocks = append(p.Blocks, labels.Block{Heading: c.Title, Chapter: true})
		for _, s := range c.Sections {
			p.Blocks = append(p.Blocks, s.block(picture))
		}
	}
	return p
}

func (s Section) block(picture func(number uint64) ([]byte, error)) labels.Block {
	b := labels.Block{Heading: s.Heading, Texts: s.Texts, Rows: s.Rows}
	if len(s.Rows) > 0 {
		for _, c := range s.Columns {
			b.Columns = append(b.Columns, labels.PaperColumn{Title: c.Title, Width: c.Width, Mono: c.Mono, Line: c.Sign})
		}
	}
	for _, p := range s.Photos {
		b.Pictures = append(b.Pictures, labels.PaperPicture{
			W: p.Width, H: p.Height, Large: true, Lines: photoLines(p), Name: p.Name(), Read: func() ([]byte, error) { return picture(p.Number) },
		})
	}
	return b
}

// Table is a book as rows for a spreadsheet: each section with its own heading row, and the
// chapter and section before every cell, to filter by.
func (b Book) Table() [][]string {
	rows := [][]string{{"chapter", "section", "of " + b.Day.String() + ", entry " + strconv.FormatUint(b.Head.Entry, 10)}}
	for _, c := range b.Chapters {
		for _, s := range c.Sections {
			row := func(cells ...string) { rows = append(rows, append([]string{c.Title, s.Heading}, cells...)) }
			for _, t := range s.Texts {
				row(t)
			}
			if len(s.Rows) > 0 {
				row(s.Titles...)
			}
			for _, r := range s.Rows {
				row(r...)
			}
			if len(s.Photos) > 0 {
				row("photograph", "what is on it", "brought in", "by", "sha-256")
			}
			for _, p := range s.Photos {
				row(p.Name(), p.Caption, moment(p.At), p.Hand, p.SHA256)
			}
		}
	}
	return rows
}

// Printed is what is written to a file: as pages, or as a table.
type Printed interface {
	paper(shop *store.Shop) labels.Paper
	Table() [][]string
}

func (b Book) paper(shop *store.Shop) labels.Paper { return b.Paper(shop.Picture) }

func (v Value) paper(shop *store.Shop) labels.Paper { return v.Book().paper(shop) }

// Save writes a book or a value to a file: a PDF or a CSV, by its ending. It tells the
// context's follower how far it is, and leaves nothing when it is stopped. Photographs are
// read one at a time.
func Save(ctx context.Context, s *session.Session, is Printed, path string, o output.Options) error {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".csv":
		return output.Write(o, output.File{Path: path, Write: func(w io.Writer) error { return exchange.WriteCSV(w, is.Table()) }})
	case ".pdf":
	default:
		return &store.Error{Kind: store.Invalid, Where: path, Message: "Evidence is saved as .pdf or .csv: name a file that ends so."}
	}
	doc, err := s.Lay(is.paper(s.Shop))
	if err != nil {
		return err
	}
	return output.Write(o, output.File{Path: path, Write: func(w io.Writer) error {
		return labels.PDF(w, doc, labels.PDFOptions{Made: dated(s.Shop.Today()), Progress: func(done, total int) error {
			progress.Report(ctx, "writing the pages", progress.Share(done, total))
			return ctx.Err()
		}})
	}})
}

// dated is the moment that a file of a day is dated by: two files of one shop and day are the
// same, whenever in it they were made.
func dated(d store.Date) time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }
