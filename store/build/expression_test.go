package build

import (
	"errors"
	"strings"
	"testing"

	"stowright/store/measure"
)

func TestParseExpression(t *testing.T) {
	for _, row := range []struct {
		text string
		unit measure.Unit
		want string // "" for as required
	}{
		{"12", "", "12 ea"},
		{" 1,680 ", "", "1,680 ea"},
		{"10 x 2 sides", "", "20 ea"},
		{"20 x 2 sides", "", "40 ea"},
		{"10x2", "", "20 ea"},
		{"10 × 2 sides", "", "20 ea"},
		{"10 * 2", "", "20 ea"},
		{"2 per hinge x 3", "", "6 ea"},
		{"2 per hinge x 3 hinges", "", "6 ea"},
		{"2/hinge x 3", "", "6 ea"},
		{"2 ea per rib x 14 ribs", "", "28 ea"},
		{"10 each side x 2", "", "20 ea"},
		{"10 each x 2 sides", "", "20 ea"},
		{"10 each", "", "10 ea"},
		{"2 per hinge x 3 hinges per side x 2 sides", "", "12 ea"},
		{"2 per hinge x 3 per side x 2", "", "12 ea"},
		{"2 per bush x 3 bushes", "", ""},
		{"4 per assembly x 2 assemblies", "", "8 ea"},
		{"1 per box x 3 boxes", "", "3 ea"},
		{"64 in", "", "64 in"},
		{"64 in x 2 sides", "", "128 in"},
		{"64 in per side x 2", measure.InchUnit, "128 in"},
		{`64"`, "", "64 in"},
		{"12", measure.InchUnit, "12 in"},
		{"2 qt", "", "2 qt"},
		{"1/2 qt", "", "0.5 qt"},
		{"1 1/2 qt", "", "1.5 qt"},
		{"1/3 qt x 3 tanks", "", "1 qt"},
		{"2 x 1 qt", "", "2 qt"},
		{".5 lb", measure.Pound, "0.5 lb"},
		{"4 fl oz", "", "4 fl oz"},
		{"0.25 x 4", "", "1 ea"},
		{"1 pair", "", "1 pair"},
		{"2 per set x 3 sets", "", "6 ea"},
		{"A/R", "", ""},
		{"a/r", measure.Quart, ""},
		{"AR", "", ""},
		{"as required", "", ""},
		{"As  Req'd.", "", ""},
	} {
		e, err := ParseExpression(row.text, row.unit)
		if row.text == "2 per bush x 3 bushes" { // an ending that is not known is asked about, not guessed
			if err == nil {
				t.Errorf("%q: %s", row.text, e.Quantity)
			}
			continue
		}
		got := ""
		if e.Kind == Exact {
			got = e.Quantity.String()
		}
		if err != nil || got != row.want || e.Text != strings.TrimSpace(row.text) {
			t.Errorf("%q: %q, %q, %v; want %q", row.text, got, e.Text, err, row.want)
		}
	}
}

