package packinglist

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"stowright/store/measure"
)

var (
	// withUnit is a number with its unit behind it: "12 ft", "2qt".
	withUnit = regexp.MustCompile(`^(\d[\d.,/ ]*?|[.,]\d+)\s*([A-Za-z"'][A-Za-z. "']*)$`)
	// ofLength is so many pieces of a length or so many packs: "2 @ 36 IN", "2 x 12".
	ofLength = regexp.MustCompile(`^(\d{1,6})\s*(@|x|X|×)\s*(\d[\d.,/ ]*?)\s*([A-Za-z"'][A-Za-z. "']*)?$`)
	// slashed is a fraction, or so many of so many: "12/24", "12 of 24".
	slashed = regexp.MustCompile(`^(\d{1,9})\s*(?:/|(?i:of))\s*(\d{1,9})$`)
	// asRequired says that no quantity is laid down (common practice of parts lists).
	asRequired = regexp.MustCompile(`^(?i:a\s*/\s*r|as req(uired|['’]?d)?\.?)$`)
)

// amount is a quantity of a line.
type amount struct {
	measure.Quantity
	note    string // what the quantity alone does not say
	leftOut bool   // the line is left out: the list says no quantity
	rest    int64  // pieces that are owed beside it
}

// amounts reads what was sent and what is owed of a row, zero for none, or adds
// the problem with them. There is some of the one or of the other.
func (rd *sheetReader) amounts(r Row) (listed, owed amount) {
	listed, ok := rd.amount(r, Quantity)
	if !ok || listed.leftOut {
		return listed, owed
	}
	owed, ok = rd.amount(r, Owed)
	if listed.rest > 0 && owed.IsZero() {
		owed.Quantity = measure.Of(listed.rest, listed.Unit)
	}
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
func (rd *sheetReader) amount(r Row, f Field) (a amount, ok bool) {
	text := rd.text(r, f)
	if text == "" {
		return a, true
	}
	rd.headingDoubt(r, f)
	v := r.values[rd.cols.at[f]]
	switch {
	case v.kind == holdsDate || isDate(text):
		rd.add(r, f, "the quantity %q is a date; format the column as a number and type the quantity again", clip(text))
	case v.kind == holdsPercent || v.kind == holdsMoney || v.kind == holdsOdd:
		rd.add(r, f, "the quantity %q is a number in a format that may show something else; format the column as a number", clip(text))
	case rd.covered(r, f):
		rd.add(r, f, "the quantity is one cell over several rows; unmerge it and write the quantity into each row")
	case asRequired.MatchString(text):
		return rd.required(r, f)
	case v.kind != holdsText:
		return rd.measured(r, f, v.number, formatUnit(text))
	default:
		return rd.written(r, f, text)
	}
	return a, false
}

// formatUnit is what the format of a cell shows around its number.
func formatUnit(shown string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || strings.ContainsRune(".,/-+", r) {
			return ' '
		}
		return r
	}, shown))
}

// required asks what to do with a line without a quantity.
func (rd *sheetReader) required(r Row, f Field) (amount, bool) {
	unit, ok := rd.unit(r, f, "")
	answer := rd.ask(Question{
		ID:       "as-required",
		Text:     "what is a line whose quantity is " + rd.text(r, f) + ", as required?",
		Readings: []Answer{{"one", "one of it, to be counted when it is unpacked"}, {"leave-out", "no line: leave it out, and say so"}},
	}, r, rd.cols.at[f])
	return amount{Quantity: measure.Of(1, unit), leftOut: answer == "leave-out", note: "(as required)"}, ok
}

// written reads a quantity that is text.
func (rd *sheetReader) written(r Row, f Field, text string) (amount, bool) {
	if m := ofLength.FindStringSubmatch(text); m != nil {
		return rd.lengths(r, f, m)
	}
	unit := ""
	if m := withUnit.FindStringSubmatch(text); m != nil {
		text, unit = m[1], m[2]
	}
	if m := slashed.FindStringSubmatch(text); m != nil && rd.slashes.doubtful || m != nil && !strings.Contains(text, "/") {
		return rd.partly(r, f, m, unit)
	}
	return rd.measured(r, f, rd.plainNumber(r, f, text, unit), unit)
}

// measured is a plain number with a unit.
func (rd *sheetReader) measured(r Row, f Field, plain, unitText string) (a amount, ok bool) {
	unit, ok := rd.unit(r, f, unitText)
	if !ok {
		return a, false
	}
	times := int64(1)
	if unit == thousand {
		unit, times = measure.Each, 1000
	}
	q, err := measure.ParseQuantity(plain, unit)
	if err != nil {
		rd.add(r, f, "the %v; write it like 24, or with its unit where it is weighed or measured", err)
		return a, false
	}
	if q.Micro *= times; q.Micro > measure.MaxQuantity*1_000_000 {
		rd.add(r, f, "the quantity %s is too large", clip(plain))
		return a, false
	}
	a.Quantity = q
	return a, true
}

