package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Rank is how loud a button is.
type Rank int

// The ranks. A group of buttons has one primary at most.
const (
	Secondary Rank = iota // an outline: the zero value
	Primary               // filled
	Link                  // bold words in a line of text
)

// KeyButton is a button that shows the key which does the same. The window finds it
// by that key (see PressKey) as long as it is visible. A widget.Button shows no
// key, and cannot be asked for one.
type KeyButton struct {
	widget.BaseWidget
	label, key       string
	rank             Rank
	off, small       bool
	focused, hovered bool
	onTapped         func()
}

var (
	_ fyne.Tappable      = (*KeyButton)(nil)
	_ fyne.Focusable     = (*KeyButton)(nil)
	_ desktop.Hoverable  = (*KeyButton)(nil)
	_ desktop.Cursorable = (*KeyButton)(nil)
)

// NewKeyButton is an outlined button; key may be "" for none.
func NewKeyButton(label, key string, tapped func()) *KeyButton {
	return newButton(label, key, Secondary, tapped)
}

// NewPrimary is the filled button of its group.
func NewPrimary(label, key string, tapped func()) *KeyButton {
	return newButton(label, key, Primary, tapped)
}

// NewLink is a button that reads as words in a line.
func NewLink(label, key string, tapped func()) *KeyButton {
	return newButton(label, key, Link, tapped)
}

func newButton(label, key string, rank Rank, tapped func()) *KeyButton {
	b := &KeyButton{label: label, key: key, rank: rank, onTapped: tapped}
	b.ExtendBaseWidget(b)
	return b
}

// Label is what the button says.
func (b *KeyButton) Label() string { return b.label }

// Key is the key the button shows, or "".
func (b *KeyButton) Key() string { return b.key }

// Off reports whether the button cannot be used now.
func (b *KeyButton) Off() bool { return b.off }

// SetLabel changes what the button says: "Some: 12".
func (b *KeyButton) SetLabel(label string) {
	if b.label != label {
		b.label = label
		b.Refresh()
	}
}

// SetRank makes the button louder or quieter.
func (b *KeyButton) SetRank(rank Rank) {
	if b.rank != rank {
		b.rank = rank
		b.Refresh()
	}
}

// SetOff makes the button unusable, or usable again.
func (b *KeyButton) SetOff(off bool) {
	if b.off != off {
		b.off = off
		b.Refresh()
	}
}

func (b *KeyButton) press() {
	if !b.off && b.onTapped != nil {
		b.onTapped()
	}
}

// Tapped presses the button.
func (b *KeyButton) Tapped(*fyne.PointEvent) { asked(b, b.press) }

