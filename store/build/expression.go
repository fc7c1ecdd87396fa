package build

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"

	"stowright/store/measure"
)

// Expression is a quantity as plans print it, with what it comes to.
type Expression struct {
	Text     string           // as it was printed, spaces at its ends left out
	Kind     Kind             // Exact or AsRequired
	Quantity measure.Quantity // the zero Quantity where it is as required
}

// ExpressionError says where an expression is not understood, and why. An expression
// with two readings is one of those: the reason says which they are.
type ExpressionError struct {
	Text   string
	At     int // the character at which it fails, from 1
	Reason string
}

func (e *ExpressionError) Error() string {
	return fmt.Sprintf("quantity %q, at character %d: %s", clip(e.Text), e.At, e.Reason)
}

func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// Limits of what an expression may hold.
const (
	maxExpression = 120 // characters
	maxFactors    = 6
	maxDigits     = 12
)

// ParseExpression reads "12", "1,680", "64 in", "2 qt", "1/2 qt", "A/R", "as required",
// "10 x 2 sides", "2 per hinge x 3", "2/rib x 7 ribs per side x 2": numbers that are
// multiplied, each with a unit or with what it counts. Unit is the unit of the column
// or the item, "" for none; one that the text gives has to be the same. It is an
// *ExpressionError, or exact: nothing is rounded and nothing is guessed.
func ParseExpression(text string, unit measure.Unit) (Expression, error) {
	trimmed := strings.TrimSpace(text)
	if isAsRequired(trimmed) {
		return Expression{Text: trimmed, Kind: AsRequired}, nil
	}
	p := &expressionParser{text: text, unit: unit}
	if err := p.split(); err != nil {
		return Expression{}, err
	}
	quantity, err := p.product()
	if err != nil {
		return Expression{}, err
	}
	return Expression{Text: trimmed, Quantity: quantity}, nil
}

// isAsRequired reports whether a text is one of the ways to print "as required".
func isAsRequired(text string) bool {
	switch strings.Join(strings.Fields(strings.ToLower(strings.TrimSuffix(text, "."))), " ") {
	case "a/r", "ar", "a.r", "as required", "as req'd", "as reqd", "as req", "as needed":
		return true
	}
	return false
}

// token is a part of an expression: a number, a word or a sign.
type token struct {
	text string
	at   int // character, from 1
	kind tokenKind
}

type tokenKind int

const (
	numberToken tokenKind = iota
	wordToken
	timesToken
	perToken
)

type expressionParser struct {
	text   string
	unit   measure.Unit
	tokens []token
}

func (p *expressionParser) fail(at int, format string, args ...any) error {
	return &ExpressionError{Text: p.text, At: at, Reason: fmt.Sprintf(format, args...)}
}

