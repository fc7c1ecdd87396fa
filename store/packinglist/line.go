package packinglist

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"

	"stowright/store/measure"
)

// Status is whether a line is said to be in this delivery.
type Status int

// What a packing list says of a line.
const (
	Shipped     Status = iota // in this delivery
	BackOrdered               // owed, to come later
	NotArrived                // shipped apart, not in this delivery
)

// statusWords are the ways a status is written, as words makes them (common
// practice; the letters S, B and N are explained on the lists that use them).
var statusWords = map[string]Status{
	"": Shipped, "s": Shipped, "shipped": Shipped, "ship": Shipped, "sent": Shipped, "packed": Shipped, "included": Shipped, "incl": Shipped,
	"ok": Shipped, "yes": Shipped, "y": Shipped, "complete": Shipped, "in crate": Shipped, "in box": Shipped, "enclosed": Shipped,
	"b": BackOrdered, "bo": BackOrdered, "b o": BackOrdered, "back ordered": BackOrdered, "backordered": BackOrdered, "back order": BackOrdered,
	"backorder": BackOrdered, "on back order": BackOrdered, "on backorder": BackOrdered, "owed": BackOrdered, "to follow": BackOrdered,
	"n": NotArrived, "not arrived": NotArrived, "not shipped": NotArrived, "not yet": NotArrived, "not yet shipped": NotArrived,
	"ships later": NotArrived, "later": NotArrived, "pending": NotArrived, "in transit": NotArrived, "separate": NotArrived,
	"ships separately": NotArrived, "not in this delivery": NotArrived,
}

// ParseStatus reads a status as packing lists write it; nothing at all is Shipped.
func ParseStatus(s string) (Status, error) {
	status, ok := statusWords[words(s)]
	if !ok {
		return 0, fmt.Errorf("status %q is not one of S, B or N, nor shipped, back-ordered or not arrived", clip(s))
	}
	return status, nil
}

// String is the status as a person reads it: "shipped", "back-ordered", "not arrived".
func (s Status) String() string {
	return [...]string{"shipped", "back-ordered", "not arrived"}[s]
}

// Letter is the status as short lists write it: "S", "B", "N".
func (s Status) Letter() string { return [...]string{"S", "B", "N"}[s] }

// MarshalText writes String.
func (s Status) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what ParseStatus reads.
func (s *Status) UnmarshalText(b []byte) error {
	v, err := ParseStatus(string(b))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

// Line is one line of a packing list. All texts are trimmed, with single spaces.
// A line sent in part makes two of them, from one row: what was sent, and what
// is owed, back-ordered and with a number behind the last of the list.
type Line struct {
	Number      int    // as on the list, unique on it; counted from 1 where the list has none
	Crate       string // empty where the list names none
	Group       string // bag or sub-kit; empty where the list names none
	Designation string // as printed, never empty; any dash is a plain hyphen
	Description string
	Listed      measure.Quantity // above zero
	Status      Status
	Lot         string
	Price       string // of one unit, "4.50 USD"; empty where the list does not say it for certain
	Sheet       string // of a workbook; empty for text
	Row         int    // 1-based row of the sheet
	Doubt       string // id of an open question that the line hangs on; then it shows one reading of several
}

// List is a packing list that was read whole, with nothing left to ask.
type List struct {
	File    string    // base name of the file
	Order   string    // order number, where a row above the headings gives one
	Lines   []Line    // in the order of the list, at least one
	LeftOut []LeftOut // rows that are no lines
}

// Empty says that nothing was read.
func (l List) Empty() bool { return len(l.Lines) == 0 }

// Fingerprint tells lists apart by what their lines say: SHA-256 in hexadecimal
// over the lines as parsed. The same list saved under another name, in another
// format or encoding, with titles or without, has the same fingerprint.
func (l List) Fingerprint() string {
	h := sha256.New()
	for _, line := range l.Lines {
		for _, s := range []string{
			strconv.Itoa(line.Number), line.Crate, line.Group, line.Designation, line.Description,
			line.Listed.Plain(), string(line.Listed.Unit), line.Status.Letter(), line.Lot,
		} {
			fmt.Fprintf(h, "%d:%s", len(s), s)
		}
		if line.Price != "" { // lists that were brought in without keep theirs
			fmt.Fprintf(h, "price %s", line.Price)
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}
