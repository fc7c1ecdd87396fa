package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"

	"go.etcd.io/bbolt"
)

// Pictures lie in a bucket of their own, in parts: a large value would have to find
// that much room in one piece of the file. Each part is an envelope like that of a
// record, so that it can be told from all else in a damaged file:
//
//	{"v":1,"crc32c":"e3069283","picture":17,"part":0,"parts":5,"bytes":65536,"jpeg":...}
//
// with the bytes of the file as they are. The checksum is of what follows it. A
// picture is written once, with the entry that made it, and stays: taking the
// photograph away takes its record away, and Undo brings that back. The journal
// names the picture by its SHA-256.
const (
	partSize   = 64 << 10
	partMiddle = `","picture":`
	partFormat = `","picture":%d,"part":%d,"parts":%d,"bytes":%d,"jpeg":`
	partHead   = 128 // bytes that hold the head of any part
	maxParts   = MaxPhotoBytes / partSize
)

// part is one part of a picture.
type part struct {
	picture            uint64
	index, parts, size int
	head               int // bytes of the envelope before the picture's own
	sum                string
}

func sealPart(picture uint64, index, parts int, raw []byte) []byte {
	rest := fmt.Appendf(nil, partFormat, picture, index, parts, len(raw))
	rest = append(append(rest, raw...), '}')
	return append([]byte(envelopePrefix+checksum(rest)), rest...)
}

// partAt reads the head of a part, which starts with an envelope's prefix. What it
// says is not yet known to be so.
func partAt(start []byte) (part, bool) {
	const sumEnd = len(envelopePrefix) + sumDigits
	if len(start) < sumEnd || !bytes.HasPrefix(start, []byte(envelopePrefix)) || !bytes.HasPrefix(start[sumEnd:], []byte(partMiddle)) {
		return part{}, false
	}
	p := part{sum: string(start[len(envelopePrefix):sumEnd])}
	if n, _ := fmt.Sscanf(string(start[sumEnd:min(len(start), partHead)]), partFormat, &p.picture, &p.index, &p.parts, &p.size); n != 4 {
		return part{}, false
	}
	spelled := fmt.Appendf(nil, partFormat, p.picture, p.index, p.parts, p.size)
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
		return part{}, nil, fmt.Errorf("a part of a picture of %d bytes has a damaged envelope", len(sealed))
	}
	if got := checksum(sealed[len(envelopePrefix)+sumDigits:]); got != p.sum {
		return part{}, nil, fmt.Errorf("part %d of picture %s: checksum is %s, its envelope says %s", p.index, photoName(p.picture), got, p.sum)
	}
	return p, sealed[p.head : p.head+p.size], nil
}

func partKey(picture uint64, index int) []byte {
	return binary.BigEndian.AppendUint16(seqKey(picture), uint16(index))
}

// putPicture writes the parts of a picture; a picture of no bytes is one that was lost.
func putPicture(tx *bbolt.Tx, number uint64, picture []byte) error {
	b := tx.Bucket(bucketPictures)
	b.FillPercent = appendedFill
	parts := partsOf(picture)
	for i := range parts {
		raw := picture[i*partSize : min(len(picture), (i+1)*partSize)]
		if err := b.Put(partKey(number, i), sealPart(number, i, parts, raw)); err != nil {
			return fmt.Errorf("writing picture %s: %w", photoName(number), err)
		}
	}
	return nil
}

func partsOf(picture []byte) int { return max(1, (len(picture)+partSize-1)/partSize) }

// eachPart shows the bytes of the parts of a picture in their order, proven each by
// its checksum. They must not be kept. There are none where there is no picture.
func eachPart(tx *bbolt.Tx, number uint64, show func(raw []byte)) (parts int, err error) {
	c := tx.Bucket(bucketPictures).Cursor()
	first := seqKey(number)
	for k, sealed := c.Seek(first); bytes.HasPrefix(k, first); k, sealed = c.Next() {
		p, raw, err := openPart(sealed)
		if err != nil {
			return parts, err
		}
		if p.picture != number || p.index != parts || !bytes.Equal(k, partKey(number, parts)) {
			return parts, fmt.Errorf("part %d of picture %s is filed under %x", p.index, photoName(p.picture), k)
		}
		show(raw)
		if parts++; parts == p.parts {
			return parts, nil
		}
	}
	if parts > 0 {
		err = fmt.Errorf("picture %s ends after part %d", photoName(number), parts)
	}
	return parts, err
}

// readPicture returns a copy of a picture, or nil when there is none. One that was
// lost has no bytes.
func readPicture(tx *bbolt.Tx, number uint64) ([]byte, error) {
	picture := []byte{}
	parts, err := eachPart(tx, number, func(raw []byte) { picture = append(picture, raw...) })
	if err != nil || parts == 0 {
		return nil, err
	}
	return picture, nil
}

