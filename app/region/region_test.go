package region_test

import (
	"errors"
	"testing"

	"stowright/app/region"
	"stowright/store/measure"
)

// A figure is read by the marks of the region. What can be read in two ways is refused, and what
// has no reading is left to who reads figures.
func TestFigure(t *testing.T) {
	const asked, left = "asked", "left"
	for _, row := range []struct {
		locale string
		typed  map[string]string
	}{
		{"C", map[string]string{
			"12": "12", " 0.30 ": "0.30", "1,680": "1680", "1.500": "1.500", "1/2": left, "0,30": left, "1 680": "1680", "": left,
		}},
		{"en_US.UTF-8", map[string]string{
			"1.5": "1.5", "1,500.25": "1500.25", "1.500": "1.500", "1,50.5": left, "0,500": left, "1,5": left, "1 680.5": "1680.5", "12 34": left,
		}},
		{"de_CH", map[string]string{"1\u2019680.5": "1680.5", "1'680": "1680", "0.5": "0.5", "1,5": left, "'680": left}},
		{"de_DE.UTF-8", map[string]string{
			"1,5": "1.5", "0,30": "0.30", "1.500": asked, "1.500,25": "1500.25", "1.234.567": "1234567", "0.125": "0.125", "1.5": "1.5", "12.34": "12.34",
			"1,680": "1.680", "1,2,3": left, "1.50,2": left, ".5": ".5", ",5": left, "1,": left, "AN3,5": left, "-1,5": left, "1500.250": "1500.250",
		}},
		{"fr_FR", map[string]string{"1\u202f680,5": "1680.5", "1 680": "1680", "1\u00a0680": "1680", "1,5": "1.5", "1.500": asked}},
		{"en_ZA", map[string]string{"1,5": "1.5"}},
		{"es_MX", map[string]string{"1,500": "1500", "1,5": left}},
		{"es", map[string]string{"1,5": left, "1.500": "1.500"}}, // a language has no decimal mark of its own
	} {
		in := region.Of(row.locale, "")
		for typed, want := range row.typed {
			if want == left {
				want = typed
			}
			got, err := in.Figure(typed)
			if errors.Is(err, region.ErrTwoReadings) {
				got = asked
			}
			if got != want {
				t.Errorf("%s: %q is read as %q, %v; want %q", row.locale, typed, got, err, want)
			}
		}
	}
}

// What a field proposes is read back as the same figure in every region.
func TestProposedAndReadBack(t *testing.T) {
	for _, locale := range []string{"C", "en_US", "en_GB", "en_CA", "fr_CA", "de_DE", "de_CH", "de_AT", "fr_FR", "es_ES", "es_MX", "pt_BR", "sv_SE", "hi_IN", "ar_EG", "pl_PL"} {
		in := region.Of(locale, locale)
		for _, micro := range []int64{0, 1, 125_000, 1_125_000, 1_500_000, 12_345_678, 1_680_000_000, 1_234_567_000, 1_500_250_000} {
			q := measure.Quantity{Micro: micro, Unit: measure.Pound}
			plain, err := in.Figure(in.Typed(q.Plain()))
			if err != nil {
				t.Errorf("%s: %s: %v", locale, q, err)
				continue
			}
			if back, err := measure.ParseQuantity(plain, measure.Pound); err != nil || back != q {
				t.Errorf("%s: %s is proposed as %q and read back as %s, %v", locale, q, in.Typed(q.Plain()), back, err)
			}
		}
		for _, day := range []measure.Date{{Year: 2026, Month: 3, Day: 4}, {Year: 2026, Month: 12, Day: 31}} {
			if back, err := in.Day(day.String()); err != nil || back != day {
				t.Errorf("%s: %s is read back as %s, %v", locale, day, back, err)
			}
		}
	}
}

// Which figure of a day is the month is known of some regions. Elsewhere it is asked, unless there
// is but one reading.
func TestDay(t *testing.T) {
	const first, second, asked = "4 March 2026", "3 April 2026", "asked"
	for locale, want := range map[string]string{
		"en_US.UTF-8": first, "es-US": first, "fil_PH": first, "en_GB": second, "de_DE.UTF-8@euro": second, "fr_FR": second, "en_AU": second, "pt_BR": second,
		"en_CA": asked, "ja_JP": asked, "hu_HU": asked, "sv_SE": asked, "C": asked, "POSIX": asked, "": asked, "en": asked, "de_XX_YY_??": asked,
	} {
		in := region.Of("", locale)
		day, err := in.Day("3/4/2026")
		got := day.String()
		if errors.Is(err, measure.ErrTwoDates) {
			got = asked
		}
		if got != want {
			t.Errorf("%s: 3/4/2026 is %s, %v; want %s", locale, got, err, want)
		}
		for _, plain := range []string{"2026-03-14", "14.3.2026", "3/14/2026", "14/3/2026"} {
			if day, err := in.Day(plain); err != nil || day.String() != "14 March 2026" {
				t.Errorf("%s: %s is %s, %v", locale, plain, day, err)
			}
		}
	}
}

// Inches have a point on plans all over the world, and nobody parts their thousands.
func TestLength(t *testing.T) {
	for _, row := range []struct{ locale, typed, want string }{
		{"de_DE", "4,76", "4.76"},
		{"de_DE", "4,76 mm", "4.76 mm"},
		{"de_DE", "1.250", "1.250"},
		{"de_DE", "9/16", "9/16"},
		{"de_DE", "1.250,5", "1.250,5"},
		{"en_US", "4,76", "4,76"},
	} {
		if got := region.Of(row.locale, "").Length(row.typed); got != row.want {
			t.Errorf("%s: %q is read as %q, want %q", row.locale, row.typed, got, row.want)
		}
	}
}
