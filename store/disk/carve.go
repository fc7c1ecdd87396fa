package disk

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
)

const (
	carveChunk   = 1 << 20   // bytes looked at in one go
	carveOverlap = partHead  // more than the start of an envelope with its number
	MaxRecord    = 256 << 20 // bytes of the body of one record of the journal
)

// Carved is what was found in the bytes of a file, whatever state it is in.
type Carved struct {
	path    string
	records map[uint64][]Record
	parts   map[uint64]map[int][]int64 // where parts of blobs seem to begin, by number and index
}

// Carve looks through the bytes of a file, and of its write-ahead log, for records of the
// journal whose number is above after, and for parts of blobs, whatever state the file is
// in: the envelope of each can be told from all else, its checksum says that it is whole,
// and the checksum that a record carries says what it follows. A file that is not there
// holds nothing. GoOn is told how much of the file is done, in bytes, and ends it by an error.
func Carve(path string, after uint64, goOn func(done, size int64) error) (*Carved, error) {
	c := &Carved{path: path, records: map[uint64][]Record{}, parts: map[uint64]map[int][]int64{}}
	err := c.look(path, after, goOn, func(p part, offset int64) {
		if c.parts[p.blob] == nil {
			c.parts[p.blob] = map[int][]int64{}
		}
		c.parts[p.blob][p.index] = append(c.parts[p.blob][p.index], offset)
	})
	if err == nil {
		err = c.look(LogPath(path), after, goOn, func(part, int64) {})
	}
	return c, err
}

// look is Carve over one file. Of one number there can be several records: what was
// written and never committed stays in free pages.
func (c *Carved) look(path string, after uint64, goOn func(done, size int64) error, parts func(p part, offset int64)) error {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return ErrUnreadable(path, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return ErrUnreadable(path, err)
	}
	buf := make([]byte, carveChunk+carveOverlap)
	for offset := int64(0); ; offset += carveChunk {
		if err := goOn(offset, info.Size()); err != nil {
			return err
		}
		n, err := f.ReadAt(buf, offset)
		if err != nil && !errors.Is(err, io.EOF) {
			return ErrUnreadable(path, err)
		}
		for at := range starts(buf[:n], carveChunk) {
			if r, ok := carveAt(f, offset+int64(at), buf[at:n], after); ok {
				c.records[r.Seq] = append(c.records[r.Seq], r)
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

// carveAt reads the record whose envelope starts at an offset of the file, and of
// which start is the beginning.
func carveAt(f io.ReaderAt, offset int64, start []byte, after uint64) (Record, bool) {
	if len(start) < envelopeHead {
		return Record{}, false
	}
	seq, ok := seqIn(start[envelopeHead:])
	if !ok || seq <= after {
		return Record{}, false
	}
	var body json.RawMessage
	if err := json.NewDecoder(io.NewSectionReader(f, offset+int64(envelopeHead), MaxRecord)).Decode(&body); err != nil {
		return Record{}, false
	}
	sum := string(start[len(envelopePrefix) : len(envelopePrefix)+sumDigits])
	return Record{Seq: seq, Sum: sum, Body: body}, Checksum(body) == sum
}

// Highest is the highest number of a record that was found; 0 for none.
func (c *Carved) Highest() (seq uint64) {
	for found := range c.records {
		seq = max(seq, found)
	}
	return seq
}

// Follow is the longest run of records that follow the end of a journal without a gap.
// Where one was written, never committed and written otherwise under the same number, the
// one that later records follow is taken.
func (c *Carved) Follow(end End) []Record {
	var run []Record
	for {
		var next []Record
		for _, r := range c.records[end.Seq+1] {
			if r.Prev() == end.Sum {
				next = append(next, r)
			}
		}
		if len(next) == 0 {
			return run
		}
		best := next[len(next)-1]
		for _, r := range next {
			if len(next) > 1 && c.continues(r) {
				best = r
				break
			}
		}
		run = append(run, best)
		end = best.end()
	}
}

func (c *Carved) continues(r Record) bool {
	for _, after := range c.records[r.Seq+1] {
		if after.Prev() == r.Sum {
			return true
		}
	}
	return false
}

// Blob puts a blob of a length in bytes together from its parts in the file, which is
// open for reading; nil where one of them cannot be read.
func (c *Carved) Blob(from io.ReaderAt, number uint64, length int) []byte {
	blob := make([]byte, 0, length)
	for i := range partsOf(length) {
		raw := carvePart(from, c.parts[number][i])
		if raw == nil {
			return nil
		}
		blob = append(blob, raw...)
	}
	return blob
}

// carvePart reads the first whole part at one of the offsets.
func carvePart(from io.ReaderAt, offsets []int64) []byte {
	buf := make([]byte, partHead+partSize+1)
	for _, at := range offsets {
		n, err := from.ReadAt(buf, at)
		if err != nil && !errors.Is(err, io.EOF) {
			continue
		}
		head, ok := partAt(buf[:n])
		if !ok || head.length() > n {
			continue
		}
		if _, raw, err := openPart(buf[:head.length()]); err == nil {
			return raw
		}
	}
	return nil
}
