package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"

	"stowright/store/disk"
)

// A picture is a blob of the file (disk.Tx.PutBlob), under the number of its photograph. It
// is written once, with the entry that made it, and stays: taking the photograph away
// takes its record away, and Undo brings that back. The journal names the picture by its
// SHA-256. One of no bytes is one that was lost when the shop was restored after damage.

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
func (r *Reader) Picture(number uint64) ([]byte, error) {
	var picture []byte
	err := r.view(func(tx *disk.Tx) error {
		p, err := photoOf(tx, number)
		if err != nil {
			return err
		}
		if picture, err = tx.Blob(number); err == nil && len(picture) > 0 {
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

// EachPicture calls do with the number of every picture in the file, in order, with
// those of photographs that were taken away, and then with those of the files of papers.
func EachPicture(tx *disk.Tx, do func(number uint64) error) error {
	for at := uint64(0); ; {
		next, err := tx.NextBlob(at)
		if err != nil || next == 0 {
			return err
		}
		if err := do(next); err != nil {
			return err
		}
		at = next
	}
}

// Pictures is how many pictures of photographs and files of papers the shop keeps, with those
// of photographs that were taken away: what an export of lines alone would lack.
func (r *Reader) Pictures() (photographs, papers int, err error) {
	err = r.view(func(tx *disk.Tx) error {
		return EachPicture(tx, func(number uint64) error {
			if IsPaper(number) {
				papers++
			} else {
				photographs++
			}
			return nil
		})
	})
	return photographs, papers, err
}

// Proves reports as an error whether a picture from outside is that of the photograph, and one that
// AddPhoto would have taken. No bytes are a picture that was lost.
func (p Photo) Proves(picture []byte) error {
	if len(picture) == 0 {
		return nil
	}
	if err := p.matches(picture); err != nil {
		return err
	}
	is, err := newPhoto(picture)
	if err == nil && (is.Width != p.Width || is.Height != p.Height) {
		err = fmt.Errorf("photograph %s is not of the size that is noted", p.Name())
	}
	return err
}

// MaxPhotos bounds the numbers of photographs, so that a key says which picture it is of.
const MaxPhotos = 1<<32 - 1

// checkPictures reads every picture that the journal calls for, and looks for others.
func (c *checker) checkPictures(ctx context.Context, tx *disk.Tx) error {
	if c.format < photoTable.since {
		return nil
	}
	parts := map[uint64]int{} // in the file, by picture
	err := tx.BlobNumbers(func(number uint64, n int) error {
		parts[number] = n
		return nil
	})
	if err != nil {
		return err
	}
	for _, number := range slices.Sorted(maps.Keys(parts)) {
		if _, ok := c.pictures[number]; !ok {
			if err := c.problem("pictures: %s is there, and the journal does not call for it", KeptName(number)); err != nil {
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

// checkPicture says what is wrong with a picture or a file, of which so many parts are in
// the shop file.
func checkPicture(tx *disk.Tx, p Kept, parts int) error {
	sum, size := sha256.New(), 0
	own, err := tx.BlobParts(p.Number(), func(raw []byte) {
		_, _ = sum.Write(raw) // a hash takes everything
		size += len(raw)
	})
	switch {
	case err != nil:
		return fmt.Errorf("%s: %w", p.What(), err)
	case own == 0:
		return fmt.Errorf("%s is missing", p.What())
	case parts != own:
		return fmt.Errorf("%s has parts that are none of its own", p.Name())
	case size == 0:
		return nil // lost, and known to be
	}
	return p.same(size, sum.Sum(nil))
}
