package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Paragraph is text that wraps at words. Lead is drawn bold before it. Its height
// follows its width: put it in Rows, Panel or another layout of this package. A
// widget.Label cannot say how high it will be at a width, so that wrapped text was
// cut.
type Paragraph struct {
	widget.BaseWidget
	lead, text string
	role, bold role
	color      fyne.ThemeColorName
	width      float32 // of the last layout
	known      []broken
	line, unit float32 // height of a line, and the size of the family it was measured at
}

// broken is the paragraph broken at a width and at a size of the family. Fyne asks
// for heights before every frame, and breaking costs more than painting.
type broken struct {
	lead, text  string
	width, unit float32
	lines       [][]word
}

// mostBroken is how many widths are kept: layouts ask at two or three in turn.
const mostBroken = 4

// NewText is a paragraph of body text.
func NewText(text string) *Paragraph { return newParagraph("", text, roleBody(), ColorInk) }

// NewFoot is a paragraph of small quiet text.
func NewFoot(text string) *Paragraph { return newParagraph("", text, roleFoot(), ColorQuiet) }

// NewQuiet is a paragraph of quiet body text.
func NewQuiet(text string) *Paragraph { return newParagraph("", text, roleBody(), ColorQuiet) }

// NewTitle is a heading.
func NewTitle(text string) *Paragraph { return newParagraph("", text, roleTitle(), ColorInk) }

// NewHeading is a heading of second rank, over a part of a page.
func NewHeading(text string) *Paragraph {
	return newParagraph("", text, roleFigure().at(17.5), ColorInk)
}

// NewNotedHeading is a heading of second rank with a note behind it.
func NewNotedHeading(text, note string) *Paragraph {
	p := newParagraph(text, note, roleBody(), ColorInk)
	p.bold = roleFigure().at(17.5)
	return p
}

// NewLead is a paragraph that starts bold.
func NewLead(lead, text string) *Paragraph { return newParagraph(lead, text, roleBody(), ColorInk) }

func newParagraph(lead, text string, r role, color fyne.ThemeColorName) *Paragraph {
	p := &Paragraph{lead: lead, text: text, role: r, bold: roleBold().at(r.size), color: color}
	p.ExtendBaseWidget(p)
	return p
}

// Text is the whole text.
func (p *Paragraph) Text() string { return strings.TrimSpace(p.lead + " " + p.text) }

// SetText replaces the text.
func (p *Paragraph) SetText(text string) { p.Set("", text) }

// Set replaces lead and text.
func (p *Paragraph) Set(lead, text string) {
	if p.lead == lead && p.text == text {
		return
	}
	p.lead, p.text = lead, text
	p.Refresh()
}

// HeightFor is how high the paragraph has to be at that width.
func (p *Paragraph) HeightFor(width float32) float32 {
	return float32(len(p.lines(width))) * p.lineHeight()
}

// MinSize is as narrow as a few words, and as high as the last width asked for.
func (p *Paragraph) MinSize() fyne.Size {
	if p.width <= 0 {
		whole := p.bold.width(p.lead) + p.role.width(" "+p.text)
		return fyne.NewSize(min(whole, Px(80)), p.lineHeight())
	}
	return fyne.NewSize(min(p.width, Px(80)), p.HeightFor(p.width))
}

// Resize wraps the text again.
func (p *Paragraph) Resize(size fyne.Size) {
	changed := size.Width != p.width
	p.width = size.Width
	p.BaseWidget.Resize(size)
	if changed {
		p.Refresh()
	}
}

func (p *Paragraph) lineHeight() float32 {
	if unit := Px(1); p.unit != unit {
		p.unit, p.line = unit, p.role.height()*1.02
	}
	return p.line
}

// word is one word of a paragraph and whether it belongs to the lead.
type word struct {
	text string
	bold bool
}