// thousand is the unit M of pieces.
const thousand measure.Unit = "M"

// unit is the unit of a quantity: the one beside the number, or that in its
// column, which must agree.
func (rd *sheetReader) unit(r Row, f Field, beside string) (measure.Unit, bool) {
	column, says := rd.text(r, Unit), "the column of units"
	at := rd.cols.at[Unit]
	if heading := rd.headingUnit(f); heading != "" {
		if column != "" && beside == "" {
			beside = column
		}
		column, says, at = heading, "the heading", rd.cols.at[f]
	}
	text := beside
	if text == "" {
		text = column
	}
	if beside != "" {
		at = rd.cols.at[f]
	}
	if text == "M" {
		if rd.ask(Question{
			ID:       "unit-m",
			Text:     "is the unit M a metre or a thousand?",
			Readings: []Answer{{"metre", "a metre"}, {"thousand", "a thousand pieces"}},
		}, r, at) == "thousand" {
			return thousand, true
		}
	}
	unit, err := measure.ParseUnit(text)
	if err != nil {
		rd.problems = append(rd.problems, *rd.table.problem(r.Number, at, "the %v; write one of these", err))
		return "", false
	}
	if beside != "" && column != "" {
		if other, err := measure.ParseUnit(column); err != nil || other != unit {
			rd.add(r, f, "the quantity is in %s and %s says %s; write one of them", clip(beside), says, clip(column))
			return "", false
		}
	}
	return unit, true
}

// lengths reads "2 @ 36 IN".
func (rd *sheetReader) lengths(r Row, f Field, m []string) (amount, bool) {
	unit, ok := rd.unit(r, f, m[4])
	if !ok {
		return amount{}, false
	}
	each, err := measure.ParseQuantity(rd.plainNumber(r, f, m[3], m[4]), unit)
	count, countErr := strconv.ParseInt(m[1], 10, 64)
	if err != nil || countErr != nil || count < 1 || each.Micro > measure.MaxQuantity*1_000_000/count {
		rd.add(r, f, "the quantity %q is not so many of so much; write it as one number", clip(rd.text(r, f)))
		return amount{}, false
	}
	all := measure.Quantity{Micro: each.Micro * count, Unit: unit}
	id := "times"
	if !unit.Whole() {
		id = "times-length"
	}
	answer := rd.ask(Question{
		ID:   id,
		Text: fmt.Sprintf("what is %q?", clip(rd.text(r, f))),
		Readings: []Answer{
			{"total", fmt.Sprintf("%s together; the words stay beside the description", all)},
			{"pieces", fmt.Sprintf("%d pieces; the words stay beside the description", count)},
		},
	}, r, rd.cols.at[f])
	a := amount{Quantity: all, note: "(" + rd.text(r, f) + ")"}
	if answer == "pieces" {
		a.Quantity = measure.Pieces(count)
	}
	return a, true
}

// slashes is what the fractions of a column are like as a whole.
type slashes struct{ doubtful bool }

// see looks at a text: one fraction that may be so many of so many puts all of
// them in doubt. A fraction in lowest terms, of a unit that is measured, with a
// denominator of a ruler or a measuring cup, is none.
func (s *slashes) see(text, unit string) {
	if m := withUnit.FindStringSubmatch(text); m != nil {
		text, unit = m[1], m[2]
	}
	m := slashed.FindStringSubmatch(text)
	if m == nil {
		return
	}
	above, _ := strconv.Atoi(m[1]) // digits, by slashed
	below, _ := strconv.Atoi(m[2])
	u, err := measure.ParseUnit(unit)
	plain := above > 0 && above < below && below <= 64 && below&(below-1) == 0 && above%2 == 1
	if !plain || err != nil || u.Whole() {
		s.doubtful = true
	}
}

// partly reads "12/24": so many of so many, or a fraction.
func (rd *sheetReader) partly(r Row, f Field, m []string, unitText string) (amount, bool) {
	unit, ok := rd.unit(r, f, unitText)
	if !ok {
		return amount{}, false
	}
	first, _ := strconv.ParseInt(m[1], 10, 64) // digits, by slashed
	second, _ := strconv.ParseInt(m[2], 10, 64)
	q := Question{
		ID:   "fraction",
		Text: fmt.Sprintf("is %q so many of so many, or a fraction?", clip(rd.text(r, f))),
		Readings: []Answer{
			{"sent", fmt.Sprintf("%d are sent of %d that were ordered", first, second)},
			{"sent-and-owed", "the same, and the rest is owed"},
			{"ordered", fmt.Sprintf("%d are sent", second)},
			{"fraction", "it is a fraction, as of a pound"},
		},
	}
	switch rd.ask(q, r, rd.cols.at[f]) {
	case "fraction":
		return rd.measured(r, f, m[1]+"/"+m[2], unitText)
	case "ordered":
		first = second
	case "sent-and-owed":
		if first > second {
			rd.add(r, f, "the quantity %q has more sent than ordered; write how many are sent", clip(rd.text(r, f)))
			return amount{}, false
		}
		return amount{Quantity: measure.Of(first, unit), rest: second - first}, true
	}
	return amount{Quantity: measure.Of(first, unit)}, true
}

