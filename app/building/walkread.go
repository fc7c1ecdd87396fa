package building

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// walkData is what was read for a walk.
type walkData struct {
	list  build.PullList
	names []string // of the sub-assemblies: "SA-10 Fin"
	taken []takenRow
	stops []stopRead
}

// takenRow is what lies in the trays already.
type takenRow struct {
	item, title string
	quantity    string
	trays       string
}

// stopRead is a stop with what is shown of it.
type stopRead struct {
	build.Stop
	title string
	there store.Amount // of the item and lot in the place
	card  card.Card
}

// readWalk reads what is left to pull for sub-assemblies, and what lies in their trays.
func readWalk(r *session.Reader, codes []string) (walkData, error) {
	var d walkData
	var err error
	if d.list, err = r.PullList(codes...); err != nil {
		return d, err
	}
	var statuses []build.Status
	err = r.Board(func(b *build.Board) error {
		for _, code := range d.list.For {
			s, _ := b.Status(code)
			s.Needs = slices.Clone(s.Needs)
			statuses = append(statuses, s)
		}
		return nil
	})
	if err != nil {
		return d, err
	}
	for _, s := range statuses {
		d.names = append(d.names, strings.TrimSpace(s.Code+" "+s.Name))
	}
	if d.taken, err = takenOf(r, statuses); err != nil {
		return d, err
	}
	for _, s := range d.list.Stops {
		stop, err := readStop(r, s, len(d.list.For) > 1)
		if err != nil {
			return d, err
		}
		d.stops = append(d.stops, stop)
	}
	return d, nil
}

// takenOf is what lies in the trays of sub-assemblies, each item once.
func takenOf(r *session.Reader, statuses []build.Status) ([]takenRow, error) {
	var items []string
	sums := map[string]measure.Amount{}
	trays := map[string][]string{}
	for _, s := range statuses {
		for _, n := range s.Needs {
			if n.Pulled.Sign() <= 0 {
				continue
			}
			if _, known := sums[n.Item]; !known {
				items = append(items, n.Item)
				sums[n.Item] = measure.Amount{}
			}
			sum, err := sums[n.Item].Add(n.Pulled)
			if err != nil {
				return nil, fmt.Errorf("adding up %s: %w", n.Item, err)
			}
			sums[n.Item] = sum
			trays[n.Item] = append(trays[n.Item], trayWords(n.Pulled.Figure(), s.Code, len(statuses) > 1))
		}
	}
	var rows []takenRow
	for _, item := range items {
		title, err := titleOf(r, item)
		if err != nil {
			return nil, err
		}
		rows = append(rows, takenRow{item, title, sums[item].Figure(), strings.Join(trays[item], " · ")})
	}
	return rows, nil
}

// trayWords is "6 SA-10", or the code alone where the walk is for one.
func trayWords(figure, code string, several bool) string {
	if several {
		return figure + " " + code
	}
	return code
}

// readStop reads what is shown of a stop.
func readStop(r *session.Reader, s build.Stop, several bool) (stopRead, error) {
	out := stopRead{Stop: s}
	var err error
	if out.title, err = titleOf(r, s.Item); err != nil {
		return out, err
	}
	heaps, err := r.Shop.Holdings(s.Item)
	if err != nil {
		return out, err
	}
	for _, h := range heaps {
		if h.Place == s.Place.ID && h.Lot == s.Lot && h.Condition == store.Good {
			out.there = h.Amount
		}
	}
	out.card, err = stopCard(r, out, several)
	return out, err
}

// stopCard is a stop as a card: its place large and lit, the piece at size, what goes into
// which tray, and the look-alike to beware of.
func stopCard(r *session.Reader, s stopRead, several bool) (card.Card, error) {
	path, err := r.Shop.Path(s.Place.ID)
	if err != nil {
		return card.Card{}, err
	}
	c := card.Card{
		Designation: s.Place.Name, Title: s.Item + " · " + s.title, Place: session.PlaceWords(path), Piece: drawing.PieceOf(r.Catalog().Decode(s.Item), r.Lengths()),
		Quantity: s.Quantity.Number(), Unit: wording.UnitBehind(s.Quantity.Number(), s.Quantity.Unit), Known: "of " + s.there.Figure() + " there",
	}
	if c.Cabinet, err = r.Around(s.Place.ID); err != nil {
		return c, err
	}
	if several {
		for _, f := range s.For {
			c.Tallies = append(c.Tallies, card.Tally{Words: "Tray " + f.Code, Figure: f.Quantity.Number()})
		}
	}
	for _, words := range s.Beware {
		c.Beware = append(c.Beware, notice.Notice{Tone: notice.Warn, Lead: "Beware:", Text: words + "."})
	}
	if len(c.Beware) == 0 { // elsewhere in the cabinet or in the shop
		item, err := r.ItemCard(s.Item)
		if err != nil {
			return c, err
		}
		c.Beware = item.Beware
	}
	if by := session.CalledBy(s.Stop); s.Called != "" {
		c.Notes = append(c.Notes, "the plans call it "+s.Called+": "+cmp.Or(by, "no source is recorded"))
	}
	if !s.Expires.IsZero() {
		c.Notes = append(c.Notes, "expires on "+s.Expires.String())
	}
	if s.Temporary {
		c.Notes = append(c.Notes, "temporary: it comes back before closing")
	}
	return c, nil
}

// row is a stop as a row; number is which one it is.
func (s stopRead) row(number int, several, passed bool) table.Row {
	sub := s.title
	if s.Called != "" {
		sub = "called " + s.Called + " · " + sub
	}
	if s.LotName != "" {
		sub += " · " + s.LotName
	}
	var trays []string
	for _, f := range s.For {
		trays = append(trays, trayWords(f.Quantity.Number(), f.Code, several))
	}
	words := table.Cell{Text: strings.Join(trays, " · ")}
	switch {
	case len(s.Beware) > 0:
		words.Sub = "▲ " + strings.Join(s.Beware, "; ")
	case !s.Expires.IsZero():
		words.Sub = "expires " + s.Expires.String()
	}
	mark := fmt.Sprint(number)
	if passed {
		mark = "–"
	}
	return table.Row{ID: s.key(), Cells: []table.Cell{
		table.T(mark), table.Name(s.Place.Name, ""), table.Name(s.Item, sub), {Text: s.Quantity.Number(), Sub: wording.ShortUnit(s.Quantity.Unit)}, words,
	}}
}

// key tells a stop from the others of a walk.
func (s stopRead) key() string { return s.Place.ID + "/" + s.Item + "/" + s.Lot }

func (t takenRow) row(place string) table.Row {
	return table.Row{ID: "taken/" + t.item, Dim: true, Cells: []table.Cell{
		table.T("✓"), table.Name(cmp.Or(place, "tray"), ""), table.Name(t.item, t.title), table.T(t.quantity), {Text: t.trays, Sub: "in the tray"},
	}}
}
