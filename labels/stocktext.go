package labels

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// StockExample is how a stock of one's own is written, for people who are asked for one.
const StockExample = "63.5 x 38.1 mm, 3 x 7 on A4, first at 7.2 x 15.1, pitch 66 x 38.1"

// TextError is a description of a stock that cannot be read, and why.
type TextError struct {
	Text   string // what was written
	Reason string // what is wrong and what to write
}

func (e *TextError) Error() string {
	return fmt.Sprintf("%q is no size of labels: %s", e.Text, e.Reason)
}

// pair is two numbers with an x between them, as "63.5 x 38.1" with or without "mm".
const pair = `([0-9]{1,4}(?:\.[0-9]{1,4})?) ?x ?([0-9]{1,4}(?:\.[0-9]{1,4})?)(?: ?mm)?`

var (
	sizeText  = regexp.MustCompile(`^` + pair + `$`)
	rollText  = regexp.MustCompile(`^([0-9]{1,3}(?:\.[0-9]{1,4})?) ?mm roll$`)
	gridText  = regexp.MustCompile(`^([0-9]{1,3}) ?x ?([0-9]{1,3}) on (a4|us letter|letter|` + pair + `)$`)
	firstText = regexp.MustCompile(`^first at ` + pair + `$`)
	pitchText = regexp.MustCompile(`^pitch ` + pair + `$`)
)

// ParseStock reads a stock as a person describes it: the size of a label, then the grid and
// its paper, then where the first label begins and how far it is from one to the next, all
// in millimetres, as [StockExample]. Without a grid a label is a piece of a roll; "12 mm
// roll" is one that is cut to the length of each label. Without a pitch the labels touch,
// without a first place they lie in the middle of the paper. The error is a *TextError. The
// text is the name of the stock, so that [StockNamed] finds it again.
func ParseStock(text string) (Stock, error) {
	parts := strings.Split(strings.ToLower(text), ",")
	for i := range parts {
		parts[i] = strings.Join(strings.Fields(parts[i]), " ")
	}
	s := Stock{Name: strings.Join(parts, ", "), Cols: 1, Rows: 1}
	fail := func(format string, args ...any) (Stock, error) {
		return Stock{}, &TextError{Text: text, Reason: fmt.Sprintf(format, args...)}
	}
	kind, ok := s.readSize(parts[0])
	if !ok {
		return fail("write it as %s", StockExample)
	}
	if len(parts) > 1 {
		if kind == "tape" {
			return fail("a roll that is cut to length has nothing more to say")
		}
		if reason := s.readGrid(parts[1:]); reason != "" {
			return fail("%s", reason)
		}
		kind = "sheet"
	}
	if err := s.be(kind); err != nil {
		return Stock{}, err
	}
	if err := s.Check(); err != nil {
		return fail("%s", strings.TrimPrefix(err.Error(), fmt.Sprintf("stock %q: ", s.Name)))
	}
	return s, nil
}

// longestTape is the greatest length of a label on tape, in millimetres.
const longestTape = 90

// readSize reads the size of a label, or the width of a roll.
func (s *Stock) readSize(text string) (kind string, ok bool) {
	if m := rollText.FindStringSubmatch(text); m != nil {
		w := number(m[1])
		s.PageW, s.PageH, s.CellW, s.CellH, s.Paper = longestTape, w, longestTape, w, tenth(w)+" mm roll"
		if w > stripHeight {
			return "roll", true
		}
		return "tape", true
	}
	m := sizeText.FindStringSubmatch(text)
	if m == nil {
		return "", false
	}
	s.CellW, s.CellH = number(m[1]), number(m[2])
	s.PageW, s.PageH, s.Paper = s.CellW, s.CellH, someRoll
	return "roll", true
}

// readGrid reads how labels lie on a sheet, or says what is wrong.
func (s *Stock) readGrid(parts []string) (reason string) {
	m := gridText.FindStringSubmatch(parts[0])
	if m == nil {
		return fmt.Sprintf("%q is not how many there are on what, such as 3 x 7 on A4", parts[0])
	}
	s.Cols, s.Rows = int(number(m[1])), int(number(m[2]))
	switch m[3] {
	case "a4":
		s.Paper, s.PageW, s.PageH = "A4", 210, 297
	case "us letter", "letter":
		s.Paper, s.PageW, s.PageH = "US Letter", 8.5*inch, 11*inch
	default:
		s.PageW, s.PageH = number(m[4]), number(m[5])
		s.Paper = fmt.Sprintf("%s x %s mm", tenth(s.PageW), tenth(s.PageH))
	}
	s.PitchX, s.PitchY = s.CellW, s.CellH
	placed := false
	for _, part := range parts[1:] {
		first, pitch := firstText.FindStringSubmatch(part), pitchText.FindStringSubmatch(part)
		switch {
		case first != nil:
			s.Left, s.Top, placed = number(first[1]), number(first[2]), true
		case pitch != nil:
			s.PitchX, s.PitchY = number(pitch[1]), number(pitch[2])
		default:
			return fmt.Sprintf("%q is neither where the first one begins, such as first at 7.2 x 15.1, nor the pitch, such as pitch 66 x 38.1", part)
		}
	}
	if !placed {
		s.Left = max(0, (s.PageW-float64(s.Cols-1)*s.PitchX-s.CellW)/2)
		s.Top = max(0, (s.PageH-float64(s.Rows-1)*s.PitchY-s.CellH)/2)
	}
	return ""
}

// number is a number that a pattern above has let through.
func number(text string) float64 {
	n, _ := strconv.ParseFloat(text, 64)
	return n
}
