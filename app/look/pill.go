package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"stowright/app/notice"
)

// Pill is a short state on the top bar: a claim clock, or whose hand this is. With
// a key it can be tapped. Fyne has nothing like it.
type Pill struct {
	widget.BaseWidget
	text, key string
	tone      notice.Tone
	focused   bool
	onTapped  func()
}

// NewPill is a pill; tapped may be nil.
func NewPill(text, key string, tone notice.Tone, tapped func()) *Pill {
	p := &Pill{text: text, key: key, tone: tone, onTapped: tapped}
	p.ExtendBaseWidget(p)
	return p
}

// Text is what the pill says.
func (p *Pill) Text() string { return p.text }

// Set changes what the pill says; an empty text hides it.
func (p *Pill) Set(text string, tone notice.Tone) {
	p.text, p.tone, p.Hidden = text, tone, text == ""
	p.Refresh()
}

// Tapped does what the pill is for.
func (p *Pill) Tapped(*fyne.PointEvent) { asked(p, p.press) }

func (p *Pill) press() {
	if p.onTapped != nil {
		p.onTapped()
	}
}

// FocusGained draws a ring.
func (p *Pill) FocusGained() { p.focused = true; p.Refresh() }

// FocusLost takes it away.
func (p *Pill) FocusLost() { p.focused = false; p.Refresh() }

// AcceptsTab reports whether Tab waits.
func (p *Pill) AcceptsTab() bool { return waits(p) }

// TypedRune does what the pill is for on a space, and hands letters on to the window.
func (p *Pill) TypedRune(r rune) {
	switch {
	case kept(p, Typed{Rune: r}):
	case r == ' ':
		asked(p, p.press)
	default:
		passRune(p, r)
	}
}

// TypedShortcut hands shortcuts on to the window.
func (p *Pill) TypedShortcut(s fyne.Shortcut) { passShortcut(p, s) }

// TypedKey does what the pill is for on Enter.
func (p *Pill) TypedKey(key *fyne.KeyEvent) {
	switch {
	case kept(p, Typed{Key: key}):
	case key.Name == fyne.KeyReturn || key.Name == fyne.KeyEnter:
		asked(p, p.press)
	default:
		passKey(p, key)
	}
}

// role is the text of the pill, and small that of one in two lines.
func (p *Pill) role() role {
	if p.tone == notice.Quiet {
		return roleBody().at(15.5)
	}
	return roleBold().at(15)
}

func (p *Pill) small() role { return p.role().at(sizeFoot) }

// beside is the room that the key takes, and the padding.
func (p *Pill) beside() float32 {
	if p.key == "" {
		return 2 * Px(14)
	}
	return 2*Px(14) + Px(8) + newKeycap().size(p.key).Width
}

// least is what the text of a pill may be narrowed to, in points at normal size: a name of
// a person, and a claim clock in two lines.
const (
	leastPill = 110
	pillHigh  = 34
	pillTwo   = 48 // in two lines
)

// Least is how narrow the pill can be made: its words then stand in two lines.
func (p *Pill) Least() float32 {
	first, second := p.halves(0)
	two := max(p.small().width(first), p.small().width(second), Px(leastPill))
	return p.beside() + min(p.role().width(p.text), two)
}

// halves breaks the words into two lines of that width, or of about the same width for 0.
func (p *Pill) halves(width float32) (first, second string) {
	words := strings.Fields(p.text)
	r := p.small()
	if width == 0 {
		width = r.width(p.text) / 2
		for _, w := range words {
			width = max(width, r.width(w))
		}
		width += r.width("mm")
	}
	n := min(1, len(words))
	for n < len(words) && r.width(strings.Join(words[:n+1], " ")) <= width {
		n++
	}
	return strings.Join(words[:n], " "), strings.Join(words[n:], " ")
}

// CreateRenderer draws the pill.
func (p *Pill) CreateRenderer() fyne.WidgetRenderer {
	box, text, more, cap := newBox(), newText(), newText(), newKeycap()
	r := &drawn{objects: []fyne.CanvasObject{box, text, more, cap.box, cap.text}}
	ink := func() fyne.ThemeColorName {
		ink, _ := toneColors(p.tone)
		if p.tone == notice.Quiet {
			ink = ColorInk
		}
		return ink
	}
	r.min = func() fyne.Size { return fyne.NewSize(p.role().width(p.text)+p.beside(), Px(pillHigh)) }
	r.layout = func(size fyne.Size) {
		room, high := size.Width-p.beside(), size.Height
		p.role().set(text, p.text, ink())
		more.Text = ""
		if within(text, room) {
			place(box, 0, (size.Height-Px(pillHigh))/2, size.Width, Px(pillHigh))
		} else {
			first, second := p.halves(room)
			p.small().set(text, first, ink())
			p.small().set(more, second, ink())
			elide(text, room)
			elide(more, room)
			place(box, 0, 0, size.Width, size.Height)
			high = size.Height / 2
		}
		if more.Text == "" {
			high = size.Height
		}
		placeText(text, Px(14), 0, high)
		placeText(more, Px(14), high-Px(2), high)
		cap.place(size.Width-Px(14)-cap.size(p.key).Width, (size.Height-cap.size(p.key).Height)/2)
	}
	r.refresh = func() {
		_, ground := toneColors(p.tone)
		if p.tone == notice.Quiet {
			ground = ColorPanel
		}
		setBox(box, ground, "", 0, 17)
		if p.tone == notice.Quiet || p.tone == notice.OK {
			setBox(box, ground, ColorEdge, 1, 17)
		}
		if p.focused {
			setBox(box, ground, ColorAction, 2, 17)
		}
		p.role().set(text, p.text, ink())
		cap.set(p.key, ink())
	}
	return r.ready(p)
}

// HeightFor is how high the pill has to be at that width.
func (p *Pill) HeightFor(width float32) float32 {
	if p.role().width(p.text)+p.beside() > width+0.5 {
		return Px(pillTwo)
	}
	return Px(pillHigh)
}
