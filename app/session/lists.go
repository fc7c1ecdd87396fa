package session

import (
	"sync"

	"stowright/store"
)

// lists are the lines of the packing lists as they stood when they were last read.
// A big shop has a hundred thousand of them, and the first screen needs all.
type lists struct {
	mu    sync.Mutex
	lines map[string][]store.Line // by shipment
}

// AllLines are the lines of shipments, in their order, each by number with extras last.
// They are kept until an entry changes one of them, and must not be changed.
func (s *Reader) AllLines(ships []store.Shipment) ([][]store.Line, error) {
	ids := make([]string, 0, len(ships))
	for _, ship := range ships {
		ids = append(ids, ship.ID)
	}
	all := make([][]store.Line, len(ids))
	kept := s.keptLines(ids, all)
	var missing []string
	for i, id := range ids {
		if !kept[i] {
			missing = append(missing, id)
		}
	}
	read, err := s.Shop.LinesOf(missing)
	if err != nil {
		return nil, err
	}
	l := &s.session.lists
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.lines == nil {
		l.lines = map[string][]store.Line{}
	}
	current := s.current()
	for i, id := range ids {
		if kept[i] {
			continue
		}
		all[i], read = read[0], read[1:]
		if current {
			l.lines[id] = all[i]
		}
	}
	return all, nil
}

// keptLines fills in the lines that are kept, and reports which they are: none where the
// state that is read is not the one that they are of.
func (s *Reader) keptLines(ids []string, all [][]store.Line) []bool {
	kept := make([]bool, len(ids))
	l := &s.session.lists
	l.mu.Lock()
	defer l.mu.Unlock()
	if !s.current() {
		return kept
	}
	for i, id := range ids {
		all[i], kept[i] = l.lines[id]
	}
	return kept
}

// forget has the lines of what an entry changed read again.
func (l *lists) forget(e store.Entry) {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, id := range e.Lists() {
		delete(l.lines, id)
	}
}
