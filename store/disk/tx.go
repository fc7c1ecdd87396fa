package disk

import (
	"bytes"
	"errors"
	"io"

	"go.etcd.io/bbolt"
)

// Tx is a transaction on the file. It must not be used after the function that it was
// given to has returned.
type Tx struct {
	file   *File
	bolt   *bbolt.Tx
	format int
	state  *state // that it began with
	pages  mappedPages
	trees  []*tree
	relaid bool  // buckets were changed otherwise than through their trees
	past   *Past // that it went back to; nil: it reads what lies in the file

	appended []byte // the record that was appended to the journal, sealed
	records  int    // how many were appended
	outside  bool   // something was written that replaying the journal does not repeat
}

func (f *File) newTx(bolt *bbolt.Tx) *Tx {
	return &Tx{file: f, bolt: bolt, format: f.Format(), state: f.stateOf(bolt)}
}

// Size is the length of the file in bytes as the transaction sees it.
func (t *Tx) Size() int64 { return t.bolt.Size() }

// Writable reports whether it is the transaction of an Update.
func (t *Tx) Writable() bool { return t.bolt.Writable() }

// WriteTo writes the whole file as the transaction sees it: a copy of it that can be
// made while others write.
func (t *Tx) WriteTo(w io.Writer) (int64, error) { return t.bolt.WriteTo(w) }

// Bucket is a bucket within a transaction.
type Bucket struct {
	*tree
	replayed bool
}

// Bucket returns a bucket of the file's layout. What is written through it is not known to
// be repeated when the journal is replayed; so the transaction is waited for in the file
// itself, which takes longer than one that lies in the write-ahead log.
func (t *Tx) Bucket(name string) (*Bucket, error) {
	if name == bucketJournal {
		return nil, errNoBucket(name) // it is written by Append alone
	}
	b, err := t.open(name)
	if err != nil {
		return nil, err
	}
	return &b.plain, nil
}

// ReplayedBucket is Bucket for writing exactly what Options.Replay will write when it is
// given the record that this transaction appends to the journal. Anything else that is
// written through it is lost when the power fails.
func (t *Tx) ReplayedBucket(name string) (*Bucket, error) {
	b, err := t.Bucket(name)
	if err != nil {
		return nil, err
	}
	return &b.tree.replayed, nil
}

// Get returns a copy of the body under a key; nil when there is none, which is proven.
func (b *Bucket) Get(key []byte) ([]byte, error) {
	if body, known := b.was(key); known {
		return bytes.Clone(body), nil
	}
	body, err := b.find(key)
	if err != nil || body == nil {
		return nil, err
	}
	return append([]byte{}, body...), nil
}

// Has reports whether there is something under a key.
func (b *Bucket) Has(key []byte) (bool, error) {
	if body, known := b.was(key); known {
		return body != nil, nil
	}
	body, err := b.find(key)
	return body != nil, err
}

// Put writes a body under a key.
func (b *Bucket) Put(key, body []byte) error { return b.putSealed(key, b.seal(key, body)) }

func (b *Bucket) putSealed(key, sealed []byte) error {
	if err := b.mayWrite(key); err != nil {
		return err
	}
	b.written()
	return b.bolt.Put(key, sealed)
}

// Delete takes away what is under a key, if there is something.
func (b *Bucket) Delete(key []byte) error {
	if err := b.mayWrite(key); err != nil {
		return err
	}
	b.written()
	return b.bolt.Delete(key)
}

func (b *Bucket) written() {
	b.dirty, b.known.valid = true, false
	if !b.replayed {
		b.tx.outside = true
	}
}

// Last is the last key, nil where the bucket is empty.
func (b *Bucket) Last() ([]byte, error) {
	if p := b.past(); p != nil {
		return b.lastPast(p)
	}
	key, sealed, err := b.cursor().last()
	if err != nil || key == nil {
		return nil, err
	}
	_, err = b.open(key, sealed)
	return bytes.Clone(key), err
}

// ErrStop ends a scan, which then returns nil.
var ErrStop = errors.New("enough")

// Scan calls do with every key that starts with prefix and its body, in the order of the
// keys. Do must neither keep nor change what it is given.
func (b *Bucket) Scan(prefix []byte, do func(key, body []byte) error) error {
	return ended(b.merged(prefix, b.scan, do))
}

// First is the first record whose key is wanted, or nil where it is proven that there is
// none. Others are not opened on the way to it: a wrong key among them cannot pass for it.
// Key and body are part of the file, as those of Scan are.
func (b *Bucket) First(wanted func(key []byte) bool) (key, body []byte, err error) {
	if b.past() != nil {
		return b.firstPast(wanted)
	}
	err = ended(b.scan(nil, func(k, sealed []byte) error {
		if !wanted(k) {
			return nil
		}
		if body, err = b.open(k, sealed); err != nil {
			return err
		}
		key = k
		return ErrStop
	}))
	if err == nil && key == nil { // a wrong key may hide it
		err = b.Scan(nil, func(_, _ []byte) error { return nil })
	}
	return key, body, err
}

// opening opens each record for do.
func (b *Bucket) opening(do func(key, body []byte) error) func(key, sealed []byte) error {
	return func(key, sealed []byte) error {
		body, err := b.open(key, sealed)
		if err != nil {
			return err
		}
		return do(key, body)
	}
}

func ended(err error) error {
	if errors.Is(err, ErrStop) {
		return nil
	}
	return err
}
