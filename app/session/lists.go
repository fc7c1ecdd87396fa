package session

import (
	"runtime"
	"sync"

	"stowright/store"
)

// lists are the lines of the packing lists as they stood when they were last read.
// A big shop has a hundred thousand of them, and the first screen needs all.
type lists struct {
	mu      sync.Mutex
	lines   map[string][]store.Line // by shipment
	changed map[string]int          // how often an entry changed a shipment
}

// Lines are the lines of a shipment by number, extras last. They are kept until an
// entry changes one of them, and must not be changed.
func (s *Session) Lines(shipment string) ([]store.Line, error) {
	l := &s.lists
	l.mu.Lock()
	lines, kept := l.lines[shipment]
	changed := l.changed[shipment]
	l.mu.Unlock()
	if kept {
		return lines, nil
	}
	lines, err := s.Shop.Lines(shipment)
	if err != nil {
		return nil, err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.changed[shipment] == changed {
		if l.lines == nil {
			l.lines = map[string][]store.Line{}
		}
		l.lines[shipment] = lines
	}
	return lines, nil
}

// AllLines are the lines of shipments, in their order, read side by side.
func (s *Session) AllLines(ships []store.Shipment) ([][]store.Line, error) {
	all, errs := make([][]store.Line, len(ships)), make([]error, len(ships))
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i, ship := range ships {
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			all[i], errs[i] = s.Lines(ship.ID)
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

// forget has the lines of what an entry changed read anew.
func (l *lists) forget(e store.Entry) {
	touched := e.Lists()
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, id := range touched {
		if l.changed == nil {
			l.changed = map[string]int{}
		}
		l.changed[id]++
		delete(l.lines, id)
	}
}
