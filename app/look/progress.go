package look

import (
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// Segment is one part of a progress bar, by its share of the whole. Quiet is what
// is still to do. A count above 0 stands over the bar, with the shape of its tone.
type Segment struct {
	Share float64
	Tone  notice.Tone
	Count int
}

// ProgressBar is how far a job is, in segments by state, with words over it. They stand
// apart and are hatched by tone, so that colour only helps. A widget.ProgressBar has one
// segment.
type ProgressBar struct {
	widget.BaseWidget
	words    string
	segments []Segment
}

const (
	barHigh = 12 // of the bar, in points at normal size
	barGap  = 3  // between two segments
)

// NewProgressBar is a bar with those words and segments.
func NewProgressBar(words string, segments ...Segment) *ProgressBar {
	b := &ProgressBar{words: words, segments: segments}
	b.ExtendBaseWidget(b)
	return b
}

// Set changes the bar.
func (b *ProgressBar) Set(words string, segments ...Segment) {
	b.words, b.segments = words, segments
	b.Refresh()
}

// barColor is the colour of a segment.
func barColor(t notice.Tone) fyne.ThemeColorName {
	switch t {
	case notice.OK:
		return ColorAction
	case notice.Warn:
		return ColorLit
	case notice.Stop:
		return ColorStop
	default:
		return ColorBody
	}
}

// part is where a segment lies in a bar of that width.
func (b *ProgressBar) part(i int, width float32) (x, w float32) {
	var whole, before float64
	for n, s := range b.segments {
		if whole += s.Share; n < i {
			before += s.Share
		}
	}
	if whole <= 0 {
		return 0, 0
	}
	x, w = width*float32(before/whole), width*float32(b.segments[i].Share/whole)
	if before+b.segments[i].Share < whole-1e-9 {
		w = max(0, w-Px(barGap))
	}
	return x, w
}

// hatch marks the segments whose tone is not as it should be: slanted lines to look at,
// upright ones to stop at.
func (b *ProgressBar) hatch(p *pen) {
	high := float64(p.size.Height)
	for i, s := range b.segments {
		x, w := b.part(i, p.size.Width)
		from, to := float64(x), float64(x+w)
		step, lean, ink := 7.0, high, ColorInk
		switch s.Tone {
		case notice.Warn:
		case notice.Stop:
			step, lean, ink = 5, 0, ColorPanel
		default:
			continue
		}
		for at := from + step/2 - lean; at < to; at += step {
			low, up := at, at+lean // ends of one line, cut at the edges of the segment
			y0, y1 := high, 0.0
			if lean > 0 {
				if low < from {
					y0, low = high-(from-low), from
				}
				if up > to {
					y1, up = up-to, to
				}
			}
			if y0 > y1 {
				p.stroke([]xy{{low, y0}, {up, y1}}, false, 1.4, named(ink))
			}
		}
	}
}

// barCount is the count of a segment with the shape of its tone.
type barCount struct {
	shape *canvas.Raster
	text  *canvas.Text
	tone  notice.Tone
}

func newBarCount() *barCount {
	c := &barCount{text: newText()}
	c.shape = newToneShape(func() notice.Tone { return c.tone })
	return c
}

// CreateRenderer draws the bar.
func (b *ProgressBar) CreateRenderer() fyne.WidgetRenderer {
	words, hatch := newText(), newDrawing(b.hatch)
	var bars []*canvas.Rectangle
	var counts []*barCount
	r := &drawn{}
	top := func() float32 {
		if b.words == "" {
			return 0
		}
		return roleStrong().height() + Px(4)
	}
	r.min = func() fyne.Size {
		w := roleStrong().width(b.words)
		for _, c := range counts {
			if c.text.Text != "" {
				w += Px(13+4+12) + c.text.MinSize().Width
			}
		}
		return fyne.NewSize(max(Px(260), w), top()+Px(barHigh))
	}
	r.layout = func(size fyne.Size) {
		w := placeText(words, size.Width-words.MinSize().Width, 0, roleStrong().height()).Width
		x, side := float32(0), Px(13)
		for _, c := range counts {
			end := x + side + Px(4) + c.text.MinSize().Width
			if c.shape.Hidden = c.text.Text == "" || end > size.Width-w-Px(8); c.shape.Hidden {
				c.text.Hidden = true
				continue
			}
			c.text.Hidden = false
			place(c.shape, x, (roleStrong().height()-side)/2, side, side)
			placeText(c.text, x+side+Px(4), 0, roleStrong().height())
			x = end + Px(12)
		}
		for i, bar := range bars {
			from, width := b.part(i, size.Width)
			place(bar, from, size.Height-Px(barHigh), width, Px(barHigh))
		}
		place(hatch, 0, size.Height-Px(barHigh), size.Width, Px(barHigh))
	}
	r.refresh = func() {
		roleStrong().set(words, b.words, ColorInk)
		for len(bars) < len(b.segments) {
			bars, counts = append(bars, newBox()), append(counts, newBarCount())
		}
		bars, counts = bars[:len(b.segments)], counts[:len(b.segments)]
		r.objects = append(r.objects[:0], words)
		for i, s := range b.segments {
			setBox(bars[i], barColor(s.Tone), "", 0, 0)
			left, right := i == 0, i == len(bars)-1
			bars[i].TopLeftCornerRadius, bars[i].BottomLeftCornerRadius = corner(left), corner(left)
			bars[i].TopRightCornerRadius, bars[i].BottomRightCornerRadius = corner(right), corner(right)
			counts[i].set(s, b.words)
			r.objects = append(r.objects, bars[i], counts[i].shape, counts[i].text)
		}
		r.objects = append(r.objects, hatch)
		hatch.Refresh()
	}
	return r.ready(b)
}

func (c *barCount) set(s Segment, over string) {
	c.tone = s.Tone
	count := ""
	if s.Count > 0 && over != "" {
		count = strconv.Itoa(s.Count)
	}
	roleStrong().at(14.5).set(c.text, count, ColorInk)
	c.shape.Refresh()
}

func corner(round bool) float32 {
	if round {
		return Px(6)
	}
	return 0
}

// Progress is long work under way: what is done, how far it is, and a button that
// stops it. A widget.ProgressBar has no words, and no button that stops the work.
type Progress struct {
	widget.BaseWidget
	title  *Paragraph
	bar    *ProgressBar
	cancel *KeyButton
	body   *fyne.Container
}

// NewProgress is work at its start. Esc or its button call cancel, which is nil for
// work that cannot be stopped.
func NewProgress(title string, cancel func()) *Progress {
	p := &Progress{title: NewHeading(title), bar: NewProgressBar(""), cancel: NewKeyButton("Stop", "Esc", cancel)}
	p.cancel.Hidden = cancel == nil
	p.body = Rows(12, p.title, p.bar, Line(Gap(), p.cancel))
	p.Set("starting", 0)
	p.ExtendBaseWidget(p)
	return p
}

// Set shows words ("412 of 1,200 rows") and how far the work is, from 0 to 1.
// Below 0 the end is not known, and only the words change.
func (p *Progress) Set(words string, done float64) {
	if done < 0 {
		p.bar.Set(words, Segment{Share: 1, Tone: notice.Warn})
		return
	}
	done = min(done, 1)
	p.bar.Set(fmt.Sprintf("%s, %.0f %%", words, done*100), Segment{Share: done, Tone: notice.OK}, Segment{Share: 1 - done})
}

// SetTitle says what the work is.
func (p *Progress) SetTitle(title string) { p.title.SetText(title) }

func (p *Progress) held() []fyne.CanvasObject { return []fyne.CanvasObject{p.body} }

// HeightFor is how high it has to be at that width.
func (p *Progress) HeightFor(width float32) float32 { return heightFor(p.body, width) }

// CreateRenderer draws title, bar and button.
func (p *Progress) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{p.body}}
	r.min = func() fyne.Size { return p.body.MinSize() }
	r.layout = func(size fyne.Size) { place(p.body, 0, 0, size.Width, size.Height) }
	r.refresh = func() { p.body.Refresh() }
	return r.ready(p)
}
