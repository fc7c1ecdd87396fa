package session

import (
	"strings"
	"testing"

	"stowright/app/region"
	"stowright/app/wording"
	"stowright/store/measure"
)

func TestParseAmount(t *testing.T) {
	for _, row := range []struct {
		text    string
		unit    measure.Unit
		want    string
		problem string
	}{
		{"0,30", measure.Pound, "", "\"0,30\" is not an amount in pounds"},
		{"12", measure.Each, "12 ea", ""},
		{" 12 ", measure.Each, "12 ea", ""},
		{"0", measure.Each, "0 ea", ""},
		{"0.30", measure.Pound, "0.3 lb", ""},
		{"1.5", measure.Feet, "1.5 ft", ""},
		{"1.5", measure.Each, "", "1.5 is not a whole number of pieces: count them again."},
		{"twelve", measure.Each, "", "\"twelve\" is not an amount: type a number such as 12."},
		{"", measure.Each, "", "\"\" is not an amount"},
		{"-2", measure.Each, "", "\"-2\" is not an amount"},
	} {
		t.Run(row.text+" "+string(row.unit), func(t *testing.T) {
			q, err := ParseAmount(region.Region{}, row.text, row.unit)
			if row.problem != "" {
				if got := wording.Error(err); !strings.HasPrefix(got, row.problem) {
					t.Errorf("got %q, want %q", got, row.problem)
				}
				return
			}
			if err != nil || q.String() != row.want {
				t.Errorf("got %q and %v, want %q", q, err, row.want)
			}
		})
	}
}

// What a person types is read by the region; what has two readings is asked with both, in amounts,
// prices, days and hours alike.
func TestTypedInARegion(t *testing.T) {
	german, american := region.Of("de_DE.UTF-8", "de_DE.UTF-8"), region.Of("en_US.UTF-8", "en_US.UTF-8")
	amount := func(s *Session, text string) (string, error) {
		q, err := s.ParseAmount(text, measure.Pound)
		return q.String(), err
	}
	money := func(s *Session, text string) (string, error) {
		m, err := s.ParseMoney(text, "EUR")
		return m.String(), err
	}
	day := func(s *Session, text string) (string, error) {
		d, err := s.ParseDay(text)
		return d.String(), err
	}
	length := func(s *Session, text string) (string, error) {
		l, err := s.ParseLength(text)
		return l.Printed(), err
	}
	for _, row := range []struct {
		name string
		read func(s *Session, text string) (string, error)
		in   region.Region
		text string
		want string // or how the refusal begins
	}{
		{"amount", amount, german, "0,30", "0.3 lb"},
		{"amount", amount, german, "1.500", `“1.500” can be 1500 or 1,500: type the one that is meant.`},
		{"amount", amount, american, "1,500", "1,500 lb"},
		{"price", money, german, "12,50", "12.50 EUR"},
		{"price", money, german, "1.234,50 EUR", "1234.50 EUR"},
		{"price", money, american, "1,234.50 usd", "1234.50 USD"},
		{"price", money, german, "1.234 EUR", `“1.234” can be 1234 or 1,234`},
		{"day", day, german, "3/4/2026", "3 April 2026"},
		{"day", day, american, "3/4/2026", "4 March 2026"},
		{"day", day, region.Region{}, "3/4/2026", `"3/4/2026" can be 4 March 2026 or 3 April 2026: write it with the name of the month.`},
		{"day", day, german, "soon", `“soon” is not a date`},
		{"length", length, german, "0,25", "0.250"},
		{"length", length, german, "1.250", "1.250"},
	} {
		t.Run(row.name+" "+row.text, func(t *testing.T) {
			got, err := row.read(&Session{Region: row.in}, row.text)
			if err != nil {
				got = wording.Error(err)
			}
			if !strings.HasPrefix(got, row.want) || err == nil && got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

// What one part of the program hands to another as if it were typed is read back, in every region.
func TestTypedForAnotherPart(t *testing.T) {
	q := measure.Quantity{Micro: 1_125_000, Unit: measure.Pound}
	for locale, want := range map[string]string{"C": "1.125", "en_US": "1.125", "de_DE": "1,125", "fr_FR": "1,125"} {
		s := &Session{Region: region.Of(locale, locale)}
		back, err := s.ParseAmount(s.Typed(q), q.Unit)
		if s.Typed(q) != want || err != nil || back != q {
			t.Errorf("%s: %s is typed as %q and read back as %s, %v", locale, q, s.Typed(q), back, err)
		}
	}
}
