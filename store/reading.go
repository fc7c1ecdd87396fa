package store

import (
	"cmp"
	"slices"
	"strings"

	"stowright/store/build"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// Reading is what the shop knows of building: its sub-assemblies with what they need and
// what is fitted, and the stock of those items. What is expected, and how things are
// bought, is not in it.
func (r *Reader) Reading() (*build.Reading, error) {
	f, err := r.Following()
	if err != nil {
		return nil, err
	}
	return f.Of, nil
}

// Following is Reading with what it takes to follow the shop from then on.
func (r *Reader) Following() (f *Following, err error) {
	err = r.Read(func(r *Reader) error {
		f, err = r.following()
		return err
	})
	return f, err
}

func (r *Reader) following() (*Following, error) {
	of := &build.Reading{Today: r.Today(), Stock: map[string][]build.Heap{}, Expected: map[string][]build.Expected{}}
	subs, err := r.SubAssemblies()
	if err != nil {
		return nil, err
	}
	fitted, err := r.Fitted("")
	if err != nil {
		return nil, err
	}
	needs, err := r.Requirements("")
	if err != nil {
		return nil, err
	}
	if err := r.readPapers(of); err != nil {
		return nil, err
	}
	listed, in := map[string][]Requirement{}, map[string][]Fitted{}
	for _, need := range needs {
		listed[need.SubAssembly] = append(listed[need.SubAssembly], need)
	}
	for _, f := range fitted {
		in[f.SubAssembly] = append(in[f.SubAssembly], f)
	}
	for _, sub := range subs {
		of.SubAssemblies = append(of.SubAssemblies, subAssemblyRead(sub, listed[sub.Code], in[sub.Code]))
	}
	if of.Places, err = r.walkedPlaces(); err != nil {
		return nil, err
	}
	f := &Following{Of: of, Trays: traysOf(subs)}
	return f, r.readAskedFor(f)
}

// walkedPlaces are all places by id, as one walks to them.
func (r *Reader) walkedPlaces() (map[string]build.Place, error) {
	places, err := r.Places()
	byID := make(map[string]build.Place, len(places))
	for _, p := range inWalkingOrder(places) {
		byID[p.ID] = p
	}
	return byID, err
}

// readAskedFor reads the heaps of the items that are asked for and not read yet.
func (r *Reader) readAskedFor(f *Following) error {
	items, err := r.itemsAskedFor(f)
	if err != nil {
		return err
	}
	for _, item := range items {
		if _, read := f.Of.Stock[item]; read {
			continue
		}
		if f.Of.Stock[item], err = r.heaps(item, f.Trays); err != nil {
			return err
		}
	}
	return nil
}

// subAssemblyHead is a sub-assembly as its rules see it, without what it needs.
func subAssemblyHead(sub SubAssembly) build.SubAssembly {
	out := build.SubAssembly{Code: sub.Code, Name: sub.Name, Aircraft: sub.Aircraft, Planned: sub.Planned, Hours: sub.Hours, LetGo: sub.LetGo}
	if sub.Closed != nil {
		out.Closed = sub.Closed.On
	}
	return out
}

// subAssemblyRead is a sub-assembly as its rules see it, with the requirements in force.
func subAssemblyRead(sub SubAssembly, listed []Requirement, fitted []Fitted) build.SubAssembly {
	out := subAssemblyHead(sub)
	for _, need := range listed {
		if need.InForce() {
			out.Requirements = append(out.Requirements, requirementRead(need))
		}
	}
	shareOut(&out, listed, fitted)
	return out
}

// requirementRead is a requirement as the rules see it.
func requirementRead(r Requirement) build.Requirement {
	out := build.Requirement{
		ID: r.Name(), Called: r.Called, Item: r.Item, Expression: r.Expression, Needed: r.Needed, Kind: r.Kind,
		Callout: r.Callout.String(), Revision: r.Revision, Position: r.Position, Joint: r.Joint,
	}
	for _, layer := range r.Stack {
		out.Stack = append(out.Stack, build.Layer{Name: layer.Name, Thickness: layer.Thickness})
	}
	return out
}

// shareOut gives what was fitted to the lines that it was fitted for. What was fitted for
// no line goes to those that ask for the item: the first one gets what it needs, and the
// last one the rest.
func shareOut(out *build.SubAssembly, listed []Requirement, fitted []Fitted) {
	line := map[string]int{}
	for i, r := range out.Requirements {
		line[r.ID] = i
	}
	for _, f := range fitted {
		if f.SubAssembly != out.Code {
			continue
		}
		if f.Requirement == "" {
			shareLoose(out, f)
		} else if i, ok := line[successor(listed, f.Requirement)]; ok {
			out.Requirements[i].Fitted = append(out.Requirements[i].Fitted, build.Fit{Item: f.Item, Lot: f.Lot, Amount: f.Amount})
		}
	}
}

func shareLoose(out *build.SubAssembly, f Fitted) {
	last := -1
	for i, need := range out.Requirements {
		if need.Item == f.Item {
			last = i
		}
	}
	rest := f.Amount
	for i := range out.Requirements {
		need := &out.Requirements[i]
		if need.Item != f.Item || rest.IsZero() {
			continue
		}
		part := rest
		if open := need.Needed.Micro - fittedOf(need); i != last && !rest.Estimate() && rest.Micro > open {
			part = Exact(measure.Quantity{Micro: max(0, open), Unit: rest.Unit})
		}
		need.Fitted = append(need.Fitted, build.Fit{Item: f.Item, Lot: f.Lot, Amount: part})
		rest.Micro, rest.Low.Micro, rest.High.Micro = rest.Micro-part.Micro, rest.Low.Micro-part.Low.Micro, rest.High.Micro-part.High.Micro
	}
}

func fittedOf(r *build.Requirement) int64 {
	sum := int64(0)
	for _, f := range r.Fitted {
		sum += f.Amount.Micro
	}
	return sum
}

// Heaps are those of an item, the oldest lot first. Trays are the codes of sub-assemblies
// by the ids of the places of their trays.
func (r *Reader) Heaps(item string, trays map[string]string) (list []build.Heap, err error) {
	err = r.Read(func(r *Reader) error {
		list, err = r.heaps(item, trays)
		return err
	})
	return list, err
}

func (r *Reader) heaps(item string, trays map[string]string) ([]build.Heap, error) {
	holdings, err := r.Holdings(item)
	if err != nil {
		return nil, err
	}
	states, err := r.LotStates(item)
	if err != nil {
		return nil, err
	}
	published := hardware.Decode(item).Known
	out := []build.Heap{}
	for _, h := range holdings {
		state, recorded := states[h.Lot]
		if !recorded { // of an older shop
			if state.Lot, err = r.Lot(item, h.Lot); err != nil {
				return nil, err
			}
			for _, known := range states {
				state.Perishable = known.Perishable // as every lot of the item is
			}
		}
		out = append(out, build.Heap{
			Place: h.Place, Lot: h.Lot, LotName: lotWords(state.Lot, holdings), Condition: conditionRead(h.Condition), Why: strings.Join(h.Condition.Alerts(), ", "), Amount: h.Amount, Tray: trays[h.Place],
			Origin: state.Origin, Untied: published && len(state.Lot.Facts.Papers) == 0, Expires: state.Expires, Perishable: state.Perishable,
		})
	}
	slices.SortStableFunc(out, func(a, b build.Heap) int { return cmp.Compare(lotOrder(a.Lot), lotOrder(b.Lot)) })
	return out, nil
}

// conditionRead is that of stock as the rules see it, which ask for no alerts.
func conditionRead(c Condition) build.Condition {
	if c.Alerts() != nil {
		return build.Quarantined
	}
	return build.Condition(c)
}

// lotOrder puts lots in the order in which they came, those of an older shop first.
func lotOrder(name string) uint64 {
	number, _ := LotNumber(name)
	return number
}

// lotWords is what people know a lot by; nothing where none was recorded, and where the
// shop has one lot alone of the item, on which nothing is printed: that needs no name.
func lotWords(l Lot, holdings []Holding) string {
	another := slices.ContainsFunc(holdings, func(h Holding) bool { return h.Lot != holdings[0].Lot })
	if l.Printed == "" && (l.Number == 0 || !another) {
		return ""
	}
	return l.Words()
}

// inWalkingOrder are places as one walks to them: rooms and what stands in them in the
// order in which they were made.
func inWalkingOrder(places []Place) []build.Place {
	byID, position, children := map[string]Place{}, map[string]int{}, map[string]int{}
	for _, p := range places {
		byID[p.ID], position[p.ID] = p, children[p.Parent]
		children[p.Parent]++
	}
	out := make([]build.Place, 0, len(places))
	for _, p := range places {
		way := []Place{p} // from the place up to its room
		for at := p; at.Parent != "" && len(way) <= len(places); {
			at = byID[at.Parent]
			way = append(way, at)
		}
		b := build.Place{ID: p.ID, Tag: string(p.Tag), Name: p.Name, Row: p.Row, Column: p.Column, Room: position[way[len(way)-1].ID]}
		if len(way) > 1 {
			b.Furniture = position[way[len(way)-2].ID]
		}
		if len(way) > 2 && b.Row == 0 {
			b.Row = position[p.ID] + 1
		}
		out = append(out, b)
	}
	return out
}
