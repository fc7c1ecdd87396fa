package store

import (
	"fmt"
	"strings"

	"stowright/store/disk"
)

// Pull takes stock out for a sub-assembly, named by its code; To of the transfers
// does not count. Stock that is not good, or past its date, or of an origin that its
// aircraft asks a decision for, is refused. What is not called, more than is called, and
// what has a life that nobody knows goes with a reason alone (ErrReason), which is kept
// in the entry.
func (s *Shop) Pull(code string, transfers ...Transfer) (Entry, error) {
	return s.PullAll(TrayPull{Code: code, Transfers: transfers})
}

// TrayPull is what is pulled for one sub-assembly.
type TrayPull struct {
	Code      string
	Transfers []Transfer // To of them does not count
}

// PullAll is Pull for several sub-assemblies, as what was ticked on one list: one entry, all
// of it or nothing.
func (s *Shop) PullAll(pulls ...TrayPull) (Entry, error) {
	return s.commit(VerbPull, func(w *writer) (string, error) {
		if len(pulls) == 0 {
			return "", fail(Invalid, "", "Nothing is chosen: say what is to be pulled.")
		}
		var words []string
		for _, p := range pulls {
			sub, err := w.openSubAssembly(p.Code)
			if err != nil {
				return "", err
			}
			text, err := w.intoTray(sub, "", p.Transfers)
			if err != nil {
				return "", err
			}
			words = append(words, fmt.Sprintf("%s pulled for %s %s", text, sub.Code, sub.Name))
		}
		return strings.Join(words, "; ") + w.because(), nil
	})
}

// intoTray sends stock to the tray of a sub-assembly, with the reasons that are given, out
// of storage or, where a lender is named by its code, out of that one's tray.
func (w *writer) intoTray(sub SubAssembly, lender string, transfers []Transfer) (string, error) {
	return w.each(transfers, func(t Transfer) (Amount, error) {
		if t.Condition != Good {
			return Amount{}, fail(Conflict, t.Item, "%s there is %s: it is not pulled for building.", t.Item, t.Condition)
		}
		if err := w.give(&t.Reason); err != nil {
			return Amount{}, err
		}
		var err error
		if t.StockKey, err = w.meant(t.StockKey); err != nil {
			return Amount{}, err
		}
		if t.To = sub.Place; t.To != t.Place {
			if err := w.mayBook(sub, t, lender, false); err != nil {
				return Amount{}, err
			}
		}
		return w.transferOne(t)
	})
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
		text, err := w.intoTray(sub, lender.Code, transfers)
		return fmt.Sprintf("%s borrowed from %s %s for %s %s", text, lender.Code, lender.Name, sub.Code, sub.Name) + w.because(), err
	})
}

// CloseSubAssembly records that a sub-assembly is closed up. Answers are the reasons that
// were given for what stays open, by [build.Open.Key]; see [Reader.Closing]. It is refused
// while something is open that has none. From then on it changes only after it was reopened.
func (s *Shop) CloseSubAssembly(code string, answers map[string]string) (Entry, error) {
	return s.commit(VerbClose, func(w *writer) (string, error) {
		sub, err := w.openSubAssembly(code)
		if err != nil {
			return "", err
		}
		cleaned := map[string]string{}
		for what, why := range answers {
			if cleaned[what], err = cleanName("The answer to "+what, why); err != nil {
				return "", err
			}
		}
		closed := Closed{On: DateOf(w.at), At: w.at, Hand: w.hand}
		if closed.Answers, err = w.mayClose(sub, cleaned); err != nil {
			return "", err
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
