package pdftext

import (
	"context"
	"errors"
	"image"
	"math"
)

// MostShown is what the packed streams of a PDF may come to whose first page is drawn: a page
// scanned in colours and packed without loss has 26 MB.
const MostShown = 400 << 20

// drawing is how many steps the engine may go to draw a page: a page of a scan, 300 dots an inch
// in colours, takes a quarter.
const drawing = 192 << 20

// drawMemory is what an engine may have that draws, in bytes: some times a page of a scan.
const drawMemory = 256 << 20

// NewDrawer is NewReader for FirstPage.
func NewDrawer() (*Reader, error) { return newReader(drawMemory) }

// MostSide bounds the picture of a page, in pixels a side: its bytes lie in the memory of the engine.
const MostSide = 1600

// ErrNotDrawn is that a page takes more memory or far more time than a paper does.
var ErrNotDrawn = errors.New("has a first page that is too intricate to be shown here; save the file and open it in the system's viewer")

// Names of PDFium.
const (
	formatBGRx   = 3    // FPDFBitmap_BGRx: four bytes a pixel, the last of no use
	withRemarks  = 0x01 // FPDF_ANNOT
	whitePaper   = 0xffff_ffff
	bytesAPixel  = 4
	noRotation   = 0
	ownStride    = 0
	memoryOfIts  = 0 // FPDFBitmap_CreateEx makes its own
	firstOfPages = 0
)

// FirstPage draws the first page of a PDF on white, with so many pixels on its longer side, at
// most MostSide.
func (r *Reader) FirstPage(ctx context.Context, data []byte, side int) (_ image.Image, err error) {
	if err := Whole(data, MostShown); err != nil {
		if errors.Is(err, ErrBomb) {
			err = ErrNotDrawn
		}
		return nil, err
	}
	r.gone = 0
	defer func() { // a fault of the engine ends the drawing, and not the program
		if fault := recover(); fault != nil {
			if err = ended(fault); errors.Is(err, ErrEndless) || errors.Is(err, ErrDamaged) {
				err = ErrNotDrawn
			}
		}
	}()
	e, err := r.machine.begin(ctx, drawing)
	if err != nil {
		return nil, ended(err)
	}
	defer func() { r.gone = e.steps(); e.close() }()
	doc, err := e.open(data)
	if err != nil {
		return nil, err
	}
	page := e.call("FPDF_LoadPage", doc, firstOfPages)
	if page == 0 {
		return nil, ErrDamaged
	}
	return e.draw(page, min(side, MostSide))
}

// draw is a page as a picture.
func (e *engine) draw(page uint64, side int) (image.Image, error) {
	w, h := e.small("FPDF_GetPageWidthF", page), e.small("FPDF_GetPageHeightF", page)
	longer := math.Max(w, h)
	if !(w > 0 && h > 0) || math.IsInf(longer, 0) {
		return nil, ErrDamaged
	}
	scale := float64(side) / longer
	wide, high := max(1, int(w*scale)), max(1, int(h*scale))
	bitmap := e.call("FPDFBitmap_CreateEx", uint64(wide), uint64(high), formatBGRx, memoryOfIts, ownStride)
	if bitmap == 0 {
		return nil, ErrNotDrawn
	}
	e.call("FPDFBitmap_FillRect", bitmap, 0, 0, uint64(wide), uint64(high), whitePaper)
	e.call("FPDF_RenderPageBitmap", bitmap, page, 0, 0, uint64(wide), uint64(high), noRotation, withRemarks)
	if e.short { // then PDFium leaves out what it had no room for, and says nothing
		return nil, ErrNotDrawn
	}
	at, stride := uint32(e.call("FPDFBitmap_GetBuffer", bitmap)), e.count("FPDFBitmap_GetStride", bitmap)
	if stride < wide*bytesAPixel {
		return nil, ErrNotDrawn
	}
	raw, ok := e.module.Memory().Read(at, uint32(stride*high))
	if !ok {
		return nil, ErrNotDrawn
	}
	out := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		from, to := raw[y*stride:], out.Pix[y*out.Stride:]
		for x := 0; x < wide*bytesAPixel; x += bytesAPixel {
			to[x], to[x+1], to[x+2], to[x+3] = from[x+2], from[x+1], from[x], 0xff
		}
	}
	return out, nil
}
