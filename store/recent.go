package store

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"

	"go.etcd.io/bbolt"
)

// While somebody works, the newest entries are kept in a file of their own beside that
// of the shop, NAME.recent, each with one sync of pages that lie together; bbolt writes
// what they changed into the shop file without waiting for the disk. For by itself bbolt
// has to wait twice for a change, and for a dozen pages that lie apart.
//
// What makes this safe when the power fails is the base: the newest state of the shop
// file that is known to be on the disk in whole. As long as it is the base,
//   - a reading transaction on it is open, so that bbolt leaves its pages as they are,
//   - the file beside holds its meta, which bbolt itself writes over,
//   - and the entries that came since, each of them one transaction.
//
// So opening puts the meta back and does the entries again (recover.go). A change that an
// entry does not tell in whole, such as a photograph, or that is large, makes a base of its own.
//
// The file beside is there from the second change of a session until the shop is closed.
// It has two pages for the base, written in turn, of which the newer one that is whole
// counts, and then a page or more for each entry, in the envelope that it has in the journal.
const (
	recentExt    = ".recent"
	recentPage   = 4 << 10 // an entry shares none with an older one, whatever a failing disk does to it
	recentLength = 128 * recentPage
	firstRecent  = 2 * recentPage // where the entries begin
)

const (
	// mostTold is how many bytes an entry may have that is kept beside.
	mostTold = 64 << 10
	// mostGrown is more bytes than the shop file grows by for such an entry.
	mostGrown = 64 << 20
	// mostHeld is how many bytes a small file grows by before the base is moved: pages that
	// were added since are not used again as long as it is held. A large one grows by an eighth.
	mostHeld = 512 << 10
	// mapAhead is how much more of the shop file is mapped than there is: bbolt cannot
	// map more while the transaction on the base is open.
	mapAhead = 1 << 30
)

// canMapAhead says whether the addresses of the process are enough for that.
const canMapAhead = keepsRecent && strconv.IntSize == 64

// recentPath is the file beside a shop file.
func recentPath(path string) string { return path + recentExt }

// base says what the newest state is that is on the disk in whole.
type base struct {
	Generation uint64 `json:"generation"` // the higher one counts
	Meta       []byte `json:"meta"`       // of the shop file, as bbolt lays it out
	Seq        uint64 `json:"seq"`        // of the last entry of the journal
	Sum        string `json:"sum"`        // and its checksum
}

// recent is the file beside a shop that is in use.
type recent struct {
	file       *os.File
	pin        *bbolt.Tx // the reading transaction on the base; nil while that is moved
	generation uint64
	size       int64 // of the shop file at the base
	next       int64 // where the next entry goes
}

// keepRecent makes the file beside from the second change of a session on: one that makes
// a single change has nothing of it. Should somebody take it away, another one is made.
func (s *Shop) keepRecent() error {
	if s.recent != nil && !named(s.recent.file, recentPath(s.path)) {
		if err := s.endRecent(); err != nil {
			s.stuck = true
			return err
		}
	}
	if s.recent == nil && s.told && !s.alone {
		s.alone = s.startRecent() != nil
	}
	return nil
}

// startRecent makes the file beside, of which the shop as it stands is the base.
func (s *Shop) startRecent() (err error) {
	path := recentPath(s.path)
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, filePerm)
	if err != nil {
		return err
	}
	r := &recent{file: file}
	defer func() {
		if err != nil {
			_ = errors.Join(file.Close(), os.Remove(path))
		}
	}()
	if _, err := file.Write(make([]byte, recentLength)); err != nil {
		return err
	}
	if err := r.rebase(s); err != nil {
		return err
	}
	syncFolder(path)
	s.recent, s.db.NoSync = r, true
	return nil
}

// rebase has the shop file on the disk as it stands, and makes that the base. Until it
// is, the base is what it was.
func (r *recent) rebase(s *Shop) error {
	if err := s.db.Sync(); err != nil {
		return err
	}
	pin, err := s.db.Begin(false)
	if err != nil {
		return err
	}
	if err := r.writeBase(s, pin); err != nil {
		return errors.Join(err, pin.Rollback())
	}
	r.unpin()
	r.pin, r.size, r.next = pin, pin.Size(), firstRecent
	return nil
}

// unpin lets go of the pages of the base.
func (r *recent) unpin() {
	if r.pin != nil {
		_ = r.pin.Rollback() // which only fails when it has ended
		r.pin = nil
	}
}

func (r *recent) writeBase(s *Shop, pin *bbolt.Tx) error {
	pageSize := pin.DB().Info().PageSize
	page := make([]byte, pageSize)
	if _, err := s.plain.ReadAt(page, int64(pin.ID()%2*pageSize)); err != nil {
		return err
	}
	meta, ok := parseMeta(page)
	if !ok || meta.tx != uint64(pin.ID()) {
		return fmt.Errorf("the meta of transaction %d is not where it should be", pin.ID())
	}
	b := base{Generation: r.generation + 1, Meta: meta.raw}
	if last, sealed := pin.Bucket(bucketJournal).Cursor().Last(); last != nil {
		sum, err := sumOf(last, sealed)
		if err != nil {
			return err
		}
		b.Seq, b.Sum = seqOf(last), sum
	}
	body, err := encode(b)
	if err != nil {
		return err
	}
	if err := r.write(seal(body), int64(b.Generation%2*recentPage)); err != nil {
		return err
	}
	r.generation = b.Generation
	return nil
}

