package session

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// Revised is a packing list of an order of which the shop has another list already: a
// revised one, or that of another part of the order. A person must say which. What it
// says is what would become of that other list, were it the revised one.
type Revised struct {
	store.Revision
	// Lost and Gained are what the claim loses and gains, and Withdraw what of Lost was
	// sent already: the supplier is to be told.
	Lost, Gained, Withdraw []store.Claimed
	Needs                  []string // what sub-assemblies lose or gain, a sentence each
	Refused                error    // why it cannot take the place of the other list; nil where it can
}

// FindRevised looks for an earlier list of the same order: of several, the one that has
// the most numbers in common with it. There is none where the order has no number, or the
// shop has this very list.
func (s *Reader) FindRevised(list store.NewShipment) (r Revised, found bool, err error) {
	ships, err := s.Shop.Shipments()
	if err != nil || list.Order == "" {
		return r, false, err
	}
	lines, err := s.AllLines(ships)
	if err != nil {
		return r, false, err
	}
	numbers := map[string]bool{}
	for _, l := range list.Lines {
		numbers[l.Designation] = true
	}
	at, most := -1, -1
	for i, ship := range ships {
		if ship.Has(list.Fingerprint) {
			return r, false, nil
		}
		if !strings.EqualFold(ship.Order, list.Order) {
			continue
		}
		common := 0
		for _, l := range lines[i] {
			if numbers[l.Designation] {
				common++
			}
		}
		if common >= most {
			at, most = i, common
		}
	}
	if at < 0 {
		return r, false, nil
	}
	if r.Revision, r.Refused = s.Shop.Revision(ships[at], list); r.Refused != nil {
		r.Of = ships[at]
		return r, true, nil
	}
	if len(r.Asked) > 0 {
		return r, true, nil // what becomes of the claim and the needs follows from the answers
	}
	r.Lost, r.Gained = r.Claims()
	r.Withdraw = sentOf(r.Of, r.Lost)
	r.Needs, err = s.needsChanged(ships, lines, at, r.After)
	return r, true, err
}

// sentOf are those of some lines of a claim that the supplier was told of.
func sentOf(ship store.Shipment, lines []store.Claimed) (sent []store.Claimed) {
	for _, c := range lines {
		if claim, _, found := ship.Claim(c); found && claim.GivenUp == "" {
			sent = append(sent, c)
		}
	}
	return sent
}

// FindRevised is that of the session.
func (s *Session) FindRevised(list store.NewShipment) (r Revised, found bool, err error) {
	err = s.Read(func(reader *Reader) error {
		r, found, err = reader.FindRevised(list)
		return err
	})
	return r, found, err
}

// needsChanged says of what sub-assemblies still need how much more or less would be
// coming, were the lines of one list others.
func (s *Reader) needsChanged(ships []store.Shipment, lines [][]store.Line, at int, after []store.Line) ([]string, error) {
	lines = slices.Clone(lines)
	lines[at] = after
	then, err := s.awaitedIn(ships, lines)
	if err != nil {
		return nil, err
	}
	var said []string
	err = s.board(func(k *kept) error {
		said = comingAnew(k, then)
		return nil
	})
	return said, err
}

// comingAnew says of what sub-assemblies still need how much more or less would be coming,
// were these expected.
func comingAnew(k *kept, then map[string][]build.Expected) []string {
	var said []string
	for _, need := range openNeeds(k.board) {
		is, will := coming(k.plan.Of.Expected, need), coming(then, need)
		switch change := will - is; {
		case change > 0:
			said = append(said, fmt.Sprintf("%s: %s more to come; %s", need.item, need.of(change), need.words()))
		case change < 0:
			said = append(said, fmt.Sprintf("%s: %s less to come; %s", need.item, need.of(-change), need.words()))
		}
	}
	return said
}

// openNeed is what sub-assemblies still need of an item, in one unit.
type openNeed struct {
	item  string
	unit  measure.Unit
	micro int64
	codes []string
}

func (n openNeed) of(micro int64) measure.Quantity {
	return measure.Quantity{Micro: micro, Unit: n.unit}
}

// words are "2 ea needed for SA-30".
func (n openNeed) words() string {
	return fmt.Sprintf("%s needed for %s", n.of(n.micro), phrase.List(n.codes))
}

// openNeeds are what is still to be pulled, by item.
func openNeeds(b *build.Board) []openNeed {
	var all []openNeed
	for _, status := range b.Statuses() {
		for _, n := range status.Needs {
			if n.Open.Sign() <= 0 {
				continue
			}
			i := slices.IndexFunc(all, func(o openNeed) bool { return o.item == n.Item && o.unit == n.Open.Unit })
			if i < 0 {
				i, all = len(all), append(all, openNeed{item: n.Item, unit: n.Open.Unit})
			}
			all[i].micro += n.Open.Micro
			if !slices.Contains(all[i].codes, status.Code) {
				all[i].codes = append(all[i].codes, status.Code)
			}
		}
	}
	slices.SortFunc(all, func(a, b openNeed) int {
		return cmp.Or(store.CompareNames(a.item, b.item), strings.Compare(string(a.unit), string(b.unit)))
	})
	return all
}

// coming is how much of an item somebody is to deliver.
func coming(expected map[string][]build.Expected, n openNeed) int64 {
	sum := int64(0)
	for _, e := range expected[n.item] {
		if e.By.Owed() && e.Quantity.Unit == n.unit {
			sum += e.Quantity.Micro
		}
	}
	return sum
}

// Changed are the differences in words, at most so many and then how many more, and behind
// them so many of the lines that differ by their number alone.
func (r Revised) Changed(most int) []string {
	words := append(few(r.Changes, most, store.LineChange.String), few(r.Renumbered, most, store.LineChange.String)...)
	if len(words) == 0 && len(r.Asked) == 0 {
		words = append(words, "no line differs")
	}
	return words
}

// Claim is what becomes of the claim, a sentence each, at most so many of each kind.
func (r Revised) Claim(most int) []string {
	var said []string
	for _, part := range []struct {
		lead   string
		claims []store.Claimed
	}{{"The claim loses", r.Lost}, {"The claim gains", r.Gained}, {"Sent already, tell the supplier that it is withdrawn", r.Withdraw}} {
		if len(part.claims) > 0 {
			said = append(said, part.lead+": "+strings.Join(few(part.claims, most, claimWords), "; ")+".")
		}
	}
	return said
}

func claimWords(c store.Claimed) string {
	return fmt.Sprintf("line %d, %s: %s", c.Number(), c.Kind, c.Words)
}

// few are the words of the first ones, and how many there are besides.
func few[T any](all []T, most int, words func(T) string) []string {
	var said []string
	for _, v := range all[:min(len(all), most)] {
		said = append(said, words(v))
	}
	if more := len(all) - len(said); more > 0 {
		said = append(said, fmt.Sprintf("and %d more", more))
	}
	return said
}
