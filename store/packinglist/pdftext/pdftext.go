// Package pdftext takes the texts of a PDF out of it, each with where it stands on its page.
// It knows nothing of packing lists. PDFium does the reading, as WebAssembly: it can reach no
// file and no network, has a bounded memory, and is stopped when its time is over.
package pdftext

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/responses"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// Page is a page as it is read, upright.
type Page struct{ Texts []Text }

// Text is a text of one line, in points of 1/72 inch from the top left corner of its page.
type Text struct {
	Text                     string
	Left, Top, Right, Bottom float64
}

// Bounds of what is read.
const (
	MaxPages   = 500
	mostTexts  = 200_000          // on all pages
	mostTime   = 60 * time.Second // a list of 500 pages takes a few
	mostMemory = 4096             // pages of WebAssembly, of 64 KiB: 256 MiB
)

// ErrDamaged is that a file begins as a PDF and does not hold together as one.
var ErrDamaged = errors.New("is a PDF that was cut short or damaged; download it again")

// ErrLocked is that a PDF asks for a password.
var ErrLocked = errors.New("is a PDF with a password; save it once without")

// Reader reads PDFs with one engine, which takes its time to begin: Close ends it. It is for
// one goroutine at a time.
type Reader struct {
	pool pdfium.Pool
	stop context.CancelFunc
}

// NewReader begins the engine. The first time on a computer it is translated for its
// processor, which takes seconds, and kept in the user's folder for caches.
func NewReader(ctx context.Context) (*Reader, error) {
	ctx, stop := context.WithTimeout(ctx, mostTime)
	config := wazero.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling).
		WithMemoryLimitPages(mostMemory).WithCloseOnContextDone(true)
	if dir, err := os.UserCacheDir(); err == nil {
		if cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "stowright", "pdf")); err == nil {
			config = config.WithCompilationCache(cache)
		}
	}
	pool, err := webassembly.Init(webassembly.Config{
		Context: ctx, MinIdle: 0, MaxIdle: 1, MaxTotal: 1, RuntimeConfig: config, FSConfig: wazero.NewFSConfig(), Stdout: io.Discard, Stderr: io.Discard,
	})
	if err != nil {
		stop()
		return nil, fmt.Errorf("begin reading PDFs: %w", err)
	}
	return &Reader{pool, stop}, nil
}

// Close ends the engine.
func (r *Reader) Close() {
	_ = r.pool.Close()
	r.stop()
}

// Read is Reader.Read with an engine of its own. What does not hold together is refused
// before one is begun.
func Read(ctx context.Context, data []byte) ([]Page, error) {
	if err := check(data); err != nil {
		return nil, err
	}
	r, err := NewReader(ctx)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return r.Read(data)
}

// check refuses what is not whole: the end of the file has to say where its table of objects
// is, and something has to be there. ISO 32000-1, 7.5.5.
func check(data []byte) error {
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

// Read is the texts of all pages of a PDF.
func (r *Reader) Read(data []byte) (pages []Page, err error) {
	if err := check(data); err != nil {
		return nil, err
	}
	defer func() { // a fault of the engine ends the reading, and not the program
		if recover() != nil {
			pages, err = nil, ErrDamaged
		}
	}()
	engine, err := r.pool.GetInstance(mostTime)
	if err != nil {
		return nil, ErrDamaged
	}
	defer engine.Close()
	doc, err := engine.OpenDocument(&requests.OpenDocument{File: &data})
	if err != nil {
		if last, lastErr := engine.FPDF_GetLastError(&requests.FPDF_GetLastError{}); lastErr == nil && last.Error == responses.FPDF_GetLastErrorErrorPassword {
			return nil, ErrLocked
		}
		return nil, ErrDamaged
	}
	count, err := engine.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: doc.Document})
	switch {
	case err != nil || count.PageCount < 1:
		return nil, ErrDamaged
	case count.PageCount > MaxPages:
		return nil, fmt.Errorf("is a PDF of more than %d pages, too long for a packing list; save the pages of the list alone", MaxPages)
	}
	texts := 0
	for i := range count.PageCount {
		p, err := page(engine, requests.Page{ByIndex: &requests.PageByIndex{Document: doc.Document, Index: i}})
		if err != nil {
			return nil, ErrDamaged
		}
		if texts += len(p.Texts); texts > mostTexts {
			return nil, fmt.Errorf("is a PDF with more than %d texts, too many for a packing list; save the pages of the list alone", mostTexts)
		}
		pages = append(pages, p)
	}
	return pages, nil
}

func page(engine pdfium.Pdfium, at requests.Page) (Page, error) {
	size, err := engine.GetPageSize(&requests.GetPageSize{Page: at})
	if err != nil {
		return Page{}, err
	}
	turned, err := engine.FPDFPage_GetRotation(&requests.FPDFPage_GetRotation{Page: at})
	if err != nil {
		return Page{}, err
	}
	found, err := engine.GetPageTextStructured(&requests.GetPageTextStructured{Page: at, Mode: requests.GetPageTextStructuredModeBoth})
	if err != nil {
		return Page{}, err
	}
	// The letters say how the page is read, however it is turned to be shown.
	turns := written(found.Chars)
	w, h := size.Width, size.Height
	if quarters(turned.PageRotation)%2 == 1 {
		w, h = h, w // the texts are where they are before it is turned
	}
	p := Page{}
	for _, r := range found.Rects {
		p.Texts = append(p.Texts, upright(r, turns, w, h))
	}
	return p, nil
}

func quarters(r enums.FPDF_PAGE_ROTATION) int { return int(r) & 3 }

// written is by how many quarter turns, clockwise, most letters have to be turned to stand
// upright.
func written(chars []*responses.GetPageTextStructuredChar) int {
	var votes [4]int
	for _, c := range chars {
		if c.Text == " " || c.Text == "\n" || c.Text == "\r" {
			continue
		}
		votes[(8-int(math.Round(c.Angle/(math.Pi/2))))%4]++ // the angle is clockwise
	}
	most := 0
	for i, n := range votes {
		if n > votes[most] {
			most = i
		}
	}
	return most
}

// upright is a text on the page turned clockwise by quarter turns; w and h are the size
// before that. The engine counts from the bottom left corner.
func upright(r *responses.GetPageTextStructuredRect, turns int, w, h float64) Text {
	at := r.PointPosition
	t := Text{Text: r.Text}
	left, right := min(at.Left, at.Right), max(at.Left, at.Right)
	low, high := min(at.Top, at.Bottom), max(at.Top, at.Bottom)
	switch turns {
	case 1: // what was at the left is at the top
		t.Left, t.Right, t.Top, t.Bottom = low, high, left, right
	case 2:
		t.Left, t.Right, t.Top, t.Bottom = w-right, w-left, low, high
	case 3:
		t.Left, t.Right, t.Top, t.Bottom = h-high, h-low, w-right, w-left
	default:
		t.Left, t.Right, t.Top, t.Bottom = left, right, h-high, h-low
	}
	return t
}