// write writes whole pages and waits until they are on the disk.
func (r *recent) write(sealed []byte, at int64) error {
	pages := make([]byte, recentPages(len(sealed)))
	copy(pages, sealed)
	if _, err := r.file.WriteAt(pages, at); err != nil {
		return err
	}
	return syncData(r.file)
}

// recentPages is how many bytes of whole pages hold that many.
func recentPages(length int) int64 {
	return (int64(length) + recentPage - 1) / recentPage * recentPage
}

// takes says whether an entry may be kept beside, of a transaction on a shop file of a
// size of which so much is mapped: bbolt must not have to map more of it.
func (r *recent) takes(told []byte, size, mapped int64) bool {
	return told != nil && len(told) <= mostTold && r.next+recentPages(len(told)) <= recentLength &&
		size+mostGrown < mapped && size-r.size <= max(mostHeld, r.size/8)
}

// add keeps an entry.
func (r *recent) add(told []byte) error {
	if err := r.write(told, r.next); err != nil {
		return err
	}
	r.next += recentPages(len(told))
	return nil
}

// commitTold commits a transaction, all of which an entry tells, unless told is nil.
func (s *Shop) commitTold(tx *bbolt.Tx, told []byte) error {
	r := s.recent
	if r == nil {
		return tx.Commit()
	}
	beside := r.takes(told, tx.Size(), s.mapped)
	if !beside {
		// What the base needs stays as it is all the same: bbolt gave free what
		// was not needed when this transaction began.
		r.unpin()
	}
	if err := tx.Commit(); err != nil {
		if !beside {
			err = errors.Join(err, s.rebase())
		}
		return err
	}
	if beside && r.add(told) == nil {
		return nil
	}
	return s.rebase()
}

// rebase moves the base to the state that stands. Where that fails nothing is written any
// more: what is on the disk could not be told from what is not.
func (s *Shop) rebase() error {
	err := s.recent.rebase(s)
	if err != nil {
		s.stuck = true
	}
	return err
}

// endRecent has the shop file on the disk as it stands and takes the file beside away.
func (s *Shop) endRecent() error {
	r := s.recent
	if r == nil {
		return nil
	}
	s.recent = nil
	defer r.file.Close() // what it still has to say was synced
	defer r.unpin()
	if s.broken.Load() || s.stuck {
		return nil // opening goes on from the base
	}
	if err := s.db.Sync(); err != nil {
		return err
	}
	s.db.NoSync = false
	return endFile(r.file)
}

// endFile makes a file beside one that tells nothing, so that it stays so should it turn
// up again after the power failed, and removes it.
func endFile(f *os.File) error {
	if _, err := f.WriteAt(make([]byte, firstRecent), 0); err != nil {
		return err
	}
	if err := syncData(f); err != nil || !named(f, f.Name()) {
		return err
	}
	return os.Remove(f.Name())
}

// readRecent reads the base and the entries that follow it from a file beside. There is
// no base where none was written yet, or its shop was closed. It fails where an entry
// is missing or damaged that somebody was told of.
func readRecent(path string) (b base, entries []carved, err error) {
	f, err := os.Open(path)
	if err != nil {
		return base{}, nil, err
	}
	defer f.Close()
	for slot := range int64(2) {
		page := make([]byte, recentPage)
		if _, err := f.ReadAt(page, slot*recentPage); err != nil && !errors.Is(err, io.EOF) {
			return base{}, nil, err
		}
		body, _, err := unseal(bytes.TrimRight(page, "\x00"))
		if err != nil {
			continue
		}
		if other, err := decode[base](body); err == nil && other.Generation > b.Generation {
			b = other
		}
	}
	if b.Generation == 0 {
		return base{}, nil, nil
	}
	end, gap := journalEnd{b.Seq, b.Sum}, false
	for at := int64(firstRecent); at < recentLength; at += recentPage {
		start := make([]byte, carveOverlap)
		if _, err := f.ReadAt(start, at); err != nil && !errors.Is(err, io.EOF) {
			return base{}, nil, err
		}
		c, ok := carveAt(f, at, start, end.seq)
		switch {
		case !ok: // older than the base, or not kept in whole: then nobody was told of it
			gap = true
		case gap, c.Seq != end.seq+1, c.Prev != end.sum:
			return base{}, nil, fmt.Errorf("entry %d does not follow entry %d", c.Seq, end.seq)
		default:
			entries = append(entries, c)
			end = journalEnd{c.Seq, c.sum}
			at += recentPages(len(seal(c.body))) - recentPage
		}
	}
	return b, entries, nil
}

// state is the base as a meta of the shop file.
func (b base) state() (fileMeta, bool) {
	return parseMeta(append(make([]byte, pageHeader), b.Meta...))
}