// split cuts the text into tokens.
func (p *expressionParser) split() error {
	if !utf8.ValidString(p.text) {
		return p.fail(1, "it is no text")
	}
	runes := []rune(p.text)
	if len(runes) > maxExpression {
		return p.fail(maxExpression+1, "it is longer than %d characters", maxExpression)
	}
	for i := 0; i < len(runes); {
		r, start := runes[i], i
		switch {
		case unicode.IsSpace(r):
			i++
			continue
		case isDigit(r) || r == '.' && i+1 < len(runes) && isDigit(runes[i+1]):
			for i < len(runes) && (isDigit(runes[i]) || numberSign(runes, i)) {
				i++
			}
			p.tokens = append(p.tokens, token{string(runes[start:i]), start + 1, numberToken})
		case r == '×' || r == '*' || r == 'x' || r == 'X':
			// "x" stands alone or between numbers; in "x-ray" it is no sign.
			if unicode.IsLetter(r) && i+1 < len(runes) && unicode.IsLetter(runes[i+1]) {
				return p.fail(start+1, "%q is neither a number nor a sign", string(runes[start:min(len(runes), start+8)]))
			}
			i++
			p.tokens = append(p.tokens, token{string(r), start + 1, timesToken})
		case r == '/':
			i++
			p.tokens = append(p.tokens, token{"/", start + 1, perToken})
		case unicode.IsLetter(r) || r == '"' || r == '\'':
			i = p.word(runes, i)
		case (r == '-' || r == '–') && i > 0:
			return p.fail(start+1, "a dash between numbers may be a range or part of a part number: give one number")
		case r == '+' || r == '(' || r == ',' || r == ';':
			return p.fail(start+1, "%q makes two quantities of it: give the one that is needed", string(r))
		default:
			return p.fail(start+1, "%q is not understood: give numbers multiplied by x, such as 10 x 2 sides", string(r))
		}
	}
	if len(p.tokens) == 0 {
		return p.fail(1, "nothing is given: say how many, or A/R")
	}
	return nil
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// numberSign reports whether the sign at i belongs to a number: a point, a comma or a
// stroke before a digit.
func numberSign(runes []rune, i int) bool {
	return strings.ContainsRune(".,/", runes[i]) && i+1 < len(runes) && isDigit(runes[i+1])
}

// word takes a word in: "per" and "each" before another word are the sign "per".
func (p *expressionParser) word(runes []rune, i int) int {
	start := i
	for i < len(runes) && (unicode.IsLetter(runes[i]) || strings.ContainsRune("'\".", runes[i])) {
		i++
	}
	t := token{strings.TrimSuffix(strings.ToLower(string(runes[start:i])), "."), start + 1, wordToken}
	switch {
	case t.text == "per":
		t.kind = perToken
	case t.text == "fl" || t.text == "fluid": // of two words
		p.tokens = append(p.tokens, t)
		return i
	case t.text == "each" && p.wordFollows(runes, i):
		t.kind = perToken
	}
	if last := len(p.tokens) - 1; last >= 0 && (p.tokens[last].text == "fl" || p.tokens[last].text == "fluid") && p.tokens[last].kind == wordToken {
		p.tokens[last].text += " " + t.text
		return i
	}
	p.tokens = append(p.tokens, t)
	return i
}

// wordFollows reports whether the next thing is a word, and no sign of multiplication.
func (p *expressionParser) wordFollows(runes []rune, i int) bool {
	for i < len(runes) && unicode.IsSpace(runes[i]) {
		i++
	}
	if i >= len(runes) || !unicode.IsLetter(runes[i]) {
		return false
	}
	word := strings.ToLower(string(runes[i:]))
	for k, r := range word {
		if !unicode.IsLetter(r) {
			word = word[:k]
			break
		}
	}
	return word != "x" && word != "per" && word != "each"
}

// factor is a number with what stands behind it.
type factor struct {
	at      int
	value   *big.Rat
	unit    measure.Unit // "" for none
	noun    string       // what it counts: "side"; "" for none
	nounAt  int
	per     string // what it is for each of: "hinge"; "" for none
	perAt   int
	hasUnit bool
}

// product multiplies the factors.
func (p *expressionParser) product() (measure.Quantity, error) {
	factors, err := p.factors()
	if err != nil {
		return measure.Quantity{}, err
	}
	unit, err := p.fits(factors)
	if err != nil {
		return measure.Quantity{}, err
	}
	value := big.NewRat(1, 1)
	for _, f := range factors {
		value.Mul(value, f.value)
	}
	micro := new(big.Rat).Mul(value, big.NewRat(1_000_000, 1))
	switch {
	case value.Sign() == 0:
		return measure.Quantity{}, p.fail(factors[0].at, "it comes to nothing: leave the line out, or give a number")
	case !micro.IsInt():
		return measure.Quantity{}, p.fail(factors[0].at, "it comes to %s, which is no decimal of six places", value.RatString())
	case value.Cmp(big.NewRat(measure.MaxQuantity, 1)) > 0:
		return measure.Quantity{}, p.fail(factors[0].at, "it comes to more than %s", measure.Pieces(measure.MaxQuantity).Number())
	case !value.IsInt() && countsWhole(unit):
		return measure.Quantity{}, p.fail(factors[0].at, "it comes to %s, and what is counted is whole", trimmed(value))
	}
	return measure.Quantity{Micro: micro.Num().Int64(), Unit: unit}, nil
}

func trimmed(v *big.Rat) string { return strings.TrimRight(v.FloatString(6), "0") }

func countsWhole(u measure.Unit) bool {
	switch u {
	case measure.Each, measure.Set, measure.Pair, measure.Roll, measure.Sheet:
		return true
	}
	return false
}

func isLength(u measure.Unit) bool {
	switch u {
	case measure.Feet, measure.InchUnit, measure.Yard, measure.Metre, measure.Millimeter:
		return true
	}
	return false
}
