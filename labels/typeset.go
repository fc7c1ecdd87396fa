package labels

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"

	"stowright/assets/fonts"
)

// setter measures and breaks text. It must not be used by several goroutines at once.
type setter struct {
	faces  map[fonts.Face]*measuredFace
	buffer sfnt.Buffer
}

type measuredFace struct {
	font    *sfnt.Font
	advance map[rune]float64 // in parts of the em; negative for a missing glyph
	ascii   [128]float64     // the same, 0 for what was not asked for yet
}

func newSetter() (*setter, error) {
	s := &setter{faces: map[fonts.Face]*measuredFace{}}
	for _, f := range fonts.Faces() {
		parsed, err := sfnt.Parse(f.TrueType())
		if err != nil {
			return nil, fmt.Errorf("read typeface %s: %w", f, err)
		}
		s.faces[f] = &measuredFace{font: parsed, advance: map[rune]float64{}}
	}
	return s, nil
}

// advance is the width of a character in parts of the em; ok reports whether the face
// has a glyph for it.
func (s *setter) advance(f fonts.Face, r rune) (float64, bool) {
	face := s.faces[f]
	if r < 128 && face.ascii[max(r, 0)] != 0 {
		a := face.ascii[max(r, 0)]
		return a, a >= 0
	}
	if a, ok := face.advance[r]; ok {
		return a, a >= 0
	}
	a := -1.0
	units := face.font.UnitsPerEm()
	if glyph, err := face.font.GlyphIndex(&s.buffer, r); err == nil && glyph != 0 {
		// At one unit to the pixel the advance is in units of the em.
		if w, err := face.font.GlyphAdvance(&s.buffer, glyph, fixed.I(int(units)), font.HintingNone); err == nil {
			a = float64(w) / 64 / float64(units)
		}
	}
	face.advance[r] = a
	if r > 0 && r < 128 {
		face.ascii[r] = a
	}
	return a, a >= 0
}

// width is the advance width of cleaned text in millimetres.
func (s *setter) width(f fonts.Face, size float64, text string) float64 {
	var sum float64
	for _, r := range text {
		a, _ := s.advance(f, r)
		sum += a
	}
	return sum * size
}

// standIn is the similar character that is printed instead of one that is not in the
// typefaces.
func standIn(r rune) rune {
	switch r {
	case 'µ':
		return 'μ'
	case '‐', '‑', '‒', '−':
		return '-'
	case '′', '‘', '’', 'ʹ':
		return '\''
	case '″', '“', '”':
		return '"'
	case '×':
		return 'x'
	}
	// Letters, digits and signs as wide as Chinese characters.
	if r >= '！' && r <= '～' {
		return r - '！' + '!'
	}
	return r
}

// clean makes text printable in a face: control and format characters become
// spaces, spaces are folded, what the face lacks becomes a look-alike or '?'.
// Characters above U+FFFF, which the PDF library cannot carry, are never kept.
// lost are the characters that question marks stand for; cut reports whether the text was
// longer than maxText and now ends in an ellipsis.
func (s *setter) clean(f fonts.Face, text string) (out string, lost []rune, cut bool) {
	var b strings.Builder
	pending, count := false, 0
	// The typefaces have letters with their accents, not accents to put on letters.
	for _, r := range norm.NFC.String(strings.ToValidUTF8(text, "\ufffd")) {
		if unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			pending = b.Len() > 0
			continue
		}
		if pending {
			b.WriteByte(' ')
			pending = false
			count++
		}
		// An accent that is left over would be set beside its letter.
		if _, ok := s.advance(f, r); !ok || r > 0xFFFF || unicode.Is(unicode.M, r) {
			other := standIn(r)
			if _, ok := s.advance(f, other); !ok || other > 0xFFFF || unicode.Is(unicode.M, other) {
				lost = append(lost, r)
				other = '?'
			}
			r = other
		}
		if count++; count > maxText {
			b.WriteString(ellipsis)
			return b.String(), lost, true
		}
		b.WriteRune(r)
	}
	return b.String(), lost, false
}

const ellipsis = "…"

// maxText limits the length of a text, in characters: more than a label can hold.
const maxText = 200

// slack is the tolerance in comparing widths, in millimetres: sizes are computed from
// the room, so the widths equal it up to rounding.
const slack = 1e-6

// shorten truncates text to a width with an ellipsis; cut reports whether it had to.
func (s *setter) shorten(f fonts.Face, size float64, text string, width float64) (out string, cut bool) {
	if s.width(f, size, text) <= width+slack {
		return text, false
	}
	room := width - s.width(f, size, ellipsis)
	end := 0
	for i, r := range text {
		a, _ := s.advance(f, r)
		if room -= a * size; room < 0 {
			end = i
			break
		}
	}
	if end == 0 && s.width(f, size, ellipsis) > width {
		return "", true
	}
	return strings.TrimRight(text[:end], " ") + ellipsis, true
}

// wrap breaks text at spaces into at most max lines of a width; what is left
// over, and a word that is too long alone, is shortened with an ellipsis.
func (s *setter) wrap(f fonts.Face, size float64, text string, width float64, max int) (lines []string, cut bool) {
	if text == "" || max < 1 {
		return nil, text != ""
	}
	words := strings.Split(text, " ")
	line := ""
	for i, w := range words {
		next := w
		if line != "" {
			next = line + " " + w
		}
		if line == "" || s.width(f, size, next) <= width+slack {
			line = next
			continue
		}
		if len(lines) == max-1 {
			rest := line + " " + strings.Join(words[i:], " ")
			line, cut = s.shorten(f, size, rest, width)
			return append(lines, line), cut
		}
		short, c := s.shorten(f, size, line, width)
		lines, cut, line = append(lines, short), cut || c, w
	}
	short, c := s.shorten(f, size, line, width)
	return append(lines, short), cut || c
}

// largest is the greatest size up to max at which every line fits the width.
func (s *setter) largest(f fonts.Face, max float64, width float64, lines ...string) float64 {
	size := max
	for _, l := range lines {
		if w := s.width(f, 1, l); w > 0 {
			size = min(size, width/w)
		}
	}
	return size
}

// balance wraps text like wrap and then evens out the lines, so that the last
// is not one lonely word.
func (s *setter) balance(f fonts.Face, size float64, text string, width float64, max int) (lines []string, cut bool) {
	lines, cut = s.wrap(f, size, text, width, max)
	if cut || len(lines) < 2 {
		return lines, cut
	}
	const steps = 12
	for i := 1; i < steps; i++ {
		tighter, c := s.wrap(f, size, text, width*float64(steps-i)/steps, max)
		if c || len(tighter) > len(lines) {
			break
		}
		lines = tighter
	}
	return lines, false
}
