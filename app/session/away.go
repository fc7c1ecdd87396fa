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

// Away is so much of an item that is not in stock and is known of all the same: listed and not
// checked off, owed, fitted.
type Away struct {
	Text  string // "30 listed in crate C1"
	State string // "not checked off"; may be empty
	// Uncounted says that it may well be here: until somebody looks, how many there are is
	// not known.
	Uncounted bool
}

// String is "30 listed in crate C1, not checked off".
func (a Away) String() string {
	if a.State == "" {
		return a.Text
	}
	return a.Text + ", " + a.State
}

// allAway is what is not in stock, by item: what is expected in the order of packing lists and
// orders, then what is fitted.
func (s *Reader) allAway(ships []store.Shipment, lines [][]store.Line) (map[string][]Away, error) {
	awaited, err := s.awaited(ships, lines)
	if err != nil {
		return nil, err
	}
	all := map[string][]Away{}
	for item, of := range awaited {
		for _, e := range summed(of) {
			all[item] = append(all[item], awayOf(e))
		}
	}
	fitted, err := s.Shop.Fitted("")
	if err != nil {
		return nil, err
	}
	type key struct{ item, code string }
	in, order := map[key]store.Amount{}, []key(nil)
	for _, f := range fitted {
		k := key{f.Item, f.SubAssembly}
		sum, ok := in[k]
		if !ok {
			order = append(order, k)
			in[k] = f.Amount
			continue
		}
		if in[k], err = sum.Add(f.Amount); err != nil {
			return nil, fmt.Errorf("adding up what is fitted of %s: %w", f.Item, err)
		}
	}
	for _, k := range order {
		if in[k].Sign() > 0 {
			all[k.item] = append(all[k.item], Away{Text: in[k].Figure() + unitBehind(in[k].Unit) + " fitted in " + k.code})
		}
	}
	return all, nil
}

// summed are what is expected, with what is expected in the same way added up.
func summed(of []build.Expected) []build.Expected {
	type key struct {
		by    build.Source
		crate string
		until measure.Date
		unit  measure.Unit
	}
	at := map[key]int{}
	var out []build.Expected
	for _, e := range of {
		k := key{e.By, e.Crate, e.Until, e.Quantity.Unit}
		if i, ok := at[k]; ok {
			out[i].Quantity.Micro += e.Quantity.Micro
			continue
		}
		at[k] = len(out)
		out = append(out, e)
	}
	return out
}

// awayOf is what is expected in words.
func awayOf(e build.Expected) Away {
	many := e.Quantity.Number() + unitBehind(e.Quantity.Unit)
	listed := many + " listed"
	if e.Crate != "" {
		listed += " in " + phrase.Crate(e.Crate)
	}
	switch e.By {
	case build.NotChecked, build.Unopened:
		return Away{Text: listed, State: "not checked off", Uncounted: true}
	case build.NotCome:
		return Away{Text: listed, State: "not come yet"}
	case build.Missing:
		return Away{Text: many + " short", State: strings.TrimPrefix(listed, many+" listed ")}
	case build.Unusable:
		return Away{Text: many + " came " + cmp.Or(e.Note, "not usable"), State: strings.TrimPrefix(listed, many+" listed ")}
	}
	owed := Away{Text: many + " owed", State: string(e.By)}
	if e.By == build.Ordered {
		owed.State = strings.TrimSpace("ordered " + e.List)
	}
	if !e.Until.IsZero() {
		owed.State = "promised for " + e.Until.String()
	}
	return owed
}

// unitBehind is a unit behind a figure; pieces need none.
func unitBehind(u measure.Unit) string {
	if u == measure.Each {
		return ""
	}
	return " " + string(u)
}

// away is what of an item is not in stock, what is kept of it for sub-assemblies first.
func (s *Reader) away(item store.Item) (away []Away, err error) {
	words, err := s.reserved(item)
	if err != nil {
		return nil, err
	}
	if words != "" {
		away = append(away, Away{Text: words})
	}
	more, err := s.notInStock(item.Designation)
	return append(away, more...), err
}

// notInStock is what of an item is listed and not checked off, owed, or fitted.
func (s *Reader) notInStock(item string) (away []Away, err error) {
	err = s.board(func(k *kept) error {
		away = k.away[item]
		return nil
	})
	return slices.Clip(away), err
}
