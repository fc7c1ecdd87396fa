package disk

import (
	"bytes"
	"encoding/binary"
	"fmt"
)

// A blob is a large value under a number. It lies in a bucket of its own, in parts: in one
// piece it would have to find that much room in one piece of the file. Each part is an
// envelope like that of a record, so that it can be told from all else in a damaged file:
//
//	{"v":1,"crc32c":"e3069283","picture":17,"part":0,"parts":5,"bytes":65536,"jpeg":...}
//
// with the bytes of the blob as they are. The checksum is of what follows it, so that the
// number and the part are under it too. The names of the fields are those of what blobs
// are so far; they stay what they are in every file.
const (
	partSize   = 64 << 10
	partMiddle = `","picture":`
	partFormat = `","picture":%d,"part":%d,"parts":%d,"bytes":%d,"jpeg":`
	partHead   = 128 // bytes that hold the head of any part
	maxParts   = MaxBlob / partSize
)

// MaxBlob is the most bytes that a blob may have.
const MaxBlob = 16 << 20

// part is one part of a blob.
type part struct {
	blob               uint64
	index, parts, size int
	head               int // bytes of the envelope before the blob's own
	sum                string
}

func sealPart(blob uint64, index, parts int, raw []byte) []byte {
	rest := fmt.Appendf(nil, partFormat, blob, index, parts, len(raw))
	rest = append(append(rest, raw...), '}')
	return append([]byte(envelopePrefix+Checksum(rest)), rest...)
}

// partAt reads the head of a part, which starts with an envelope's prefix. What it
// says is not yet known to be so.
func partAt(start []byte) (part, bool) {
	const sumEnd = len(envelopePrefix) + sumDigits
	if len(start) < sumEnd || !bytes.HasPrefix(start, []byte(envelopePrefix)) || !bytes.HasPrefix(start[sumEnd:], []byte(partMiddle)) {
		return part{}, false
	}
	p := part{sum: string(start[len(envelopePrefix):sumEnd])}
	if n, _ := fmt.Sscanf(string(start[sumEnd:min(len(start), partHead)]), partFormat, &p.blob, &p.index, &p.parts, &p.size); n != 4 {
		return part{}, false
	}
	spelled := fmt.Appendf(nil, partFormat, p.blob, p.index, p.parts, p.size)
	p.head = sumEnd + len(spelled)
	whole := bytes.HasPrefix(start[sumEnd:], spelled)
	return p, whole && p.size >= 0 && p.size <= partSize && p.index >= 0 && p.index < p.parts && p.parts <= maxParts
}

// length is how many bytes the part has with its envelope.
func (p part) length() int { return p.head + p.size + 1 }

// openPart returns the bytes of a part, which stay those of the value.
func openPart(sealed []byte) (part, []byte, error) {
	p, ok := partAt(sealed)
	if !ok || p.length() != len(sealed) {
		return part{}, nil, fmt.Errorf("a part of %d bytes has a damaged envelope", len(sealed))
	}
	if got := Checksum(sealed[len(envelopePrefix)+sumDigits:]); got != p.sum {
		return part{}, nil, fmt.Errorf("part %d of blob %d: checksum is %s, its envelope says %s", p.index, p.blob, got, p.sum)
	}
	return p, sealed[p.head : p.head+p.size], nil
}

// partKeyLength is how many bytes the key of a part has.
const partKeyLength = seqLength + 2

func partKey(blob uint64, index int) []byte {
	return binary.BigEndian.AppendUint16(SeqKey(blob), uint16(index))
}

func partsOf(length int) int { return max(1, (length+partSize-1)/partSize) }

// PutBlob writes the parts of a blob; one of no bytes is one that was lost. One of more
// than MaxBlob bytes is refused: it could not be read again.
func (t *Tx) PutBlob(number uint64, blob []byte) error {
	if len(blob) > MaxBlob {
		return fmt.Errorf("blob %d has %d bytes, and %d at most can be read", number, len(blob), MaxBlob)
	}
	b, err := t.Bucket(bucketBlobs)
	if err != nil {
		return err
	}
	b.bolt.FillPercent = appendedFill
	parts := partsOf(len(blob))
	for i := range parts {
		raw := blob[i*partSize : min(len(blob), (i+1)*partSize)]
		if err := b.putSealed(partKey(number, i), sealPart(number, i, parts, raw)); err != nil {
			return fmt.Errorf("writing part %d of blob %d: %w", i, number, err)
		}
	}
	return nil
}

