package store

import (
	"crypto/rand"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

// lockWait is how long Open waits for another program to let go of the file: long
// enough for one that is just closing, short enough not to look like a hang.
const lockWait = 500 * time.Millisecond

// What a shop file and its folders are to other people: nothing.
const (
	filePerm   = 0o600
	folderPerm = 0o700
)

// Options are what Open needs beside the file.
type Options struct {
	Clock  func() time.Time // nil: time.Now
	Random io.Reader        // for tags and ids; nil: crypto/rand
	Hand   string           // who works; empty: the first of the shop's hands, or Builder
	Create bool             // make the file when it is not there

	// Backups is the folder for safe copies; empty: BackupFolder. One is made before
	// a file of an older program is brought up to date, and, where Backups is named,
	// before every import.
	Backups string

	// Progress is told how far the copy is that is made of a file of an older program;
	// nil: nobody is.
	Progress Progress
}

// Shop is an open shop file.
type Shop struct {
	db         *bbolt.DB
	path       string
	opened     os.FileInfo // of the file as it was opened
	plain      *os.File    // the same file, for reading much of it
	format     int         // of the file
	mapped     int64       // bytes of the file that bbolt has mapped at least
	forgetting atomic.Bool // pages of the map are let go of soon
	broken     atomic.Bool // set when the file has turned out to be damaged
	joined     *joined     // the transaction of a group of verbs; nil outside of Together

	backups string     // folder of the safe copies
	copying sync.Mutex // held while one is made
	careful bool       // make one before every import
	clock   func() time.Time
	random  io.Reader

	writing sync.Mutex // held by each change; guards what follows
	recent  *recent    // the newest entries, beside; nil when the shop file has all
	told    bool       // some entry was written since the shop was opened
	alone   bool       // no file can be made beside the shop's
	stuck   bool       // what is on the disk cannot be told: nothing is written any more

	mu        sync.Mutex // guards what follows
	hand      string
	listeners []func(Entry)
}

var (
	bucketMeta     = []byte("meta")
	bucketJournal  = []byte("journal")
	bucketUndone   = []byte("undone")   // seq of an entry -> seq of the entry that undid it
	bucketByPlace  = []byte("by_place") // place, item, lot, condition -> nothing: stock by its place
	bucketChildren = []byte("children") // parent, id -> nothing: places by their parent
	bucketPictures = []byte("pictures") // number of a photograph, part -> bytes: what the journal names by checksum
	keyFormat      = []byte("format")
)

// DefaultHand is who works in a shop that names nobody.
const DefaultHand = "Builder"

// Open opens a shop file. It fails within a second with Busy while another
// program has it, with NotFound when it is not there and Create is false, with
// Corrupt when it is no shop, and with Invalid when it may not be written or is a
// shop of a newer program. A file that others could read is closed to them.
func Open(path string, o Options) (*Shop, error) {
	if err := lookFirst(path, o.Create); err != nil {
		return nil, err
	}
	s, err := openWhole(path, o)
	if err != nil {
		return nil, err
	}
	if err := s.upgrade(o.Progress); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// openWhole opens the file with all entries that were kept beside it, and makes it a
// shop where it is new.
func openWhole(path string, o Options) (*Shop, error) {
	for range mostOpenings {
		if err := restoreBase(path); err != nil {
			return nil, err
		}
		s, err := openShop(path, o, false)
		if err != nil {
			return nil, err
		}
		fresh, err := s.prepare(path)
		if err == nil && fresh {
			syncFolder(path)
		}
		if err == nil {
			err = s.takeRecent()
		}
		if err == nil {
			return s, nil
		}
		if err := errors.Join(err, s.Close()); !errors.Is(err, errMoved) {
			return nil, err
		}
	}
	return nil, errBusy(path)
}

// Remove removes a shop file with what lies beside it; one that is not there is removed already.
func Remove(path string) error {
	for _, name := range []string{path, recentPath(path)} {
		if err := os.Remove(name); err != nil && !errors.Is(err, os.ErrNotExist) {
			return &Error{Kind: Invalid, Where: name, Message: fmt.Sprintf("%s cannot be removed: see that its folder may be written.", name), Err: err}
		}
	}
	return nil
}

// openShop opens the file as it is, whatever is in it.
func openShop(path string, o Options, readOnly bool) (*Shop, error) {
	db, mapped, err := openFile(path, readOnly)
	if err != nil {
		return nil, err
	}
	s := &Shop{db: db, path: path, mapped: mapped, alone: !canMapAhead, clock: o.Clock, random: o.Random, hand: o.Hand, backups: o.Backups, careful: o.Backups != ""}
	if s.backups == "" {
		s.backups = BackupFolder(path)
	}
	if s.opened, err = os.Stat(path); err != nil {
		return nil, errors.Join(s.stillThere(), db.Close())
	}
	if err := s.openPlain(); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	if s.clock == nil {
		s.clock = time.Now
	}
	if s.random == nil {
		s.random = rand.Reader
	}
	return s, nil
}

// lookFirst says what can be said of the file without opening it, makes its
// folder where it is to be made, and closes it to other people.
func lookFirst(path string, create bool) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist) && !create:
		return fail(NotFound, path, "There is no shop file %s: name another with --shop, or bring a packing list in to make it.", path)
	case errors.Is(err, os.ErrNotExist):
		return makeFolder(path)
	case err != nil:
		return &Error{Kind: Invalid, Where: path, Message: fmt.Sprintf("The shop file %s cannot be looked at: see that its folder is there and may be read.", path), Err: err}
	case !info.Mode().IsRegular():
		return fail(Invalid, path, "%s is not a file: name the shop file with --shop.", path)
	}
	if mode := info.Mode().Perm(); mode&0o077 != 0 {
		// Where this may not be done, opening says so itself.
		_ = os.Chmod(path, mode&0o700)
	}
	return nil
}

