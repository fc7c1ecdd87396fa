package store

import (
	"fmt"

	"stowright/store/disk"
)

// Chain follows the entries of a journal from the first one on, and says where one is not
// what the next was written after. The zero Chain has seen none.
type Chain struct {
	end    disk.End
	hash   string // of the newest entry, over all that came
	linked string // of the newest entry, over the hash that it carries
	begun  uint64
}

// Follow takes the next entry with its body as it stands, and goes on after one that does not
// fit. Where none before carried a hash, this one need not either.
func (c *Chain) Follow(e Entry, body []byte) error {
	carried, carries := disk.CarriedHash(body)
	fits := e.Prev == c.end.Sum && e.PrevSHA256 == carried && (carried == c.linked || !carries && c.begun == 0)
	if carries && c.begun == 0 {
		c.begun = e.Seq
	}
	after := carried
	if !carries {
		after = c.linked
	}
	linked := disk.Hash(after, body)
	if after == c.hash { // as long as nothing was changed: it is not worked out twice
		c.hash = linked
	} else {
		c.hash = disk.Hash(c.hash, body)
	}
	was := c.end.Seq
	c.end, c.linked = disk.End{Seq: e.Seq, Sum: disk.Checksum(body)}, linked
	if !fits {
		return fmt.Errorf("entry %d is not what entry %d was written after", was, e.Seq)
	}
	return nil
}

// Begun is the first entry that carries the hash of the one before it: those before it were
// there when the chain was begun. It is 2 in a shop that had it from the first on, and 0 where
// no entry carries one.
func (c *Chain) Begun() uint64 { return c.begun }
