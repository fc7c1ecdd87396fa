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
	"sync/atomic"
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

// Bounds of what is read: of a list of 10,000 lines over 250 pages, some times what it needs.
const (
	MaxPages    = 500
	mostTexts   = 200_000        // on all pages
	mostLetters = 3_000_000      // on all pages
	onePage     = 60_000         // letters: each is told one by one
	mostObjects = 600_000        // letters in one go, lines and pictures, on all pages
	mostMemory  = 72 << 20 >> 16 // pages of WebAssembly, of 64 KiB: 72 MiB
)

// budget is how long the engine may work on a file before it is ended: so long at first, and
// so long more for each page, and never longer than most. A page of a list takes 20 ms, ten
// times that on a busy machine; what takes longer is made to.
type budget struct{ first, page, most time.Duration }

var patience = budget{1500 * time.Millisecond, 200 * time.Millisecond, time.Minute}

// ErrDamaged is that a file begins as a PDF and does not hold together as one.
var ErrDamaged = errors.New("is a PDF that was cut short or damaged; download it again")

// ErrLocked is that a PDF asks for a password.
var ErrLocked = errors.New("is a PDF with a password; save it once without")

// ErrEndless is that a PDF takes the engine far longer than any list does.
var ErrEndless = errors.New("is a PDF that is too intricate for a packing list; save the pages of the list alone, or ask for XLSX or CSV")

// Reader reads PDFs with one engine, which takes its time to begin: Close ends it. An engine
// that a file brought down is not used for the next one. It is for one goroutine at a time.
type Reader struct {
	ctx    context.Context
	budget budget
	pool   pdfium.Pool // nil: none has begun
	stop   context.CancelFunc
}

// NewReader begins the engine. The first time on a computer it is translated for its
// processor, which takes seconds, and kept in the user's folder for caches.
func NewReader(ctx context.Context) (*Reader, error) {
	r := &Reader{ctx: ctx, budget: patience}
	return r, r.begin()
}

// begin begins an engine where none is at work.
func (r *Reader) begin() error {
	if r.pool != nil {
		return nil
	}
	ctx, stop := context.WithCancel(experimental.WithMemoryAllocator(r.ctx, experimental.MemoryAllocatorFunc(reserve)))
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
		return fmt.Errorf("begin reading PDFs: %w", err)
	}
	r.pool, r.stop = pool, stop
	return nil
}

// reserved is the memory of an engine: as much as it may have at once, since growing it would
// copy it each time. The system gives what of it is used.
type reserved []byte

func reserve(_, _ uint64) experimental.LinearMemory {
	return reserved(make([]byte, 0, mostMemory<<16))
}

// Reallocate is more of it; nil ends what asks for more than there may be.
func (r reserved) Reallocate(size uint64) []byte {
	if size > uint64(cap(r)) {
		return nil
	}
	return r[:size]
}

// Free leaves it to the collector.
func (reserved) Free() {}

// Close ends the engine.
func (r *Reader) Close() {
	if r.pool != nil {
		_ = r.pool.Close()
		r.stop()
		r.pool = nil
	}
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
	return checkUnpacked(data)
}

// Read is the texts of all pages of a PDF.
func (r *Reader) Read(data []byte) (pages []Page, err error) {
	if err := check(data); err != nil {
		return nil, err
	}
	if err := r.begin(); err != nil {
		return nil, err
	}
	clock := r.wind()
	defer func() { // a fault of the engine ends the reading, and not the program
		fault := recover() != nil
		if clock.end() {
			pages, err = nil, ErrEndless
		} else if fault {
			pages, err = nil, ErrDamaged
		}
		if err != nil { // it may be in any state
			r.Close()
		}
	}()
	engine, err := r.pool.GetInstance(clock.first)
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
	read := content{engine: engine}
	for i := range count.PageCount {
		clock.more()
		p, err := read.page(requests.Page{ByIndex: &requests.PageByIndex{Document: doc.Document, Index: i}})
		if err != nil {
			return nil, err
		}
		pages = append(pages, p)
	}
	return pages, nil
}

// alarm ends an engine whose time is over.
type alarm struct {
	budget
	timer *time.Timer
	begun time.Time
	given time.Duration
	rang  atomic.Bool
}

