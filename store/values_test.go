package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/disk"
	"stowright/store/measure"
)

func TestParseDate(t *testing.T) {
	march14 := Date{Year: 2026, Month: time.March, Day: 14}
	for _, row := range []struct {
		text string
		want Date // zero: refused
	}{
		{"2026-03-14", march14},
		{"14 March 2026", march14},
		{"14 Mar 2026", march14},
		{"3/14/2026", march14},
		{" 2026-03-14\n", march14},
		{"2024-02-29", Date{Year: 2024, Month: time.February, Day: 29}},
		{"2026-02-29", Date{}},
		{"14/3/2026", march14},
		{"14.3.2026", march14},
		{"March 14, 2026", march14},
		{"3/3/2026", Date{Year: 2026, Month: time.March, Day: 3}},
		{"2026-3-14", Date{}},
		{"26-03-14", Date{}},
		{"", Date{}},
		{"tomorrow", Date{}},
		{strings.Repeat("9", 10_000), Date{}},
	} {
		got, err := ParseDate(row.text)
		if got != row.want || (err != nil) != row.want.IsZero() {
			t.Errorf("ParseDate(%.40q) = %v, %v; want %v", row.text, got, err, row.want)
		}
		if err != nil && (KindOf(err) != Invalid || len(err.Error()) > 200 || !strings.HasSuffix(err.Error(), "is not a date: write it like 2026-03-14 or 14 March 2026.")) {
			t.Errorf("ParseDate(%.40q) says %v", row.text, err)
		}
	}
}

func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"2026-03-14", "14 March 2026", "1 Jan 0001", "3/14/2026", "9999-12-31", "0000-01-01", "", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDate(s)
		if err != nil {
			return
		}
		if !d.Valid() {
			t.Fatalf("ParseDate(%q) = %v, which no calendar has", s, d)
		}
		text, err := d.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var again Date
		if err := again.UnmarshalText(text); err != nil || again != d {
			t.Fatalf("%q is %v, kept as %q, read as %v, %v", s, d, text, again, err)
		}
	})
}

func TestDateArithmetic(t *testing.T) {
	for _, row := range []struct {
		from Date
		days int
		to   Date
	}{
		{Date{Year: 2026, Month: 3, Day: 14}, 5, Date{Year: 2026, Month: 3, Day: 19}},
		{Date{Year: 2026, Month: 3, Day: 14}, 30, Date{Year: 2026, Month: 4, Day: 13}},
		{Date{Year: 2026, Month: 4, Day: 2}, 30, Date{Year: 2026, Month: 5, Day: 2}},
		{Date{Year: 2024, Month: 2, Day: 28}, 1, Date{Year: 2024, Month: 2, Day: 29}},
		{Date{Year: 2025, Month: 12, Day: 31}, 1, Date{Year: 2026, Month: 1, Day: 1}},
		{Date{Year: 2026, Month: 3, Day: 14}, -14, Date{Year: 2026, Month: 2, Day: 28}},
		{Date{Year: 1, Month: 1, Day: 1}, 3652058, Date{Year: 9999, Month: 12, Day: 31}}, // farther apart than a time.Duration reaches
	} {
		if got := row.from.AddDays(row.days); got != row.to {
			t.Errorf("%s and %d days is %s, want %s", row.from, row.days, got, row.to)
		}
		if got := row.from.DaysUntil(row.to); got != row.days {
			t.Errorf("from %s to %s are %d days, want %d", row.from, row.to, got, row.days)
		}
	}
	late := time.Date(2026, 3, 14, 23, 30, 0, 0, time.FixedZone("", -7*3600))
	if got := DateOf(late); got != (Date{Year: 2026, Month: 3, Day: 14}) {
		t.Errorf("late in the evening where the shop is: %s", got)
	}
	if got := (Date{}).String(); got != "no date" {
		t.Errorf("no day is %q", got)
	}
}

func ea(q, low, high int64) Amount {
	return Amount{Quantity: measure.Pieces(q), Low: measure.Pieces(low), High: measure.Pieces(high)}
}

// The figures of the weighed rivets: 1,680 pieces, 1,668 to 1,692.
func TestAmountArithmetic(t *testing.T) {
	weighed := ea(1680, 1668, 1692)
	for _, row := range []struct {
		name string
		a, b Amount
		want string
		est  bool
	}{
		{"212 pulled", weighed, Exact(measure.Pieces(212)).Neg(), "about 1,468 ea (1,456 to 1,480)", true},
		{"all pulled", weighed, weighed.Neg(), "0 ea", false},
		{"as many as estimated pulled", weighed, Exact(measure.Pieces(1680)).Neg(), "about 0 ea (0 to 12)", true},
		{"counted ones added", weighed, Exact(measure.Pieces(20)), "about 1,700 ea (1,688 to 1,712)", true},
		{"two weighed heaps", weighed, ea(100, 99, 101), "about 1,780 ea (1,767 to 1,793)", true},
		{"counted heaps", Exact(measure.Pieces(24)), Exact(measure.Pieces(4)), "28 ea", false},
		{"to nothing at all", Amount{}, Exact(measure.Pieces(4)), "4 ea", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := row.a.Add(row.b)
			if err != nil || got.String() != row.want || got.Estimate() != row.est {
				t.Errorf("%v + %v = %q, estimate %v, %v; want %q, %v", row.a, row.b, got, got.Estimate(), err, row.want, row.est)
			}
		})
	}
	if _, err := weighed.Add(Exact(measure.Of(1, measure.Pound))); !errors.Is(err, measure.ErrUnits) {
		t.Errorf("pieces and pounds: %v", err)
	}
	huge := ea(0, 0, 0)
	huge.High.Micro = 1<<63 - 1
	if _, err := huge.Add(ea(0, 0, 1)); !errors.Is(err, measure.ErrOverflow) {
		t.Errorf("a range beyond all figures: %v", err)
	}
}

