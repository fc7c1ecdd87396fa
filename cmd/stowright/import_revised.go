package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/copies"
	"stowright/store/packinglist"
)

// The answers to what a list of an order is of which the shop has another one: a list of
// its own, or the revised one.
const (
	beside  = "beside"
	revises = "revised"
)

// importRevision is how a list differs from another one of its order, and what comes of it
// where it takes the place of that one.
type importRevision struct {
	Of      string   `json:"of"` // file of the list that the shop has
	Changes []string `json:"changes"`
	// Asked are the lines of which it has to be said which of the new list they are.
	Asked   []importAsked `json:"asked"`
	Claim   []string      `json:"claim"`   // what the claim loses and gains
	Needs   []string      `json:"needs"`   // what sub-assemblies lose and gain
	Refused string        `json:"refused"` // why it cannot take the place of that one
}

// importAsked is a line of which more than one of a revised list may be meant, or none.
type importAsked struct {
	Line  int    `json:"line"`
	Text  string `json:"text"`
	Could []int  `json:"could"` // numbers on the new list
}

func asked(questions []store.LineQuestion) []importAsked {
	all := []importAsked{}
	for _, q := range questions {
		a := importAsked{Line: q.Was.Number(), Text: q.String()}
		for _, b := range q.Could {
			a.Could = append(a.Could, b.Number)
		}
		all = append(all, a)
	}
	return all
}

// mostChanges bounds what is printed of a comparison; the JSON answer has all of it.
const mostChanges = 40

func revisionOf(r session.Revised) *importRevision {
	all := len(r.Changes) + len(r.Renumbered) + len(r.Lost) + len(r.Gained)
	out := importRevision{Of: r.Of.File, Changes: r.Changed(all), Claim: r.Claim(all), Needs: r.Needs, Asked: asked(r.Asked)}
	if r.Refused != nil {
		out.Refused, out.Changes = wording.Error(r.Refused), nil
	}
	for _, list := range []*[]string{&out.Changes, &out.Claim, &out.Needs} {
		if *list == nil {
			*list = []string{}
		}
	}
	return &out
}

// print prints the comparison; nothing of nil.
func (r *importRevision) print(w io.Writer) {
	if r == nil {
		return
	}
	fmt.Fprintf(w, "Against %s, another list of this order:\n", r.Of)
	for i, c := range r.Changes {
		if i == mostChanges {
			fmt.Fprintf(w, "  and %d more, see --json\n", len(r.Changes)-i)
			break
		}
		fmt.Fprintf(w, "  %s\n", c)
	}
	for _, a := range r.Asked {
		fmt.Fprintln(w, a.Text)
	}
	for _, words := range append(r.Claim, r.Needs...) {
		fmt.Fprintln(w, words)
	}
	if r.Refused != "" {
		fmt.Fprintln(w, r.Refused)
	}
}

// bringIn brings a list in that is settled whole, or shows what would come of it. A list of
// an order that the shop has another list of is refused until somebody says what it is:
// brought in without a word it would stand there twice.
func (c *importCommand) bringIn(p *program, k knowledge, reading *packinglist.Reading, answer *importAnswer) (refused, err error) {
	list, problems := reading.List()
	if len(problems) > 0 {
		return nil, &problems[0]
	}
	made := session.NewShipment(k.Catalog, list, c.Supplier)
	made.Shape = session.ShapeOf(reading.Sheets)
	r, found, err := c.revised(p, &made)
	if err != nil {
		return nil, err
	}
	if found {
		answer.Revision = revisionOf(r)
		switch c.Assume["order"] {
		case beside:
		case revises:
			if len(r.Asked) > 0 && !c.DryRun {
				return whichLine(r.Asked[0]), nil
			}
			made.Revises = r.Of.ID
		default:
			if !c.DryRun {
				return besideOrRevised(r), nil
			}
		}
	}
	if c.DryRun {
		return nil, nil
	}
	shop, err := p.open(true)
	if err != nil {
		return nil, err
	}
	err = p.long(func(ctx context.Context) error {
		ship, fresh, err := session.BringIn(ctx, shop, copies.NewKeeper(shop, ""), made)
		answer.Shipment, answer.New = ship.ID, fresh
		return err
	})
	return nil, errors.Join(err, shop.Close())
}

// revised looks for another list of the order in the shop, where there is one, and takes
// what was said of its lines.
func (c *importCommand) revised(p *program, made *store.NewShipment) (r session.Revised, found bool, err error) {
	if _, err := os.Stat(p.shop); made.Order == "" || errors.Is(err, os.ErrNotExist) {
		return r, false, nil
	}
	err = p.withSession(func(s *session.Session) (err error) {
		if r, found, err = s.FindRevised(*made); err != nil || !found || len(c.Line) == 0 {
			return err
		}
		if made.Told, err = told(c.Line, r.Before); err != nil {
			return err
		}
		r, found, err = s.FindRevised(*made)
		return err
	})
	if c.DryRun && store.KindOf(err) == store.Busy { // that was said already
		err = nil
	}
	return r, found, err
}

// noneOfThem says that a line is on the new list no more.
const noneOfThem = "none"

// told is what was said of lines by their numbers as the shop has them.
func told(said map[int]string, lines []store.Line) (map[store.LineID]int, error) {
	ids := map[store.LineID]int{}
	for number, as := range said {
		at := slices.IndexFunc(lines, func(l store.Line) bool { return l.Number() == number })
		if at < 0 {
			return nil, &usageError{fmt.Errorf("--line %d=%s: the list that the shop has has no line %d", number, as, number)}
		}
		if as == noneOfThem {
			ids[lines[at].ID] = 0
			continue
		}
		n, err := strconv.Atoi(as)
		if err != nil || n < 1 {
			return nil, &usageError{fmt.Errorf("--line %d=%s: %q is no line of the new list; give its number, or %s", number, as, as, noneOfThem)}
		}
		ids[lines[at].ID] = n
	}
	return ids, nil
}

// whichLine asks which line of the new list a line is.
func whichLine(q store.LineQuestion) error {
	var ways []string
	for _, b := range q.Could {
		ways = append(ways, fmt.Sprintf("--line %d=%d", q.Was.Number(), b.Number))
	}
	ways = append(ways, fmt.Sprintf("--line %d=%s", q.Was.Number(), noneOfThem))
	return &usageError{fmt.Errorf("nothing was brought in: %s Settle it by one of: %s", q, strings.Join(ways, ", "))}
}

// besideOrRevised asks which of the two a list is.
func besideOrRevised(r session.Revised) error {
	return &usageError{fmt.Errorf(
		"nothing was brought in: the shop has another list of order %s, from %s. Against that one: %s. If this one takes its place, with what was checked kept, bring it in by --assume order=%s; if it is a list of its own, by --assume order=%s",
		r.Of.Order, r.Of.File, strings.Join(r.Changed(8), "; "), revises, beside)}
}