// wind sets an alarm for a file.
func (r *Reader) wind() *alarm {
	a := &alarm{budget: r.budget, begun: time.Now(), given: r.budget.first}
	stop := r.stop
	a.timer = time.AfterFunc(a.first, func() {
		a.rang.Store(true)
		stop()
	})
	return a
}

// more gives the time of one more page.
func (a *alarm) more() {
	a.given = min(a.given+a.page, max(a.first, a.most))
	if a.timer.Stop() {
		a.timer.Reset(time.Until(a.begun.Add(a.given)))
	}
}

// end turns the alarm off, and reports whether it rang.
func (a *alarm) end() bool {
	a.timer.Stop()
	return a.rang.Load()
}

// content counts what the pages of a file come to.
type content struct {
	engine                  pdfium.Pdfium
	texts, letters, objects int
}

// page is the texts of a page; what all pages up to it come to is bounded.
func (c *content) page(at requests.Page) (Page, error) {
	objects, err := c.engine.FPDFPage_CountObjects(&requests.FPDFPage_CountObjects{Page: at})
	if err != nil {
		return Page{}, ErrDamaged
	}
	if c.objects += objects.Count; c.objects > mostObjects {
		return Page{}, ErrEndless
	}
	letters, turns, err := c.written(at)
	if err != nil {
		return Page{}, ErrDamaged
	}
	if c.letters += letters; letters > onePage || c.letters > mostLetters {
		return Page{}, ErrEndless
	}
	p, err := page(c.engine, at, turns)
	if err != nil {
		return Page{}, ErrDamaged
	}
	if c.texts += len(p.Texts); c.texts > mostTexts {
		return Page{}, fmt.Errorf("is a PDF with more than %d texts, too many for a packing list; save the pages of the list alone", mostTexts)
	}
	return p, nil
}

// mostAsked is how many letters of a page are asked how they stand: every one of a page of
// few, and of others as many that lie evenly in it. Asking all takes longer than reading.
const mostAsked = 200

// written is how many letters a page has, and by how many quarter turns, clockwise, most
// of them have to be turned to stand upright.
func (c *content) written(at requests.Page) (letters, turns int, err error) {
	text, err := c.engine.FPDFText_LoadPage(&requests.FPDFText_LoadPage{Page: at})
	if err != nil {
		return 0, 0, err
	}
	count, err := c.engine.FPDFText_CountChars(&requests.FPDFText_CountChars{TextPage: text.TextPage})
	if err != nil {
		return 0, 0, err
	}
	var votes [4]int
	for i := 0; i < count.Count; i += 1 + count.Count/mostAsked {
		letter, err := c.engine.FPDFText_GetUnicode(&requests.FPDFText_GetUnicode{TextPage: text.TextPage, Index: i})
		if err != nil {
			return 0, 0, err
		}
		angle, err := c.engine.FPDFText_GetCharAngle(&requests.FPDFText_GetCharAngle{TextPage: text.TextPage, Index: i})
		if letter.Unicode <= ' ' || err != nil { // blanks that the engine makes up stand in no way
			continue
		}
		votes[turned(float64(angle.CharAngle))]++
	}
	for i, n := range votes {
		if n > votes[turns] {
			turns = i
		}
	}
	_, err = c.engine.FPDFText_ClosePage(&requests.FPDFText_ClosePage{TextPage: text.TextPage})
	return count.Count, turns, err
}

// turned is by how many quarter turns, clockwise, a letter at an angle, clockwise in radians,
// has to be turned.
func turned(angle float64) int { return (8 - int(math.Round(angle/(math.Pi/2)))) & 3 }

func page(engine pdfium.Pdfium, at requests.Page, turns int) (Page, error) {
	size, err := engine.GetPageSize(&requests.GetPageSize{Page: at})
	if err != nil {
		return Page{}, err
	}
	turned, err := engine.FPDFPage_GetRotation(&requests.FPDFPage_GetRotation{Page: at})
	if err != nil {
		return Page{}, err
	}
	found, err := engine.GetPageTextStructured(&requests.GetPageTextStructured{Page: at, Mode: requests.GetPageTextStructuredModeRects})
	if err != nil {
		return Page{}, err
	}
	// The letters say how the page is read, however it is turned to be shown.
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