// marks is what the numbers of a column say of the decimal mark.
type marks struct{ point, comma bool }

var (
	pointDecimal = regexp.MustCompile(`^(\d*\.(\d{1,2}|\d{4,})|0\d*\.\d+|\d{4,}\.\d+|\d{1,3}(,\d{3})+\.\d+|\d{1,3}(,\d{3}){2,})$`)
	commaDecimal = regexp.MustCompile(`^(\d*,(\d{1,2}|\d{4,})|0\d*,\d+|\d{4,},\d+|\d{1,3}(\.\d{3})+,\d+|\d{1,3}(\.\d{3}){2,})$`)
	// eitherMark is a number whose mark may part thousands or decimals.
	eitherMark = regexp.MustCompile(`^[1-9]\d{0,2}[.,]\d{3}$`)
)

// see looks at a text: most numbers can be read by one decimal mark only.
func (s *marks) see(text string) {
	if m := withUnit.FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	s.point = s.point || pointDecimal.MatchString(text)
	s.comma = s.comma || commaDecimal.MatchString(text)
}

// plainNumber takes the marks out of a number, so that a point parts decimals.
// Where the rest of the column does not tell which mark does, it is asked.
func (rd *sheetReader) plainNumber(r Row, f Field, s, unitText string) string {
	switch {
	case !strings.ContainsAny(s, ".,"):
		return s
	case pointDecimal.MatchString(s):
		return strings.ReplaceAll(s, ",", "")
	case commaDecimal.MatchString(s):
		return strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
	case !eitherMark.MatchString(s):
		return s
	}
	if rd.decimalMark(r, f, s, unitText) == "comma" {
		return strings.Replace(strings.ReplaceAll(s, ".", ""), ",", ".", 1)
	}
	return strings.ReplaceAll(s, ",", "")
}

// decimalMark is "point" or "comma" for a number that may be read by either.
func (rd *sheetReader) decimalMark(r Row, f Field, s, unitText string) string {
	switch {
	case rd.marks.point != rd.marks.comma:
		return map[bool]string{true: "point", false: "comma"}[rd.marks.point]
	case strings.Contains(s, ",") && rd.groupsThousands(r, unitText):
		return "point"
	}
	digits := strings.NewReplacer(".", "", ",", "").Replace(s)
	decimal := strings.TrimRight(strings.TrimRight(digits[:len(digits)-3]+"."+digits[len(digits)-3:], "0"), ".")
	byPoint, byComma := decimal, digits
	if strings.Contains(s, ",") {
		byPoint, byComma = digits, decimal
	}
	answer := rd.ask(Question{
		ID:   "decimal-mark",
		Text: fmt.Sprintf("which mark parts the decimals in %q?", s),
		Readings: []Answer{
			{"point", fmt.Sprintf("the point: %s is %s", s, byPoint)},
			{"comma", fmt.Sprintf("the comma: %s is %s", s, byComma)},
		},
	}, r, rd.cols.at[f])
	if answer == "" && strings.Contains(s, ".") && strings.Contains(decimal, ".") && rd.inPieces(r, unitText) {
		return "comma" // what is shown meanwhile: there are no fractions of a piece
	}
	return answer
}

// inPieces reports whether a quantity counts pieces.
func (rd *sheetReader) inPieces(r Row, unitText string) bool {
	if unitText == "" {
		unitText = rd.unitText(r)
	}
	unit, err := measure.ParseUnit(unitText)
	return err == nil && unit.Whole()
}

// unitText is the unit of a row where its quantity names none.
func (rd *sheetReader) unitText(r Row) string {
	if text := rd.text(r, Unit); text != "" {
		return text
	}
	return rd.headingUnit(Quantity)
}

// groupsThousands reports whether a comma with three digits behind it can only
// part thousands: of pieces there are no fractions. A list with columns parted by
// semicolons comes from where the comma is the decimal mark, and its pieces may
// be written with decimals.
func (rd *sheetReader) groupsThousands(r Row, unitText string) bool {
	said := unitText != "" || rd.unitText(r) != ""
	return rd.inPieces(r, unitText) && !rd.table.semicolons && (said || rd.table.commas)
}