// Cursor is a hand over a button that can be pressed.
func (b *KeyButton) Cursor() desktop.Cursor {
	if b.off {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// MouseIn marks the button under the pointer.
func (b *KeyButton) MouseIn(*desktop.MouseEvent) { b.hover(true) }

// MouseMoved does nothing.
func (b *KeyButton) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends the mark.
func (b *KeyButton) MouseOut() { b.hover(false) }

func (b *KeyButton) hover(on bool) {
	b.hovered = on
	b.Refresh()
}

// FocusGained draws the focus ring.
func (b *KeyButton) FocusGained() {
	b.focused = true
	b.Refresh()
}

// FocusLost takes it away.
func (b *KeyButton) FocusLost() {
	b.focused = false
	b.Refresh()
}

// AcceptsTab reports whether Tab waits.
func (b *KeyButton) AcceptsTab() bool { return waits(b) }

// TypedRune presses the button on a space, which comes as a character behind its key: taken at
// the key, the character would go to the field that the button has led to.
func (b *KeyButton) TypedRune(r rune) {
	switch {
	case kept(b, Typed{Rune: r}):
	case r == ' ':
		asked(b, b.press)
	default:
		passRune(b, r)
	}
}

// TypedKey presses the button on Enter.
func (b *KeyButton) TypedKey(key *fyne.KeyEvent) {
	if kept(b, Typed{Key: key}) {
		return
	}
	switch key.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		asked(b, b.press)
	default:
		passKey(b, key)
	}
}

// ink is the colour of what the button says.
func (b *KeyButton) ink() fyne.ThemeColorName {
	switch {
	case b.off:
		return ColorQuiet
	case b.rank == Primary:
		return ColorOnAction
	default:
		return ColorAction
	}
}

// CreateRenderer draws the button.
func (b *KeyButton) CreateRenderer() fyne.WidgetRenderer {
	p := &buttonParts{b: b, box: newBox(), over: newBox(), ring: newBox(), text: newText(), cap: newKeycap()}
	r := &drawn{objects: []fyne.CanvasObject{p.box, p.over, p.text, p.cap.box, p.cap.text, p.ring}}
	r.min, r.layout, r.refresh = p.min, p.layout, p.refresh
	return r.ready(b)
}

// buttonParts are the drawn parts of a button.
type buttonParts struct {
	b               *KeyButton
	box, over, ring *canvas.Rectangle
	text            *canvas.Text
	cap             keycap
	known           knownSize
}

// knownSize is the least size of a button from memory: Fyne asks before every frame.
type knownSize struct {
	label, key string
	unit       float32
	size       fyne.Size
}

func (p *buttonParts) gap() float32 {
	if p.b.key == "" {
		return 0
	}
	return Px(9)
}

func (p *buttonParts) min() fyne.Size {
	k := &p.known
	if unit := Px(1); k.unit != unit || k.label != p.b.label || k.key != p.b.key {
		*k = knownSize{p.b.label, p.b.key, unit, p.least()}
	}
	return k.size
}

// leastLink is what the words of a link make do with where a line has no more room, in points
// at normal size.
const leastLink = 150

// wide is the width that the button wants.
func (b *KeyButton) wide() float32 {
	w := b.MinSize().Width
	if b.rank == Link {
		w += max(0, b.role().width(b.label)-Px(leastLink))
	}
	return w
}

func (p *buttonParts) least() fyne.Size {
	label := p.b.role().width(p.b.label)
	if p.b.rank == Link {
		label = min(label, Px(leastLink))
	}
	w := label + p.gap() + p.cap.size(p.b.key).Width
	if p.b.rank == Link {
		return fyne.NewSize(w+Px(4), max(LeastTarget(), max(p.b.role().height(), p.cap.size(p.b.key).Height)+Px(8)))
	}
	return fyne.NewSize(w+2*Px(14), Px(buttonHeight))
}

func (p *buttonParts) layout(size fyne.Size) {
	for _, box := range []*canvas.Rectangle{p.box, p.over, p.ring} {
		place(box, 0, 0, size.Width, size.Height)
	}
	inset := Px(3)
	place(p.ring, inset, inset, size.Width-2*inset, size.Height-2*inset)
	if p.b.rank == Link { // its words stand on the grid, and what is drawn about them reaches over it
		for _, box := range []*canvas.Rectangle{p.over, p.ring} {
			place(box, -Px(4), 0, size.Width+Px(4), size.Height)
		}
	}
	capSize := p.cap.size(p.b.key)
	room := size.Width - capSize.Width - p.gap() - Px(8)
	r := p.b.role()
	r.set(p.text, p.b.label, p.b.ink())
	if w := r.width(p.b.label); p.b.rank != Link && w > room && w > 0 {
		r = r.at(max(r.size*room/w, sizeTiny))
		r.set(p.text, p.b.label, p.b.ink())
	}
	if p.b.rank == Link {
		elide(p.text, max(1, size.Width-capSize.Width-p.gap()-Px(4)))
	}
	whole := p.text.MinSize().Width + p.gap() + capSize.Width
	x := (size.Width - whole) / 2
	if p.b.rank == Link {
		x = 0
	}
	w := placeText(p.text, x, 0, size.Height).Width
	p.cap.place(x+w+p.gap(), (size.Height-capSize.Height)/2)
}

func (p *buttonParts) refresh() {
	fill, edge := ColorPanel, fyne.ThemeColorName(ColorAction)
	switch {
	case p.b.rank == Link:
		fill, edge = "", ""
	case p.b.off:
		fill, edge = ColorPanel, ColorLine
	case p.b.rank == Primary:
		fill, edge = ColorAction, ColorAction
	}
	setBox(p.box, fill, edge, 1.25, radiusSmall)
	setBox(p.over, theme.ColorNameHover, "", 0, radiusSmall)
	p.over.Hidden = !p.b.hovered || p.b.off
	ringColor := fyne.ThemeColorName(ColorAction)
	if p.b.rank == Primary {
		ringColor = ColorOnAction
	}
	setBox(p.ring, "", ringColor, 2, radiusSmall-2)
	p.ring.Hidden = !p.b.focused
	p.b.role().set(p.text, p.b.label, p.b.ink())
	p.cap.set(p.b.key, p.b.ink())
}

// keycap is a key drawn as a small box with its name. Fyne has no such widget.
type keycap struct {
	box  *canvas.Rectangle
	text *canvas.Text
}

func newKeycap() keycap { return keycap{newBox(), newText()} }

// keySign is what the cap shows for a key: Enter is its sign, the rest its name.
func keySign(key string) string {
	if key == "Enter" {
		return "↵"
	}
	return key
}

// size is the size of the cap for a key; zero for none.
func (k keycap) size(key string) fyne.Size {
	if key == "" {
		return fyne.Size{}
	}
	return fyne.NewSize(max(roleTiny().width(keySign(key))+Px(10), Px(19)), Px(20))
}

func (k keycap) set(key string, ink fyne.ThemeColorName) {
	setBox(k.box, "", ink, 1, 3)
	roleTiny().set(k.text, keySign(key), ink)
	k.box.Hidden, k.text.Hidden = key == "", key == ""
}

func (k keycap) place(x, y float32) {
	size := k.size(k.text.Text)
	place(k.box, x, y, size.Width, size.Height)
	w := k.text.MinSize().Width
	placeText(k.text, x+(size.Width-w)/2, y, size.Height)
}

// NewFootLink is a link in small text, for the line at the bottom of the window.
func NewFootLink(label, key string, tapped func()) *KeyButton {
	b := newButton(label, key, Link, tapped)
	b.small = true
	return b
}

// role is the text of the button.
func (b *KeyButton) role() role {
	if b.small {
		return roleStrong().at(sizeFoot)
	}
	return roleStrong()
}
