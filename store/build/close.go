package build

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// Records are what was noted of a sub-assembly besides what was pulled and fitted.
type Records struct {
	// Photographs counts them by position; "" for the sub-assembly as a whole.
	Photographs map[string]int
	// Torqued are the requirements, by id, whose torque was noted.
	Torqued map[string]bool
	// Looks are the persons besides the builder who looked at it.
	Looks []string
	// Lost is what fell and was not found yet.
	Lost []Lost
	// Answers are the reasons that a person gave for what stays open, by [Open.Key].
	Answers map[string]string
}

// Lost is so much of an item that is looked for.
type Lost struct {
	Item     string
	Quantity measure.Quantity
}

// OpenKind says what is open at closing.
type OpenKind string

// What may be open.
const (
	NotFitted    OpenKind = "not fitted"
	NotBack      OpenKind = "temporary not back"
	LeftInTray   OpenKind = "left in the tray"
	NotFound     OpenKind = "lost, not found"
	NoPhoto      OpenKind = "no photograph"
	NoTorque     OpenKind = "no torque note"
	NoSecondLook OpenKind = "no second pair of eyes"
)

// Open is one thing that stands against closing a sub-assembly.
type Open struct {
	Kind OpenKind
	Key  string // what an answer is kept under
	Item string // "" for none
	// Requirement is the line of its list that is not fitted or not torqued; "" for none.
	Requirement string
	Position    string // of a photograph; "" the whole
	Sentence    string
	Answer      string // the reason that was given; "" none yet
}

// Unnoted reports whether it is something that nobody noted: a photograph, torque, a
// second look. Everything else is a piece that is somewhere, or is not.
func (o Open) Unnoted() bool {
	return o.Kind == NoPhoto || o.Kind == NoTorque || o.Kind == NoSecondLook
}

// Closing is everything that is open on a sub-assembly, answered or not, and whether
// it may be closed: when each is answered or done. It says nothing about the work.
func (b *Board) Closing(code string, records Records) (open []Open, may bool, err error) {
	i, ok := b.index[code]
	if !ok {
		return nil, false, fmt.Errorf("there is no sub-assembly %q: see how its code is spelled", code)
	}
	open = append(open, b.unfinished(i)...)
	for _, l := range records.Lost {
		words := fmt.Sprintf("%s %s not found in %s", l.Quantity.Number(), thing(l.Item, l.Quantity), code)
		open = append(open, Open{Kind: NotFound, Item: l.Item, Sentence: words})
	}
	open = append(open, b.unrecorded(i, records)...)
	may = true
	keys := map[string]int{}
	for k := range open {
		o := &open[k]
		o.Key = string(o.Kind) + "/" + o.Item + "/" + o.Position
		if keys[o.Key]++; keys[o.Key] > 1 { // one more of it, which has to be answered by itself
			o.Key += "/" + cmp.Or(o.Requirement, strconv.Itoa(keys[o.Key]))
		}
		o.Answer = records.Answers[o.Key]
		may = may && o.Answer != ""
	}
	return open, may, nil
}

// unfinished is what is not fitted, and what lies in the tray still.
func (b *Board) unfinished(i int) []Open {
	var open []Open
	s := &b.statuses[i]
	temporary := map[string]bool{}
	for k := range s.Needs {
		n := &s.Needs[k]
		left := measure.Quantity{Micro: n.Needed.Micro - n.Fitted.Micro, Unit: n.Needed.Unit}
		switch {
		case n.Kind == Temporary:
			temporary[n.Item] = true
		case n.Kind == Exact && left.Sign() > 0:
			open = append(open, Open{Kind: NotFitted, Item: n.Item, Requirement: n.Requirement, Sentence: fmt.Sprintf("%s of %s %s not fitted", left.Number(), n.Needed.Number(), n.Item)})
		}
	}
	for _, item := range b.trayItems(s.Code) {
		for _, h := range b.reading.Stock[item] {
			switch {
			case h.Tray != s.Code || h.Amount.High.Sign() <= 0:
			case temporary[item]:
				open = append(open, Open{Kind: NotBack, Item: item, Sentence: fmt.Sprintf("%s %s not back", h.Amount.Figure(), item)})
			default:
				open = append(open, Open{Kind: LeftInTray, Item: item, Sentence: fmt.Sprintf("%s %s left in the tray: put back or fit them", h.Amount.Figure(), item)})
			}
		}
	}
	return open
}

// trayItems are the items in the tray of a sub-assembly, in order.
func (b *Board) trayItems(code string) []string {
	var items []string
	for item, heaps := range b.reading.Stock {
		if slices.ContainsFunc(heaps, func(h Heap) bool { return h.Tray == code }) {
			items = append(items, item)
		}
	}
	slices.Sort(items)
	return items
}

// unrecorded is what nobody noted: photographs by position, torque, a second look.
func (b *Board) unrecorded(i int, records Records) []Open {
	var open []Open
	sub := &b.reading.SubAssemblies[i]
	var positions []string
	for _, r := range sub.Requirements {
		if r.Position != "" && !slices.Contains(positions, r.Position) {
			positions = append(positions, r.Position)
		}
	}
	if len(positions) == 0 {
		positions = []string{""}
	}
	for _, p := range positions {
		if records.Photographs[p] > 0 {
			continue
		}
		words := "no photograph"
		if p != "" {
			words += " of " + p
		}
		open = append(open, Open{Kind: NoPhoto, Position: p, Sentence: words + ": it cannot be made once it is closed up"})
	}
	for _, r := range torqued(sub.Requirements) {
		if !records.Torqued[r.ID] {
			open = append(open, Open{Kind: NoTorque, Item: r.Item, Requirement: r.ID, Position: r.Position, Sentence: "no torque note for " + r.Item})
		}
	}
	if len(records.Looks) == 0 {
		open = append(open, Open{Kind: NoSecondLook, Sentence: "no second person has looked at it"})
	}
	return open
}

// torqued are the requirements that a torque note is asked for: nuts, or where there
// are none the bolts, since they go into plate nuts.
func torqued(all []Requirement) []Requirement {
	of := func(kind hardware.Kind) (out []Requirement) {
		for _, r := range all {
			if r.Kind == Exact && hardware.Decode(r.Item).Kind == kind {
				out = append(out, r)
			}
		}
		return out
	}
	if nuts := of(hardware.Nut); len(nuts) > 0 {
		return nuts
	}
	return of(hardware.Bolt)
}

// thing is what an item is in a word, "nut" or "nuts", and its number where the tables
// do not say.
func thing(item string, q measure.Quantity) string {
	kind := string(hardware.Decode(item).Kind)
	switch {
	case kind == "":
		return item
	case q == measure.Pieces(1):
		return kind
	case kind[len(kind)-1] == 'h':
		return kind + "es"
	}
	return kind + "s"
}
