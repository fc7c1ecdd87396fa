package viewfinder

import (
	"slices"

	"stowright/app/session"
	"stowright/labels/scan"
)

// keptPictures is how many pictures of a live source may miss a code before it is
// removed from the list, so that the list does not flicker when a hand shakes or a shadow
// falls.
const keptPictures = 12

// memory is the list of codes: each code once, in the order of their first reading.
type memory struct {
	patience int // how many pictures may miss a code
	kept     []kept
}

type kept struct {
	session.Reading
	unseen int // pictures since it was read
}

// take adds the readings of a picture. It reports whether the list changed, and returns
// the new readings. A picture without any code changes nothing, so that a label need not
// be held still until it has been looked up.
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
			r.Code.How = scan.Read // the same label was read before
		}
		changed = changed || old.Code.How != r.Code.How || old.Answer != r.Answer
		m.kept[i] = kept{Reading: r}
	}
	before := len(m.kept)
	m.kept = slices.DeleteFunc(m.kept, func(k kept) bool { return k.unseen > m.patience })
	return changed || len(fresh) > 0 || len(m.kept) != before, fresh
}

// readings returns the list.
func (m *memory) readings() []session.Reading {
	list := make([]session.Reading, 0, len(m.kept))
	for _, k := range m.kept {
		list = append(list, k.Reading)
	}
	return list
}

// has reports whether a text is in the list; sees reports whether the last picture with
// codes in it had it too.
func (m *memory) has(text string) bool { return m.unseen(text) >= 0 }

func (m *memory) sees(text string) bool { return m.unseen(text) == 0 }

// unseen is how many pictures in a row have missed a text; -1 if it is not in the list.
func (m *memory) unseen(text string) int {
	for _, k := range m.kept {
		if k.Code.Text == text {
			return k.unseen
		}
	}
	return -1
}