// BlobParts shows the bytes of the parts of a blob in their order, proven each by its
// checksum. They must not be kept. There are none where there is no blob.
func (t *Tx) BlobParts(number uint64, show func(raw []byte)) (parts int, err error) {
	return t.blobParts(number, func(_ part, raw []byte) { show(raw) })
}

func (t *Tx) blobParts(number uint64, show func(p part, raw []byte)) (parts int, err error) {
	b, err := t.Bucket(bucketBlobs)
	if err != nil {
		return 0, err
	}
	whole := 0
	err = b.scan(SeqKey(number), func(k, sealed []byte) error {
		p, raw, err := openPart(sealed)
		switch {
		case err != nil:
			return err
		case p.blob != number || p.index != parts || !bytes.Equal(k, partKey(number, parts)):
			return fmt.Errorf("part %d of blob %d is filed under %x", p.index, p.blob, k)
		}
		show(p, raw)
		whole = p.parts
		if parts++; parts == whole {
			return ErrStop
		}
		return nil
	})
	if err := ended(err); err != nil {
		return parts, err
	}
	if parts < whole {
		return parts, fmt.Errorf("blob %d ends after part %d", number, parts)
	}
	return parts, nil
}

// Blob returns a copy of a blob, or nil when there is none. One that was lost has no bytes.
func (t *Tx) Blob(number uint64) ([]byte, error) {
	var blob []byte
	parts, err := t.blobParts(number, func(p part, raw []byte) {
		if blob == nil { // all of it at once: growing would copy it several times
			blob = make([]byte, 0, p.parts*partSize)
		}
		blob = append(blob, raw...)
	})
	if err != nil || parts == 0 {
		return nil, err
	}
	return blob, nil
}

// LastBlob is the highest number below a limit that was given, 0 when there is none.
func (t *Tx) LastBlob(limit uint64) (uint64, error) {
	b, err := t.Bucket(bucketBlobs)
	if err != nil {
		return 0, err
	}
	c, at := b.cursor(), SeqKey(limit)
	next, sealed, err := c.seek(at)
	if err == nil && next != nil {
		_, err = b.open(next, sealed)
	}
	if err != nil {
		return 0, err
	}
	k, sealed, err := c.prev()
	if err != nil || k == nil {
		return 0, err
	}
	if len(k) != partKeyLength {
		return 0, errDamaged(t.file.path, fmt.Errorf("there is a key %x among the blobs", k))
	}
	if err := b.proveNeighbour(at, k, sealed, -1); err != nil {
		return 0, err
	}
	return SeqOf(k), nil
}

// BlobNumbers calls do with the number of every blob, in order, and how many parts it has.
func (t *Tx) BlobNumbers(do func(number uint64, parts int) error) error {
	b, err := t.Bucket(bucketBlobs)
	if err != nil {
		return err
	}
	var number uint64
	parts := 0
	err = b.scan(nil, func(k, _ []byte) error {
		if len(k) != partKeyLength {
			return errDamaged(t.file.path, fmt.Errorf("there is a key %x among the blobs", k))
		}
		if parts > 0 && SeqOf(k) != number {
			if err := do(number, parts); err != nil {
				return err
			}
			parts = 0
		}
		number = SeqOf(k)
		parts++
		return nil
	})
	if err != nil || parts == 0 {
		return err
	}
	return do(number, parts)
}

// NextBlob is the number of the first blob after the given one, 0 where there is none.
func (t *Tx) NextBlob(after uint64) (uint64, error) {
	b, err := t.Bucket(bucketBlobs)
	if err != nil {
		return 0, err
	}
	var found uint64
	c := b.newCursor()
	k, sealed, err := c.seek(SeqKey(after + 1))
	if err != nil {
		return 0, err
	}
	if k != nil {
		if len(k) != partKeyLength {
			return 0, errDamaged(t.file.path, fmt.Errorf("there is a key %x among the blobs", k))
		}
		if _, err := b.open(k, sealed); err != nil {
			return 0, err
		}
		found = SeqOf(k)
	}
	prev, sealed, err := c.prev()
	if err == nil && prev != nil {
		err = b.proveNeighbour(SeqKey(after+1), prev, sealed, -1)
	}
	return found, err
}
