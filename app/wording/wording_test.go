package wording

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/measure"
)

// check holds one text against what it should be.
func check(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s: got %q, want %q", what, got, want)
	}
}

func TestPlural(t *testing.T) {
	for n, want := range map[int]string{0: "0 days", 1: "1 day", 2: "2 days", 40: "40 days"} {
		check(t, fmt.Sprint(n), Plural(n, "day", "days"), want)
	}
}

func TestSentence(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "  ": "", "no such place": "No such place.", " done ": "Done.", "Is it?": "Is it?", "stop!": "Stop!", "ends.": "Ends.", "über": "Über.",
	} {
		check(t, in, Sentence(in), want)
	}
}

func TestUpper(t *testing.T) {
	for in, want := range map[string]string{"": "", "a": "A", "drawer A": "Drawer A", "éclair": "Éclair", "1/8": "1/8"} {
		check(t, in, Upper(in), want)
	}
}

func TestError(t *testing.T) {
	told := &store.Error{Kind: store.Invalid, Message: "Type how many there are."}
	for _, row := range []struct {
		name string
		err  error
		want string
	}{
		{"none", nil, ""},
		{"of the store", told, "Type how many there are."},
		{"of the store, wrapped", fmt.Errorf("counting: %w", told), "Type how many there are."},
		{"of the store without words", &store.Error{Kind: store.Internal, Err: errors.New("x")}, Sentence((&store.Error{Kind: store.Internal, Err: errors.New("x")}).Error())},
		{"another that is a sentence", errors.New("Try again."), "Try again."},
		{"another", errors.New("reading \"a.csv\": no such file"), "Reading \"a.csv\": no such file."},
	} {
		t.Run(row.name, func(t *testing.T) { check(t, row.name, Error(row.err), row.want) })
	}
}

func TestProgress(t *testing.T) {
	for done, want := range map[float64]string{-1: "copying", 0: "copying, 0 %", 0.409: "copying, 40 %", 1: "copying, 100 %"} {
		check(t, fmt.Sprint(done), Progress("copying", done), want)
	}
}

func TestBytes(t *testing.T) {
	for n, want := range map[int64]string{
		0: "0 B", 999: "999 B", 1000: "1 kB", 1499: "1 kB", 1500: "2 kB", 999_499: "999 kB", 999_500: "1.0 MB", 1_250_000: "1.2 MB",
	} {
		check(t, fmt.Sprint(n), Bytes(n), want)
	}
}

func TestUnits(t *testing.T) {
	for _, row := range []struct {
		unit               measure.Unit
		one, counted, text string
	}{
		{measure.Each, "piece", "pieces", ""},
		{measure.Feet, "feet", "feet", "ft"},
		{measure.Pound, "pounds", "pounds", "lb"},
		{"ml", "ml", "ml", "ml"},
	} {
		check(t, "behind 1 of "+string(row.unit), UnitBehind("1", row.unit), row.one)
		check(t, "behind 16 of "+string(row.unit), UnitBehind("16", row.unit), row.counted)
		check(t, "Units of "+string(row.unit), Units(row.unit), row.counted)
		check(t, "ShortUnit of "+string(row.unit), ShortUnit(row.unit), row.text)
	}
}

// 18 March 2026 is a Wednesday, by any calendar.
func TestDays(t *testing.T) {
	d := store.Date{Year: 2026, Month: time.March, Day: 18}
	check(t, "Day", Day(d), "18 March")
	check(t, "ShortDay", ShortDay(d), "18 Mar")
	check(t, "Weekday", Weekday(d), "Wed 18 March")
	check(t, "WeekdayAndYear", WeekdayAndYear(d), "Wed 18 March 2026")
	check(t, "FullDay", FullDay(d), "Wednesday 18 March 2026")
	for n, want := range map[int]string{-2: "2 days past", -1: "1 day past", 0: "last day today", 1: "1 day left", 9: "9 days left"} {
		check(t, fmt.Sprint(n), DaysLeft(n), want)
	}
	check(t, "By, to come", By(d, 1), "by Wed 18 March, 1 day left")
	check(t, "By, past", By(d, -256), "was to be sent by Wed 18 March 2026; ask the supplier all the same")
}

func TestJoined(t *testing.T) {
	for _, row := range []struct {
		texts []string
		want  string
	}{{nil, ""}, {[]string{"", ""}, ""}, {[]string{"a", "", "b"}, "a; b"}, {[]string{"a"}, "a"}} {
		if got := Joined("; ", row.texts...); got != row.want {
			t.Errorf("%q: %q, want %q", row.texts, got, row.want)
		}
	}
}

func TestCounted(t *testing.T) {
	for _, row := range []struct {
		q    measure.Quantity
		want string
	}{{measure.Pieces(1), "1 piece"}, {measure.Pieces(16), "16 pieces"}, {measure.Of(64, measure.InchUnit), "64 inches"}, {measure.Of(1, measure.Quart), "1 qt"}} {
		if got := Counted(row.q); got != row.want {
			t.Errorf("%s: %q, want %q", row.q, got, row.want)
		}
	}
}
