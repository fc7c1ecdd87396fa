package store

import (
	"fmt"

	"go.etcd.io/bbolt"
)

// readEntry decodes one entry of the journal, and its checksum for the chain.
func readEntry(key, sealed []byte) (Entry, string, error) {
	body, sum, err := unseal(sealed)
	if err != nil {
		return Entry{}, "", errEntry(key, err)
	}
	e, err := decode[Entry](body)
	if err != nil {
		return Entry{}, "", errEntry(key, err)
	}
	if len(key) != seqLength || seqOf(key) != e.Seq {
		return Entry{}, "", errEntry(key, fmt.Errorf("entry %d is filed under %x", e.Seq, key))
	}
	return e, sum, nil
}

// sumOf is the checksum of an entry for the chain, which is held against the entry;
// what it says is not read: an import of thousands of lines may be the newest.
func sumOf(key, sealed []byte) (string, error) {
	_, sum, err := unseal(sealed)
	if err == nil && len(key) != seqLength {
		err = fmt.Errorf("its key has %d bytes", len(key))
	}
	if err != nil {
		return "", errEntry(key, err)
	}
	return sum, nil
}

// errEntry says that an entry cannot be read.
func errEntry(key []byte, cause error) error {
	return &Error{Kind: Corrupt, Message: "An entry of the journal is damaged: keep the file, and open a copy made earlier.", Err: fmt.Errorf("entry %x: %w", key, cause)}
}

// Entry is one entry of the journal.
func (s *Shop) Entry(seq uint64) (Entry, error) {
	var e Entry
	err := s.view(func(tx *bbolt.Tx) error {
		var err error
		e, err = entryAt(tx, seq)
		return err
	})
	return e, err
}

func entryAt(tx *bbolt.Tx, seq uint64) (Entry, error) {
	sealed := tx.Bucket(bucketJournal).Get(seqKey(seq))
	if sealed == nil {
		return Entry{}, fail(NotFound, fmt.Sprint(seq), "The journal has no entry %d: it may be of another shop.", seq)
	}
	e, _, err := readEntry(seqKey(seq), sealed)
	return e, err
}

// Entries are up to limit entries of the journal, the newest first, that are
// older than before; before 0 starts with the newest.
func (s *Shop) Entries(before uint64, limit int) ([]Entry, error) {
	var list []Entry
	if limit <= 0 {
		return nil, nil
	}
	err := s.view(func(tx *bbolt.Tx) error {
		return backwards(tx, before, func(e Entry) (bool, error) {
			list = append(list, e)
			return len(list) < limit, nil
		})
	})
	return list, err
}

// backwards calls visit with the entries older than before, the newest first,
// until it says no.
func backwards(tx *bbolt.Tx, before uint64, visit func(Entry) (more bool, err error)) error {
	c := tx.Bucket(bucketJournal).Cursor()
	k, sealed := c.Last()
	if before > 0 {
		c.Seek(seqKey(before))
		k, sealed = c.Prev()
	}
	for ; k != nil; k, sealed = c.Prev() {
		e, _, err := readEntry(k, sealed)
		if err != nil {
			return err
		}
		if more, err := visit(e); err != nil || !more {
			return err
		}
	}
	return nil
}

// Undoable is the entry that Undo would undo: the newest one that changed
// something, is not undone and not itself an undo. It is false when there is none.
func (s *Shop) Undoable() (Entry, bool, error) {
	return s.find(undoable)
}

// Redoable is the undo that Redo would take back: the newest entry, if it is an
// undo that has not been taken back. It is false when there is none.
func (s *Shop) Redoable() (Entry, bool, error) {
	return s.find(redoable)
}

func (s *Shop) find(which func(*bbolt.Tx) (Entry, bool, error)) (Entry, bool, error) {
	var e Entry
	var found bool
	err := s.view(func(tx *bbolt.Tx) error {
		var err error
		e, found, err = which(tx)
		return err
	})
	return e, found, err
}

func isUndone(tx *bbolt.Tx, seq uint64) bool { return tx.Bucket(bucketUndone).Get(seqKey(seq)) != nil }

// undoable jumps over what is undone: an undo that stands goes back to before what
// it undid, since all in between was undone before it, and a redo goes back to what
// it let stand again. So pressing Undo often does not get slower.
func undoable(tx *bbolt.Tx) (Entry, bool, error) {
	for seq := lastSeq(tx); seq > 0; {
		e, err := entryAt(tx, seq)
		if err != nil {
			return Entry{}, false, err
		}
		switch {
		case e.Verb == VerbUndo:
			seq = e.Undoes - 1
		case e.Verb == VerbRedo:
			undo, err := entryAt(tx, e.Undoes)
			if err != nil {
				return Entry{}, false, err
			}
			seq = undo.Undoes
		case len(e.Changes) == 0 || isUndone(tx, seq):
			seq--
		default:
			return e, true, nil
		}
	}
	return Entry{}, false, nil
}

// redoable goes back over redos, each to before the undo that it took back, until it
// comes to an undo that stands; any other entry ends what can be redone.
func redoable(tx *bbolt.Tx) (Entry, bool, error) {
	for seq := lastSeq(tx); seq > 0; {
		e, err := entryAt(tx, seq)
		switch {
		case err != nil:
			return Entry{}, false, err
		case e.Verb == VerbRedo:
			seq = e.Undoes - 1
		case e.Verb == VerbUndo && !isUndone(tx, seq):
			return e, true, nil
		default:
			return Entry{}, false, nil
		}
	}
	return Entry{}, false, nil
}

// lastSeq is the number of the newest entry, 0 when there is none.
func lastSeq(tx *bbolt.Tx) uint64 {
	if last, _ := tx.Bucket(bucketJournal).Cursor().Last(); len(last) == seqLength {
		return seqOf(last)
	}
	return 0
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

func (s *Shop) reverse(verb Verb, which func(*bbolt.Tx) (Entry, bool, error), nothing string) (Entry, error) {
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
func markUndone(tx *bbolt.Tx, e Entry) error {
	undone := tx.Bucket(bucketUndone)
	if e.Undoes == 0 {
		return nil
	}
	if e.Verb == VerbRedo {
		undo, err := entryAt(tx, e.Undoes)
		if err != nil {
			return err
		}
		if err := undone.Delete(seqKey(undo.Undoes)); err != nil {
			return err
		}
	}
	return undone.Put(seqKey(e.Undoes), seqKey(e.Seq))
}
