package store

import "stowright/store/disk"

// Together does many verbs as one synced transaction, each of them with an entry of
// its own: all of them happen or none. It is for shops that are generated or
// rehearsed, where nobody waits for a single verb, and for things that come together,
// as several photographs do. Do works on the shop that it is
// given, which sees what was done so far and ends with do; the error of any verb is
// that of all. Other readers see nothing of it before it is done.
func (s *Shop) Together(do func(group *Shop) error) error {
	var done []Entry
	err := s.update(func(tx *disk.Tx) error {
		group := &Shop{
			file: s.file, joined: &joined{tx: tx},
			random: s.random, hand: s.hand,
		}
		group.Reader = Reader{in: group.view, clock: s.clock}
		group.Listen(func(e Entry) { done = append(done, e) })
		if err := do(group); err != nil {
			return err
		}
		return group.joined.failed
	})
	if err != nil {
		return asError(err)
	}
	for _, e := range done {
		s.notify(e)
	}
	return nil
}

// joined is the transaction that the verbs of a group share.
type joined struct {
	tx     *disk.Tx
	failed error // of the first verb that failed: what it had done until then must not stay
}

func (j *joined) update(do func(tx *disk.Tx) error) error {
	if j.failed != nil {
		return j.failed
	}
	j.failed = do(j.tx)
	return j.failed
}
