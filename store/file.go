package store

import (
	"fmt"

	"go.etcd.io/bbolt"
)

// fileLedger is the ledger in a transaction on the file. Beside the tables it
// keeps the two indexes that reading needs.
type fileLedger struct{ tx *bbolt.Tx }

func (f fileLedger) bucket(table string) (*bbolt.Bucket, error) {
	b := f.tx.Bucket([]byte(table))
	if b == nil {
		return nil, fail(Corrupt, table, "The shop file has no table %q: keep it, and open a copy made earlier.", table)
	}
	return b, nil
}

func (f fileLedger) get(table, key string) ([]byte, error) {
	b, err := f.bucket(table)
	if err != nil {
		return nil, err
	}
	sealed := b.Get([]byte(key))
	if sealed == nil {
		return nil, nil
	}
	return open(table, key, sealed)
}

// open unseals a record and names it when it is damaged.
func open(table, key string, sealed []byte) ([]byte, error) {
	body, _, err := unseal(sealed)
	if err != nil {
		return nil, &Error{Kind: Corrupt, Message: fmt.Sprintf("A record of the table %q is damaged: keep the file, and open a copy made earlier.", table), Err: fmt.Errorf("%s: %w", recordName(table, key), err)}
	}
	return body, nil
}

func (f fileLedger) put(table, key string, body []byte) error {
	b, err := f.bucket(table)
	if err != nil {
		return err
	}
	// What is there already is not put again: that would write its pages anew.
	add := func(b *bbolt.Bucket, key, value []byte) error {
		if b.Get(key) != nil {
			return nil
		}
		return b.Put(key, value)
	}
	if err := f.index(table, key, body, add); err != nil {
		return err
	}
	return b.Put([]byte(key), seal(body))
}

func (f fileLedger) drop(table, key string) error {
	b, err := f.bucket(table)
	if err != nil {
		return err
	}
	old, err := f.get(table, key)
	if err != nil || old == nil {
		return err
	}
	remove := func(b *bbolt.Bucket, key, _ []byte) error { return b.Delete(key) }
	if err := f.index(table, key, old, remove); err != nil {
		return err
	}
	return b.Delete([]byte(key))
}

// index does something to the index entry of a record. A place that moves loses
// its old entry first.
func (f fileLedger) index(table, key string, body []byte, do func(b *bbolt.Bucket, key, value []byte) error) error {
	switch table {
	case tableStock:
		k, ok := parseStockKey(key)
		if !ok {
			return fmt.Errorf("stock key %q has not four parts", key)
		}
		return do(f.tx.Bucket(bucketByPlace), []byte(k.Place+keySeparator+key), []byte{})
	case tablePlaces:
		place, err := decode[Place](body)
		if err != nil {
			return err
		}
		children := f.tx.Bucket(bucketChildren)
		old, err := f.get(table, key)
		if err != nil {
			return err
		}
		if old != nil {
			was, err := decode[Place](old)
			if err != nil {
				return err
			}
			if err := children.Delete([]byte(was.Parent + keySeparator + key)); err != nil {
				return err
			}
		}
		return do(children, []byte(place.Parent+keySeparator+key), []byte{})
	}
	return nil
}
