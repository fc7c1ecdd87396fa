package session

import (
	"cmp"
	"fmt"
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

// fittedOf is what is fitted of an item, by sub-assembly.
func (s *Reader) fittedOf(k *kept, item string) ([]store.Fitted, error) {
	if k.fitted == nil {
		all, err := s.Shop.Fitted("")
		if err != nil {
			return nil, err
		}
		k.fitted = map[string][]store.Fitted{}
		for _, f := range all {
			k.fitted[f.Item] = append(k.fitted[f.Item], f)
		}
	}
	return k.fitted[item], nil
}

// fittedAway is what is fitted of an item in words, each sub-assembly once.
func fittedAway(fitted []store.Fitted) (away []Away, err error) {
	in, codes := map[string]store.Amount{}, []string(nil)
	for _, f := range fitted {
		sum, ok := in[f.SubAssembly]
		if !ok {
			codes = append(codes, f.SubAssembly)
			in[f.SubAssembly] = f.Amount
			continue
		}
		if in[f.SubAssembly], err = sum.Add(f.Amount); err != nil {
			return nil, fmt.Errorf("adding up what is fitted of %s: %w", f.Item, err)
		}
	}
	for _, code := range codes {
		if sum := in[code]; sum.Sign() > 0 {
			away = append(away, Away{Text: sum.Figure() + unitBehind(sum.Unit) + " fitted in " + code})
		}
	}
	return away, nil
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

// notInStock is what of an item is not in stock: what is expected in the order of packing
// lists and orders, then what is fitted.
func (s *Reader) notInStock(item string) (away []Away, err error) {
	err = s.board(func(k *kept) error {
		for _, e := range summed(k.plan.Of.Expected[item]) {
			away = append(away, awayOf(e))
		}
		fitted, err := s.fittedOf(k, item)
		if err != nil {
			return err
		}
		more, err := fittedAway(fitted)
		away = append(away, more...)
		return err
	})
	return away, err
}
