package pdftext

import (
	"fmt"
	"math"
	"strings"
)

// content is what the pages of a file come to.
type content struct {
	*engine
	texts, letters, objects int
}

// page is the texts of a page; what all pages up to it come to is bounded.
func (c *content) page(document uint64, index int) (Page, error) {
	page := c.call("FPDF_LoadPage", document, uint64(index))
	if page == 0 {
		return Page{}, ErrDamaged
	}
	defer c.call("FPDF_ClosePage", page)
	if c.objects += c.count("FPDFPage_CountObjects", page); c.objects > mostObjects {
		return Page{}, ErrEndless
	}
	text := c.call("FPDFText_LoadPage", page)
	if text == 0 {
		return Page{}, ErrDamaged
	}
	defer c.call("FPDFText_ClosePage", text)
	letters := c.count("FPDFText_CountChars", text)
	if c.letters += letters; letters > onePage || c.letters > mostLetters {
		return Page{}, ErrEndless
	}
	rects := c.count("FPDFText_CountRects", text, 0, uint64(letters))
	if c.texts += rects; c.texts > mostTexts {
		return Page{}, fmt.Errorf("is a PDF with more than %d texts, too many for a packing list; save the pages of the list alone", mostTexts)
	}
	w, h := c.small("FPDF_GetPageWidthF", page), c.small("FPDF_GetPageHeightF", page)
	if c.count("FPDFPage_GetRotation", page)&1 == 1 {
		w, h = h, w // the texts are where they are before it is turned
	}
	return c.read(text, letters, rects, w, h), nil
}

// read is the texts of a page of that size.
func (c *content) read(text uint64, letters, rects int, w, h float64) Page {
	run := make(run, letters)
	for i := range run {
		at := uint64(i)
		run[i].box = c.numbers("FPDFText_GetCharBox", text, at, left, right, bottom, top)
		run[i].line = c.numbers("FPDFText_GetCharOrigin", text, at, left, bottom)[bottom]
		run[i].letter = rune(c.call("FPDFText_GetUnicode", text, at))
	}
	// The letters say how the page is read, however it is turned to be shown.
	turns := c.turns(text, run)
	blocks := run.blocks()
	p := Page{}
	for i := range rects {
		r := box(c.numbers("FPDFText_GetRect", text, uint64(i), left, top, right, bottom))
		t := upright(r, turns, w, h)
		t.Text = run.in(r, blocks)
		p.Texts = append(p.Texts, t)
	}
	return p
}

// mostAsked is how many letters of a page are asked how they stand: every one of a page of
// few, and of others as many that lie evenly in it.
const mostAsked = 200

// turns is by how many quarter turns, clockwise, most letters of a page have to be turned
// to stand upright.
func (c *content) turns(text uint64, letters run) (turns int) {
	var votes [4]int
	for i := 0; i < len(letters); i += 1 + len(letters)/mostAsked {
		if letters[i].letter <= ' ' { // blanks that the engine makes up stand in no way
			continue
		}
		if angle := c.small("FPDFText_GetCharAngle", text, uint64(i)); angle >= 0 { // -1: it has none
			votes[turned(angle)]++
		}
	}
	for i, n := range votes {
		if n > votes[turns] {
			turns = i
		}
	}
	return turns
}

// turned is by how many quarter turns, clockwise, a letter at an angle, clockwise in radians,
// has to be turned.
func turned(angle float64) int { return (8 - int(math.Round(angle/(math.Pi/2)))) & 3 }

// box is where something is on its page, in points from the bottom left corner.
type box [4]float64

// The places of a box.
const (
	left = iota
	right
	bottom
	top
)

// meets reports whether two boxes have an area in common.
func (b box) meets(o box) bool {
	return max(b[left], o[left]) < min(b[right], o[right]) && max(b[bottom], o[bottom]) < min(b[top], o[top])
}

// with is a box that has both in it.
func (b box) with(o box) box {
	return box{min(b[left], o[left]), max(b[right], o[right]), min(b[bottom], o[bottom]), max(b[top], o[top])}
}

// normal is the box with its right side at its right, and its top above its bottom.
func (b box) normal() box {
	return box{min(b[left], b[right]), max(b[left], b[right]), min(b[bottom], b[top]), max(b[bottom], b[top])}
}

// run is the letters of a page as they are written one after the other.
type run []struct {
	letter rune
	box    box
	line   float64 // the height of the line that it stands on
}

// blockLetters is how many letters share one box, by which they are passed over.
const blockLetters = 32

// blocks are the boxes of the letters, so many at a time.
func (r run) blocks() []box {
	var blocks []box
	for i := range r {
		r[i].box = r[i].box.normal()
		if i%blockLetters == 0 {
			blocks = append(blocks, r[i].box)
			continue
		}
		last := &blocks[len(blocks)-1]
		*last = last.with(r[i].box)
	}
	return blocks
}

// in is what is written in a box: the letters that reach into it, with a blank where there
// is one between them, or where what is between them is on another line.
func (r run) in(b box, blocks []box) string {
	b = b.normal()
	var text strings.Builder
	last := -1
	for k, block := range blocks {
		if !b.meets(block) {
			continue
		}
		for i := k * blockLetters; i < min(len(r), (k+1)*blockLetters); i++ {
			if !b.meets(r[i].box) {
				continue
			}
			if last >= 0 && last+1 < i && (r[last+1].letter == ' ' || r[last].line != r[i].line) {
				text.WriteByte(' ')
			}
			if last = i; r[i].letter != 0 {
				text.WriteRune(r[i].letter)
			}
		}
	}
	return text.String()
}

// upright is a text on the page turned clockwise by quarter turns; w and h are the size
// before that.
func upright(b box, turns int, w, h float64) (t Text) {
	b = b.normal()
	switch turns {
	case 1: // what was at the left is at the top
		t.Left, t.Right, t.Top, t.Bottom = b[bottom], b[top], b[left], b[right]
	case 2:
		t.Left, t.Right, t.Top, t.Bottom = w-b[right], w-b[left], b[bottom], b[top]
	case 3:
		t.Left, t.Right, t.Top, t.Bottom = h-b[top], h-b[bottom], w-b[right], w-b[left]
	default:
		t.Left, t.Right, t.Top, t.Bottom = b[left], b[right], h-b[top], h-b[bottom]
	}
	return t
}
