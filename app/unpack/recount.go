package unpack

import (
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// Recountable is the line in hand, where another hand can count it now without seeing what
// was found: all of it lies in its bag.
func (m *Model) Recountable() (store.Line, bool) {
	l := m.data.line(m.current)
	if l == nil || m.prompt != nil || m.working.Busy() || !m.data.recountable(*l) {
		return store.Line{}, false
	}
	return *l, true
}

func (d delivery) recountable(l store.Line) bool {
	return l.Finding != nil && l.Finding.Counted && d.toStow(l)
}

// Recount finds what was found of the line in hand, and calls ask with it. Where there is
// nothing to count it says so.
func (m *Model) Recount(ask func(store.Line, session.Heap)) {
	l, ok := m.Recountable()
	if !ok {
		return
	}
	session.Do(m.session, func() (session.Heap, error) {
		return session.Answer(m.session, func(r *session.Reader) (session.Heap, error) { return r.HeapOf(l) })
	}, func(h session.Heap, err error) {
		if err != nil {
			m.state.Error = wording.Error(err)
			m.render()
			return
		}
		ask(l, h)
	})
}
