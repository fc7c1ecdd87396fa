package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// findCommand says where things are.
type findCommand struct {
	asOfFlag
	Words []string `arg:"" help:"A part number or part of one, words, dimensions, a place."`
	Limit int      `help:"How many answers at most." default:"20"`
}

// foundPlace is a place in the JSON answer. Quantity is left out where a place itself was found.
type foundPlace struct {
	Path     string `json:"path"`
	Tag      string `json:"tag"`
	Quantity string `json:"quantity,omitempty"`
}

// foundItem is an item in the JSON answer.
type foundItem struct {
	Designation string       `json:"designation"`
	Title       string       `json:"title"`
	Quantity    string       `json:"quantity"`
	Unit        string       `json:"unit"`
	Estimate    bool         `json:"estimate"`
	Places      []foundPlace `json:"places"`

	away []session.Away // for people: what is kept, listed and not checked off, owed, fitted
}

type findAnswer struct {
	Items  []foundItem  `json:"items"`
	Places []foundPlace `json:"places"`
	AsOf   *pastState   `json:"as_of,omitempty"`
}

// Run prints the answers, the best first.
func (c *findCommand) Run(p *program) error {
	c.on(p)
	return p.withSession(func(s *session.Session) error {
		query := strings.Join(c.Words, " ")
		found, _, err := s.Find(query, max(1, c.Limit))
		if err != nil {
			return err
		}
		answer, err := c.answer(s, found)
		if err != nil {
			return err
		}
		answer.AsOf = p.past
		if err := p.emit(answer, answer.print); err != nil {
			return err
		}
		if len(found) == 0 {
			return &noError{fmt.Sprintf("nothing in this shop answers to %q: try fewer characters.", query), ""}
		}
		return nil
	})
}

func (c *findCommand) answer(s *session.Session, found []session.Found) (findAnswer, error) {
	a := findAnswer{Items: []foundItem{}, Places: []foundPlace{}}
	for _, f := range found {
		if f.Item == "" {
			place, err := s.Shop.Place(f.Place)
			if err != nil {
				return a, err
			}
			a.Places = append(a.Places, foundPlace{Path: f.Path, Tag: string(place.Tag)})
			continue
		}
		item := foundItem{
			Designation: f.Item, Title: f.Title, Quantity: f.Stock.Total.Plain(), Unit: string(f.Stock.Item.Unit),
			Estimate: f.Stock.Total.Estimate(), Places: []foundPlace{}, away: f.Away,
		}
		for _, h := range f.Stock.Heaps {
			path := store.PathText(h.Path)
			if h.Condition != store.Good {
				path += " (" + string(h.Condition) + ")"
			}
			item.Places = append(item.Places, foundPlace{Path: path, Tag: string(h.Path[len(h.Path)-1].Tag), Quantity: h.Amount.Plain()})
		}
		a.Items = append(a.Items, item)
	}
	return a, nil
}

func (a findAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, i := range a.Items {
		about := ""
		if i.Estimate {
			about = "about "
		}
		fmt.Fprintf(&b, "%s  %s\n  %s%s %s\n", i.Designation, i.Title, about, i.Quantity, i.Unit)
		for _, p := range i.Places {
			fmt.Fprintf(&b, "  %s %s in %s\n", p.Quantity, i.Unit, p.Path)
		}
		for _, away := range i.away {
			fmt.Fprintf(&b, "  %s\n", away)
		}
	}
	for _, p := range a.Places {
		fmt.Fprintf(&b, "%s  (tag %s)\n", p.Path, store.Tag(p.Tag).Spaced())
	}
	_, err := io.WriteString(w, b.String())
	return err
}
