package build

import (
	"math/big"
	"regexp"
	"strings"

	"stowright/store/measure"
)

// factors reads numbers with what stands behind them, and the signs between.
func (p *expressionParser) factors() ([]factor, error) {
	var all []factor
	rest := p.tokens
	for {
		f, left, err := p.factor(rest)
		if err != nil {
			return nil, err
		}
		all = append(all, f)
		if len(left) == 0 {
			return all, nil
		}
		if len(all) == maxFactors {
			return nil, p.fail(left[0].at, "more than %d numbers are multiplied", maxFactors)
		}
		rest = left[1:]
		if len(rest) == 0 {
			return nil, p.fail(left[0].at, "a number is missing behind %q", left[0].text)
		}
	}
}

// factor reads one number and what stands behind it, up to a sign of multiplication.
func (p *expressionParser) factor(tokens []token) (f factor, left []token, err error) {
	if tokens[0].kind != numberToken {
		return f, nil, p.fail(tokens[0].at, "a number is expected, and not %q", tokens[0].text)
	}
	f.at = tokens[0].at
	if f.value, tokens, err = p.number(tokens); err != nil {
		return f, nil, err
	}
	for len(tokens) > 0 && tokens[0].kind != timesToken {
		t := tokens[0]
		switch {
		case t.kind == numberToken:
			return f, nil, p.fail(t.at, "%s stands beside another number: multiply them by x, or give one", t.text)
		case t.kind == perToken:
			if len(tokens) < 2 || tokens[1].kind != wordToken {
				return f, nil, p.fail(t.at, "say for each of what: 2 per hinge")
			}
			f.per, f.perAt = singular(tokens[1].text), tokens[1].at
			tokens = tokens[2:]
			if len(tokens) > 0 && tokens[0].kind != timesToken {
				return f, nil, p.fail(tokens[0].at, "%q is not understood behind %q: multiply by x", tokens[0].text, "per "+f.per)
			}
			continue
		case t.text == "or" || t.text == "to" || t.text == "and":
			return f, nil, p.fail(t.at, "%q makes two quantities of it: give the one that is needed", t.text)
		case f.hasUnit || f.noun != "":
			return f, nil, p.fail(t.at, "%q is one word too many: give a number and a unit, or a number and what it counts", t.text)
		default:
			f.nounAt = t.at
			if u, err := measure.ParseUnit(t.text); err == nil {
				f.unit, f.hasUnit = u, true
			}
			f.noun = singular(t.text)
		}
		tokens = tokens[1:]
	}
	return f, tokens, nil
}

// grouped is a whole number with its thousands parted by commas.
var grouped = regexp.MustCompile(`^[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?$`)

// plain is a number without commas: whole, a decimal or a fraction.
var plain = regexp.MustCompile(`^([0-9]*\.?[0-9]+|[0-9]+/[0-9]+)$`)

// number reads "12", "1,680", "0.5", "1/2" and "1 1/2".
func (p *expressionParser) number(tokens []token) (*big.Rat, []token, error) {
	t := tokens[0]
	text := t.text
	switch {
	case grouped.MatchString(text):
		text = strings.ReplaceAll(text, ",", "")
	case strings.Contains(text, ","):
		return nil, nil, p.fail(t.at, "%s may be %s or %s: write the one that is meant without a comma", text, strings.Replace(text, ",", ".", 1), strings.ReplaceAll(text, ",", ""))
	}
	if !plain.MatchString(text) || len(text) > maxDigits {
		return nil, nil, p.fail(t.at, "%s is not a plain number", clip(t.text))
	}
	v, ok := new(big.Rat).SetString(text)
	if !ok {
		return nil, nil, p.fail(t.at, "%s is not a number", t.text)
	}
	tokens = tokens[1:]
	if len(tokens) > 0 && tokens[0].kind == numberToken && strings.Contains(tokens[0].text, "/") && v.IsInt() {
		part, ok := new(big.Rat).SetString(tokens[0].text)
		if ok && plain.MatchString(tokens[0].text) && len(tokens[0].text) <= maxDigits && part.Cmp(big.NewRat(1, 1)) < 0 {
			return v.Add(v, part), tokens[1:], nil
		}
	}
	return v, tokens, nil
}

// fits looks whether the factors say one thing together, and gives the unit of it.
func (p *expressionParser) fits(factors []factor) (measure.Unit, error) {
	first, unit := factors[0], p.unit
	if first.noun != "" && !first.hasUnit {
		return "", p.fail(first.nounAt, "%q is no unit: %s of the item, or %s of something else? Write the number alone, or what it is for: 2 per %s x 3", first.noun, trimmedInt(first.value), trimmedInt(first.value), first.noun)
	}
	given, givenAt := first.unit, first.nounAt
	pending, pendingAt := first.per, first.perAt
	for _, f := range factors[1:] {
		switch {
		case pending != "" && f.noun != "" && f.noun != pending:
			return "", p.fail(f.nounAt, "the number for each %s is multiplied by %s: how many %s are there?", pending, plural(f.noun), plural(pending))
		case pending == "" && f.hasUnit && isLength(f.unit):
			return "", p.fail(f.nounAt, "it may be pieces of that length, or that length in all: give the length in all, or order pieces cut to length as an item")
		case pending == "" && f.hasUnit && first.hasUnit:
			return "", p.fail(f.nounAt, "two units are multiplied: %s and %s", first.unit, f.unit)
		case pending == "" && f.hasUnit:
			given, givenAt = f.unit, f.nounAt
		case pending == "" && f.noun == "" && isLength(first.unit):
			return "", p.fail(f.at, "it may be pieces of that length, or that length in all: say what it is multiplied by, such as 2 sides")
		}
		pending, pendingAt = f.per, f.perAt
	}
	if pending != "" {
		return "", p.fail(pendingAt, "it does not say how many %s there are: 2 per %s x 3", plural(pending), pending)
	}
	switch {
	case given == "" && unit == "":
		return measure.Each, nil
	case given == "":
		return unit, nil
	case unit != "" && given != unit:
		return "", p.fail(givenAt, "it is in %s, and the item is kept in %s: nothing is converted", given, unit)
	}
	return given, nil
}

func trimmedInt(v *big.Rat) string {
	if v.IsInt() {
		return v.Num().String()
	}
	return v.RatString()
}

// singular is a word without the ending of a plural, so that "2 per rib x 7 ribs" and
// "per hinge" and "hinges" meet.
func singular(word string) string {
	switch {
	case strings.HasSuffix(word, "ies") && len(word) > 4:
		return strings.TrimSuffix(word, "ies") + "y"
	case strings.HasSuffix(word, "ches"), strings.HasSuffix(word, "xes"), strings.HasSuffix(word, "sses"):
		return strings.TrimSuffix(word, "es")
	case strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") && len(word) > 2:
		return strings.TrimSuffix(word, "s")
	}
	return word
}

func plural(word string) string {
	switch {
	case strings.HasSuffix(word, "ch"), strings.HasSuffix(word, "x"), strings.HasSuffix(word, "ss"):
		return word + "es"
	}
	return word + "s"
}
