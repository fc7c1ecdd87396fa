package store

import (
	"fmt"

	"stowright/store/disk"
)

// entryOf decodes a record of the journal.
func entryOf(r disk.Record) (Entry, error) {
	e, err := decode[Entry](r.Body)
	if err != nil {
		return Entry{}, &Error{Kind: Corrupt, Message: "An entry of the journal is damaged: keep the file, and open a copy made earlier.", Err: fmt.Errorf("entry %d: %w", r.Seq, err)}
	}
	return e, nil
}

// Entry is one entry of the journal.
func (r *Reader) Entry(seq uint64) (Entry, error) {
	var e Entry
	err := r.view(func(tx *disk.Tx) error {
		var err error
		e, err = entryAt(tx, seq)
		return err
	})
	return e, err
}

func entryAt(tx *disk.Tx, seq uint64) (Entry, error) {
	r, found, err := tx.Record(seq)
	if err == nil && !found {
		err = fail(NotFound, fmt.Sprint(seq), "The journal has no entry %d: it may be of another shop.", seq)
	}
	if err != nil {
		return Entry{}, err
	}
	return entryOf(r)
}

// Entries are up to limit entries of the journal, the newest first, that are
// older than before; before 0 starts with the newest.
func (r *Reader) Entries(before uint64, limit int) ([]Entry, error) {
	var list []Entry
	if limit <= 0 {
		return nil, nil
	}
	err := r.view(func(tx *disk.Tx) error {
		return tx.RecordsBefore(before, func(r disk.Record) (bool, error) {
			e, err := entryOf(r)
			list = append(list, e)
			return len(list) < limit, err
		})
	})
	return list, err
}

// Undoable is the entry that Undo would undo: the newest one that changed
// something, is not undone and not itself an undo, nor one that brought older records up
// to date. It is false when there is none.
func (r *Reader) Undoable() (Entry, bool, error) {
	return r.find(undoable)
}

func (r *Reader) find(which func(*disk.Tx) (Entry, bool, error)) (Entry, bool, error) {
	var e Entry
	var found bool
	err := r.view(func(tx *disk.Tx) error {
		var err error
		e, found, err = which(tx)
		return err
	})
	return e, found, err
}

func isUndone(tx *disk.Tx, seq uint64) (bool, error) {
	undone, err := tx.Bucket(indexUndone)
	if err != nil {
		return false, err
	}
	return undone.Has(disk.SeqKey(seq))
}

// undoable jumps over what is undone: an undo that stands goes back to before what
// it undid, since all in between was undone before it, and a redo goes back to what
// it let stand again. So pressing Undo often does not get slower.
func undoable(tx *disk.Tx) (Entry, bool, error) {
	end, err := tx.End()
	for seq := end.Seq; seq > 0 && err == nil; {
		e, err := entryAt(tx, seq)
		if err != nil {
			return Entry{}, false, err
		}
		undone, err := isUndone(tx, seq)
		switch {
		case err != nil:
			return Entry{}, false, err
		case e.Verb == VerbUndo:
			seq = e.Undoes - 1
		case e.Verb == VerbRedo:
			undo, err := entryAt(tx, e.Undoes)
			if err != nil {
				return Entry{}, false, err
			}
			seq = undo.Undoes
		case len(e.Changes) == 0 || undone || e.Verb == VerbUpgrade:
			seq--
		default:
			return e, true, nil
		}
	}
	return Entry{}, false, err
}

// redoable goes back over redos, each to before the undo that it took back, until it
// comes to an undo that stands; any other entry ends what can be redone.
func redoable(tx *disk.Tx) (Entry, bool, error) {
	end, err := tx.End()
	for seq := end.Seq; seq > 0 && err == nil; {
		e, err := entryAt(tx, seq)
		if err != nil {
			return Entry{}, false, err
		}
		undone, err := isUndone(tx, seq)
		switch {
		case err != nil:
			return Entry{}, false, err
		case e.Verb == VerbRedo:
			seq = e.Undoes - 1
		case e.Verb == VerbUndo && !undone:
			return e, true, nil
		default:
			return Entry{}, false, nil
		}
	}
	return Entry{}, false, err
}

// Undo writes the opposite of the newest entry that is not undone. It is refused
// with Conflict when something later depends on what that entry did.
func (s *Shop) Undo() (Entry, error) {
	return s.reverse(VerbUndo, undoable, "There is nothing to undo: no entry is left that is not undone.")
}

// Redo takes the newest undo back, as long as nothing was done since.
func (s *Shop) Redo() (Entry, error) {
	return s.reverse(VerbRedo, redoable, "There is nothing to redo: either nothing was undone, or something else was done since.")
}

func (s *Shop) reverse(verb Verb, which func(*disk.Tx) (Entry, bool, error), nothing string) (Entry, error) {
	return s.commit(verb, func(w *writer) (string, error) {
		target, found, err := which(w.ledger.tx)
		if err != nil {
			return "", err
		}
		if !found {
			return "", fail(NotFound, string(verb), "%s", nothing)
		}
		return w.takeBack(target)
	})
}

// takeBack applies the opposite of an entry and says in words what that entry did.
func (w *writer) takeBack(target Entry) (string, error) {
	changes, err := opposite(target.Changes)
	if err != nil {
		return "", err
	}
	for _, c := range changes {
		if err := w.change(c); err != nil {
			return "", err
		}
	}
	w.undoes = target.Seq
	if target.Verb != VerbUndo {
		return target.Text, nil
	}
	original, err := entryAt(w.ledger.tx, target.Undoes)
	return original.Text, err
}

// markUndone keeps the index of undone entries: an undo marks what it undid, and
// a redo marks the undo and lets the original stand again.
func markUndone(tx *disk.Tx, e Entry) error {
	if e.Undoes == 0 {
		return nil
	}
	undone, err := tx.ReplayedBucket(indexUndone)
	if err != nil {
		return err
	}
	if e.Verb == VerbRedo {
		undo, err := entryAt(tx, e.Undoes)
		if err != nil {
			return err
		}
		if err := undone.Delete(disk.SeqKey(undo.Undoes)); err != nil {
			return err
		}
	}
	return undone.Put(disk.SeqKey(e.Undoes), disk.SeqKey(e.Seq))
}
