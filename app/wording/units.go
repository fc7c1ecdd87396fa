package wording

import (
	"cmp"

	"stowright/store/measure"
)

// unitWords are units in words. The trade's "ea" stands behind figures in tables, in the journal and on
// paper, where room is short; words for people say pieces.
var unitWords = map[measure.Unit]string{measure.Each: "pieces", measure.Feet: "feet", measure.InchUnit: "inches", measure.Pound: "pounds", measure.Ounce: "ounces", measure.Quart: "quarts"}

// Units is a unit in words: "pieces", "feet".
func Units(u measure.Unit) string { return cmp.Or(unitWords[u], string(u)) }

// UnitBehind is a unit in words behind a figure: "piece" behind 1.
func UnitBehind(figure string, u measure.Unit) string {
	if figure == "1" && u == measure.Each {
		return "piece"
	}
	return Units(u)
}

// Counted is a quantity with its unit in words: "1 piece", "16 pieces", "64 inches", "1 qt".
func Counted(q measure.Quantity) string {
	switch q {
	case measure.Pieces(1):
		return "1 piece"
	case measure.Of(1, q.Unit):
		return q.String()
	}
	return q.Number() + " " + Units(q.Unit)
}

// ShortUnit is a unit as it is written: "ft"; pieces need none.
func ShortUnit(u measure.Unit) string {
	if u == measure.Each {
		return ""
	}
	return string(u)
}
