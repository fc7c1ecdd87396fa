package disk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"

	"go.etcd.io/bbolt"
)

// By itself bbolt waits twice for a change, and for a dozen pages that lie apart. So the
// newest records of the journal are kept in a write-ahead log beside the file,
// NAME.recent, each with one sync of pages that lie together, and bbolt writes what they
// changed into the file without waiting for the disk.
//
// What makes this safe when the power fails is the checkpoint: the newest state of the
// file that is known to be on the disk in whole. Until there is another one,
//   - a reading transaction on it is open, so that bbolt leaves its pages as they are,
//   - the log holds its meta page, which bbolt itself writes over,
//   - and the records that came since, each of them one transaction.
//
// So opening puts the meta back and replays the records (recovery.go). A transaction that
// a record does not repeat in whole, or that is large, makes a checkpoint of its own.
//
// The log is there from the second change until the file is closed. It has two pages for
// the checkpoint, written in turn, of which the newer one that is whole counts, and then a
// page or more for each record, in the envelope that it has in the journal.
const (
	logExt     = ".recent"
	logPage    = 4 << 10 // a record shares none with an older one, whatever a failing disk does to it
	logLength  = 128 * logPage
	logRecords = 2 * logPage // where the records begin
)

const (
	// maxLogged is how many bytes a record may have that goes into the log.
	maxLogged = 64 << 10
	// maxPinned is how many bytes a small file grows by before the next checkpoint: pages that
	// were added since are not used again before. A large one grows by an eighth.
	maxPinned = 512 << 10
)

// canMapAhead reports whether the addresses of the process are enough to map more of the
// file than there is (mapAhead): bbolt cannot map more while the transaction on the
// checkpoint is open.
const canMapAhead = keepsLog && strconv.IntSize == 64

// LogPath is the write-ahead log of a file.
func LogPath(path string) string { return path + logExt }

// checkpoint is the newest state of the file that is on the disk in whole.
type checkpoint struct {
	Generation uint64 `json:"generation"` // the higher one counts
	Meta       []byte `json:"meta"`       // of the file, as bbolt lays it out
	Seq        uint64 `json:"seq"`        // of the last record of the journal
	Sum        string `json:"sum"`        // and its checksum
}

// writeAheadLog is the log of a file that is in use.
type writeAheadLog struct {
	file       *os.File
	pin        *bbolt.Tx // the reading transaction on the checkpoint; nil while another one is made
	generation uint64
	size       int64 // of the database file at the checkpoint
	next       int64 // where the next record goes
}

// keepLog makes the log from the second change on: a program that makes a single one gains
// nothing by it. Should somebody take it away, another one is made.
func (f *File) keepLog() error {
	if f.log != nil && !named(f.log.file, LogPath(f.path)) {
		if err := f.endLog(); err != nil {
			f.stuck = true
			return err
		}
	}
	if f.log == nil && f.appended && !f.noLog {
		f.noLog = f.startLog() != nil
	}
	return nil
}

// startLog makes the log, with the file as it stands as its checkpoint.
func (f *File) startLog() (err error) {
	path := LogPath(f.path)
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, FilePerm)
	if err != nil {
		return err
	}
	w := &writeAheadLog{file: file}
	defer func() {
		if err != nil {
			_ = errors.Join(file.Close(), os.Remove(path))
		}
	}()
	if _, err := file.Write(make([]byte, logLength)); err != nil {
		return err
	}
	if err := w.checkpoint(f); err != nil {
		return err
	}
	SyncFolder(path)
	f.log, f.db.NoSync = w, true
	return nil
}

// checkpoint waits until the file is on the disk as it stands, and makes that the
// checkpoint. Where it fails, the old one stays.
func (w *writeAheadLog) checkpoint(f *File) error {
	if err := f.db.Sync(); err != nil {
		return err
	}
	pin, err := f.db.Begin(false)
	if err != nil {
		return err
	}
	if err := w.writeCheckpoint(f, pin); err != nil {
		return errors.Join(err, pin.Rollback())
	}
	w.unpin()
	w.pin, w.size, w.next = pin, pin.Size(), logRecords
	return nil
}

// unpin lets go of the pages of the checkpoint.
func (w *writeAheadLog) unpin() {
	if w.pin != nil {
		_ = w.pin.Rollback() // which only fails when it has ended
		w.pin = nil
	}
}

func (w *writeAheadLog) writeCheckpoint(f *File, pin *bbolt.Tx) error {
	pageSize := pin.DB().Info().PageSize
	page := make([]byte, pageSize)
	if _, err := f.plain.ReadAt(page, int64(pin.ID()%2*pageSize)); err != nil {
		return err
	}
	meta, ok := parseMeta(page)
	if !ok || meta.tx != uint64(pin.ID()) {
		return fmt.Errorf("the meta of transaction %d is not where it should be", pin.ID())
	}
	end, err := f.newTx(pin).End()
	if err != nil {
		return err
	}
	c := checkpoint{Generation: w.generation + 1, Meta: meta.raw, Seq: end.Seq, Sum: end.Sum}
	body, err := json.Marshal(c)
	if err != nil {
		return err
	}
	if err := w.write(Seal(body), int64(c.Generation%2*logPage)); err != nil {
		return err
	}
	w.generation = c.Generation
	return nil
}

// write writes whole pages and waits until they are on the disk.
func (w *writeAheadLog) write(sealed []byte, at int64) error {
	pages := make([]byte, logPages(len(sealed)))
	copy(pages, sealed)
	if _, err := w.file.WriteAt(pages, at); err != nil {
		return err
	}
	return syncData(w.file)
}

