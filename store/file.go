package store

import (
	"encoding/json"
	"fmt"

	"stowright/store/disk"
)

// What stands in the file beside the tables.
const (
	indexUndone   = "undone"   // number of an entry -> number of the entry that undid it
	indexByPlace  = "by_place" // place, item, lot, condition -> nothing: stock by its place
	indexChildren = "children" // parent, id -> nothing: places by their parent
	blobPictures  = "pictures" // number of a photograph -> its picture, which the journal names by checksum
)

// layout says which buckets a shop file has.
func layout() disk.Layout {
	l := disk.Layout{Format: formatVersion, Buckets: []disk.BucketSpec{
		{Name: indexUndone, Kind: disk.Index, Since: 1},
		{Name: indexByPlace, Kind: disk.Index, Since: 1},
		{Name: indexChildren, Kind: disk.Index, Since: 1},
		{Name: blobPictures, Kind: disk.Blobs, Since: firstFormat(tablePhotos)},
	}}
	for _, t := range tables {
		l.Buckets = append(l.Buckets, disk.BucketSpec{Name: t, Kind: disk.Table, Since: firstFormat(t)})
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

// fileLedger is the ledger in a transaction on the file. Beside the tables it keeps the
// two indexes that reading needs. What it writes is what replay writes, and nothing else.
type fileLedger struct{ tx *disk.Tx }

func (f fileLedger) get(table, key string) ([]byte, error) {
	b, err := f.tx.Bucket(table)
	if err != nil {
		return nil, err
	}
	return b.Get([]byte(key))
}

func (f fileLedger) put(table, key string, body []byte) error {
	// What is there already is not put again: that would write its pages anew.
	add := func(b *disk.Bucket, key []byte) error {
		if has, err := b.Has(key); err != nil || has {
			return err
		}
		return b.Put(key, nil)
	}
	if err := f.index(table, key, body, add); err != nil {
		return err
	}
	b, err := f.tx.ReplayedBucket(table)
	if err != nil {
		return err
	}
	return b.Put([]byte(key), body)
}

func (f fileLedger) drop(table, key string) error {
	old, err := f.get(table, key)
	if err != nil || old == nil {
		return err
	}
	remove := func(b *disk.Bucket, key []byte) error { return b.Delete(key) }
	if err := f.index(table, key, old, remove); err != nil {
		return err
	}
	b, err := f.tx.ReplayedBucket(table)
	if err != nil {
		return err
	}
	return b.Delete([]byte(key))
}

// index does something to the index entry of a record. A place that moves loses
// its old entry first.
func (f fileLedger) index(table, key string, body []byte, do func(b *disk.Bucket, key []byte) error) error {
	switch table {
	case tableStock:
		k, ok := parseStockKey(key)
		if !ok {
			return fmt.Errorf("stock key %q has not four parts", key)
		}
		byPlace, err := f.tx.ReplayedBucket(indexByPlace)
		if err != nil {
			return err
		}
		return do(byPlace, []byte(k.Place+keySeparator+key))
	case tablePlaces:
		return f.indexPlace(key, body, do)
	}
	return nil
}

func (f fileLedger) indexPlace(key string, body []byte, do func(b *disk.Bucket, key []byte) error) error {
	place, err := decode[Place](body)
	if err != nil {
		return err
	}
	children, err := f.tx.ReplayedBucket(indexChildren)
	if err != nil {
		return err
	}
	was, found, err := lookup[Place](f, tablePlaces, key)
	if err != nil {
		return err
	}
	if found {
		if err := children.Delete([]byte(was.Parent + keySeparator + key)); err != nil {
			return err
		}
	}
	return do(children, []byte(place.Parent+keySeparator+key))
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