// What has two readings, or none, is an error that says where and which.
func TestExpressionErrors(t *testing.T) {
	for _, row := range []struct {
		text string
		unit measure.Unit
		at   int
		says string
	}{
		{"", "", 1, "nothing is given"},
		{"  ", "", 1, "nothing is given"},
		{"0,30", "", 1, "0,30 may be 0.30 or 030"},
		{"1,68 lb", "", 1, "1,68 may be 1.68 or 168"},
		{"10-12", "", 3, "a range or part of a part number"},
		{"2 or 3", "", 3, "makes two quantities"},
		{"12 (6 per side)", "", 4, "makes two quantities"},
		{"4 + 1", "", 3, "makes two quantities"},
		{"10 per side, 2 sides", "", 12, "makes two quantities"},
		{"2 per hinge", "", 7, "how many hinges there are"},
		{"2/hinge", "", 3, "how many hinges there are"},
		{"10 each side", "", 9, "how many sides there are"},
		{"2 per hinge x 3 sides", "", 17, "how many hinges are there?"},
		{"2 sides", "", 3, "2 of the item, or 2 of something else?"},
		{"3 hinges x 2 sides", "", 3, `"hinge" is no unit`},
		{"2 x 64 in", "", 8, "pieces of that length, or that length in all"},
		{"64 in x 2", "", 9, "pieces of that length, or that length in all"},
		{"2 qt x 3 oz", "", 10, "two units are multiplied: qt and oz"},
		{"64 in", measure.Each, 4, "it is in in, and the item is kept in ea"},
		{"10 2", "", 4, "stands beside another number"},
		{"10 3/2", "", 4, "stands beside another number"},
		{"10 x", "", 4, "a number is missing"},
		{"x 10", "", 1, "a number is expected"},
		{"10 x x 2", "", 6, "a number is expected"},
		{"about 12", "", 1, "a number is expected"},
		{"2 per", "", 3, "for each of what"},
		{"2 per 3", "", 3, "for each of what"},
		{"2 per hinge each x 2", "", 13, "not understood behind"},
		{"12 ea bolts", "", 7, "one word too many"},
		{"1/2", "", 1, "it comes to 0.5, and what is counted is whole"},
		{"1/3 qt", "", 1, "no decimal of six places"},
		{"1/0", "", 1, "not a number"},
		{"0", "", 1, "comes to nothing"},
		{"0 x 4", "", 1, "comes to nothing"},
		{"99999999 x 99", "", 1, "comes to more than 100,000,000"},
		{"9999999999999", "", 1, "not a plain number"},
		{"1.2.3", "", 1, "not a plain number"},
		{"-4", "", 1, "is not understood"},
		{"4 x -2", "", 5, "a range or part of a part number"},
		{"2x3x4x5x6x7x8", "", 12, "more than 6 numbers"},
		{"12?", "", 3, "is not understood"},
		{"4 xray", "", 3, "neither a number nor a sign"},
		{strings.Repeat("1", 121), "", 121, "longer than 120"},
		{"\xff", "", 1, "no text"},
	} {
		e, err := ParseExpression(row.text, row.unit)
		var x *ExpressionError
		if !errors.As(err, &x) {
			t.Errorf("%q is read as %s", row.text, e.Quantity)
			continue
		}
		if x.At != row.at || !strings.Contains(x.Reason, row.says) {
			t.Errorf("%q: at %d %q; want at %d %q", row.text, x.At, x.Reason, row.at, row.says)
		}
	}
}

// Whatever is read is kept as it was, comes to the same again, and is more than nothing;
// whatever is not says where.
func FuzzParseExpression(f *testing.F) {
	for _, s := range []string{"12", "10 x 2 sides", "2 per hinge x 3", "A/R", "64 in", "2 qt", "1 1/2 qt x 2 tanks", "1,680", "0,3", "4 fl oz", "10 each side x 2", "2 x 64 in", "1/3 x 3"} {
		f.Add(s, "")
		f.Add(s, "in")
	}
	f.Fuzz(func(t *testing.T, text, unit string) {
		e, err := ParseExpression(text, measure.Unit(unit))
		var x *ExpressionError
		if err != nil {
			if !errors.As(err, &x) || x.At < 1 || x.At > len([]rune(text))+1 || x.Reason == "" {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		again, err := ParseExpression(e.Text, measure.Unit(unit))
		if err != nil || again != e {
			t.Fatalf("%q is %+v, and read again %+v, %v", text, e, again, err)
		}
		if e.Kind == AsRequired {
			return
		}
		if e.Quantity.Sign() <= 0 {
			t.Fatalf("%q comes to %s", text, e.Quantity)
		}
		figure, err := ParseExpression(e.Quantity.Plain()+" "+string(e.Quantity.Unit), "")
		if known, e2 := measure.ParseUnit(string(e.Quantity.Unit)); e2 == nil && known == e.Quantity.Unit && (err != nil || figure.Quantity != e.Quantity) {
			t.Fatalf("%q comes to %s, which is read as %s, %v", text, e.Quantity, figure.Quantity, err)
		}
	})
}
