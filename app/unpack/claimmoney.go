package unpack

import (
	"fmt"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// worth is what a line of a claim is worth at the price of the list, or at one that was
// noted, which is said; empty where none is known.
func worth(l store.Line, c store.Claimed) (sum store.Money, words string) {
	sum, err := c.Worth(l.Price)
	if err != nil || !sum.Known() {
		return store.Money{}, ""
	}
	each := "each"
	if l.Listed.Unit != measure.Each {
		each = "a " + string(l.Listed.Unit)
	}
	words = fmt.Sprintf("worth %s, at %s %s", sum, l.Price, each)
	if l.Priced != "" {
		words += ", " + l.Priced
	}
	return sum, words
}

// purse adds money up, each currency by itself, in the order in which they came.
type purse []store.Money

func (p purse) with(m store.Money) purse {
	if !m.Known() {
		return p
	}
	for i := range p {
		if p[i].CurrencyCode() == m.CurrencyCode() {
			if sum, err := p[i].Add(m.Amount); err == nil {
				p[i] = store.Money{Amount: sum}
			}
			return p
		}
	}
	return append(p, m)
}

func (p purse) String() string {
	var words []string
	for _, m := range p {
		words = append(words, m.String())
	}
	return wording.Joined(" and ", words...)
}

// Money says what the claim is worth as far as the list has prices, and what was credited,
// a sentence each; nothing where nothing is known of either.
func (c Claim) Money() []string {
	var worth, credited purse
	unknown, typed := 0, false
	for _, s := range c.Sections {
		for _, l := range s.Lines {
			worth, credited = worth.with(l.worth), credited.with(l.credited)
			typed = typed || l.typed && l.worth.Known()
			if !l.worth.Known() && !l.surplus {
				unknown++
			}
		}
	}
	var said []string
	if len(worth) > 0 {
		words := "In all worth " + worth.String() + ", at the prices of the packing list"
		none := " it says none"
		if typed {
			words += " and those noted beside the lines"
			none = " none is known"
		}
		if unknown > 0 {
			words += "; of " + wording.Plural(unknown, "line", "lines") + none
		}
		said = append(said, words+".")
	}
	if len(credited) > 0 {
		said = append(said, "Credited so far: "+credited.String()+".")
	}
	return said
}
