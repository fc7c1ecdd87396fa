package wording

import (
	"fmt"
	"time"

	"stowright/store"
)

// Day is a day without its year: "19 March".
func Day(d store.Date) string { return fmt.Sprintf("%d %s", d.Day, d.Month) }

// ShortDay is a day with the first letters of its month: "19 Mar".
func ShortDay(d store.Date) string { return fmt.Sprintf("%d %s", d.Day, d.Month.String()[:3]) }

// Weekday is a day with the first letters of its weekday, without its year: "Thu 19 March".
func Weekday(d store.Date) string { return weekday(d).String()[:3] + " " + Day(d) }

// WeekdayAndYear is a day with the first letters of its weekday: "Thu 19 March 2026".
func WeekdayAndYear(d store.Date) string { return weekday(d).String()[:3] + " " + d.String() }

// FullDay is a day with its weekday and year: "Wednesday 18 March 2026".
func FullDay(d store.Date) string { return weekday(d).String() + " " + d.String() }

func weekday(d store.Date) time.Weekday {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Weekday()
}

// DaysLeft is how many days are left until a day: "3 days left", "last day today",
// "1 day past".
func DaysLeft(n int) string {
	switch {
	case n < 0:
		return Plural(-n, "day", "days") + " past"
	case n == 0:
		return "last day today"
	}
	return Plural(n, "day", "days") + " left"
}

// By is until when something is to be sent: "by Thu 19 March, 3 days left". What was not sent by
// its day is still worth sending: nobody but the supplier can say that it is too late.
func By(due store.Date, left int) string {
	if left < 0 {
		return "was to be sent by " + WeekdayAndYear(due) + "; ask the supplier all the same"
	}
	return "by " + Weekday(due) + ", " + DaysLeft(left)
}
