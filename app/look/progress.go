package look

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// Segment is one part of a progress bar, by its share of the whole. Quiet is what
// is still to do.
type Segment struct {
	Share float64
	Tone  notice.Tone
}

// ProgressBar is how far a job is, in segments by state, with words over it. A
// widget.ProgressBar has one segment.
type ProgressBar struct {
	widget.BaseWidget
	words    string
	segments []Segment
}

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

// CreateRenderer draws the bar.
func (b *ProgressBar) CreateRenderer() fyne.WidgetRenderer {
	words := newText()
	var bars []*canvas.Rectangle
	r := &drawn{}
	top := func() float32 {
		if b.words == "" {
			return 0
		}
		return roleStrong().height() + Px(4)
	}
	r.min = func() fyne.Size {
		return fyne.NewSize(max(Px(260), roleStrong().width(b.words)), top()+Px(12))
	}
	r.layout = func(size fyne.Size) {
		placeText(words, size.Width-words.MinSize().Width, 0, roleStrong().height())
		var whole float64
		for _, s := range b.segments {
			whole += s.Share
		}
		x := float32(0)
		for i, s := range b.segments {
			w := float32(0)
			if whole > 0 {
				w = size.Width * float32(s.Share/whole)
			}
			place(bars[i], x, size.Height-Px(12), w, Px(12))
			x += w
		}
	}
	r.refresh = func() {
		roleStrong().set(words, b.words, ColorInk)
		for len(bars) < len(b.segments) {
			bars = append(bars, newBox())
		}
		bars = bars[:len(b.segments)]
		r.objects = append(r.objects[:0], words)
		for i, s := range b.segments {
			setBox(bars[i], barColor(s.Tone), "", 0, 0)
			left, right := i == 0, i == len(bars)-1
			bars[i].TopLeftCornerRadius, bars[i].BottomLeftCornerRadius = corner(left), corner(left)
			bars[i].TopRightCornerRadius, bars[i].BottomRightCornerRadius = corner(right), corner(right)
			r.objects = append(r.objects, bars[i])
		}
	}
	return r.ready(b)
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
