package labelling

import (
	"slices"
	"strings"

	"stowright/app/wording"
	"stowright/store"
)

// Which labels were made is kept with the machine that made them, by their tags, which no
// two shops share: a label that was made elsewhere counts as missing here.

// madeKey is where the tags of the labels that were saved or printed here are kept.
const madeKey = "labels.made"

// mostMade is how many of them are kept: the newest.
const mostMade = 20_000

// withoutID is the id of the group of what has no label yet.
const withoutID = "without"

// without is the group of the places that no label was made for here.
func without(all []store.Place, made []string) (Group, bool) {
	has := make(map[string]bool, len(made))
	for _, tag := range made {
		has[tag] = true
	}
	g := Group{ID: withoutID, Name: "Without a label"}
	for _, p := range all {
		if p.Tag != "" && p.Kind != store.Room && !has[string(p.Tag)] {
			g.places = append(g.places, p)
		}
	}
	g.Note = wording.Plural(len(g.places), "label", "labels") + ", none made here"
	return g, len(g.places) > 0
}

// made are the tags of the labels that were made here.
func (m *Model) made() []string {
	if m.memory == nil {
		return nil
	}
	return append([]string{}, strings.Fields(m.memory.String(madeKey))...) // not nil: it is known
}

// noteMade notes that the labels of these tags were made, and takes them out of the group of
// what has none.
func (m *Model) noteMade(tags []string) {
	if m.memory == nil {
		return
	}
	made := slices.DeleteFunc(m.made(), func(tag string) bool { return slices.Contains(tags, tag) })
	made = append(made, tags...)
	made = made[max(0, len(made)-mostMade):]
	m.memory.SetString(madeKey, strings.Join(made, " "))
	groups := slices.Clone(m.state.Groups)
	for i, g := range groups {
		if g.ID != withoutID {
			continue
		}
		rest, some := without(g.places, made)
		rest.On = g.On
		if groups[i] = rest; !some {
			groups = slices.Delete(groups, i, i+1)
		}
		break
	}
	m.state.Groups = groups
}