// lastPicture is the highest number that was given, 0 when there is none.
func lastPicture(tx *bbolt.Tx) uint64 {
	if k, _ := tx.Bucket(bucketPictures).Cursor().Last(); len(k) > 8 {
		return seqOf(k[:8])
	}
	return 0
}

// matches says what is wrong with the bytes of a photograph's picture.
func (p Photo) matches(picture []byte) error {
	sum := sha256.Sum256(picture)
	return p.same(len(picture), sum[:])
}

func (p Photo) same(size int, sum []byte) error {
	if size != p.Bytes || hex.EncodeToString(sum) != p.SHA256 {
		return fmt.Errorf("the picture of photograph %s is not the one that was brought in", p.Name())
	}
	return nil
}

// Picture is the JPEG file of a photograph, proven to be the one that was brought in.
func (s *Shop) Picture(number uint64) ([]byte, error) {
	var picture []byte
	err := s.view(func(tx *bbolt.Tx) error {
		p, err := photoOf(tx, number)
		if err != nil {
			return err
		}
		if picture, err = readPicture(tx, number); err == nil && len(picture) > 0 {
			err = p.matches(picture)
		}
		switch {
		case err != nil:
			return &Error{Kind: Corrupt, Where: p.Name(), Message: fmt.Sprintf("The picture of photograph %s is damaged: keep the file, and open a copy made earlier.", p.Name()), Err: err}
		case len(picture) == 0:
			return fail(NotFound, p.Name(), "The picture of photograph %s was lost when the shop was restored after damage: look in an older copy.", p.Name())
		}
		return nil
	})
	return picture, err
}

// pictured are the photographs that entries have made, by number, whether they were
// taken away since or not: each has its picture.
type pictured map[uint64]Photo

// note follows a change. The picture of a photograph never becomes another.
func (m pictured) note(c Change) error {
	if c.Table != tablePhotos || c.After == nil {
		return nil
	}
	p, err := decode[Photo](c.After)
	if err != nil {
		return err
	}
	known, again := m[p.Number]
	if again && (known.SHA256 != p.SHA256 || known.Bytes != p.Bytes) || p.Number < 1 || p.Number > maxPhotos {
		return fmt.Errorf("photograph %s changes its picture", p.Name())
	}
	m[p.Number] = p
	return nil
}

// maxPhotos bounds the numbers, so that a key says which picture it is of.
const maxPhotos = 1<<32 - 1

// checkPictures reads every picture that the journal calls for, and looks for others.
func (c *checker) checkPictures(ctx context.Context, tx *bbolt.Tx) error {
	if c.format < firstFormat(tablePhotos) {
		return nil
	}
	parts := map[uint64]int{} // in the file, by picture
	cursor := tx.Bucket(bucketPictures).Cursor()
	for k, _ := cursor.First(); k != nil; k, _ = cursor.Next() {
		if len(k) != len(partKey(0, 0)) {
			return c.problem("pictures: there is a key %x", k)
		}
		parts[seqOf(k[:8])]++
	}
	for _, number := range slices.Sorted(maps.Keys(parts)) {
		if _, ok := c.pictures[number]; !ok {
			if err := c.problem("pictures: %s is there, and the journal does not call for it", photoName(number)); err != nil {
				return err
			}
		}
	}
	for _, number := range slices.Sorted(maps.Keys(c.pictures)) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := checkPicture(tx, c.pictures[number], parts[number]); err != nil {
			if err := c.problem("pictures: %v", err); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkPicture says what is wrong with the picture of a photograph, of which so many
// parts are in the file.
func checkPicture(tx *bbolt.Tx, p Photo, parts int) error {
	sum, size := sha256.New(), 0
	own, err := eachPart(tx, p.Number, func(raw []byte) {
		_, _ = sum.Write(raw) // a hash takes everything
		size += len(raw)
	})
	switch {
	case err != nil:
		return err
	case own == 0:
		return fmt.Errorf("that of photograph %s is missing", p.Name())
	case parts != own:
		return fmt.Errorf("%s has parts that are none of its own", p.Name())
	case size == 0:
		return nil // lost, and known to be
	}
	return p.same(size, sum.Sum(nil))
}

// photoReferences looks for photographs of what is not there.
func (c *checker) photoReferences() error {
	for _, key := range slices.Sorted(maps.Keys(c.replayed[tablePhotos])) {
		p, err := decode[Photo](c.replayed[tablePhotos][key])
		if err != nil {
			return err
		}
		there := c.replayed[tableItems][p.Of.Item] != nil || c.replayed[tablePlaces][p.Of.Place] != nil ||
			c.replayed[tableLines][lineKey(p.Of.Shipment, p.Of.Line)] != nil
		if !p.Of.single() || !there {
			if err := c.problem("photograph %s is of nothing in this shop", p.Name()); err != nil {
				return err
			}
		}
	}
	return nil
}
