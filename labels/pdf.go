package labels

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"time"

	"github.com/jung-kurt/gofpdf"

	"stowright/assets/fonts"
)

// pointsPerMM turns millimetres into the points of a PDF.
const pointsPerMM = 72 / inch

// greys are the inks as levels of 0 black to 255 white.
func (i Ink) grey() int {
	switch i {
	case Quiet:
		return 95
	case White:
		return 255
	default:
		return 0
	}
}

// PDFOptions configure a PDF.
type PDFOptions struct {
	// Made is written as the date of the file. The same document with the same
	// date gives the same bytes.
	Made time.Time
	// Progress is called after each page, and after each photograph, with how many of both
	// are done; if it returns an error, PDF stops and returns that error. It may be nil.
	Progress func(done, total int) error
}

// PDF writes a document as a PDF: vectors at true size, which viewers print as they are,
// typefaces embedded. Photographs are read one at a time, while it is written.
func PDF(w io.Writer, doc Document, opt PDFOptions) (err error) {
	if len(doc.Pages) == 0 {
		return errors.New("there is nothing to print: pick at least one label")
	}
	// The PDF library panics on unexpected input; a label must never crash the
	// program.
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("write labels as PDF: %v", r)
		}
	}()
	pdf := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "mm", Size: gofpdf.SizeType{Wd: doc.Pages[0].W, Ht: doc.Pages[0].H}})
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(opt.Made.UTC())
	pdf.SetModificationDate(opt.Made.UTC())
	pdf.SetProducer("Stowright", true)
	pdf.SetTitle(cmp.Or(doc.Title, "Labels"), true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	for _, f := range facesOf(doc) {
		// A copy: the library modifies the bytes in place.
		pdf.AddUTF8FontFromBytes(f.String(), "", slices.Clone(f.TrueType()))
	}
	d := drawing{pdf: pdf}
	pages, photographs := len(doc.Pages), doc.photographs()
	if photographs > mostStubs {
		return fmt.Errorf("there are %d photographs, and one file takes %d: write a part of it", photographs, mostStubs)
	}
	done := func(n int) error {
		if opt.Progress == nil {
			return nil
		}
		return opt.Progress(n, pages+photographs)
	}
	for i, p := range doc.Pages {
		d.page(p)
		if err := done(i + 1); err != nil {
			return err
		}
	}
	made, err := trueSize(pdf.Output)
	if err == nil {
		err = writePictures(w, made, d.pictures, func(n int) error { return done(pages + n) })
	}
	if err != nil {
		return fmt.Errorf("write labels as PDF: %w", err)
	}
	return nil
}

// facesOf lists the faces a document uses, in their own order.
func facesOf(doc Document) []fonts.Face {
	used := map[fonts.Face]bool{}
	for _, p := range doc.Pages {
		for _, items := range p.layers() {
			for _, it := range items {
				if t, ok := it.(Text); ok {
					used[t.Face] = true
				}
			}
		}
	}
	var faces []fonts.Face
	for _, f := range fonts.Faces() {
		if used[f] {
			faces = append(faces, f)
		}
	}
	return faces
}

// photographs is how many different ones a document has.
func (doc Document) photographs() int {
	var p pictures
	for _, page := range doc.Pages {
		for _, items := range page.layers() {
			for _, it := range items {
				if i, ok := it.(Image); ok {
					p.stubOf(i)
				}
			}
		}
	}
	return len(p.read)
}

// layers are the items of a page in the order they are drawn.
func (p Page) layers() [][]Item {
	layers := make([][]Item, 0, len(p.Cells)+1)
	for _, c := range p.Cells {
		layers = append(layers, c.Items)
	}
	return append(layers, p.Items)
}

// drawing writes items to the current page of a PDF.
type drawing struct {
	pdf      *gofpdf.Fpdf
	height   float64 // of the page, mm
	buf      []byte
	pictures pictures
}

func (d *drawing) page(p Page) {
	d.pdf.AddPageFormat("P", gofpdf.SizeType{Wd: p.W, Ht: p.H})
	d.height = p.H
	for _, items := range p.layers() {
		for _, it := range items {
			d.item(it)
		}
	}
}