// lines is the paragraph broken at words, from memory where it can be.
func (p *Paragraph) lines(width float32) [][]word {
	unit := Px(1)
	for _, b := range p.known {
		if b.width == width && b.unit == unit && b.lead == p.lead && b.text == p.text {
			return b.lines
		}
	}
	if len(p.known) >= mostBroken {
		p.known = p.known[1:]
	}
	b := broken{p.lead, p.text, width, unit, p.breakAt(width)}
	p.known = append(p.known, b)
	return b.lines
}

// breakAt breaks the paragraph at words, and a part number wider than the width behind its
// dashes; any other such word stays whole. Newlines in the text start a new line.
func (p *Paragraph) breakAt(width float32) [][]word {
	var lines [][]word
	var line []word
	var x float32
	add := func(w word) {
		width := p.roleOf(w).width(w.text)
		line, x = append(line, w), x+p.gap(line, w)+width
	}
	for _, w := range p.parts(width) {
		if w.text == "\n" || (len(line) > 0 && x+p.gap(line, w)+p.roleOf(w).width(w.text) > width+0.5) {
			lines, line, x = append(lines, line), nil, 0
		}
		if w.text != "\n" {
			add(w)
		}
	}
	return append(lines, line)
}

// gap is the space before a word that goes on a line: words of one weight are drawn
// as one text, with the space of that weight.
func (p *Paragraph) gap(line []word, w word) float32 {
	switch n := len(line); {
	case n == 0:
		return 0
	case line[n-1].bold && w.bold:
		return p.bold.width(" ")
	}
	return p.role.width(" ")
}

// parts are the words, those that are wider than the width in pieces with newlines between.
func (p *Paragraph) parts(width float32) []word {
	var out []word
	for _, w := range p.words() {
		rest := w.text
		for p.roleOf(w).width(rest) > width+0.5 {
			end := 0
			for _, at := range breaks(rest) {
				if at > end && rest[at-1] == '-' && p.roleOf(w).width(rest[:at]) <= width {
					end = at
				}
			}
			if end == 0 {
				break
			}
			out = append(out, word{rest[:end], w.bold}, word{text: "\n"})
			rest = rest[end:]
		}
		out = append(out, word{rest, w.bold})
	}
	return out
}

// words is the paragraph in words, a newline being a word of its own.
func (p *Paragraph) words() []word {
	var out []word
	for _, part := range []struct {
		text string
		bold bool
	}{{p.lead, true}, {p.text, false}} {
		for i, line := range strings.Split(part.text, "\n") {
			if i > 0 {
				out = append(out, word{text: "\n"})
			}
			for _, w := range strings.Fields(line) {
				out = append(out, word{w, part.bold})
			}
		}
	}
	return out
}

func (p *Paragraph) roleOf(w word) role {
	if w.bold {
		return p.bold
	}
	return p.role
}

// CreateRenderer draws the paragraph: one text for each run of a line.
func (p *Paragraph) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{}
	r.min = func() fyne.Size { return p.MinSize() }
	r.layout = func(fyne.Size) {}
	r.refresh = func() { r.objects = p.draw(r.objects[:0]) }
	return r.ready(p)
}

// draw makes the texts of every line, placed.
func (p *Paragraph) draw(objects []fyne.CanvasObject) []fyne.CanvasObject {
	width := p.width
	if width <= 0 {
		width = p.MinSize().Width
	}
	h, y := p.lineHeight(), float32(0)
	for _, line := range p.lines(width) {
		var x float32
		for _, run := range runs(line) {
			t := newText()
			p.roleOf(run).set(t, run.text, p.color)
			objects = append(objects, t)
			x += placeText(t, x, y, h).Width + p.role.width(" ")
		}
		y += h
	}
	return objects
}

// runs joins neighbouring words of one weight.
func runs(line []word) []word {
	var out []word
	for _, w := range line {
		if n := len(out); n > 0 && out[n-1].bold == w.bold {
			out[n-1].text += " " + w.text
			continue
		}
		out = append(out, w)
	}
	return out
}
