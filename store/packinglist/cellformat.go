package packinglist

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// holds says what a cell holds where that is more than the text it shows.
type holds int

const (
	holdsText     holds = iota
	holdsNumber         // a number, shown as written or rounded
	holdsFraction       // a number, shown as a fraction
	holdsDate           // a date or a time
	holdsPercent        // a number, shown a hundredfold
	holdsMoney          // an amount of some currency
	holdsOdd            // a number, shown in a way that is not known here
)

// value is what a cell holds behind the text it shows.
type value struct {
	kind   holds
	number string // plain decimal; empty for text
}

// standardFormats are the number formats that a workbook need not define
// (ISO/IEC 29500-1, 18.8.30), as far as they are no dates.
var standardFormats = map[int]string{
	0: "General", 1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00", 5: "$#,##0", 6: "$#,##0", 7: "$#,##0.00", 8: "$#,##0.00",
	9: "0%", 10: "0.00%", 11: "0.00E+00", 12: "# ?/?", 13: "# ??/??", 37: "#,##0 ", 38: "#,##0 ", 39: "#,##0.00", 40: "#,##0.00",
	41: "#,##0", 42: "$#,##0", 43: "#,##0.00", 44: "$#,##0.00", 48: "##0.0E+0", 49: "@",
}

// standardFormat is the code of a format by its number; the rest are dates.
func standardFormat(id int) string {
	if code, ok := standardFormats[id]; ok {
		return code
	}
	return "yyyy-mm-dd"
}

// cellFormat is a number format, understood (ISO/IEC 29500-1, 18.8.31).
type cellFormat struct {
	kind     holds
	general  bool
	pieces   []formatPiece // of the first section
	decimals int
	grouped  bool // thousands are parted by commas
}

// formatPiece is a literal text, or a place for a digit of the whole number, or
// the point with all decimals.
type formatPiece struct {
	literal string
	place   byte // '0', '#' or '?' for a digit, '.' for the decimals, 0 for a literal
}

// parseFormat understands the format of positive numbers. What it does not know,
// such as a condition or a scale, makes it holdsOdd.
func parseFormat(code string) cellFormat {
	p := &formatParser{rest: code}
	p.format.kind = holdsNumber
	for p.rest != "" && !p.ended {
		p.piece()
	}
	return p.done()
}

type formatParser struct {
	rest     string
	format   cellFormat
	ended    bool // at the end of the first section
	point    bool // behind the decimal point
	fraction bool
	commas   int // since the last digit
}

// become notes what the cell holds, the most telling thing first.
func (p *formatParser) become(kind holds) {
	if p.format.kind == holdsNumber || kind == holdsDate {
		p.format.kind = kind
	}
}

func (p *formatParser) literal(s string) {
	p.format.pieces = append(p.format.pieces, formatPiece{literal: s})
}

func (p *formatParser) piece() {
	c := p.rest[0]
	p.rest = p.rest[1:]
	switch {
	case c == '"':
		text, rest, _ := strings.Cut(p.rest, `"`)
		p.rest = rest
		p.literal(text)
	case c == '\\' || c == '_' || c == '*':
		p.escaped(c)
	case c == '[':
		p.bracket()
	case c == ';':
		p.ended = true
	case c == '0' || c == '#' || c == '?':
		p.digit(c)
	case c == '.':
		if !p.point && !p.fraction {
			p.format.pieces = append(p.format.pieces, formatPiece{place: '.'})
		}
		p.point = true
	case c == ',':
		p.commas++
	case c == '/':
		p.fraction = true
		p.literal("/")
	case c == '%':
		p.become(holdsPercent)
		p.literal("%")
	case c == '$':
		p.become(holdsMoney)
		p.literal("$")
	case c == '@':
		p.format.general = true
	default:
		p.letter(c)
	}
}

// escaped reads the character behind one that shows it, leaves its width, or fills with it.
func (p *formatParser) escaped(c byte) {
	if p.rest == "" {
		return
	}
	_, size := utf8.DecodeRuneInString(p.rest)
	next := p.rest[:size]
	p.rest = p.rest[len(next):]
	if c == '\\' {
		p.literal(next)
	} else if c == '_' {
		p.literal(" ")
	}
}

// bracket reads a colour, a locale, a currency, a condition or a span of time.
func (p *formatParser) bracket() {
	inside, rest, _ := strings.Cut(p.rest, "]")
	p.rest = rest
	switch low := strings.ToLower(inside); {
	case strings.HasPrefix(inside, "$-"):
	case strings.HasPrefix(inside, "$"):
		p.become(holdsMoney)
		currency, _, _ := strings.Cut(inside[1:], "-")
		p.literal(currency)
	case strings.Trim(low, "hms") == "":
		p.become(holdsDate)
	case strings.ContainsAny(inside, "<>="):
		p.become(holdsOdd)
	}
}

func (p *formatParser) digit(c byte) {
	if p.commas > 0 {
		p.format.grouped, p.commas = true, 0
	}
	if p.point {
		p.format.decimals++
		return
	}
	p.format.pieces = append(p.format.pieces, formatPiece{place: c})
}

