package viewfinder

import (
	"slices"

	"stowright/app/session"
	"stowright/labels/scan"
)

// keptPictures is how many pictures of a live source may miss a code before it goes
// from the list: a hand shakes, a shadow falls, and the list should stand still.
const keptPictures = 12

// memory is what is in the list: each code once, in the order in which they came.
type memory struct {
	patience int // pictures that may miss a code
	kept     []kept
}

type kept struct {
	session.Reading
	unseen int // pictures since it was seen
}

// take notes what a picture shows, and says whether the list changed and which of
// it is new. A picture without any code changes nothing: a label need not be held
// still until it has been looked up.
func (m *memory) take(now []session.Reading) (changed bool, fresh []session.Reading) {
	if len(now) == 0 {
		return false, nil
	}
	for i := range m.kept {
		m.kept[i].unseen++
	}
	for _, r := range now {
		i := slices.IndexFunc(m.kept, func(k kept) bool { return k.Code.Text == r.Code.Text })
		if i < 0 {
			m.kept = append(m.kept, kept{Reading: r})
			fresh = append(fresh, r)
			continue
		}
		old := m.kept[i]
		if old.Code.How == scan.Read {
			r.Code.How = scan.Read // it was read once, and is the same label
		}
		changed = changed || old.Code.How != r.Code.How || old.Answer != r.Answer
		m.kept[i] = kept{Reading: r}
	}
	before := len(m.kept)
	m.kept = slices.DeleteFunc(m.kept, func(k kept) bool { return k.unseen > m.patience })
	return changed || len(fresh) > 0 || len(m.kept) != before, fresh
}

// readings are what is in the list.
func (m *memory) readings() []session.Reading {
	list := make([]session.Reading, 0, len(m.kept))
	for _, k := range m.kept {
		list = append(list, k.Reading)
	}
	return list
}

// has says whether a text is in the list, and sees whether the last picture with
// codes in it had it too.
func (m *memory) has(text string) bool { return m.unseen(text) >= 0 }

func (m *memory) sees(text string) bool { return m.unseen(text) == 0 }

// unseen is how many pictures have missed a text; -1 where it is not in the list.
func (m *memory) unseen(text string) int {
	for _, k := range m.kept {
		if k.Code.Text == text {
			return k.unseen
		}
	}
	return -1
}
