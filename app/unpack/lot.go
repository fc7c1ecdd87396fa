package unpack

import (
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// lotKey asks what is known of the lot that the line in hand came as.
const lotKey = "V"

// lotOf is the lot that was made of what was found of a line, "" for none.
func lotOf(l store.Line) string {
	if l.Finding == nil {
		return ""
	}
	return l.Finding.LotName
}

// Lot reads the lot that was made of what was found of the line in hand, and calls ask with
// it. Of a line that nobody checked it says what to do first.
func (m *Model) Lot(ask func(store.Lot)) {
	l := m.data.line(m.current)
	if l == nil || m.prompt != nil || m.working.Busy() {
		return
	}
	item, name := l.Designation, lotOf(*l)
	if name == "" {
		m.state.Error = "What came of it is a lot of its own once it is checked: say first how many came."
		m.render()
		return
	}
	session.Do(m.session, func() (store.Lot, error) {
		return session.Answer(m.session, func(r *session.Reader) (store.Lot, error) { return r.Shop.Lot(item, name) })
	}, func(lot store.Lot, err error) {
		if err != nil {
			m.state.Error = wording.Error(err)
			m.render()
			return
		}
		ask(lot)
	})
}
