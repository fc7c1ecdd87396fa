package disk

import (
	"bytes"
	"strconv"

	"go.etcd.io/bbolt"

	"stowright/store/fault"
)

// Kind says how what lies in a bucket is sealed.
type Kind int

// The kinds of bucket.
const (
	Table   Kind = iota // records: JSON in an envelope
	Index               // keys that lead to records, with a short body or none
	Blobs               // large values in parts; see Tx.PutBlob
	Journal             // the records of the journal; see Tx.Append
)

// BucketSpec is one bucket of a file.
type BucketSpec struct {
	Name  string
	Kind  Kind // Table, Index or Blobs
	Since int  // the first format that has it
}

// Layout says which buckets a file has. The journal and what says the format are in
// every file and not among them.
type Layout struct {
	Format  int // what new files get; a file of a newer one is refused
	Buckets []BucketSpec
}

const (
	bucketMeta    = "meta"
	bucketJournal = "journal"
	bucketBlobs   = "pictures"
	keyFormat     = "format"
)

// kind is that of a bucket of a name, and whether there is one.
func (l Layout) kind(name string) (Kind, bool) {
	if name == bucketJournal {
		return Journal, true
	}
	for _, b := range l.Buckets {
		if b.Name == name {
			return b.Kind, true
		}
	}
	return 0, false
}

// names are those of the buckets of a file of a format.
func (l Layout) names(format int) []string {
	names := []string{bucketMeta, bucketJournal}
	for _, b := range l.Buckets {
		if b.Since <= format {
			names = append(names, b.Name)
		}
	}
	return names
}

// prepare reads which format the file has and looks whether it has all buckets of that.
func (f *File) prepare() error {
	return f.viewBolt(func(tx *bbolt.Tx) error {
		if tx.Bucket([]byte(bucketMeta)) != nil {
			return f.checkLayout(tx)
		}
		if name, _ := tx.Cursor().First(); name != nil {
			return fault.New(fault.Corrupt, f.path, "%s is a data file of another program, not a shop: name another with --shop.", f.path)
		}
		return errNotShop(f.path, nil)
	})
}

// makeBuckets makes the buckets of a new file.
func (f *File) makeBuckets() error {
	return f.Update(func(tx *Tx) error {
		for _, name := range f.options.Layout.names(f.options.Layout.Format) {
			if err := tx.CreateBucket(name); err != nil {
				return err
			}
		}
		return tx.SetFormat(f.options.Layout.Format)
	})
}

func (f *File) checkLayout(tx *bbolt.Tx) error {
	meta, newest := tx.Bucket([]byte(bucketMeta)), f.options.Layout.Format
	format, err := strconv.Atoi(string(meta.Get([]byte(keyFormat))))
	if err != nil || format < 1 {
		return fault.New(fault.Corrupt, f.path, "%s does not say which version of the program made it: keep it, and open a copy made earlier.", f.path)
	}
	if format > newest {
		return fault.New(fault.Invalid, f.path, "%s was made by a newer Stowright (format %d, this program knows %d): update the program.", f.path, format, newest)
	}
	for _, name := range f.options.Layout.names(format) {
		if tx.Bucket([]byte(name)) == nil {
			return fault.New(fault.Corrupt, f.path, "%s is damaged, it has lost its table %q: keep it, and open a copy made earlier.", f.path, name)
		}
	}
	f.format.Store(int32(format))
	state, err := f.look(tx)
	f.state.Store(state)
	return err
}

// Format is that of the file.
func (f *File) Format() int { return int(f.format.Load()) }

// SetFormat writes that the file is of a format from this transaction on.
func (t *Tx) SetFormat(format int) error {
	t.outside, t.format = true, format
	t.forgetTrees()
	return t.bolt.Bucket([]byte(bucketMeta)).Put([]byte(keyFormat), strconv.AppendInt(nil, int64(format), 10))
}

// sealBatch is how many records are sealed anew before they are written.
const sealBatch = 4096

// SealKeys seals everything in tables and indexes of a file of an older format as files of
// the format KeysSealed are sealed, with its key, and sets that format. What is sealed is
// taken to be right: only a file that was checked may be given to it.
func (t *Tx) SealKeys() error {
	t.outside = true
	t.forgetTrees()
	for _, spec := range t.file.options.Layout.Buckets {
		b := t.bolt.Bucket([]byte(spec.Name))
		if b == nil || spec.Kind == Blobs {
			continue
		}
		if err := sealAnew(b, newSealer(spec.Name, spec.Kind, false), newSealer(spec.Name, spec.Kind, true)); err != nil {
			return err
		}
	}
	return t.SetFormat(KeysSealed)
}

func sealAnew(b *bbolt.Bucket, was, now sealer) error {
	type pair struct{ key, sealed []byte }
	for from := []byte{}; ; {
		var batch []pair
		c := b.Cursor()
		k, sealed := c.Seek(from)
		for ; k != nil && len(batch) < sealBatch; k, sealed = c.Next() {
			body, err := was.open(k, sealed)
			if err != nil {
				return err
			}
			batch = append(batch, pair{bytes.Clone(k), now.seal(k, body)})
		}
		from = bytes.Clone(k) // writing moves what lies in the file
		for _, p := range batch {
			if err := b.Put(p.key, p.sealed); err != nil {
				return err
			}
		}
		if from == nil {
			return nil
		}
	}
}

// CreateBucket makes a bucket, which must not be there yet.
func (t *Tx) CreateBucket(name string) error {
	t.outside = true
	t.forgetTrees()
	_, err := t.bolt.CreateBucket([]byte(name))
	return err
}

// FormatOf reads the format of a file that may be open elsewhere, without opening it as
// a shop; false where that cannot be told.
func FormatOf(path string) (int, bool) {
	file, newest, ok := plainly(path)
	if !ok {
		return 0, false
	}
	defer file.Close()
	e, err := newest.record(file, []byte(bucketMeta), []byte(keyFormat))
	if err != nil || e == nil {
		return 0, false
	}
	format, err := strconv.Atoi(string(e.value))
	return format, err == nil
}
