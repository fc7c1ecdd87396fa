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

// amounts reads what was sent and what is owed of a row, zero for none, or adds
// the problem with them. There is some of the one or of the other.
func (rd *reader) amounts(r Row) (listed, owed measure.Quantity) {
	listed, ok := rd.amount(r, Quantity)
	if !ok {
		return listed, owed
	}
	owed, ok = rd.amount(r, Owed)
	switch {
	case !ok || !listed.IsZero() || !owed.IsZero():
	case rd.text(r, Quantity) == "":
		rd.add(r, Quantity, "the line has no quantity; write how many the list says, such as 24 or 0.30")
	default:
		rd.add(r, Quantity, "the quantity is %s; write how many are sent or owed, or delete the row", clip(rd.text(r, Quantity)))
	}
	return listed, owed
}

// amount reads one quantity with its unit; an empty cell is zero.
func (rd *reader) amount(r Row, f Field) (q measure.Quantity, ok bool) {
	text, unitText := rd.text(r, f), rd.text(r, Unit)
	if text == "" {
		return q, true
	}
	stored, hasStored := r.number(rd.cols.at[f])
	if isDate(text, stored) {
		rd.add(r, f, "the quantity %q is a date; format the column as a number and type the quantity again", clip(text))
		return q, false
	}
	if hasStored {
		text = stored // what the cell holds, not what its format shows of it
	}
	if m := withUnit.FindStringSubmatch(text); m != nil && unitText == "" {
		text, unitText = m[1], m[2]
	}
	unit, err := measure.ParseUnit(unitText)
	if err != nil {
		rd.add(r, Unit, "the %v; write one of these", err)
		return q, false
	}
	plain, ok := rd.plainNumber(text)
	if !ok {
		rd.add(r, f, "the quantity %q may be read in two ways; write it without a thousands separator and with a decimal point", clip(text))
		return q, false
	}
	if q, err = measure.ParseQuantity(plain, unit); err != nil {
		rd.add(r, f, "the %v; write it like 24, 0.30 or 1/2", err)
		return q, false
	}
	return q, true
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
