package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"

	"stowright/store/disk"
)

// Report is what Check found. A shop is whole when there are no problems.
type Report struct {
	OK       bool     `json:"ok"`
	Entries  uint64   `json:"entries"`
	Problems []string `json:"problems"`

	Head  *Anchor  `json:"head,omitempty"`  // the newest entry with its hash; nil where there is none
	Begun uint64   `json:"begun,omitempty"` // entries before this one were there when the chain of hashes was begun; 0 where none carries one
	Paper *OnPaper `json:"paper,omitempty"` // what was asked by CheckPaper
}

// maxProblems bounds the report: a file with more is lost anyway.
const maxProblems = 100

// errEnough ends a check that has found maxProblems.
var errEnough = errors.New("enough problems")

// Check goes over the pages of the file, replays the journal from nothing and compares what it adds up to with
// what the file says, record by record; it follows the chains of checksums and hashes, and
// looks for stock of unknown items or in unknown places, lines of one number, places in a circle, tags that
// name nothing, photographs of nothing, pictures that are not the ones brought in, and fitted
// parts that are not the sum of their events. Progress is called now and then with entries done and
// entries in all; it may be nil.
func (s *Shop) Check(ctx context.Context, progress func(done, total uint64)) (Report, error) {
	return s.check(ctx, nil, progress)
}

// CheckPaper is Check that also says whether the shop has an entry as paper has it, and all
// before it. The whole chain worked out anew after a change is whole in itself, and differs
// from the paper.
func (s *Shop) CheckPaper(ctx context.Context, paper OnPaper, progress func(done, total uint64)) (Report, error) {
	return s.check(ctx, &paper, progress)
}

func (s *Shop) check(ctx context.Context, paper *OnPaper, progress func(done, total uint64)) (Report, error) {
	c := checker{format: s.file.Format(), report: Report{Problems: []string{}, Paper: paper}, replayed: newMemory(), undone: map[string]bool{}, pictures: keptBlobs{}, counted: balances{}, fittedBefore: sums{}}
	err := s.view(func(tx *disk.Tx) error {
		if err := c.pages(tx); err != nil {
			return err
		}
		if err := c.replay(ctx, tx, progress); err != nil {
			return err
		}
		pictures := func(tx *disk.Tx) error { return c.checkPictures(ctx, tx) }
		for _, step := range []func(*disk.Tx) error{c.compare, c.compareIndexes, c.references, c.lineNumbers, c.balanceLots, c.fits, pictures} {
			if err := step(tx); err != nil {
				return err
			}
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		return nil
	})
	if KindOf(err) == Corrupt {
		err = c.problem("%v", err)
	}
	if err != nil && !errors.Is(err, errEnough) {
		return c.report, err
	}
	c.report.OK, c.report.Begun = len(c.report.Problems) == 0, c.chain.Begun()
	if c.head.Entry > 0 {
		c.report.Head = &c.head
	}
	return c.report, nil
}

type checker struct {
	format   int
	report   Report
	replayed memory
	undone   map[string]bool
	pictures keptBlobs
	chain    Chain
	head     Anchor
	counted  balances // by how much counts found more of lots than there was

	fittedBefore sums // by key: what was fitted before format 6
}

func (c *checker) problem(format string, args ...any) error {
	c.report.Problems = append(c.report.Problems, fmt.Sprintf(format, args...))
	if len(c.report.Problems) >= maxProblems {
		return errEnough
	}
	return nil
}

// pages goes over the pages of the state that the transaction sees.
func (c *checker) pages(tx *disk.Tx) error {
	var problem *disk.PageError
	err := tx.CheckPages()
	if errors.As(err, &problem) {
		return c.problem("pages: %v", problem)
	}
	return err
}

// progressEvery is how many entries lie between two reports of progress.
const progressEvery = 4096

func (c *checker) replay(ctx context.Context, tx *disk.Tx, progress func(done, total uint64)) error {
	end, err := tx.End()
	if err != nil {
		return c.problem("journal: %v", err)
	}
	total := end.Seq
	if p := c.report.Paper; p != nil && p.Entry > total {
		p.Answer = NoSuchEntry
	}
	return tx.Records(func(r disk.Record, damage error) error {
		if damage != nil {
			return c.problem("journal: %v", damage)
		}
		e, err := entryOf(r)
		if err != nil {
			return c.problem("journal: %v", err)
		}
		c.report.Entries++
		if c.report.Entries%progressEvery == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if progress != nil {
				progress(c.report.Entries, total)
			}
		}
		follows := c.follow(e, r)
		if e.Seq != c.report.Entries {
			return c.problem("journal: entry %d does not follow the one before it", e.Seq)
		}
		if follows != nil {
			return c.problem("journal: %v", follows)
		}
		return c.replayEntry(tx, e)
	})
}

// follow goes on with the chains of checksums and hashes.
func (c *checker) follow(e Entry, r disk.Record) error {
	err := c.chain.Follow(e, r.Body)
	c.head = Anchor{Entry: e.Seq, At: e.At, SHA256: c.chain.hash}
	if p := c.report.Paper; p != nil && p.Entry == e.Seq {
		p.compare(c.chain.hash)
	}
	return err
}

