package store

import (
	"encoding/json"
	"fmt"

	"stowright/store/disk"
)

// What the file has besides the tables and their indexes.
const (
	indexUndone  = "undone"   // number of an entry -> number of the entry that undid it
	blobPictures = "pictures" // number of a photograph -> its picture, which the journal names by checksum
)

// layout says which buckets a shop file has.
func layout() disk.Layout {
	l := disk.Layout{Format: formatVersion, Buckets: []disk.BucketSpec{
		{Name: indexUndone, Kind: disk.Index, Since: 1},
		{Name: blobPictures, Kind: disk.Blobs, Since: photoTable.since},
	}}
	for _, t := range tables {
		l.Buckets = append(l.Buckets, disk.BucketSpec{Name: t.name, Kind: disk.Table, Since: t.since})
		for _, index := range t.indexes {
			l.Buckets = append(l.Buckets, disk.BucketSpec{Name: index.name, Kind: disk.Index, Since: index.since})
		}
	}
	return l
}

// replay does again what an entry did, in a file that was not closed or one that is restored.
func replay(tx *disk.Tx, r disk.Record) error {
	e, err := decode[Entry](r.Body)
	if err != nil {
		return err
	}
	for _, c := range e.Changes {
		if err := apply(fileLedger{tx}, c); err != nil {
			return err
		}
	}
	return markUndone(tx, e)
}

// fileLedger is the ledger in a transaction on the file. It keeps the two indexes that
// reading needs. What it writes is what replay writes, and nothing else.
type fileLedger struct{ tx *disk.Tx }

func (f fileLedger) get(table, key string) ([]byte, error) {
	b, err := f.tx.Bucket(table)
	if err != nil {
		return nil, err
	}
	return b.Get([]byte(key))
}

func (f fileLedger) put(table, key string, body []byte) error {
	if err := f.index(table, key, body); err != nil {
		return err
	}
	b, err := f.tx.ReplayedBucket(table)
	if err != nil {
		return err
	}
	return b.Put([]byte(key), body)
}

func (f fileLedger) drop(table, key string) error {
	if err := f.index(table, key, nil); err != nil {
		return err
	}
	b, err := f.tx.ReplayedBucket(table)
	if err != nil {
		return err
	}
	return b.Delete([]byte(key))
}

// index brings the indexes of a table up to a record that is about to change, or, where
// body is nil, to go.
func (f fileLedger) index(name, key string, body []byte) error {
	t, err := tableOf(name)
	if err != nil {
		return err
	}
	for _, index := range t.indexes {
		var before []byte
		if !index.fixed {
			if before, err = f.get(name, key); err != nil {
				return err
			}
		}
		if err := f.indexBy(index, key, before, body); err != nil {
			return err
		}
	}
	return nil
}

// indexBy moves one key of an index. What is there already is not put again: that would
// write its pages again.
func (f fileLedger) indexBy(index index, key string, before, after []byte) error {
	b, err := f.tx.ReplayedBucket(index.name)
	if err != nil {
		return err
	}
	var was, is string
	if before != nil || index.fixed {
		if was, err = index.key(key, before); err != nil {
			return err
		}
	}
	if after != nil {
		if is, err = index.key(key, after); err != nil {
			return err
		}
	}
	if was != "" && was != is {
		if err := b.Delete([]byte(was)); err != nil {
			return err
		}
	}
	if is == "" {
		return nil
	}
	if has, err := b.Has([]byte(is)); err != nil || has {
		return err
	}
	return b.Put([]byte(is), nil)
}

func encode(v any) ([]byte, error) {
	body, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("encoding %T: %w", v, err)
	}
	return body, nil
}

func decode[T any](body []byte) (T, error) {
	var v T
	if err := json.Unmarshal(body, &v); err != nil {
		return v, fmt.Errorf("decoding %T: %w", v, err)
	}
	return v, nil
}