func (d *drawing) item(it Item) {
	switch it := it.(type) {
	case Fill:
		d.pdf.SetFillColor(it.Ink.grey(), it.Ink.grey(), it.Ink.grey())
		d.pdf.Rect(it.X, it.Y, it.W, it.H, "F")
	case Box:
		d.pen(it.Pen, it.Ink)
		d.pdf.RoundedRect(it.X, it.Y, it.W, it.H, it.Radius, "1234", "D")
	case Path:
		d.path(it)
	case Text:
		d.pdf.SetFont(it.Face.String(), "", it.Size*pointsPerMM)
		d.pdf.SetTextColor(it.Ink.grey(), it.Ink.grey(), it.Ink.grey())
		d.pdf.Text(it.X, it.Y, it.Text)
	case Code:
		d.code(it)
	case Image:
		d.image(it)
	}
}

// image draws a photograph, which the file holds once however often it is drawn.
func (d *drawing) image(i Image) {
	name, stub := d.pictures.stubOf(i)
	options := gofpdf.ImageOptions{ImageType: "JPG"}
	if stub != nil {
		d.pdf.RegisterImageOptionsReader(name, options, bytes.NewReader(stub))
	}
	d.pdf.ImageOptions(name, i.X, i.Y, i.W, i.H, false, options, 0, "")
}

func (d *drawing) pen(width float64, ink Ink) {
	d.pdf.SetLineWidth(width)
	d.pdf.SetDrawColor(ink.grey(), ink.grey(), ink.grey())
}

// number appends a length of page space in points.
func (d *drawing) number(v float64) {
	d.buf = strconv.AppendFloat(d.buf, v, 'f', 3, 64)
	d.buf = append(d.buf, ' ')
}

func (d *drawing) point(p Point) {
	d.number(p.X * pointsPerMM)
	d.number((d.height - p.Y) * pointsPerMM)
}

func (d *drawing) path(p Path) {
	if len(p.Points) < 2 {
		return
	}
	d.pen(p.Pen, p.Ink)
	d.pdf.SetFillColor(p.Ink.grey(), p.Ink.grey(), p.Ink.grey())
	d.buf = append(d.buf[:0], "1 J 1 j "...)
	if p.Dashed {
		// Round ends would fill the gaps of a thick pen.
		d.buf = append(d.buf[:0], "0 J 1 j ["...)
		d.number(dashStroke * pointsPerMM)
		d.number(dashGap * pointsPerMM)
		d.buf = append(d.buf, "] 0 d "...)
	}
	for i, at := range p.Points {
		d.point(at)
		d.buf = append(d.buf, "ml"[min(i, 1)], ' ')
	}
	switch {
	case p.Filled:
		d.buf = append(d.buf, 'f')
	case p.Closed:
		d.buf = append(d.buf, 's')
	default:
		d.buf = append(d.buf, 'S')
	}
	if p.Dashed {
		d.buf = append(d.buf, " [] 0 d"...)
	}
	d.pdf.RawWriteStr(string(d.buf))
}

// code draws all modules as one path in a coordinate system of whole modules:
// small, and without seams between the rows.
func (d *drawing) code(c Code) {
	d.pdf.SetFillColor(0, 0, 0)
	m := c.Module * pointsPerMM
	d.buf = append(d.buf[:0], "q "...)
	d.number(m)
	d.buf = append(d.buf, "0 0 "...)
	d.number(-m)
	d.point(Point{c.X, c.Y})
	d.buf = append(d.buf, "cm\n"...)
	for _, r := range c.Runs {
		for _, v := range []uint8{r.Col, r.Row, r.Len} {
			d.buf = strconv.AppendUint(d.buf, uint64(v), 10)
			d.buf = append(d.buf, ' ')
		}
		d.buf = append(d.buf, "1 re\n"...)
	}
	d.buf = append(d.buf, "f Q"...)
	d.pdf.RawWriteStr(string(d.buf))
}