// logPages is how many bytes of whole pages hold that many.
func logPages(length int) int64 {
	return (int64(length) + logPage - 1) / logPage * logPage
}

// takes reports whether a record may go into the log, of a transaction on a file of a
// size of which so much is mapped: bbolt must not have to map more of it.
func (w *writeAheadLog) takes(record []byte, size, mapped int64) bool {
	return record != nil && len(record) <= maxLogged && w.next+logPages(len(record)) <= logLength &&
		size+maxGrown < mapped && size-w.size <= max(maxPinned, w.size/8)
}

// add writes a record at the end.
func (w *writeAheadLog) add(record []byte) error {
	if err := w.write(record, w.next); err != nil {
		return err
	}
	w.next += logPages(len(record))
	return nil
}

// commit commits a transaction that a record repeats in whole, or none where it is nil.
func (f *File) commit(tx *bbolt.Tx, record []byte) error {
	w := f.log
	if w == nil {
		return tx.Commit()
	}
	logged := w.takes(record, tx.Size(), f.mapped)
	if !logged {
		// What the checkpoint needs stays as it is all the same: bbolt gave free what
		// was not needed when this transaction began.
		w.unpin()
	}
	if err := tx.Commit(); err != nil {
		if !logged {
			err = errors.Join(err, f.checkpoint())
		}
		return err
	}
	if logged && w.add(record) == nil {
		return nil
	}
	f.mapped = max(f.mapped, f.mappedNow())
	return f.checkpoint()
}

// checkpoint makes the state that stands the checkpoint. Where that fails nothing is
// written any more: what is on the disk could not be told from what is not.
func (f *File) checkpoint() error {
	err := f.log.checkpoint(f)
	if err != nil {
		f.stuck = true
	}
	return err
}

// endLog waits until the file is on the disk as it stands, and removes the log.
func (f *File) endLog() error {
	w := f.log
	if w == nil {
		return nil
	}
	f.log = nil
	defer w.file.Close() // all that counts in it was synced; where it is removed, it is closed already
	defer w.unpin()
	if f.broken.Load() || f.stuck {
		return nil // opening goes on from the checkpoint
	}
	if err := f.db.Sync(); err != nil {
		return err
	}
	f.db.NoSync = false
	return removeLog(w.file)
}

// removeLog empties a log, so that it stays empty should it turn up again after the power
// failed, closes and removes it. The file that it belongs to is held, so nobody else makes
// another one in between.
func removeLog(f *os.File) error {
	if _, err := f.WriteAt(make([]byte, logRecords), 0); err != nil {
		return err
	}
	if err := syncData(f); err != nil || !named(f, f.Name()) {
		return err
	}
	_ = f.Close()           // Windows removes none that is open
	_ = os.Remove(f.Name()) // where it may not be removed, it is empty all the same
	return nil
}

// readLog reads the checkpoint and the records that follow it from a log. There is no
// checkpoint where none was written yet, or the file was closed. It fails where a record
// is missing or damaged whose transaction was said to be done.
func readLog(path string) (c checkpoint, records []Record, err error) {
	f, err := os.Open(path)
	if err != nil {
		return checkpoint{}, nil, err
	}
	defer f.Close()
	if c, err = readCheckpoint(f); err != nil {
		return checkpoint{}, nil, err
	}
	if c.Generation == 0 {
		return checkpoint{}, nil, nil
	}
	end, gap := c.end(nil), false
	for at := int64(logRecords); at < logLength; at += logPage {
		start := make([]byte, carveOverlap)
		if _, err := f.ReadAt(start, at); err != nil && !errors.Is(err, io.EOF) {
			return checkpoint{}, nil, err
		}
		r, ok := carveAt(f, at, start, end.Seq)
		switch {
		case !ok: // older than the checkpoint, or not written in whole: then it was never said to be done
			gap = true
		case gap, r.Seq != end.Seq+1, r.Prev() != end.Sum:
			return checkpoint{}, nil, fmt.Errorf("entry %d does not follow entry %d", r.Seq, end.Seq)
		default:
			records = append(records, r)
			end = r.end()
			at += logPages(len(Seal(r.Body))) - logPage
		}
	}
	return c, records, nil
}

// readCheckpoint reads which of the two checkpoints of a log counts; its generation is 0 where
// neither is whole.
func readCheckpoint(log io.ReaderAt) (c checkpoint, err error) {
	for slot := range int64(2) {
		page := make([]byte, logPage)
		if _, err := log.ReadAt(page, slot*logPage); err != nil && !errors.Is(err, io.EOF) {
			return checkpoint{}, err
		}
		if other := parseCheckpoint(page); other.Generation > c.Generation {
			c = other
		}
	}
	return c, nil
}

// parseCheckpoint reads the checkpoint of a page; its generation is 0 where there is none.
func parseCheckpoint(page []byte) (c checkpoint) {
	body, _, err := unseal(bytes.TrimRight(page, "\x00"))
	if err != nil || json.Unmarshal(body, &c) != nil {
		return checkpoint{}
	}
	return c
}

// meta is the checkpoint as a meta page of the file.
func (c checkpoint) meta() (fileMeta, bool) {
	return parseMeta(append(make([]byte, pageHeader), c.Meta...))
}

// end is where the journal ends with the records that follow the checkpoint.
func (c checkpoint) end(records []Record) End {
	if len(records) == 0 {
		return End{c.Seq, c.Sum}
	}
	return records[len(records)-1].end()
}
