package store

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"os"
	"strconv"

	"go.etcd.io/bbolt"
)

// carved is an entry of the journal as it stands in a file, whatever state the file
// is in: the envelope of an entry can be told from all else, its checksum says
// that it is whole, and the checksum that it carries says what it follows.
type carved struct {
	Entry
	body []byte
	sum  string
}

const (
	entryStart   = `{"seq":`
	carveChunk   = 1 << 20   // bytes looked at in one go
	carveOverlap = partHead  // more than the start of an envelope with its number
	maxEntry     = 256 << 20 // bytes of one entry
)

// carve looks through the bytes of a file for entries whose number is above after, and
// adds them to what was found.
// Of one number there can be several: what was written and never committed stays in
// free pages. What begins as a part of a picture is shown to parts, with where it is.
func carve(ctx context.Context, path string, after uint64, found map[uint64][]carved, parts func(p part, offset int64)) error {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return errUnreadable(path, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return errUnreadable(path, err)
	}
	buf := make([]byte, carveChunk+carveOverlap)
	for offset := int64(0); ; offset += carveChunk {
		if err := ctx.Err(); err != nil {
			return err
		}
		tellProgress(ctx, "reading what the file still holds", share(offset, info.Size()))
		n, err := f.ReadAt(buf, offset)
		if err != nil && !errors.Is(err, io.EOF) {
			return errUnreadable(path, err)
		}
		for at := range starts(buf[:n], carveChunk) {
			if c, ok := carveAt(f, offset+int64(at), buf[at:n], after); ok {
				found[c.Seq] = append(found[c.Seq], c)
			} else if p, ok := partAt(buf[at:n]); ok {
				parts(p, offset+int64(at))
			}
		}
		if n <= carveChunk {
			return nil
		}
	}
}

// starts are where envelopes start in a buffer, before a limit.
func starts(buf []byte, limit int) func(yield func(int) bool) {
	return func(yield func(int) bool) {
		for at := 0; ; at++ {
			i := bytes.Index(buf[at:], []byte(envelopePrefix))
			if i < 0 || at+i >= limit || !yield(at+i) {
				return
			}
			at += i
		}
	}
}

// carveAt reads the entry whose envelope starts at an offset of the file, and of
// which start is the beginning.
func carveAt(f io.ReaderAt, offset int64, start []byte, after uint64) (carved, bool) {
	const head = len(envelopePrefix) + sumDigits + len(envelopeMiddle)
	if len(start) < head {
		return carved{}, false
	}
	digits, isEntry := bytes.CutPrefix(start[head:], []byte(entryStart))
	if !isEntry {
		return carved{}, false
	}
	length := 0
	for length < len(digits) && digits[length] >= '0' && digits[length] <= '9' {
		length++
	}
	seq, err := strconv.ParseUint(string(digits[:length]), 10, 64)
	if err != nil || seq <= after {
		return carved{}, false
	}
	var body json.RawMessage
	if err := json.NewDecoder(io.NewSectionReader(f, offset+int64(head), maxEntry)).Decode(&body); err != nil {
		return carved{}, false
	}
	sum := string(start[len(envelopePrefix) : len(envelopePrefix)+sumDigits])
	if checksum(body) != sum {
		return carved{}, false
	}
	e, err := decode[Entry](body)
	return carved{e, body, sum}, err == nil && e.Seq == seq
}

// follow is the longest run of entries that follow the end of a journal without a gap.
func follow(found map[uint64][]carved, end journalEnd) []carved {
	var run []carved
	for {
		var next []carved
		for _, c := range found[end.seq+1] {
			if c.Prev == end.sum {
				next = append(next, c)
			}
		}
		if len(next) == 0 {
			return run
		}
		best := next[len(next)-1]
		for _, c := range next {
			if continues(found, c) {
				best = c
				break
			}
		}
		run = append(run, best)
		end = journalEnd{best.Seq, best.sum}
	}
}

func continues(found map[uint64][]carved, c carved) bool {
	for _, after := range found[c.Seq+1] {
		if after.Prev == c.sum {
			return true
		}
	}
	return false
}

// replayBatch is how many entries are put back in one transaction.
const replayBatch = 1000

// putBack adds entries to the journal as they are, and does again what they did.
func (s *Shop) putBack(ctx context.Context, entries []carved) error {
	for len(entries) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		batch := entries[:min(replayBatch, len(entries))]
		entries = entries[len(batch):]
		err := s.update(func(tx *bbolt.Tx) error {
			for _, e := range batch {
				if err := putEntry(tx, e); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func putEntry(tx *bbolt.Tx, e carved) error {
	for _, c := range e.Changes {
		if err := apply(fileLedger{tx}, c); err != nil {
			return err
		}
	}
	if err := tx.Bucket(bucketJournal).Put(seqKey(e.Seq), seal(e.body)); err != nil {
		return err
	}
	return markUndone(tx, e.Entry)
}
