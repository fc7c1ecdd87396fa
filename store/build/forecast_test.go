package build

import (
	"strings"
	"testing"

	"stowright/store/measure"
)

// forecastOf is the forecast of one code as words: "2026-04-02..2026-04-02: reasons".
func forecastOf(t testing.TB, r *Reading, leads LeadTimes, code string) string {
	t.Helper()
	for _, f := range NewBoard(r).Forecast(leads) {
		if f.Code != code {
			continue
		}
		from, _ := f.From.MarshalText()
		to, _ := f.To.MarshalText()
		days := string(from) + ".." + string(to)
		if f.Unknown {
			days = "unknown"
		}
		return strings.TrimSuffix(days+": "+strings.Join(f.Reasons, "; "), ": ")
	}
	t.Fatalf("nothing is forecast of %s", code)
	return ""
}

// A promised day, else the supplier's lead times, else unknown; unknown wins.
func TestForecast(t *testing.T) {
	leads := LeadTimes{"kit maker": {30, 10, 14, 12, 16, 11, 13, 15, 20, 12}, "new shop": {1, 2, 3, 4}}
	if median, nine, ok := leads.typical("kit maker"); median != 13 || nine != 20 || !ok {
		t.Errorf("the kit maker took %d and %d days", median, nine)
	}
	r := weighedDemo(t)
	for _, row := range []struct {
		name string
		owed []Expected
		want string
	}{
		{"a day", []Expected{{By: BackOrdered, Until: day(2026, 4, 2)}}, "2026-04-02..2026-04-02: OQ-30-033: promised for 2 April 2026"},
		{"a day that has passed", []Expected{{By: BackOrdered, Until: day(2026, 3, 17)}}, "unknown: OQ-30-033: was promised for 17 March 2026, which has passed"},
		{"today", []Expected{{By: BackOrdered, Until: march18}}, "2026-03-18..2026-03-18: OQ-30-033: promised for 18 March 2026"},
		{"lead times", []Expected{{By: Ordered, Since: day(2026, 3, 14), Supplier: "kit maker"}}, "2026-03-27..2026-04-03: OQ-30-033: by 10 deliveries of kit maker, between 27 March 2026 and 3 April 2026"},
		{"past the median", []Expected{{By: Ordered, Since: day(2026, 3, 1), Supplier: "kit maker"}}, "2026-03-18..2026-03-21: OQ-30-033: by 10 deliveries of kit maker, between 18 March 2026 and 21 March 2026"},
		{"past all", []Expected{{By: Ordered, Since: day(2026, 2, 1), Supplier: "kit maker"}}, "unknown: OQ-30-033: owed since 1 February 2026, longer than 9 of 10 deliveries of kit maker took"},
		{"too few seen", []Expected{{By: Ordered, Since: day(2026, 3, 14), Supplier: "new shop"}}, "unknown: OQ-30-033: no day was promised, and too few deliveries were seen to tell"},
		{"in a crate", []Expected{{By: NotChecked, Crate: "C1"}}, "2026-03-18..2026-03-18: OQ-30-033: in crate C1, which is here"},
		{"short", []Expected{{By: Missing}}, "unknown: OQ-30-033: nobody owes 2 of them"},
		{"nothing", nil, "unknown: OQ-30-033: nobody owes 2 of them"},
	} {
		for i := range row.owed {
			row.owed[i].Quantity = measure.Pieces(2)
		}
		r.Expected["OQ-30-033"] = row.owed
		if got := forecastOf(t, r, leads, "SA-30"); got != row.want {
			t.Errorf("%s: %s\nwant %s", row.name, got, row.want)
		}
	}
	if got := forecastOf(t, r, leads, "SA-20"); got != "2026-03-18..2026-03-18" {
		t.Errorf("what is ready: %s", got)
	}
	if got := forecastOf(t, demoReading(), leads, "SA-10"); got != "2026-03-18..2026-03-18: AN426AD3-3.5: counting tells; AN470AD4-5: counting tells" {
		t.Errorf("what has to be weighed: %s", got)
	}
}

// The latest blocker decides, unknown wins, and what is owed goes to the first that waits.
func TestForecastLatestWins(t *testing.T) {
	r := demoReading()
	r.SubAssemblies = []SubAssembly{sub("SA-1", "", 1, need{"X", "", 3}, need{"Y", "", 1}), sub("SA-2", "", 1, need{"X", "", 3}), sub("SA-3", "", 1, need{"X", "", 3})}
	r.Stock = map[string][]Heap{"X": {heap("A-01", 1)}}
	owed := func(n int64, until measure.Date) Expected {
		return Expected{By: Ordered, Quantity: measure.Pieces(n), Until: until}
	}
	r.Expected = map[string][]Expected{"X": {owed(4, day(2026, 5, 1)), owed(3, day(2026, 4, 1))}, "Y": {owed(1, day(2026, 4, 20))}}
	for _, row := range []struct{ code, want string }{
		{"SA-1", "2026-04-20..2026-04-20: X: promised for 1 April 2026; Y: promised for 20 April 2026"},
		{"SA-2", "2026-05-01..2026-05-01: X: promised for 1 May 2026"},
		{"SA-3", "unknown: X: nobody owes 1 of them"},
	} {
		if got := forecastOf(t, r, nil, row.code); got != row.want {
			t.Errorf("%s: %s, want %s", row.code, got, row.want)
		}
	}
	r.Expected["Y"][0].Until = measure.Date{}
	if got := forecastOf(t, r, nil, "SA-1"); !strings.HasPrefix(got, "unknown: X: promised for 1 April") {
		t.Errorf("with Y unknown: %s", got)
	}
}

// The trade paper's sum: 1,872 h is 12 h a week for three years, and 9 for four.
func TestPace(t *testing.T) {
	if 3*52*12 != 1872 || 4*52*9 != 1872 {
		t.Fatal("the sum is wrong")
	}
	today := day(2026, 6, 1)
	log := func(weeks ...int) (all []Worked) {
		for i, h := range weeks {
			all = append(all, Worked{today.AddDays(-7*i - 3), Hours(10 * h)})
		}
		return all
	}
	even := PaceOf(today, 18720+960, log(12, 12, 12, 12, 12, 12, 12, 12))
	if even.Left != 18720 || even.Week != 120 || even.First != today.AddDays(156*7) || even.Last != even.First {
		t.Errorf("even: %s", even)
	}
	uneven := PaceOf(today, 3600+640, log(12, 4, 12, 4, 12, 4, 12, 4))
	if uneven.Left != 3600 || uneven.Week != 80 || uneven.First != today.AddDays(30*7) || uneven.Last != today.AddDays(90*7) {
		t.Errorf("uneven: %s", uneven)
	}
	if got := uneven.String(); got != "360 h left, 8 h a week: between 28 December 2026 and 21 February 2028" {
		t.Errorf("it says %q", got)
	}
	if p := PaceOf(today, 1000, append(log(12), Worked{today.AddDays(-56), 100})); !p.LastUnknown || p.FirstUnknown || p.Week != 15 || p.Left != 780 {
		t.Errorf("one week of eight: %+v", p)
	}
	if p := PaceOf(today, 1000, nil); !p.FirstUnknown || !strings.Contains(p.String(), "no day can be told") {
		t.Errorf("nothing logged: %s", p)
	}
	if p := PaceOf(today, 100, log(12)); p.Left != 0 || p.First != today || p.Last != today {
		t.Errorf("all done: %s", p)
	}
}
