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
}

// maxProblems bounds the report: a file with more is lost anyway.
const maxProblems = 100

// errEnough ends a check that has found maxProblems.
var errEnough = errors.New("enough problems")

// Check goes over the pages of the file, replays the journal from nothing and compares what it adds up to with
// what the file says, record by record; it follows the chain of checksums, and
// looks for stock of unknown items or in unknown places, places in a circle, tags that
// name nothing, photographs of nothing, and pictures that are not the ones brought in. Progress is called now and then with entries done and
// entries in all; it may be nil.
func (s *Shop) Check(ctx context.Context, progress func(done, total uint64)) (Report, error) {
	c := checker{format: s.file.Format(), report: Report{Problems: []string{}}, replayed: newMemory(), undone: map[string]bool{}, pictures: pictured{}}
	err := s.view(func(tx *disk.Tx) error {
		if err := c.pages(tx); err != nil {
			return err
		}
		if err := c.replay(ctx, tx, progress); err != nil {
			return err
		}
		pictures := func(tx *disk.Tx) error { return c.checkPictures(ctx, tx) }
		for _, step := range []func(*disk.Tx) error{c.compare, c.compareIndexes, c.references, pictures} {
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
	c.report.OK = len(c.report.Problems) == 0
	return c.report, nil
}

type checker struct {
	format   int
	report   Report
	replayed memory
	undone   map[string]bool
	pictures pictured
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
	total, prev := end.Seq, ""
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
		if e.Seq != c.report.Entries || e.Prev != prev {
			return c.problem("journal: entry %d does not follow the one before it", e.Seq)
		}
		prev = r.Sum
		return c.replayEntry(tx, e)
	})
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
	for _, table := range tables {
		if firstFormat(table) > c.format {
			continue
		}
		seen := map[string]bool{}
		b, err := tx.Bucket(table)
		if err != nil {
			return err
		}
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
	byPlace, children := map[string]bool{}, map[string]bool{}
	for key := range c.replayed[tableStock] {
		if k, ok := parseStockKey(key); ok {
			byPlace[k.Place+keySeparator+key] = true
		}
	}
	for id, body := range c.replayed[tablePlaces] {
		p, err := decode[Place](body)
		if err != nil {
			return err
		}
		children[p.Parent+keySeparator+id] = true
	}
	for _, index := range []struct {
		name string
		want map[string]bool
	}{{indexByPlace, byPlace}, {indexChildren, children}, {indexUndone, c.undone}} {
		n := 0
		b, err := tx.Bucket(index.name)
		if err != nil {
			return err
		}
		err = b.Examine(func(k, _ []byte, damage error) error {
			switch {
			case damage != nil:
				return c.problem("index %s: %v", disk.RecordName(index.name, string(k)), damage)
			case !index.want[string(k)]:
				return c.problem("index %s: the file has it, the journal does not call for it", disk.RecordName(index.name, string(k)))
			}
			n++
			return nil
		})
		if err != nil {
			return err
		}
		if n != len(index.want) {
			if err := c.problem("index %s lacks %d of its %d keys", index.name, len(index.want)-n, len(index.want)); err != nil {
				return err
			}
		}
	}
	return nil
}

// references looks for records that name what is not there.
func (c *checker) references(*disk.Tx) error {
	for _, key := range slices.Sorted(maps.Keys(c.replayed[tableStock])) {
		k, ok := parseStockKey(key)
		if !ok || c.replayed[tableItems][k.Item] == nil || c.replayed[tablePlaces][k.Place] == nil {
			if err := c.problem("%s is of an unknown item or in an unknown place", disk.RecordName(tableStock, key)); err != nil {
				return err
			}
		}
	}
	for _, id := range slices.Sorted(maps.Keys(c.replayed[tablePlaces])) {
		body := c.replayed[tablePlaces][id]
		if _, err := pathOf(c.replayed, id); err != nil {
			if err := c.problem("place %q: %v", id, err); err != nil {
				return err
			}
		}
		p, err := decode[Place](body)
		if err != nil {
			return err
		}
		if c.replayed[tableTags][string(p.Tag)] == nil {
			if err := c.problem("place %q has a tag that was never issued", p.Name); err != nil {
				return err
			}
		}
	}
	for _, key := range slices.Sorted(maps.Keys(c.replayed[tableLines])) {
		body := c.replayed[tableLines][key]
		l, err := decode[Line](body)
		if err != nil {
			return err
		}
		if c.replayed[tableItems][l.Designation] == nil || c.replayed[tablePlaces][l.Place] == nil || c.replayed[tableShipments][l.Shipment] == nil {
			if err := c.problem("%s is of an unknown item, bag or packing list", disk.RecordName(tableLines, key)); err != nil {
				return err
			}
		}
	}
	for _, key := range slices.Sorted(maps.Keys(c.replayed[tableFitted])) {
		code, item, _, ok := parseFittedKey(key)
		if !ok || c.replayed[tableItems][item] == nil || c.replayed[tableSubAssemblies][code] == nil {
			if err := c.problem("%s is of an unknown item or in an unknown sub-assembly", disk.RecordName(tableFitted, key)); err != nil {
				return err
			}
		}
	}
	if err := c.photoReferences(); err != nil {
		return err
	}
	return c.tagReferences()
}

func (c *checker) tagReferences() error {
	for _, tag := range slices.Sorted(maps.Keys(c.replayed[tableTags])) {
		body := c.replayed[tableTags][tag]
		record, err := decode[tagRecord](body)
		if err != nil {
			return err
		}
		if c.replayed[tablePlaces][record.Place] == nil && !record.Retired {
			if err := c.problem("tag %s names a place that is not there", tag); err != nil {
				return err
			}
		}
	}
	return nil
}
