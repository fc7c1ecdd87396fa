package store

import (
	"errors"
	"strings"
	"time"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// Date is a day of the calendar, without a time or a zone.
type Date = measure.Date

// DateOf is the day that t falls on where t is.
func DateOf(t time.Time) Date { return measure.DateOf(t) }

// ParseDate reads a date as [measure.ParseDate] does.
func ParseDate(s string) (Date, error) { return ParseDateBy(s, measure.ParseDate) }

// ParseDateBy reads a date by another reading than [measure.ParseDate], with the same errors.
func ParseDateBy(s string, read func(string) (Date, error)) (Date, error) {
	d, err := read(s)
	if errors.Is(err, measure.ErrTwoDates) {
		_, both, _ := strings.Cut(err.Error(), ": ")
		return Date{}, fail(Invalid, phrase.Quote(s), "%s.", both)
	}
	if err != nil {
		return Date{}, fail(Invalid, phrase.Quote(s), "%s is not a date: write it like 2026-03-14 or 14 March 2026.", phrase.Quote(s))
	}
	return d, nil
}
