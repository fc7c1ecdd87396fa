package store

import (
	"maps"
	"reflect"
	"slices"

	"stowright/store/build"
)

// Following is a reading that is kept and follows the shop. Stock may have items besides
// those that are asked for, for whoever wants to know of them: they are followed too.
type Following struct {
	Of    *build.Reading
	Trays map[string]string // codes of sub-assemblies by the ids of their trays
}

// Followed is what of a reading became another.
type Followed struct {
	// Whole says that more is another than stock and what is fitted, so that all is to be
	// worked out anew.
	Whole bool
	Items []string // of which the stock was read again
	Codes []string // of sub-assemblies in which something else is fitted
}

// Follow brings a reading of an earlier state of the same day up to this one. Changed are the
// concerns of all entries since: these alone are read, since in a big shop reading all takes
// most of the time that a person waits. An error leaves the reading good for nothing.
func (r *Reader) Follow(f *Following, changed []Concern) (done Followed, err error) {
	err = r.Read(func(r *Reader) error {
		done, err = r.follow(f, changed)
		return err
	})
	return done, err
}

func (r *Reader) follow(f *Following, changed []Concern) (done Followed, err error) {
	items, lists, parts := map[string]bool{}, map[string]bool{}, map[Part]bool{}
	for _, c := range changed {
		parts[c.Part] = true
		switch c.Part {
		case StockPart:
			items[c.Of] = true
		case ListPart:
			lists[c.Of] = true
		}
	}
	if parts[RulesPart] {
		if done.Whole, err = r.followRules(f); err != nil {
			return done, err
		}
	}
	if parts[PlacesPart] {
		before := f.Of.Places
		if f.Of.Places, err = r.walkedPlaces(); err != nil {
			return done, err
		}
		done.Whole = done.Whole || !maps.Equal(before, f.Of.Places)
	}
	if parts[SubsPart] || parts[ListPart] {
		if err := r.followSubs(f, lists, items, &done); err != nil {
			return done, err
		}
	}
	if done.Items, err = r.followStock(f, items); err != nil {
		return done, err
	}
	if done.Whole {
		err = r.readAskedFor(f)
	}
	return done, err
}

// followStock reads the heaps of items again, of those that are followed or that lie in a tray
// by now, and returns which they are.
func (r *Reader) followStock(f *Following, items map[string]bool) (read []string, err error) {
	for _, item := range slices.Sorted(maps.Keys(items)) {
		if _, followed := f.Of.Stock[item]; !followed {
			heaps, err := r.Holdings(item)
			if err != nil {
				return nil, err
			}
			if !slices.ContainsFunc(heaps, func(h Holding) bool { return f.Trays[h.Place] != "" }) {
				continue
			}
		}
		if f.Of.Stock[item], err = r.heaps(item, f.Trays); err != nil {
			return nil, err
		}
		read = append(read, item)
	}
	return read, nil
}

// followRules reads the rules again and reports whether they are others.
func (r *Reader) followRules(f *Following) (others bool, err error) {
	var now build.Reading
	if err := r.readPapers(&now); err != nil {
		return false, err
	}
	of := f.Of
	others = !reflect.DeepEqual(now.Decisions, of.Decisions) || !reflect.DeepEqual(now.Equivalents, of.Equivalents) || !maps.Equal(now.Aircraft, of.Aircraft)
	of.Decisions, of.Equivalents, of.Aircraft = now.Decisions, now.Equivalents, now.Aircraft
	return others, nil
}

// followSubs reads the sub-assemblies again, and what is listed and fitted in those of lists.
// Items get those of which a heap lies in another tray than it did.
func (r *Reader) followSubs(f *Following, lists, items map[string]bool, done *Followed) error {
	subs, err := r.SubAssemblies()
	if err != nil {
		return err
	}
	known := map[string]build.SubAssembly{}
	for _, sub := range f.Of.SubAssemblies {
		known[sub.Code] = sub
	}
	now := make([]build.SubAssembly, 0, len(subs))
	for _, sub := range subs {
		one := subAssemblyHead(sub)
		before, was := known[sub.Code]
		one.Requirements = before.Requirements
		if !was || lists[sub.Code] {
			if one, err = r.planned(sub); err != nil {
				return err
			}
		}
		now = append(now, one)
	}
	same := slices.EqualFunc(now, f.Of.SubAssemblies, sameButFitted)
	done.Whole = done.Whole || !same
	f.Of.SubAssemblies = now
	done.Codes = slices.Sorted(maps.Keys(lists))
	trays := traysOf(subs)
	for item, heaps := range f.Of.Stock {
		if slices.ContainsFunc(heaps, func(h build.Heap) bool { return h.Tray != trays[h.Place] }) {
			items[item] = true
		}
	}
	f.Trays = trays
	return nil
}

// sameButFitted reports whether two sub-assemblies are the same but for what is fitted in them.
func sameButFitted(a, b build.SubAssembly) bool {
	needs := slices.EqualFunc(a.Requirements, b.Requirements, func(x, y build.Requirement) bool {
		x.Fitted, y.Fitted = nil, nil
		return reflect.DeepEqual(x, y)
	})
	a.Requirements, b.Requirements = nil, nil
	return needs && reflect.DeepEqual(a, b)
}

// traysOf are the codes of sub-assemblies by the ids of their trays.
func traysOf(subs []SubAssembly) map[string]string {
	trays := make(map[string]string, len(subs))
	for _, sub := range subs {
		trays[sub.Place] = sub.Code
	}
	return trays
}