func (p *formatParser) letter(c byte) {
	whole := string(c) + p.rest
	switch low := strings.ToLower(whole); {
	case strings.HasPrefix(low, "general"):
		p.format.general = true
		p.rest = whole[len("general"):]
	case strings.HasPrefix(low, "e+") || strings.HasPrefix(low, "e-"):
		p.become(holdsOdd)
		p.rest = whole[2:]
	case strings.IndexByte("ymdhsb", low[0]) >= 0:
		p.become(holdsDate)
	case c == '-' || c == '+' || c == '(' || c == ')' || c == ':' || c == '\'' || c == ' ' || c >= 0x80 || c == '=' || c == '<' || c == '>' || c == '!' || c == '&' || c == '~':
		p.literal(string(c))
	default:
		p.literal(string(c))
		p.become(holdsOdd)
	}
}

func (p *formatParser) done() cellFormat {
	f := p.format
	places := 0
	for _, piece := range f.pieces {
		if piece.place != 0 {
			places++
		}
	}
	switch {
	case f.kind == holdsDate:
	case p.fraction:
		f.kind = holdsFraction
	case p.commas > 0 || places == 0 && !f.general:
		f.kind = holdsOdd // scaled by thousands, or hidden
	}
	return f
}

// most is where whole numbers of a workbook stop being exact: it keeps 15 digits
// (ISO/IEC 29500-1 leaves it to the maker; common practice).
const most = 1e15

// show is a stored number as the format shows it, with the number behind. A
// number that a workbook cannot keep exactly shows in powers of ten.
func (f cellFormat) show(stored string) (shown string, v value) {
	n, ok := storedNumber(stored)
	if !ok {
		return stored, value{}
	}
	plain := strconv.FormatFloat(n, 'f', -1, 64)
	if math.Abs(n) >= most {
		return strconv.FormatFloat(n, 'E', 5, 64), value{holdsOdd, plain}
	}
	v = value{f.kind, plain}
	switch f.kind {
	case holdsDate:
		return dateShown(n), v
	case holdsNumber, holdsMoney:
		if f.general {
			return f.around(plain), v
		}
		return f.places(n), v
	case holdsPercent:
		return f.around(strconv.FormatFloat(n*100, 'g', 15, 64)), v
	}
	return f.around(plain), v
}

// storedNumber is a number as a workbook means it: 0.30000000000000004 is 0.3.
func storedNumber(s string) (float64, bool) {
	n, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(n, 0) || math.IsNaN(n) {
		return 0, false
	}
	n, err = strconv.ParseFloat(strconv.FormatFloat(n, 'g', 15, 64), 64)
	return n, err == nil
}

// around is the number with the literals that stand before and behind it.
func (f cellFormat) around(number string) string {
	var before, behind strings.Builder
	seen := f.general
	for _, p := range f.pieces {
		switch {
		case p.place != 0:
			seen = true
		case p.literal == "/" && f.kind == holdsFraction, p.literal == " " && f.kind == holdsFraction && !seen:
		case seen:
			behind.WriteString(p.literal)
		default:
			before.WriteString(p.literal)
		}
	}
	return before.String() + number + behind.String()
}

// places puts the digits of a number into the places of the format, from the
// right; those too many stand at the first place.
func (f cellFormat) places(n float64) string {
	exact, _ := new(big.Rat).SetString(strconv.FormatFloat(math.Abs(n), 'f', -1, 64)) // it was just written
	number := exact.FloatString(f.decimals)                                           // a half is rounded up, as spreadsheets do
	whole, decimals, _ := strings.Cut(number, ".")
	if f.grouped {
		whole = groupThousands(whole)
	}
	if whole == "0" {
		whole = ""
	}
	out, first := "", f.firstPlace()
	for i := len(f.pieces) - 1; i >= 0; i-- {
		p := f.pieces[i]
		switch {
		case p.place == 0:
			out = p.literal + out
		case p.place == '.' && f.decimals > 0:
			out = "." + decimals + out
		case p.place == '.':
		case i == first:
			out = filled(whole, p.place) + out
			whole = ""
		default:
			digit := ""
			if whole != "" {
				digit, whole = whole[len(whole)-1:], whole[:len(whole)-1]
			}
			if f.grouped && digit == "," {
				digit, whole = whole[len(whole)-1:]+digit, whole[:len(whole)-1]
			}
			out = filled(digit, p.place) + out
		}
	}
	if n < 0 {
		out = "-" + out
	}
	return out
}

// firstPlace is the index of the leftmost place for a digit, -1 for none.
func (f cellFormat) firstPlace() int {
	for i, p := range f.pieces {
		if p.place != 0 && p.place != '.' {
			return i
		}
	}
	return -1
}

// filled is the digits, or what an empty place shows.
func filled(digits string, place byte) string {
	switch {
	case digits != "":
		return digits
	case place == '0':
		return "0"
	}
	return ""
}

func groupThousands(whole string) string {
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	return whole
}

// dateShown is a day counted from the end of 1899 (ISO/IEC 29500-1, 18.17.4.1), for
// a person to see which cell is meant; the hour is left out.
func dateShown(days float64) string {
	const last = 2_958_465 // 31 December 9999
	if days < 1 || days > last {
		return strconv.FormatFloat(days, 'f', -1, 64)
	}
	return time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(days)).Format(time.DateOnly)
}
