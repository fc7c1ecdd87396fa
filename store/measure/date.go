package measure

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

// Date is a day of the calendar, without a time or a zone. Its zero value is no
// day. It marshals as 2026-03-14.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// DateOf is the day that t falls on where t is.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// ErrTwoDates is in the chain of what ParseDate fails with where a date can be read in two ways.
var ErrTwoDates = errors.New("two dates")

// ParseDate reads 2026-03-14, 14 March 2026, March 14, 2026, 14.3.2026, and 3/14/2026 or
// 14/3/2026, whose figures leave no doubt which is the month. What can be read in two ways, as
// 3/4/2026, is refused with [ErrTwoDates] and both readings.
func ParseDate(s string) (Date, error) {
	s = strings.TrimSpace(s)
	for _, layout := range []string{time.DateOnly, "2 January 2006", "2 Jan 2006", "January 2, 2006", "Jan 2, 2006", "2.1.2006"} {
		if t, err := time.Parse(layout, s); err == nil {
			return DateOf(t), nil
		}
	}
	monthFirst, errUS := time.Parse("1/2/2006", s)
	dayFirst, errUK := time.Parse("2/1/2006", s)
	switch us, uk := DateOf(monthFirst), DateOf(dayFirst); {
	case errUS == nil && errUK == nil && us != uk:
		return Date{}, fmt.Errorf("%w: %q can be %s or %s: write it with the name of the month", ErrTwoDates, clip(s), us, uk)
	case errUS == nil:
		return us, nil
	case errUK == nil:
		return uk, nil
	}
	return Date{}, fmt.Errorf("%q is not a date: write it like 2026-03-14 or 14 March 2026", clip(s))
}

// IsZero says that there is no day.
func (d Date) IsZero() bool { return d == Date{} }

func (d Date) utc() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// AddDays is the day n days later.
func (d Date) AddDays(n int) Date { return DateOf(d.utc().AddDate(0, 0, n)) }

// DaysUntil is the number of days from d to e; negative when e has passed.
func (d Date) DaysUntil(e Date) int { return int((e.utc().Unix() - d.utc().Unix()) / secondsPerDay) }

const secondsPerDay = 24 * 60 * 60

// Valid reports whether the calendar has such a day, of a year with four digits.
func (d Date) Valid() bool { return DateOf(d.utc()) == d && d.Year >= 0 && d.Year <= 9999 }

// String is "14 March 2026".
func (d Date) String() string {
	if d.IsZero() {
		return "no date"
	}
	return fmt.Sprintf("%d %s %d", d.Day, d.Month, d.Year)
}

// MarshalText writes 2026-03-14, and nothing for no day.
func (d Date) MarshalText() ([]byte, error) {
	if d.IsZero() {
		return nil, nil
	}
	return []byte(d.utc().Format(time.DateOnly)), nil
}

// UnmarshalText reads what MarshalText writes.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = Date{}
		return nil
	}
	v, err := ParseDate(string(b))
	if err != nil {
		return err
	}
	*d = v
	return nil
}

// Short is "14 March", for where the year is plain.
func (d Date) Short() string {
	if d.IsZero() {
		return "no date"
	}
	return fmt.Sprintf("%d %s", d.Day, d.Month)
}
