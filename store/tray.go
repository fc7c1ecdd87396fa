package store

import (
	"fmt"
	"strings"

	"stowright/store/disk"
)

// Pull takes stock out for a sub-assembly, named by its code; To of the transfers
// does not count. Stock that is not good is refused. A reason that a transfer gives, for
// what is not called or more than is called, is kept in the entry.
func (s *Shop) Pull(code string, transfers ...Transfer) (Entry, error) {
	return s.commit(VerbPull, func(w *writer) (string, error) {
		sub, err := w.openSubAssembly(code)
		if err != nil {
			return "", err
		}
		if err := w.intoTray(sub, transfers); err != nil {
			return "", err
		}
		text, err := w.transferAll(transfers)
		return fmt.Sprintf("%s pulled for %s %s", text, sub.Code, sub.Name) + w.because(), err
	})
}

// intoTray sends good stock to the tray of a sub-assembly, with the reasons that are given.
func (w *writer) intoTray(sub SubAssembly, transfers []Transfer) error {
	for i := range transfers {
		t := &transfers[i]
		if t.Condition != Good {
			return fail(Conflict, t.Item, "%s there is %s: it is not pulled for building.", t.Item, t.Condition)
		}
		if err := w.give(&t.Reason); err != nil {
			return err
		}
		t.To = sub.Place
	}
	return nil
}

// PutBack takes what was pulled for a sub-assembly, and never fitted, to a place again;
// Place of the transfers does not count: it is the tray.
func (s *Shop) PutBack(code string, transfers ...Transfer) (Entry, error) {
	return s.commit(VerbPutBack, func(w *writer) (string, error) {
		sub, err := w.subAssembly(code)
		if err != nil {
			return "", err
		}
		for i := range transfers {
			transfers[i].Place = sub.Place
		}
		text, err := w.transferAll(transfers)
		if err != nil {
			return "", err
		}
		where, err := w.destination(transfers)
		return fmt.Sprintf("%s put back from %s to %s", text, sub.Code, where), err
	})
}

// Borrow takes what was pulled for one sub-assembly into the tray of another, which both
// are named by their codes. The lender needs it again.
func (s *Shop) Borrow(from, to string, transfers ...Transfer) (Entry, error) {
	return s.commit(VerbBorrow, func(w *writer) (string, error) {
		lender, err := w.openSubAssembly(from)
		if err != nil {
			return "", err
		}
		sub, err := w.openSubAssembly(to)
		if err != nil {
			return "", err
		}
		for i := range transfers {
			transfers[i].Place = lender.Place
		}
		if err := w.intoTray(sub, transfers); err != nil {
			return "", err
		}
		text, err := w.transferAll(transfers)
		return fmt.Sprintf("%s borrowed from %s %s for %s %s", text, lender.Code, lender.Name, sub.Code, sub.Name) + w.because(), err
	})
}

// CloseSubAssembly records that a sub-assembly is closed up. Answers are the reasons that
// were given for what stayed open, by what they answer. From then on it changes only
// after it was reopened.
func (s *Shop) CloseSubAssembly(code string, answers map[string]string) (Entry, error) {
	return s.commit(VerbClose, func(w *writer) (string, error) {
		sub, err := w.openSubAssembly(code)
		if err != nil {
			return "", err
		}
		closed := Closed{On: DateOf(w.at), At: w.at, Hand: w.hand}
		for what, why := range answers {
			if why, err = cleanName("The answer to "+what, why); err != nil {
				return "", err
			}
			if closed.Answers == nil {
				closed.Answers = map[string]string{}
			}
			closed.Answers[what] = why
		}
		sub.Closed = &closed
		return fmt.Sprintf("%s %s closed", sub.Code, sub.Name), w.put(tableSubAssemblies, sub.Code, sub)
	})
}

// ReopenSubAssembly has a closed sub-assembly be worked on again, for a reason that is kept.
func (s *Shop) ReopenSubAssembly(code, reason string) (Entry, error) {
	return s.commit(VerbReopen, func(w *writer) (string, error) {
		reason, err := cleanName("The reason", reason)
		if err != nil {
			return "", err
		}
		sub, err := w.subAssembly(code)
		if err != nil {
			return "", err
		}
		if sub.Closed == nil {
			return "", fail(Conflict, code, "%s is not closed: there is nothing to reopen.", code)
		}
		sub.Closed = nil
		w.reason = reason
		return fmt.Sprintf("%s %s reopened: %s", sub.Code, sub.Name, reason), w.put(tableSubAssemblies, sub.Code, sub)
	})
}

// give cleans a reason that is given with what is done, and keeps it for the entry.
func (w *writer) give(reason *string) error {
	text, err := cleanOptional("The reason", *reason)
	if err != nil {
		return err
	}
	*reason = text
	if text != "" && !strings.Contains(w.reason, text) {
		if w.reason != "" {
			w.reason += "; "
		}
		w.reason += text
	}
	return nil
}

// because is the reason of the entry as its text says it, or nothing.
func (w *writer) because() string {
	if w.reason == "" {
		return ""
	}
	return ", because: " + w.reason
}

// homeEntries is how far back the journal is read for where something was pulled from.
const homeEntries = 4096

// PulledFrom is the id of the place that what lies in a tray was pulled from last, as far
// as the newest entries of the journal say.
func (r *Reader) PulledFrom(tray StockKey) (place string, found bool, err error) {
	seen := 0
	err = r.view(func(tx *disk.Tx) error {
		return tx.RecordsBefore(0, func(record disk.Record) (bool, error) {
			e, err := entryOf(record)
			if err != nil {
				return false, err
			}
			if e.Verb == VerbPull {
				place, found = e.cameFrom(tray)
			}
			seen++
			return !found && seen < homeEntries, nil
		})
	})
	return place, found, err
}

// cameFrom is where an entry took what it put into a heap.
func (e Entry) cameFrom(to StockKey) (place string, found bool) {
	from, into := "", false
	for _, c := range e.Changes {
		if c.Table != tableStock || c.Delta == nil {
			continue
		}
		k, err := parseStockKey(c.Key)
		if err != nil || k.Item != to.Item || k.Lot != to.Lot || k.Condition != to.Condition {
			continue
		}
		if c.Delta.Sign() > 0 && k.Place == to.Place {
			into = true
		} else if c.Delta.Sign() < 0 {
			from = k.Place
		}
	}
	return from, into && from != ""
}
