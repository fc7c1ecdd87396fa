package unpack

import (
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
