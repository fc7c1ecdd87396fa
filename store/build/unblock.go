package build

import (
	"cmp"
	"slices"
	"strings"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// Class says how much trouble an action is; the least comes first.
type Class int

// The classes of action.
const (
	LookClass     Class = iota // look at something that lies here
	CountClass                 // weigh or count
	CheckOffClass              // check off a crate that is here
	OrderClass                 // let a hold go, or build in another order
	AnswerClass                // get an answer and record it
	WaitClass                  // wait for a day that was promised
	ChaseClass                 // ask the supplier
	BuyClass
)

// Action is one thing that somebody could do.
type Action struct {
	Class  Class
	Verb   string // "Weigh"
	Object string // "A-03"
	Items  []string
	Place  string // id; "" for none
	// First and Then are codes where the action is to build First just before Then; LetGo
	// is one where it is to let the hold of that one go. Else they are empty.
	First, Then, LetGo string

	reorder func([]SubAssembly) []SubAssembly // another order of building; nil for none
	effects []effect
}

// effect is what an action may change in a reading, at its best.
type effect struct {
	item   string
	change func(r *Reading)
}

// Unblock is what one action, or two of a class, would free.
type Unblock struct {
	Actions []Action // one or two
	Frees   []string // codes that could be started then and cannot now
	Costs   []string // codes that can be started now and could not then
	Hours   Hours    // planned for what it frees
	Lost    Hours    // planned for what it costs
	Do      string   // what is to be done: "Weigh A-03 and A-21"
	// Sentence is "Weigh: SA-10, 20 h".
	Sentence string
}

// Cheapest is what would free the most for the least, and what nothing here frees.
type Cheapest struct {
	Unblocks []Unblock
	// Rest are blocked codes that no one or two actions free: their blockers say why.
	Rest []string
	// LeftOut is how many actions were not tried, of the dearest; see [MostActions].
	LeftOut int
}

// MostActions is how many actions are tried, alone and two by two: all of them where
// there are no more, which makes the answer exact.
const MostActions = 30

// Cheapest lists what one action would free, and what two of a class would together
// that neither does alone: the least trouble first, and of equal trouble the most hours.
// Every action is taken at its best: that the count is enough, that what is owed comes.
func (b *Board) Cheapest() Cheapest {
	actions := b.actions()
	out := Cheapest{LeftOut: max(0, len(actions)-MostActions)}
	actions = actions[:min(len(actions), MostActions)]
	alone := make([]Unblock, len(actions))
	for i, a := range actions {
		alone[i] = b.try(a)
	}
	for i := range actions {
		if len(alone[i].Frees) > 0 {
			out.Unblocks = append(out.Unblocks, alone[i])
		}
		for k := i + 1; k < len(actions); k++ {
			if actions[k].Class != actions[i].Class || actions[i].reorder != nil && actions[k].reorder != nil {
				continue
			}
			both := b.try(actions[i], actions[k])
			if slices.ContainsFunc(both.Frees, func(code string) bool {
				return !slices.Contains(alone[i].Frees, code) && !slices.Contains(alone[k].Frees, code)
			}) {
				out.Unblocks = append(out.Unblocks, both)
			}
		}
	}
	slices.SortStableFunc(out.Unblocks, func(x, y Unblock) int {
		return cmp.Or(int(x.Actions[0].Class-y.Actions[0].Class), int((y.Hours-y.Lost)-(x.Hours-x.Lost)), len(x.Actions)-len(y.Actions))
	})
	out.Unblocks = dearerLeftOut(out.Unblocks)
	for i := range b.statuses {
		s := &b.statuses[i]
		freed := slices.ContainsFunc(out.Unblocks, func(u Unblock) bool { return slices.Contains(u.Frees, s.Code) })
		if (s.State == Blocked || s.State == Estimate) && !freed {
			out.Rest = append(out.Rest, s.Code)
		}
	}
	return out
}

// dearerLeftOut leaves out what frees nothing that something before it does not free
// at no cost of its own.
func dearerLeftOut(all []Unblock) []Unblock {
	var out []Unblock
	for _, u := range all {
		if !slices.ContainsFunc(out, func(before Unblock) bool {
			return len(before.Costs) <= len(u.Costs) && !slices.ContainsFunc(u.Frees, func(code string) bool { return !slices.Contains(before.Frees, code) })
		}) {
			out = append(out, u)
		}
	}
	return out
}

// actions are what could be done about the blockers, the least trouble first.
func (b *Board) actions() []Action {
	var all []*Action
	index := map[string]*Action{}
	add := func(a Action, item string, change func(r *Reading)) {
		key := a.Verb + "\x00" + a.Object
		known := index[key]
		if known == nil {
			known = &a
			index[key], all = known, append(all, known)
		}
		if !slices.Contains(known.Items, item) {
			known.Items = append(known.Items, item)
		}
		if change != nil {
			known.effects = append(known.effects, effect{item, change})
		}
	}
	for i := range b.statuses {
		for _, blocker := range b.statuses[i].Blockers {
			for _, r := range blocker.Reasons {
				b.actionsFor(blocker, r, add)
			}
			b.reorders(i, blocker, add)
			if !blocker.CannotTell {
				missing := measure.Quantity{Micro: blocker.Need.Micro, Unit: blocker.Need.Unit}
				add(Action{Class: BuyClass, Verb: "Buy", Object: blocker.Item}, blocker.Item, arrives(blocker.Item, missing))
			}
		}
	}
	out := make([]Action, 0, len(all))
	for _, a := range all {
		out = append(out, *a)
	}
	slices.SortStableFunc(out, func(x, y Action) int { return int(x.Class - y.Class) })
	return out
}

// arrives puts a quantity of an item into the stock.
func arrives(item string, q measure.Quantity) func(r *Reading) {
	return func(r *Reading) { r.Stock[item] = append(r.Stock[item], Heap{Amount: measure.Exact(q)}) }
}

// at changes the heaps of an item in a place, of a lot.
func at(item, place, lot string, change func(h *Heap)) func(r *Reading) {
	return func(r *Reading) {
		for i := range r.Stock[item] {
			if h := &r.Stock[item][i]; h.Place == place && h.Lot == lot {
				change(h)
			}
		}
	}
}

// actionsFor adds what could be done about one reason of a blocker.
func (b *Board) actionsFor(blocker *Blocker, r Reason, add func(Action, string, func(*Reading))) {
	item, place := blocker.Item, b.place(r.Place)
	switch r.Kind {
	case Uncounted:
		verb, _, _ := strings.Cut(r.Sentence, " ")
		add(Action{Class: CountClass, Verb: capital(verb), Object: place, Place: r.Place}, item, at(item, r.Place, r.Lot, func(h *Heap) {
			if h.Amount.Unit == blocker.Need.Unit {
				h.Amount = measure.Exact(h.Amount.High)
				return
			}
			h.Amount = measure.Exact(b.wantedOf(item, blocker.Need.Unit))
		}))
	case NoExpiry:
		add(Action{Class: LookClass, Verb: "See the date of", Object: item + " in " + place, Place: r.Place}, item, at(item, r.Place, r.Lot, func(h *Heap) { h.Perishable = false }))
	case NotGood:
		b.lookAgain(item, r, add)
	case InCrate, UncheckedLine:
		add(Action{Class: CheckOffClass, Verb: "Check off", Object: phrase.Crate(r.Crate)}, item, arrives(item, r.Quantity))
	case OriginAsked:
		add(Action{Class: AnswerClass, Verb: "Get a decision on the origin of", Object: item}, item, at(item, r.Place, r.Lot, func(h *Heap) { h.Origin = ApprovedProduction }))
	case Expired:
		add(Action{Class: AnswerClass, Verb: "Get a retest of", Object: item}, item, at(item, r.Place, r.Lot, func(h *Heap) { h.Expires, h.Perishable = measure.Date{}, false }))
	case Due, Owing, Lacking:
		b.askSupplier(item, r, add)
	}
}

// wantedOf is all that is still to be pulled of an item.
func (b *Board) wantedOf(item string, unit measure.Unit) measure.Quantity {
	return measure.Quantity{Micro: b.demandOf(item).needed, Unit: unit}
}

// lookAgain is for pieces that came out of an aircraft and that nobody has looked at.
func (b *Board) lookAgain(item string, r Reason, add func(Action, string, func(*Reading))) {
	for _, h := range b.reading.Stock[item] {
		if h.Place == r.Place && h.Lot == r.Lot && h.Condition == Removed {
			add(Action{Class: LookClass, Verb: "Look at the removed", Object: item + " in " + b.place(r.Place), Place: r.Place}, item, at(item, r.Place, r.Lot, func(h *Heap) {
				if h.Condition == Removed {
					h.Condition = Good
				}
			}))
		}
	}
}

// askSupplier is for what is owed or was found short: by crate where it comes in one.
func (b *Board) askSupplier(item string, r Reason, add func(Action, string, func(*Reading))) {
	a := Action{Class: ChaseClass, Verb: "Chase", Object: item}
	if r.By == NotCome && r.Crate != "" {
		a.Object = phrase.Crate(r.Crate)
	}
	if r.Kind == Due {
		a.Class, a.Verb, a.Object = WaitClass, "Wait for", a.Object+", promised for "+r.Until.String()
	}
	add(a, item, arrives(item, r.Quantity))
}

// reorders are for what earlier sub-assemblies hold: building this one just before one
// of them, or letting the hold of a blocked one go. The nearest ones are tried, and the
// nearest first: it changes the least.
func (b *Board) reorders(i int, blocker *Blocker, add func(Action, string, func(*Reading))) {
	k := slices.IndexFunc(b.statuses[i].Needs, func(n Need) bool { return n.Requirement == blocker.Requirement && n.Item == blocker.Item })
	held, code := b.statuses[i].Needs[k].Held, b.statuses[i].Code
	for _, h := range slices.Backward(held[max(0, len(held)-mostHolders):]) {
		holder := b.index[h.Code]
		if holder < i {
			add(Action{
				Class: OrderClass, Verb: "Put", Object: code + " before " + h.Code, First: code, Then: h.Code,
				reorder: func(subs []SubAssembly) []SubAssembly { return before(subs, code, h.Code) },
			}, blocker.Item, nil)
		}
		if b.statuses[holder].State == Blocked && !b.reading.SubAssemblies[holder].LetGo {
			add(Action{
				Class: OrderClass, Verb: "Let go", Object: "the hold of " + h.Code, LetGo: h.Code,
				reorder: func(subs []SubAssembly) []SubAssembly { return letGo(subs, h.Code) },
			}, blocker.Item, nil)
		}
	}
}

// letGo lets the hold of a sub-assembly go.
func letGo(subs []SubAssembly, code string) []SubAssembly {
	for k := range subs {
		if subs[k].Code == code {
			subs[k].LetGo = true
		}
	}
	return subs
}

// before moves a sub-assembly to just before another one.
func before(subs []SubAssembly, code, other string) []SubAssembly {
	from := slices.IndexFunc(subs, func(s SubAssembly) bool { return s.Code == code })
	to := slices.IndexFunc(subs, func(s SubAssembly) bool { return s.Code == other })
	if from < 0 || to < 0 || from <= to {
		return subs
	}
	moved := subs[from]
	return slices.Insert(slices.Delete(subs, from, from+1), to, moved)
}

// try works out what some actions together would free.
func (b *Board) try(actions ...Action) Unblock {
	u := Unblock{Actions: actions}
	affected := map[string]bool{}
	for _, a := range actions {
		for _, item := range a.Items {
			affected[item] = true
		}
		if a.reorder != nil {
			b.itemsOf(a, affected)
		}
	}
	then := NewBoard(b.supposed(affected, actions))
	for i := range b.statuses {
		s := &b.statuses[i]
		if s.State == Closed || s.State == Unlisted {
			continue
		}
		stays := slices.ContainsFunc(s.Blockers, func(x *Blocker) bool { return !affected[x.Item] })
		after, listed := then.Status(s.Code)
		blocked := stays || listed && slices.ContainsFunc(after.Blockers, func(x *Blocker) bool { return affected[x.Item] })
		switch now := s.State.Startable(); {
		case !now && !blocked:
			u.Frees, u.Hours = append(u.Frees, s.Code), u.Hours+s.Hours
		case now && blocked:
			u.Costs, u.Lost = append(u.Costs, s.Code), u.Lost+s.Hours
		}
	}
	u.Do = doing(actions)
	u.Sentence = u.words()
	return u
}

// itemsOf adds the items of the sub-assemblies that an action moves.
func (b *Board) itemsOf(a Action, affected map[string]bool) {
	for _, code := range strings.Fields(a.Object) {
		if i, ok := b.index[code]; ok {
			for k := range b.statuses[i].Needs {
				affected[b.statuses[i].Needs[k].Item] = true
			}
		}
	}
}

// supposed is the reading of some items alone, as actions would leave it at their best.
func (b *Board) supposed(affected map[string]bool, actions []Action) *Reading {
	r := *b.reading
	r.Stock = make(map[string][]Heap, len(affected))
	kept := map[int][]int{} // requirements of a sub-assembly that ask for those items
	for item := range affected {
		r.Stock[item] = slices.Clone(b.reading.Stock[item])
		for _, a := range b.pools[item] {
			if !slices.Contains(kept[a.sub], a.requirement) {
				kept[a.sub] = append(kept[a.sub], a.requirement)
			}
		}
	}
	r.SubAssemblies = nil
	for i := range b.reading.SubAssemblies {
		if len(kept[i]) == 0 {
			continue
		}
		sub := b.reading.SubAssemblies[i]
		slices.Sort(kept[i])
		needs := sub.Requirements
		sub.Requirements = nil
		for _, k := range kept[i] {
			sub.Requirements = append(sub.Requirements, needs[k])
		}
		r.SubAssemblies = append(r.SubAssemblies, sub)
	}
	for _, a := range actions {
		for _, e := range a.effects {
			e.change(&r)
		}
		if a.reorder != nil {
			r.SubAssemblies = a.reorder(r.SubAssemblies)
		}
	}
	return &r
}

// doing is what actions are in words: "Weigh A-03 and A-21".
func doing(actions []Action) string {
	first := actions[0]
	do := first.Verb + " " + first.Object
	if len(actions) < 2 {
		return do
	}
	second := actions[1]
	if second.Verb == first.Verb {
		return do + " and " + second.Object
	}
	return do + " and " + strings.ToLower(second.Verb[:1]) + second.Verb[1:] + " " + second.Object
}

// words is "Weigh: SA-10, 20 h", with what it costs.
func (u *Unblock) words() string {
	do := u.Do
	if len(u.Frees) > 0 {
		do += ": " + work(u.Frees, u.Hours)
	}
	if len(u.Costs) > 0 {
		do += "; costs " + work(u.Costs, u.Lost)
	}
	return do
}

// work is sub-assemblies with the hours that are planned for them, where some are.
func work(codes []string, h Hours) string {
	if h == 0 {
		return listed(codes)
	}
	return listed(codes) + ", " + h.String()
}

func capital(word string) string {
	if word == "" {
		return ""
	}
	return strings.ToUpper(word[:1]) + word[1:]
}
