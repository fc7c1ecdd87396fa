// Package region knows how figures and days are written where a person lives, and reads what is
// typed accordingly. What can be read in two ways is asked, never guessed.
//
// Only what is typed, and what a field proposes to be typed on, follows the region. What is shown
// does not, on purpose: it stands beside part numbers and dash numbers (AN426AD3-3.5), beside
// published inches (.656) and in sentences that the journal keeps for ever, and a screen with two
// decimal marks would be read wrong. A day is shown with the name of its month, which nobody can
// misread. Papers, exports, tables and labels are the same everywhere.
package region

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// Region is how figures and days are written somewhere. Its zero value is nowhere in particular:
// the decimal mark is the point, and a day whose month could be either figure is asked.
type Region struct {
	comma bool  // is the decimal mark, and not the point
	order order // of a day in figures
}

// order is which figure of a day comes first.
type order int

const (
	unknown order = iota
	dayFirst
	monthFirst
)

// ErrTwoReadings is in the chain of what is refused because it can be read in two ways.
var ErrTwoReadings = errors.New("two readings")

// Of is the region of a locale for figures and of one for days, as the system names them:
// "de_DE.UTF-8", "en-US". What is no locale, as "C", is nowhere in particular.
func Of(figures, days string) Region {
	var r Region
	if tag, ok := tagOf(figures); ok {
		r.comma = decimalComma(tag)
	}
	if tag, ok := tagOf(days); ok {
		r.order = orderIn(tag)
	}
	return r
}

// tagOf is the language and the region that a locale names. One without a region names neither mark
// nor order: Spanish has both decimal marks.
func tagOf(locale string) (language.Tag, bool) {
	plain, _, _ := strings.Cut(locale, ".")
	plain, _, _ = strings.Cut(plain, "@")
	tag, err := language.Parse(plain)
	if _, confidence := tag.Region(); err != nil || confidence != language.Exact {
		return tag, false
	}
	return tag, true
}

// decimalComma reports whether the decimal mark is the comma, as the Unicode locale data has it.
func decimalComma(tag language.Tag) bool {
	latin, err := tag.SetTypeForKey("nu", "latn") // in figures 0 to 9
	return err == nil && strings.Contains(message.NewPrinter(latin).Sprint(number.Decimal(0.5)), ",")
}

// monthsFirst are the regions that write the month first, and daysFirst those that write the day
// first, by the short dates of the Unicode locale data. In any other, as in Canada, both are
// seen, or the year comes first: there it is asked.
const (
	monthsFirst = "US PH"
	daysFirst   = "AR AT AU BE BG BR CH CL CO CZ DE DK EE ES FI FR GB GR HR IE IL IN IS IT LU LV MX NL NO NZ PE PL PT RO RS RU SG SI SK TR UA"
)

func orderIn(tag language.Tag) order {
	code, _ := tag.Region()
	switch {
	case strings.Contains(monthsFirst, code.String()):
		return monthFirst
	case strings.Contains(daysFirst, code.String()):
		return dayFirst
	default:
		return unknown
	}
}

// Figure is a typed figure with a point for its decimal mark and nothing between thousands, as
// [measure.ParseQuantity] reads it; a text of another shape is returned as it is. Fails with
// [ErrTwoReadings] where the point can be either mark.
func (r Region) Figure(typed string) (string, error) {
	text := strings.TrimSpace(typed)
	if parted := apart.Replace(text); grouped(parted, " ") {
		text = strings.ReplaceAll(parted, " ", "")
	}
	if !r.comma {
		if whole, _, _ := strings.Cut(text, "."); grouped(whole, ",") {
			text = strings.ReplaceAll(text, ",", "")
		}
		return text, nil
	}
	whole, behind, comma := strings.Cut(text, ",")
	switch {
	case comma && figures(behind) && (figures(whole) || grouped(whole, ".")):
		return strings.ReplaceAll(whole, ".", "") + "." + behind, nil
	case comma || !grouped(text, "."):
		return text, nil
	case strings.Count(text, ".") == 1: // 1.500 may be copied from a paper, or from this screen
		return "", fmt.Errorf("%w: %s can be %s or %s", ErrTwoReadings, phrase.Quote(typed), strings.ReplaceAll(text, ".", ""), strings.ReplaceAll(text, ".", ","))
	default:
		return strings.ReplaceAll(text, ".", ""), nil
	}
}

// apart makes a space of what parts thousands and does nothing else.
var apart = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "'", " ", "\u2019", " ")

// grouped reports whether a figure has its thousands parted by that mark. What follows the last
// three digits may be a decimal part.
func grouped(text, mark string) bool {
	parts := strings.Split(text, mark)
	for i, p := range parts {
		if mark == " " && i == len(parts)-1 && len(p) > 3 && strings.ContainsAny(p[3:4], ".,") {
			p = p[:3]
		}
		if !figures(p) || i > 0 && len(p) != 3 || i == 0 && (p[0] == '0' || len(p) > 3) {
			return false
		}
	}
	return len(parts) > 1
}

// figures reports whether a text is of digits alone.
func figures(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// Length is a typed length with a point for its decimal mark. Nobody parts the thousands of
// inches or millimetres, and plans write inches with a point everywhere: 1.250 is an inch and a
// quarter.
func (r Region) Length(typed string) string {
	if r.comma && strings.Count(typed, ",") == 1 && !strings.Contains(typed, ".") {
		return strings.ReplaceAll(typed, ",", ".")
	}
	return typed
}

// Typed is a plain figure, with a point, as a person of the region would type it: what a field
// proposes.
func (r Region) Typed(plain string) string {
	if r.comma {
		return strings.ReplaceAll(plain, ".", ",")
	}
	return plain
}

// Day reads a day as [measure.ParseDate] does, and one of which both figures can be the month, as
// 3/4/2026, in the order of the region. Where that is not known it fails with
// [measure.ErrTwoDates].
func (r Region) Day(typed string) (measure.Date, error) {
	day, err := measure.ParseDate(typed)
	layout := map[order]string{dayFirst: "2/1/2006", monthFirst: "1/2/2006"}[r.order]
	if !errors.Is(err, measure.ErrTwoDates) || layout == "" {
		return day, err
	}
	t, err := time.Parse(layout, strings.TrimSpace(typed))
	if err != nil {
		return measure.Date{}, err
	}
	return measure.DateOf(t), nil
}
