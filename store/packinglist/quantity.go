package packinglist

import (
	"regexp"
	"strings"

	"stowright/store/measure"
)

var (
	// thousands is a number grouped by commas: 1,680 or 12,500.25.
	thousands = regexp.MustCompile(`^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$`)
	// decimalComma is a number with one comma and no point.
	decimalComma = regexp.MustCompile(`^\d+,\d+$`)
	// withUnit is a number with its unit behind it: "12 ft", "2qt".
	withUnit = regexp.MustCompile(`^([\d][\d.,/ ]*?)\s*([A-Za-z"'][A-Za-z. "']*)$`)
)

// quantity reads quantity and unit of a row, or adds the problem with them.
func (rd *reader) quantity(r Row) measure.Quantity {
	text, unitText := rd.text(r, Quantity), rd.text(r, Unit)
	stored, hasStored := r.number(rd.cols.at[Quantity])
	if isDate(text, stored) {
		rd.add(r, Quantity, "the quantity %q is a date; format the column as a number and type the quantity again", clip(text))
		return measure.Quantity{}
	}
	if hasStored {
		text = stored // what the cell holds, not what its format shows of it
	}
	if text == "" {
		rd.add(r, Quantity, "the line has no quantity; write how many the list says, such as 24 or 0.30")
		return measure.Quantity{}
	}
	if m := withUnit.FindStringSubmatch(text); m != nil && unitText == "" {
		text, unitText = m[1], m[2]
	}
	unit, err := measure.ParseUnit(unitText)
	if err != nil {
		rd.add(r, Unit, "the %v; write one of these", err)
		return measure.Quantity{}
	}
	plain, ok := rd.plainNumber(text)
	if !ok {
		rd.add(r, Quantity, "the quantity %q may be read in two ways; write it without a thousands separator and with a decimal point", clip(text))
		return measure.Quantity{}
	}
	q, err := measure.ParseQuantity(plain, unit)
	switch {
	case err != nil:
		rd.add(r, Quantity, "the %v; write it like 24, 0.30 or 1/2", err)
	case q.Sign() <= 0:
		rd.add(r, Quantity, "the quantity is %s; write how many are sent or owed, or delete the row", clip(text))
	}
	return q
}

// plainNumber takes the commas out of a number. Between three digits they group
// thousands, except that a list with columns parted by semicolons comes from
// where the comma is the decimal mark, so there such a number is ambiguous.
// Any other single comma is a decimal mark.
func (rd *reader) plainNumber(s string) (plain string, ok bool) {
	switch {
	case !strings.Contains(s, ","):
		return s, true
	case thousands.MatchString(s):
		return strings.ReplaceAll(s, ",", ""), !rd.table.semicolons
	case decimalComma.MatchString(s):
		return strings.Replace(s, ",", ".", 1), true
	}
	return s, true
}