func drawAmount(t *rapid.T, label string) Amount {
	q := rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, label)
	low, high := q-rapid.Int64Range(0, 9).Draw(t, "below"), q+rapid.Int64Range(0, 9).Draw(t, "above")
	return ea(q, low, high)
}

func TestAmountProperties(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a, b := drawAmount(rt, "a"), drawAmount(rt, "b")
		sum, err := a.Add(b)
		if err != nil {
			rt.Fatal(err)
		}
		back, err := sum.Add(b.Neg())
		if err != nil || back != a {
			rt.Fatalf("%v + %v - that = %v, %v", a, b, back, err)
		}
		other, err := b.Add(a)
		if err != nil || other != sum {
			rt.Fatalf("%v + %v = %v, the other way %v", a, b, sum, other)
		}
		body, err := json.Marshal(sum)
		if err != nil {
			rt.Fatal(err)
		}
		var read Amount
		if err := json.Unmarshal(body, &read); err != nil || read != sum {
			rt.Fatalf("%v is kept as %s and read as %v, %v", sum, body, read, err)
		}
	})
}

func TestAmountJSON(t *testing.T) {
	for _, row := range []struct {
		amount Amount
		json   string
	}{
		{Exact(measure.Pieces(12)), `{"q":"12 ea"}`},
		{ea(1680, 1668, 1692), `{"q":"1680 ea","low":"1668 ea","high":"1692 ea"}`},
		{ea(0, -12, 12), `{"q":"0 ea","low":"-12 ea","high":"12 ea"}`},
	} {
		body, err := json.Marshal(row.amount)
		if err != nil || string(body) != row.json {
			t.Errorf("%v is kept as %s, %v; want %s", row.amount, body, err, row.json)
		}
	}
	var a Amount
	for _, bad := range []string{`{"q":"12 bolts"}`, `{"q":12}`, `{"q":"1e9 ea"}`, `[]`} {
		if err := json.Unmarshal([]byte(bad), &a); err == nil {
			t.Errorf("%s was read as %v", bad, a)
		}
	}
}

// Whatever lies in the journal under an entry's number, reading it is refused or
// gives an entry that can be written again as it is.
func FuzzReadEntry(f *testing.F) {
	delta := Exact(measure.Pieces(4))
	entry, err := encode(Entry{Seq: 3, Hand: "Builder", Verb: VerbCount, Text: "counted", Changes: []Change{
		{Table: tableStock, Key: "AN3-5A\x00p\x00\x00", Delta: &delta}, {Table: tableItems, Key: "AN3-5A", After: []byte(`{"unit":"ea"}`)},
	}})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(entry)
	f.Add([]byte(`{"seq":3}`))
	f.Add([]byte(`{"seq":3,"changes":[{"delta":{"q":"99999999999999 ea"}}]}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		e, err := entryOf(disk.Record{Seq: 3, Body: body})
		if err != nil {
			if KindOf(err) != Corrupt {
				t.Fatalf("%q: %v", body, err)
			}
			return
		}
		again, err := encode(e)
		if err != nil {
			t.Fatalf("%q is read and cannot be written: %v", body, err)
		}
		second, err := entryOf(disk.Record{Seq: 3, Body: again})
		if err != nil {
			t.Fatalf("%q is written as %q and not read again: %v", body, again, err)
		}
		if third, err := encode(second); err != nil || !bytes.Equal(again, third) {
			t.Fatalf("%q is written as %q, then as %q", body, again, third)
		}
		for _, c := range e.Changes { // applying it never crashes
			_ = apply(newMemory(), c)
		}
	})
}

// Names with all that people type come back as they were, and the journal with
// them can be replayed: the test helper checks that when the test ends.
func FuzzNames(f *testing.F) {
	for _, s := range []string{"AN3-5A", `<b> & "q"`, "Größe 5\u2028", "\xff", "a\x00b", "\u200b", "  a  b ", "😀", "\ufffd"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, item, lot string) {
		m := newMemory()
		k, err := cleanKey(StockKey{Item: item, Lot: lot, Place: "p"})
		if err != nil {
			return
		}
		delta := Exact(measure.Pieces(1))
		body, err := encode(Entry{Changes: []Change{{Table: tableStock, Key: k.key(), Delta: &delta}}})
		if err != nil {
			t.Fatal(err)
		}
		e, err := decode[Entry](body)
		if err != nil {
			t.Fatal(err)
		}
		if err := apply(m, e.Changes[0]); err != nil {
			t.Fatal(err)
		}
		for key := range m[tableStock] {
			if got, err := parseStockKey(key); err != nil || cmp.Diff(k, got) != "" {
				t.Fatalf("%+v comes back as %+v", k, got)
			}
		}
	})
}

// A date that can be read in two ways is never guessed.
func TestParseDateAsks(t *testing.T) {
	for text, want := range map[string]string{
		"3/4/2026":   `"3/4/2026" can be 4 March 2026 or 3 April 2026: write it with the name of the month.`,
		"12/11/2026": `"12/11/2026" can be 11 December 2026 or 12 November 2026: write it with the name of the month.`,
	} {
		if got, err := ParseDate(text); !got.IsZero() || err == nil || KindOf(err) != Invalid || err.Error() != want {
			t.Errorf("ParseDate(%q) = %v, %v; want to be asked: %s", text, got, err, want)
		}
	}
}
