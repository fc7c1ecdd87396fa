package unpack

import (
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/store"
	"stowright/store/measure"
)

// priced is the demo shop with two prices on its list, in two currencies, and the answer
// that one of the lines is credited.
func priced(t *testing.T) *bench {
	t.Helper()
	b := newBench(t, demo.Unpacked)
	b.revise(func(lines []store.NewLine) []store.NewLine {
		for i, l := range lines {
			price := map[int]string{7: "12.50 USD", 28: "0.10 EUR", 40: "0.45 USD"}[l.Number]
			m, err := store.ParseMoney(price, "")
			if err != nil {
				t.Fatal(err)
			}
			lines[i].Price = m
		}
		return lines
	})
	ship := b.m.data.ship
	if _, err := (operation.SendClaim{How: "by mail"}).Do(t.Context(), b.s); err != nil {
		t.Fatal(err)
	}
	if _, err := (operation.AnswerClaim{Lines: "7", Answer: store.Credit, Credited: "12"}).Do(t.Context(), b.s); err != nil {
		t.Fatal(err)
	}
	if _, err := (operation.AnswerClaim{List: ship.ID, Lines: "42", Answer: store.Credit, Credited: "1"}).Do(t.Context(), b.s); err == nil || !strings.Contains(err.Error(), "says no currency") {
		t.Errorf("a sum without a currency, of a line without a price: %v", err)
	}
	b.queue.Drain()
	return b
}

// Money stands with each line whose price is known, and in sum, each currency by itself: on
// the text, on paper and on the page alike.
func TestMoneyOnAClaim(t *testing.T) {
	b := priced(t)
	d, err := load(b.s, "")
	if err != nil {
		t.Fatal(err)
	}
	c := d.claim()
	sum := []string{"In all worth 14.30 USD and 0.40 EUR, at the prices of the packing list; of 5 lines it says none.", "Credited so far: 12.00 USD."}
	lines := []string{"worth 12.50 USD, at 12.50 USD each", "worth 1.80 USD, at 0.45 USD each", "worth 0.40 EUR, at 0.10 EUR a in", "answered: credit of 12.00 USD"}
	text := c.Text()
	paper, err := c.paper(&b.s.Shop.Reader)
	if err != nil {
		t.Fatal(err)
	}
	var printed []string
	for _, block := range paper.Blocks {
		printed = append(printed, block.Texts...)
		for _, r := range block.Rows {
			printed = append(printed, strings.Join(r, " "))
		}
	}
	for where, got := range map[string]string{"the text": text, "the paper": strings.Join(printed, "\n")} {
		for _, want := range append(lines, sum...) {
			if strings.Count(got, want) != 1 {
				t.Errorf("%s has %q %d times:\n%s", where, want, strings.Count(got, want), got)
			}
		}
	}
}

// A claim of which no price is known says nothing of money.
func TestNoMoneyOnAClaim(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	d, err := load(b.s, "")
	if err != nil {
		t.Fatal(err)
	}
	if said := d.claim().Money(); said != nil {
		t.Errorf("it says %q", said)
	}
	sum := purse{}.with(store.Money{})
	if len(sum) != 0 || sum.String() != "" {
		t.Errorf("what nobody knows adds up to %q", sum)
	}
	if _, words := worth(store.Line{Listed: measure.Pieces(1)}, store.Claimed{Quantity: measure.Pieces(1)}); words != "" {
		t.Errorf("without a price it is %q", words)
	}
}

// What was given up is on the page with its reason, and neither in the text nor on the
// paper; a price that was noted says where it is from, in the line and in the sum.
func TestGivenUpAndPriced(t *testing.T) {
	b := newBench(t, demo.Unpacked)
	b.do(operation.PriceLine{Line: 7, Price: "4.50 USD"})
	b.do(operation.GiveUpClaim{Lines: "6", Why: "one too many"})
	m := NewClaimModel(b.s, "", t.TempDir(), func(ClaimState) {})
	m.Load()
	b.queue.Drain()
	c := m.State().Claim
	if len(c.GivenUp) != 1 || c.GivenUp[0].Number != 6 || !strings.HasSuffix(c.GivenUp[0].Sent, ": one too many") || !strings.HasPrefix(c.GivenUp[0].Sent, "given up on ") {
		t.Errorf("given up: %+v", c.GivenUp)
	}
	text := c.Text()
	if strings.Contains(text, "line 6 ") || strings.Contains(text, "one too many") {
		t.Errorf("what was given up is in the text:\n%s", text)
	}
	for _, want := range []string{"worth 4.50 USD, at 4.50 USD each, as typed by ", "In all worth 4.50 USD, at the prices of the packing list and those noted beside the lines; of "} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q:\n%s", want, text)
		}
	}
	unpriced := m.Unpriced()
	if !slices.ContainsFunc(unpriced, func(l ClaimLine) bool { return l.Number == 7 }) || slices.ContainsFunc(unpriced, func(l ClaimLine) bool { return l.Number == 6 }) {
		t.Errorf("a price may be noted of %+v", unpriced)
	}
	var said []string
	asked := func(problem string) { said = append(said, problem) }
	m.Priced("seven", "1 USD", asked)
	m.Priced("28", "", asked)
	b.queue.Drain()
	m.Priced("28", "0.20 USD", asked)
	b.queue.Drain()
	m.GiveUp("", "", asked)
	b.queue.Drain()
	m.GiveUp("", "the supplier is gone", asked)
	b.queue.Drain()
	want := []string{"Type the number of a line, such as 7.", "No price of OQ-80-T58 is known from an order: type one, as in 4.50 USD.", "", "Say why the claim is given up: the journal keeps the reason.", ""}
	if !slices.Equal(said, want) {
		t.Errorf("said %q, want %q", said, want)
	}
	if s := m.State(); s.Unsent != 0 || len(s.Claim.Sections) != 0 || len(s.Claim.GivenUp) < 5 {
		t.Errorf("all given up: %d unsent, %d sections, %d lines given up", s.Unsent, len(s.Claim.Sections), len(s.Claim.GivenUp))
	}
	d, err := load(b.s, "")
	if err != nil {
		t.Fatal(err)
	}
	if said := d.noClock(); !strings.Contains(said, "was sent or given up, last on ") {
		t.Errorf("no clock runs: %q", said)
	}
}
