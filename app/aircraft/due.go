package aircraft

import (
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/photos"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/phrase"
)

// mostName is how many letters of a name a card shows beside a figure.
const mostName = 14

// cardPhotos is how many photographs a card shows.
const cardPhotos = 2

// due is what is due.
func (s shop) due() (list []thing) {
	for _, d := range s.dues.InOrder() {
		mark := s.dues.Mark(d)
		of := s.dues.Of(d)
		t := thing{due: &d, card: card.Card{Designation: d.Name(), Title: d.What, Known: d.By(), Mark: mark, Place: "of " + of}}
		t.card.Notes = append(t.card.Notes, "rule: "+d.Rule)
		if d.Source != "" {
			t.card.Notes = append(t.card.Notes, "it stands in "+d.Source)
		}
		if d.Job != "" {
			t.card.Notes = append(t.card.Notes, "what it takes is listed for "+d.Job)
		}
		for _, x := range d.Done[max(0, len(d.Done)-mostReadings):] {
			t.card.Tallies = append(t.card.Tallies, card.Tally{Words: x.Day.String() + ", " + phrase.Clip(x.By, mostName), Figure: doneHours(x.Hours)})
		}
		if d.Ended != nil {
			t.card.Notes = append(t.card.Notes, fmt.Sprintf("ended on %s: %s", d.Ended.On, d.Ended.Why))
		}
		t.row = table.Row{ID: d.Name(), Dim: d.Ended != nil, Cells: []table.Cell{{Text: d.What, Sub: d.Name() + " · " + d.Rule}, {Text: of, Sub: d.By()}, {Mark: mark}}}
		list = append(list, t)
	}
	return list
}

func doneHours(h *build.Hours) string {
	if h == nil {
		return ""
	}
	return h.String()
}

// thing is a position with what went in there and its photographs.
func (p *position) thing(taken []store.Photo) thing {
	t := thing{position: p, card: card.Card{Designation: last(p.Name), Title: p.Name, Place: onWhich(p.Position)}}
	if t.card.Title == t.card.Designation {
		t.card.Title = "Position on the aircraft"
	}
	sums := map[string]store.Amount{}
	var items []string
	for _, f := range p.fits {
		if _, known := sums[f.Item]; !known {
			items = append(items, f.Item)
		}
		if sum, err := sums[f.Item].Add(f.Amount); err == nil { // two units of one item are not added
			sums[f.Item] = sum
		}
	}
	fitted := 0
	for _, item := range items {
		if !sums[item].IsZero() {
			fitted++
			t.card.Tallies = append(t.card.Tallies, card.Tally{Words: item, Figure: sums[item].String()})
		}
	}
	for _, words := range []struct{ before, text string }{{"one gets to it by ", p.Access}, {"", p.Note}} {
		if words.text != "" {
			t.card.Notes = append(t.card.Notes, words.before+words.text)
		}
	}
	for _, f := range p.fits[max(0, len(p.fits)-mostReadings):] {
		t.card.Notes = append(t.card.Notes, eventWords(f))
	}
	if len(p.asked) > 0 {
		t.card.Notes = append(t.card.Notes, "named by "+strings.Join(p.asked, ", "))
	}
	if p.recorded {
		t.card.Photographed = photos.About(store.OfPosition(p.Position))
		t.card.Photos = photos.Named(taken, cardPhotos)
	} else {
		t.card.Notes = append(t.card.Notes, "it is not recorded yet: once it is, it can be photographed")
	}
	sub := ""
	if !p.recorded {
		sub = "named by a list, not recorded"
	}
	t.row = table.Row{ID: p.Aircraft + "/" + p.Name, Dim: !p.recorded, Cells: []table.Cell{
		{Text: p.Name, Sub: wording.Joined(" · ", onWhich(p.Position), p.Access, sub)}, table.T(figure(fitted)), table.T(figure(len(taken))),
	}}
	return t
}

// last is the smallest of the words of a position: "hinge 2".
func last(name string) string {
	words := strings.Split(name, " / ")
	return words[len(words)-1]
}

func onWhich(p store.Position) string {
	if p.Aircraft == "" {
		return ""
	}
	return "on " + p.Aircraft
}

func figure(n int) string {
	if n == 0 {
		return "–"
	}
	return fmt.Sprint(n)
}

// eventWords is "8 April 2026: 6 ea AN3-5A for SA-21, by Partner".
func eventWords(f store.Fit) string {
	if f.Amount.Sign() < 0 {
		return fmt.Sprintf("%s: %s %s out again, by %s", store.DateOf(f.At), strings.TrimPrefix(f.Amount.String(), "-"), f.Item, f.Hand)
	}
	return fmt.Sprintf("%s: %s %s for %s, by %s", store.DateOf(f.At), f.Amount, f.Item, f.SubAssembly, f.Hand)
}
