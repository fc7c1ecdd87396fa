package look

import (
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"stowright/assets/fonts"
)

// fitDesignation sets a designation into a width: in one line at the wanted size
// when it fits, else smaller down to least, else in two lines broken after its
// prefix or at a dash, as large as fits, and a name of several words in as many as it
// needs. A dash group is never broken. Sizes are in points at normal size, width in points as drawn.
func fitDesignation(text string, width, wanted, least float32) (lines []string, size float32) {
	if size := shrink([]string{text}, width, wanted, least); size > 0 {
		return []string{text}, size
	}
	best, bestSize := []string{text}, float32(0)
	for _, at := range breaks(text) {
		parts := []string{text[:at], text[at:]}
		if size := shrink(parts, width, wanted, least*0.75); size > bestSize {
			best, bestSize = parts, size
		}
	}
	switch {
	case bestSize > 0:
		return best, bestSize
	case strings.Contains(text, " "):
		readable := min(wanted, max(least, sizeTiny))
		if lines := wrapName(text, width, readable); lines != nil {
			return lines, readable
		}
	}
	return best, max(1, shrink(best, width, wanted, 1)) // nothing fits: as small as it must be, still unbroken
}

// wrapName breaks a name of several words into as many lines as it needs at that size; nil
// where a word is wider than the width.
func wrapName(text string, width, size float32) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		switch {
		case widestAt([]string{longer}, size) <= width:
			line = longer
		case line == "" || widestAt([]string{word}, size) > width:
			return nil
		default:
			lines, line = append(lines, line), word
		}
	}
	return append(lines, line)
}

// shrink is the largest size from wanted down to least at which every part fits,
// or 0. Letters of mono step by whole pixels, so the size that should fit is
// measured again and lowered until it does.
func shrink(parts []string, width, wanted, least float32) float32 {
	size := wanted
	for size >= least {
		widest := widestAt(parts, size)
		if widest <= width {
			return size
		}
		size = min(size-0.25, size*width/widest)
	}
	return 0
}

// widestAt is the width of the widest part at that size.
func widestAt(parts []string, size float32) float32 {
	var widest float32
	for _, part := range parts {
		widest = max(widest, roleAt(size).width(part))
	}
	return widest
}

func roleAt(size float32) role { return role{fonts.MonoBold, size} }

// breaks lists where a designation may be broken, the best first: after its
// prefix (AN470 | AD4-7), then after each dash and, in a name, after each word.
func breaks(text string) []int {
	var out []int
	if at := prefix(text); at > 1 && at < len(text)-1 {
		out = append(out, at)
	}
	for i, c := range text {
		if (c == '-' && i > 1 || c == ' ') && i < len(text)-1 {
			out = append(out, i+1)
		}
	}
	return out
}

// prefix is the length of the letters and digits that name the standard: 5 for
// AN470AD4-7, 7 for NAS1149F0363P, 0 when there are none.
func prefix(text string) int {
	letters := strings.IndexFunc(text, func(r rune) bool { return !unicode.IsLetter(r) })
	if letters <= 0 {
		return 0
	}
	digits := strings.IndexFunc(text[letters:], func(r rune) bool { return !unicode.IsDigit(r) })
	if digits <= 0 {
		return 0
	}
	return letters + digits
}

// Designation is a designation, tag or drawer name in mono, as large as its width
// allows up to Size, never broken inside a dash group. A widget.Label has a fixed
// size and breaks anywhere, also between the digits of a number.
type Designation struct {
	widget.BaseWidget
	text string
	size float32
}

// NewDesignation is a designation of that size (points at normal size) at most.
func NewDesignation(text string, size float32) *Designation {
	d := &Designation{text: text, size: size}
	d.ExtendBaseWidget(d)
	return d
}

// SetText replaces the designation.
func (d *Designation) SetText(text string) {
	d.text = text
	d.Refresh()
}

// HeightFor is how high the designation has to be at that width.
func (d *Designation) HeightFor(width float32) float32 {
	lines, size := fitDesignation(d.text, width, d.size, d.size*0.6)
	return float32(len(lines)) * roleAt(size).height()
}

// wide is the width of the designation at its full size.
func (d *Designation) wide() float32 { return roleAt(d.size).width(d.text) + 1 }

// CreateRenderer draws the designation.
func (d *Designation) CreateRenderer() fyne.WidgetRenderer {
	var drawnLines []*canvas.Text
	r := &drawn{}
	r.min = func() fyne.Size {
		width := d.Size().Width
		if width <= 0 {
			width = d.wide()
		}
		return fyne.NewSize(Px(60), d.HeightFor(width))
	}
	r.layout = func(size fyne.Size) {
		lines, fitted := fitDesignation(d.text, size.Width, d.size, d.size*0.6)
		for len(drawnLines) < len(lines) {
			drawnLines = append(drawnLines, newText())
		}
		h := roleAt(fitted).height()
		r.objects = r.objects[:0]
		for i, line := range lines {
			roleAt(fitted).set(drawnLines[i], line, ColorInk)
			placeText(drawnLines[i], 0, float32(i)*h, h)
			r.objects = append(r.objects, drawnLines[i])
		}
	}
	r.refresh = func() {}
	return r.ready(d)
}