func (c *checker) replayEntry(tx *disk.Tx, e Entry) error {
	for _, change := range e.Changes {
		if err := apply(c.replayed, change); err != nil {
			if err := c.problem("journal: entry %d cannot be replayed: %v", e.Seq, err); err != nil {
				return err
			}
		}
		if err := c.pictures.note(change); err != nil {
			if err := c.problem("journal: entry %d: %v", e.Seq, err); err != nil {
				return err
			}
		}
	}
	if err := c.noteCounts(tx, e); err != nil {
		return c.problem("journal: entry %d: %v", e.Seq, err)
	}
	c.noteFitted(e)
	if e.Undoes == 0 {
		return nil
	}
	c.undone[string(disk.SeqKey(e.Undoes))] = true
	if e.Verb == VerbRedo {
		undo, err := entryAt(tx, e.Undoes)
		if err != nil {
			return c.problem("journal: entry %d takes back entry %d, which is not there", e.Seq, e.Undoes)
		}
		delete(c.undone, string(disk.SeqKey(undo.Undoes)))
	}
	return nil
}

// compare holds every record of the file against the replayed one.
func (c *checker) compare(tx *disk.Tx) error {
	for _, t := range tables {
		if t.since > c.format {
			continue
		}
		if err := c.compareTable(tx, t.name); err != nil {
			return err
		}
	}
	return nil
}

func (c *checker) compareTable(tx *disk.Tx, table string) error {
	b, err := tx.Bucket(table)
	if err != nil {
		return err
	}
	seen := map[string]bool{}
	err = b.Examine(func(k, body []byte, damage error) error {
		seen[string(k)] = true
		if damage != nil {
			return c.problem("%s: %v", disk.RecordName(table, string(k)), damage)
		}
		return c.compareRecord(table, string(k), body)
	})
	if err != nil {
		return err
	}
	for _, key := range slices.Sorted(maps.Keys(c.replayed[table])) {
		if seen[key] {
			continue
		}
		if err := c.problem("%s: the journal adds up to it, the file lacks it", disk.RecordName(table, key)); err != nil {
			return err
		}
	}
	return nil
}

func (c *checker) compareRecord(table, key string, body []byte) error {
	want, ok := c.replayed[table][key]
	switch {
	case !ok:
		return c.problem("%s: the file has it, the journal does not", disk.RecordName(table, key))
	case !bytes.Equal(body, want):
		return c.problem("%s: the file says %s, the journal adds up to %s", disk.RecordName(table, key), body, want)
	}
	return nil
}

// compareIndexes holds the indexes against what the replayed records call for.
func (c *checker) compareIndexes(tx *disk.Tx) error {
	for _, t := range tables {
		for _, index := range t.indexes {
			if index.since > c.format {
				continue
			}
			want, err := c.indexed(t.name, index)
			if err == nil {
				err = c.compareIndex(tx, index.name, want)
			}
			if err != nil {
				return err
			}
		}
	}
	return c.compareIndex(tx, indexUndone, c.undone)
}

// indexed are the keys that an index must have.
func (c *checker) indexed(table string, index index) (map[string]bool, error) {
	want := map[string]bool{}
	for key, body := range c.replayed[table] {
		at, err := index.key(key, body)
		if err != nil {
			if err := c.problem("%s: %v", disk.RecordName(table, key), err); err != nil {
				return nil, err
			}
			continue
		}
		want[at] = true
	}
	return want, nil
}

func (c *checker) compareIndex(tx *disk.Tx, name string, want map[string]bool) error {
	b, err := tx.Bucket(name)
	if err != nil {
		return err
	}
	n := 0
	err = b.Examine(func(k, _ []byte, damage error) error {
		switch {
		case damage != nil:
			return c.problem("index %s: %v", disk.RecordName(name, string(k)), damage)
		case !want[string(k)]:
			return c.problem("index %s: the file has it, the journal does not call for it", disk.RecordName(name, string(k)))
		}
		n++
		return nil
	})
	if err != nil || n == len(want) {
		return err
	}
	return c.problem("index %s lacks %d of its %d keys", name, len(want)-n, len(want))
}

// references looks for records that name what is not there, and for places that lie in
// themselves.
func (c *checker) references(*disk.Tx) error {
	for _, t := range tables {
		for _, key := range slices.Sorted(maps.Keys(c.replayed[t.name])) {
			if err := c.checkReferences(t, key); err != nil {
				return err
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(c.replayed[tablePlaces])) {
		if _, err := pathOf(c.replayed, id); KindOf(err) == Corrupt {
			if err := c.problem("place %q: %v", id, err); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c *checker) checkReferences(t table, key string) error {
	refs, err := t.refers(key, c.replayed[t.name][key])
	if err != nil {
		return c.problem("%s: %v", disk.RecordName(t.name, key), err)
	}
	for _, r := range refs {
		if c.replayed[r.table][r.key] != nil {
			continue
		}
		of, err := tableOf(r.table)
		if err != nil {
			return err
		}
		if err := c.problem("%s: there is no %s %q", disk.RecordName(t.name, key), of.one, r.key); err != nil {
			return err
		}
	}
	return nil
}