func makeFolder(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), folderPerm); err != nil {
		return &Error{Kind: Invalid, Where: path, Message: fmt.Sprintf("The folder %s cannot be made: name another shop file with --shop.", filepath.Dir(path)), Err: err}
	}
	return nil
}

// syncFolder has the folder of a new file on disk too, so that the file is still
// there after the power fails. Some file systems refuse that, and then can do no better.
func syncFolder(path string) {
	if folder, err := os.Open(filepath.Dir(path)); err == nil {
		_ = folder.Sync()
		_ = folder.Close()
	}
}

// prepare makes the buckets of a new file and refuses a file of another program.
func (s *Shop) prepare(path string) (fresh bool, err error) {
	err = s.view(func(tx *bbolt.Tx) error {
		if tx.Bucket(bucketMeta) != nil {
			if s.format, err = readFormat(path, tx); err != nil {
				return err
			}
			return checkBuckets(path, tx, s.format)
		}
		if name, _ := tx.Cursor().First(); name != nil {
			return fail(Corrupt, path, "%s is a data file of another program, not a shop: name another with --shop.", path)
		}
		fresh = true
		return nil
	})
	if err != nil || !fresh {
		return false, err
	}
	s.format = formatVersion
	return true, s.update(func(tx *bbolt.Tx) error {
		for _, name := range bucketNames(formatVersion) {
			if _, err := tx.CreateBucket(name); err != nil {
				return fmt.Errorf("making bucket %s: %w", name, err)
			}
		}
		return writeFormat(tx, formatVersion)
	})
}

// checkBuckets refuses a file that has lost a table or an index.
func checkBuckets(path string, tx *bbolt.Tx, format int) error {
	for _, name := range bucketNames(format) {
		if tx.Bucket(name) == nil {
			return fail(Corrupt, path, "%s is damaged, it has lost its table %q: keep it, and open a copy made earlier.", path, name)
		}
	}
	return nil
}

// bucketNames are the buckets of a file of a format.
func bucketNames(format int) [][]byte {
	names := [][]byte{bucketMeta, bucketJournal, bucketUndone, bucketByPlace, bucketChildren}
	for _, t := range tables {
		if firstFormat(t) <= format {
			names = append(names, []byte(t))
		}
	}
	if format >= firstFormat(tablePhotos) {
		names = append(names, bucketPictures)
	}
	return names
}

// Closed says whether Close was called.
func (s *Shop) Closed() bool {
	_, err := s.Settings()
	return errors.Is(err, bolterrors.ErrDatabaseNotOpen)
}

// File is the name of the shop file.
func (s *Shop) File() string { return s.path }

// BackupFolder is where the shop's own safe copies go.
func (s *Shop) BackupFolder() string { return s.backups }

// Now is the time by the shop's clock.
func (s *Shop) Now() time.Time { return s.clock() }

// Today is the day by the shop's clock.
func (s *Shop) Today() Date { return DateOf(s.clock()) }

// Hand is who the next entries are by.
func (s *Shop) Hand() string {
	s.mu.Lock()
	hand := s.hand
	s.mu.Unlock()
	if hand != "" {
		return hand
	}
	if settings, err := s.Settings(); err == nil && len(settings.Hands) > 0 {
		return settings.Hands[0]
	}
	return DefaultHand
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

func (s *Shop) tell(e Entry) {
	s.mu.Lock()
	listeners := s.listeners
	s.mu.Unlock()
	for _, f := range listeners {
		f(e)
	}
}

// seqLength is how many bytes the key of an entry has.
const seqLength = 8

func seqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

func seqOf(key []byte) uint64 { return binary.BigEndian.Uint64(key) }
