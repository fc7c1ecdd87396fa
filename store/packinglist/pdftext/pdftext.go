// Package pdftext takes the texts of a PDF out of it, each with where it stands on its page.
// It knows nothing of packing lists. PDFium does the reading, as WebAssembly: it can reach no
// file and no network, has a bounded memory, and is ended after so many steps.
package pdftext

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strconv"

	"stowright/store/progress"
)

// Page is a page as it is read, upright.
type Page struct{ Texts []Text }

// Text is a text of one line, in points of 1/72 inch from the top left corner of its page.
type Text struct {
	Text                     string
	Left, Top, Right, Bottom float64
}

// Bounds of what is read: of a list of 10,000 lines over 250 pages, some times what it needs.
const (
	MaxPages    = 500
	mostTexts   = 200_000   // on all pages
	mostLetters = 3_000_000 // on all pages
	onePage     = 60_000    // letters: each is told one by one
	mostObjects = 600_000   // letters in one go, lines and pictures, on all pages
)

// patience is how many steps the engine may go: some times what a list of 10,000 lines takes,
// which is 200,000 a page, or 800,000 where typefaces of its own are in it.
var patience = work{first: 48 << 20, page: 2 << 20, most: 192 << 20}

// ErrDamaged is that a file begins as a PDF and does not hold together as one.
var ErrDamaged = errors.New("is a PDF that was cut short or damaged; download it again")

// ErrLocked is that a PDF asks for a password.
var ErrLocked = errors.New("is a PDF with a password; save it once without")

// ErrEndless is that a PDF takes the engine far longer than any list does.
var ErrEndless = errors.New("is a PDF that is too intricate for a packing list; save the pages of the list alone, or ask for XLSX or CSV")

// Reader reads PDFs one after the other: what it is made of takes its time to begin, and
// Close ends it. Each file has an engine of its own. It is for one goroutine at a time.
type Reader struct {
	work    work
	machine *machine
	gone    int64 // steps of the last file
}

// NewReader begins a reader. The first time on a computer the engine is translated for its
// processor, which takes seconds, and kept in the user's folder for caches.
func NewReader() (*Reader, error) { return newReader(mostMemory) }

func newReader(memory int) (*Reader, error) {
	m, err := newMachine(memory)
	if err != nil {
		return nil, fmt.Errorf("begin reading PDFs: %w", err)
	}
	return &Reader{work: patience, machine: m}, nil
}

// Close ends the reader.
func (r *Reader) Close() { r.machine.close() }

// Read is Reader.Read with an engine of its own. What does not hold together is refused
// before one is begun.
func Read(ctx context.Context, data []byte) ([]Page, error) {
	if err := check(data); err != nil {
		return nil, err
	}
	progress.Report(ctx, "getting ready for PDFs", -1)
	r, err := NewReader()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return r.Read(ctx, data)
}

// isWhole refuses what is not whole: the end of the file has to say where its table of objects
// is, and something has to be there. ISO 32000-1, 7.5.5.
func isWhole(data []byte) error {
	tail := data[max(0, len(data)-2048):]
	at := bytes.LastIndex(tail, []byte("startxref"))
	if !bytes.HasPrefix(data, []byte("%PDF-")) || at < 0 || !bytes.Contains(tail[at:], []byte("%%EOF")) {
		return ErrDamaged
	}
	words := bytes.Fields(tail[at+len("startxref"):])
	if len(words) == 0 {
		return ErrDamaged
	}
	offset, err := strconv.Atoi(string(words[0]))
	if err != nil || offset < 0 || offset >= len(data) {
		return ErrDamaged
	}
	there := bytes.TrimLeft(data[offset:min(len(data), offset+32)], " \r\n\t")
	if !bytes.HasPrefix(there, []byte("xref")) && (len(there) == 0 || there[0] < '0' || there[0] > '9') {
		return ErrDamaged
	}
	return nil
}

// Whole says by ErrDamaged or ErrBomb when a file is no PDF that holds together, or becomes
// more than so many bytes when it is unpacked. It begins no engine.
func Whole(data []byte, unpacked int64) error {
	if err := isWhole(data); err != nil {
		return err
	}
	return checkUnpacked(data, unpacked)
}

func check(data []byte) error { return Whole(data, mostUnpacked) }

// Read is the texts of all pages of a PDF. Its error is that of the context where that is
// done before. Whoever follows the work is told after each page.
func (r *Reader) Read(ctx context.Context, data []byte) (pages []Page, err error) {
	if err := check(data); err != nil {
		return nil, err
	}
	r.gone = 0
	defer func() { // a fault of the engine ends the reading, and not the program
		if fault := recover(); fault != nil {
			pages, err = nil, ended(fault)
		}
	}()
	e, err := r.machine.begin(ctx, r.work.first)
	if err != nil {
		return nil, ended(err)
	}
	defer func() { r.gone = e.steps(); e.close() }()
	doc, err := e.open(data)
	if err != nil {
		return nil, err
	}
	count := e.count("FPDF_GetPageCount", doc)
	switch {
	case count < 1:
		return nil, ErrDamaged
	case count > MaxPages:
		return nil, fmt.Errorf("is a PDF of more than %d pages, too long for a packing list; save the pages of the list alone", MaxPages)
	}
	read := content{engine: e}
	for i := range count {
		e.may = min(e.may+r.work.page, r.work.most)
		p, err := read.page(doc, i)
		if err != nil {
			return nil, err
		}
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		pages = append(pages, p)
		progress.Report(ctx, "reading pages", progress.Share(i+1, count))
	}
	return pages, nil
}

// passwordAsked is FPDF_ERR_PASSWORD.
const passwordAsked = 4

// ended is why a reading ended, of what the engine was left with.
func ended(fault any) error {
	err, _ := fault.(error)
	for _, known := range []error{context.Canceled, context.DeadlineExceeded} {
		if errors.Is(err, known) {
			return known
		}
	}
	if errors.Is(err, errWork) {
		return ErrEndless
	}
	return ErrDamaged
}
