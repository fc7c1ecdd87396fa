package store

import (
	"crypto/rand"
	"errors"
	"io"
	"sync"
	"sync/atomic"
	"time"

	"stowright/store/disk"
)

// Options are what Open needs beside the file.
type Options struct {
	Clock  func() time.Time // nil: time.Now
	Random io.Reader        // for tags and ids; nil: crypto/rand
	Hand   string           // who works; empty: the first of the shop's hands, or Builder
	Create bool             // make the file when it is not there

	// BeforeUpgrade is called with the shop of a file of an older program before the file
	// is upgraded: it makes a safe copy. Without it such a file is refused.
	BeforeUpgrade func(*Shop) error
}

// Shop is an open shop file.
type Shop struct {
	Reader // of what the file says at each call

	reads  atomic.Uint64
	file   *disk.File
	joined *joined // the transaction of a group of verbs; nil outside of Together
	past   *past   // that is read; nil: what the file says

	random io.Reader

	mu        sync.Mutex // guards what follows
	hand      string
	listeners []func(Entry)
}

// DefaultHand is who works in a shop that names nobody.
const DefaultHand = "Builder"

// Open opens a shop file. It fails within a second with Busy while another
// program has it, with NotFound when it is not there and Create is false, with
// Corrupt when it is no shop, and with Invalid when it may not be written or is a
// shop of a newer program, or of an older one and nothing makes a copy of it first. A file
// that others could read is closed to them. A symbolic link is followed: File is the shop file itself.
func Open(path string, o Options) (*Shop, error) {
	path, err := disk.Resolve(path)
	if err != nil {
		return nil, err
	}
	s, err := openShop(path, o, disk.Options{Create: o.Create})
	if err != nil {
		return nil, err
	}
	if err := s.bringUpToDate(o.BeforeUpgrade); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// OpenSnapshot opens the newest state on the disk of a shop file that another program has, for
// reading only: every verb is refused with Busy. It fails as Open does, and with Busy where
// the file is one of an older program, or changed too fast.
func OpenSnapshot(path string, o Options) (*Shop, error) {
	path, err := disk.Resolve(path)
	if err != nil {
		return nil, err
	}
	s, err := openShop(path, o, disk.Options{Snapshot: true})
	if err != nil {
		return nil, err
	}
	due, err := s.upgradeDue()
	if err == nil && due {
		err = fail(Busy, path, "Another program has the shop file %s open, and it is one of an older Stowright: close it there, then try again.", path)
	}
	if err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// upgradeDue reports whether the file or its records are those of an older program.
func (s *Shop) upgradeDue() (due bool, err error) {
	if s.file.Format() < formatVersion {
		return true, nil
	}
	err = s.view(func(tx *disk.Tx) (err error) {
		due, err = upgradeDue(tx)
		return err
	})
	return due, err
}

// bringUpToDate has the file and its records be as this program keeps them.
func (s *Shop) bringUpToDate(makeCopy func(*Shop) error) error {
	if s.ReadOnly() {
		due, err := s.upgradeDue()
		if err == nil && due {
			err = fail(Invalid, s.File(), "%s was made by an older Stowright and may only be read: change its permissions, so that it can be brought up to date.", s.File())
		}
		return err
	}
	if err := s.upgrade(makeCopy); err != nil {
		return err
	}
	return s.upgradeRecords()
}

// ReadOnly reports whether the shop file may only be read, or is read as it stood on another
// day: every verb is refused.
func (s *Shop) ReadOnly() bool { return s.past != nil || s.file.ReadOnly() }

// openShop opens the file with the layout that it has.
func openShop(path string, o Options, how disk.Options) (*Shop, error) {
	how.Layout, how.Replay = layout(), replay
	file, err := disk.Open(path, how)
	if err != nil {
		return nil, err
	}
	s := &Shop{file: file, random: o.Random, hand: o.Hand}
	s.Reader = Reader{in: s.view, clock: o.Clock}
	if s.clock == nil {
		s.clock = time.Now
	}
	if s.random == nil {
		s.random = rand.Reader
	}
	return s, nil
}

// Remove removes a shop file with what lies beside it; one that is not there is removed already.
func Remove(path string) error { return disk.Remove(path) }

// Close closes the file. The shop must not be used afterwards.
func (s *Shop) Close() error { return s.file.Close() }

// Closed reports whether Close was called.
func (s *Shop) Closed() bool { return s.file.Closed() }

// view does something in a reading transaction.
func (s *Shop) view(do func(tx *disk.Tx) error) error {
	if s.joined != nil {
		return do(s.joined.tx)
	}
	s.reads.Add(1)
	if s.past == nil {
		return s.file.View(do)
	}
	return s.file.View(func(tx *disk.Tx) error {
		tx.GoBack(s.past.Past)
		return do(tx)
	})
}

// Reads is how many transactions were begun for reading since the shop was opened. It
// is for tests, which hold an answer to one of them.
func (s *Shop) Reads() uint64 { return s.reads.Load() }

// update does something in a writing transaction.
func (s *Shop) update(do func(tx *disk.Tx) error) error {
	if s.past != nil {
		return fail(Conflict, s.past.day.String(), "This is the shop as it stood at the end of %s: nothing is changed in it.", s.past.day)
	}
	if s.joined != nil {
		return s.joined.update(do)
	}
	return s.file.Update(do)
}

// File is the name of the shop file.
func (s *Shop) File() string { return s.file.Path() }

// Hand is who the next entries are by.
func (s *Shop) Hand() string {
	hand := s.chosenHand()
	if hand != "" {
		return hand
	}
	if err := s.view(func(tx *disk.Tx) error {
		hand = s.handIn(tx)
		return nil
	}); err != nil {
		return DefaultHand
	}
	return hand
}

// handIn is Hand within a transaction.
func (s *Shop) handIn(tx *disk.Tx) string {
	if hand := s.chosenHand(); hand != "" {
		return hand
	}
	settings, _, err := lookup[Settings](fileLedger{tx}, tableSettings, settingsKey)
	if err == nil && len(settings.Hands) > 0 {
		return settings.Hands[0]
	}
	return DefaultHand
}

func (s *Shop) chosenHand() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.hand
}

// SetHand says who works from now on; empty is the first of the shop's hands.
func (s *Shop) SetHand(name string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.hand = name
}

// Listen has f called after every committed entry, on the goroutine that made it.
func (s *Shop) Listen(f func(Entry)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.listeners = append(s.listeners, f)
}

func (s *Shop) notify(e Entry) {
	s.mu.Lock()
	listeners := s.listeners
	s.mu.Unlock()
	for _, f := range listeners {
		f(e)
	}
}
