package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// toneColors are the ink and the ground of a tone; OK and Quiet stand on no ground.
func toneColors(t notice.Tone) (ink, ground fyne.ThemeColorName) {
	switch t {
	case notice.Warn:
		return ColorWarn, ColorWarnGround
	case notice.Stop:
		return ColorStop, ColorStopGround
	case notice.OK:
		return ColorAction, ""
	default:
		return ColorQuiet, ""
	}
}

// newToneShape draws the shape of the tone that it asks for.
func newToneShape(tone func() notice.Tone) *canvas.Raster {
	return newDrawing(func(p *pen) {
		ink, ground := toneColors(tone())
		if ground == "" {
			ground = ColorPanel
		}
		p.toneShape(tone(), named(ink), named(ground))
	})
}

// StateMark is a state as a word with a shape: a tick, a ring, a triangle or a
// square on its corner. Colour only helps. Fyne has nothing like it.
type StateMark struct {
	widget.BaseWidget
	mark notice.Mark
}

// NewStateMark draws that state.
func NewStateMark(m notice.Mark) *StateMark {
	s := &StateMark{mark: m}
	s.ExtendBaseWidget(s)
	return s
}

// SetMark changes the state.
func (s *StateMark) SetMark(m notice.Mark) {
	if s.mark != m {
		s.mark = m
		s.Refresh()
	}
}

// CreateRenderer draws the mark.
func (s *StateMark) CreateRenderer() fyne.WidgetRenderer {
	p := newMarkParts()
	r := &drawn{objects: p.objects()}
	r.min = func() fyne.Size { return p.size(s.mark) }
	r.layout = func(size fyne.Size) { p.place(0, (size.Height-p.size(s.mark).Height)/2, size.Width) }
	r.refresh = func() { p.set(s.mark) }
	return r.ready(s)
}

// markParts are the drawn parts of a state mark, shared by StateMark and list rows.
type markParts struct {
	box   *canvas.Rectangle
	shape *canvas.Raster
	text  *canvas.Text
	tone  notice.Tone
}

func newMarkParts() *markParts {
	p := &markParts{box: newBox(), text: newText()}
	p.shape = newToneShape(func() notice.Tone { return p.tone })
	return p
}

func (p *markParts) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{p.box, p.shape, p.text}
}

func (p *markParts) role() role { return roleStrong().at(14.5) }

func (p *markParts) size(m notice.Mark) fyne.Size {
	if m.Word == "" {
		return fyne.Size{}
	}
	return fyne.NewSize(Px(8+13+6+9)+p.role().width(m.Word), Px(27))
}

func (p *markParts) set(m notice.Mark) {
	p.tone = m.Tone
	ink, ground := toneColors(m.Tone)
	setBox(p.box, ground, "", 0, 5)
	word := ink
	if m.Tone == notice.OK {
		word = ColorInk
	}
	p.role().set(p.text, m.Word, word)
	for _, o := range p.objects() {
		if m.Word == "" {
			o.Hide()
		} else {
			o.Show()
		}
	}
	p.shape.Refresh()
}

// leastMark is the least size of a mark of many words before the last of them give way.
const leastMark = 11.5

// place puts the mark at x, y within a width. A word that is too long is set smaller; of many
// words the last ones give way.
func (p *markParts) place(x, y, width float32) {
	size := p.size(notice.Mark{Word: p.text.Text})
	if room := width - Px(8+13+6+9); size.Width > width && room > 0 {
		p.text.TextSize *= room / p.text.MinSize().Width
		if len(strings.Fields(p.text.Text)) > 2 {
			p.text.TextSize = max(p.text.TextSize, Px(leastMark))
			elide(p.text, room)
		}
		size.Width = width
	}
	place(p.box, x, y, size.Width, size.Height)
	side := Px(13)
	place(p.shape, x+Px(8), y+(size.Height-side)/2, side, side)
	placeText(p.text, x+Px(8)+side+Px(6), y, size.Height)
}
