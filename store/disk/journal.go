package disk

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"strconv"
)

// Record is one record of the journal. Its body is a JSON object whose first field is
// "seq", its number, and which has a field "prev", the checksum of the record before it. The
// last one is "prev_sha256", the hash of that record (chain.go).
type Record struct {
	Seq  uint64 // from 1, without gaps
	Sum  string // checksum of the body, which the next record carries
	Body []byte
}

// Prev is the checksum of the record before it, as the body says; empty for the first.
func (r Record) Prev() string {
	var chained struct{ Prev string }
	if err := json.Unmarshal(r.Body, &chained); err != nil {
		return "not to be read: " + err.Error() // which no checksum is
	}
	return chained.Prev
}

// End is the last record of a journal: its number and its checksum; zero for none.
type End struct {
	Seq uint64
	Sum string
}

func (r Record) end() End { return End{r.Seq, r.Sum} }

// seqLength is how many bytes the key of a record has.
const seqLength = 8

// SeqKey is the key of a record of the journal: its number with the highest byte first.
func SeqKey(seq uint64) []byte { return binary.BigEndian.AppendUint64(nil, seq) }

// SeqOf is the number in the first bytes of a key that SeqKey made.
func SeqOf(key []byte) uint64 { return binary.BigEndian.Uint64(key) }

// bodyStart is what the body of every record starts with.
const bodyStart = `{"seq":`

// seqIn reads the number at the start of a body, and no more of it: an import of
// thousands of lines may be the newest record.
func seqIn(body []byte) (uint64, bool) {
	rest, ok := bytes.CutPrefix(body, []byte(bodyStart))
	if !ok {
		return 0, false
	}
	n := 0
	for n < len(rest) && rest[n] >= '0' && rest[n] <= '9' {
		n++
	}
	seq, err := strconv.ParseUint(string(rest[:n]), 10, 64)
	return seq, err == nil
}

// openRecord opens a record of the journal, whose body stays part of what is given.
func openRecord(key, sealed []byte) (Record, error) {
	body, sum, err := unseal(sealed)
	if err != nil {
		return Record{}, err
	}
	seq, ok := seqIn(body)
	if !ok || len(key) != seqLength || SeqOf(key) != seq {
		return Record{}, fmt.Errorf("entry %d is filed under %x", seq, key)
	}
	return Record{Seq: seq, Sum: sum, Body: body}, nil
}

func (t *Tx) journal() (*Bucket, error) {
	b, err := t.open(bucketJournal)
	if err != nil {
		return nil, err
	}
	return &b.replayed, nil
}

// End is where the journal ends.
func (t *Tx) End() (End, error) {
	r, err := t.newest()
	return r.end(), err
}

// newest is the newest record, whose body is part of the file; zero where there is none.
func (t *Tx) newest() (Record, error) {
	if t.past != nil {
		r, _, err := t.Record(t.past.End.Seq)
		return r, err
	}
	b, err := t.journal()
	if err != nil {
		return Record{}, err
	}
	key, sealed, err := b.cursor().last()
	if err != nil || key == nil {
		return Record{}, err
	}
	r, err := openRecord(key, sealed)
	if err != nil {
		return Record{}, errEntry(key, err)
	}
	return r, nil
}

// Record is the record of a number; false when there is none.
func (t *Tx) Record(seq uint64) (Record, bool, error) {
	if t.past != nil && seq > t.past.End.Seq {
		return Record{}, false, nil
	}
	b, err := t.journal()
	if err != nil {
		return Record{}, false, err
	}
	body, err := b.Get(SeqKey(seq))
	if err != nil || body == nil {
		return Record{}, false, err
	}
	return Record{Seq: seq, Sum: Checksum(body), Body: body}, true, nil
}

// Records calls do with every record of the journal, the oldest first, by plain reads,
// or with what is wrong with one. Do must not keep the body.
func (t *Tx) Records(do func(r Record, damage error) error) error {
	b, err := t.journal()
	if err != nil {
		return err
	}
	return ended(b.scanUnmapped(nil, func(key, sealed []byte) error {
		r, err := openRecord(key, sealed)
		if err != nil {
			err = errEntry(key, err)
		}
		if t.past != nil && len(key) == seqLength && SeqOf(key) > t.past.End.Seq {
			return ErrStop
		}
		return do(r, err)
	}))
}

// RecordsBefore calls do with the records that are older than before, the newest first,
// until it says no; 0 starts with the newest of all. Do must not keep the body.
func (t *Tx) RecordsBefore(before uint64, do func(Record) (more bool, err error)) error {
	b, err := t.journal()
	if err != nil {
		return err
	}
	end, err := t.End()
	if err != nil {
		return err
	}
	seq := end.Seq
	if before > 0 {
		seq = min(before-1, end.Seq)
	}
	c := b.newCursor()
	k, sealed, err := c.seek(SeqKey(seq))
	for ; seq > 0; k, sealed, err = c.prev() {
		if err != nil {
			return err
		}
		r, err := openRecord(k, sealed)
		if err == nil && r.Seq != seq {
			err = fmt.Errorf("entry %d stands where entry %d should", r.Seq, seq)
		}
		if err != nil {
			return errEntry(k, err)
		}
		if more, err := do(r); err != nil || !more {
			return err
		}
		seq--
	}
	return nil
}

// appendedFill is how full the pages of a bucket are left that only grows at its end, so
// that room within a page would stay empty for ever.
const appendedFill = 0.95

// Append writes a record at the end of the journal. Body makes its body of the record that
// it follows, whose checksum and hash it has to carry, and whose own body it must not keep.
func (t *Tx) Append(body func(after Head) ([]byte, error)) error {
	head, err := t.Head()
	if err != nil {
		return err
	}
	made, err := body(head)
	if err != nil {
		return err
	}
	if carried, _ := CarriedHash(made); carried != head.Hash {
		return fmt.Errorf("the body of record %d does not end with the hash of record %d", head.Seq+1, head.Seq)
	}
	return t.putRecord(Record{Seq: head.Seq + 1, Body: made})
}

func (t *Tx) putRecord(r Record) error {
	if seq, ok := seqIn(r.Body); !ok || seq != r.Seq {
		return fmt.Errorf("the body of record %d does not start with its number", r.Seq)
	}
	b, err := t.journal()
	if err != nil {
		return err
	}
	b.bolt.FillPercent = appendedFill
	t.appended = Seal(r.Body)
	t.records++
	return b.putSealed(SeqKey(r.Seq), t.appended)
}

// replay does what a record did and puts it at the end of the journal, which it must follow.
func (t *Tx) replay(r Record) error {
	end, err := t.End()
	if err != nil {
		return err
	}
	if r.Seq != end.Seq+1 {
		return fmt.Errorf("entry %d does not follow entry %d", r.Seq, end.Seq)
	}
	if err := t.file.options.Replay(t, r); err != nil {
		return err
	}
	return t.putRecord(r)
}
