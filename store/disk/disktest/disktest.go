// Package disktest damages files and looks at what lies in them, for tests. It goes
// around package disk on purpose, and reads the write-ahead log by itself.
package disktest

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"os"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// Raw is what lies in the buckets of a file as it is sealed.
type Raw struct{ tx *bbolt.Tx }

// Change does something to the buckets of a file behind its back. The file must be closed.
func Change(t testing.TB, path string, do func(Raw) error) {
	t.Helper()
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{Timeout: 5 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error { return do(Raw{tx}) })
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
}

// Get returns a copy of what lies under a key; nil for nothing.
func (r Raw) Get(bucket string, key []byte) []byte {
	return bytes.Clone(r.tx.Bucket([]byte(bucket)).Get(key))
}

// Put writes it as it is; a bucket that is not there is made.
func (r Raw) Put(bucket string, key, sealed []byte) error {
	b, err := r.tx.CreateBucketIfNotExists([]byte(bucket))
	if err != nil {
		return err
	}
	return b.Put(key, sealed)
}

// Delete takes it away.
func (r Raw) Delete(bucket string, key []byte) error {
	return r.tx.Bucket([]byte(bucket)).Delete(key)
}

// DeleteBucket takes a whole bucket away.
func (r Raw) DeleteBucket(name string) error { return r.tx.DeleteBucket([]byte(name)) }

// Root is the page of the root of a bucket; 0 where it lies within another page.
func (r Raw) Root(bucket string) uint64 { return uint64(r.tx.Bucket([]byte(bucket)).Root()) }

// PageSize is that of the file in bytes.
func (r Raw) PageSize() int { return r.tx.DB().Info().PageSize }

const logPage = 4096

// Log is what a write-ahead log says.
type Log struct {
	Generation uint64 // of the checkpoint that counts; 0 for none
	Records    int    // that follow it
	Old        [2]int // where the other checkpoint lies, from and to
	End        int    // where the records end
}

type logSlot struct {
	D struct {
		Generation uint64
		Seq        uint64
	}
}

// ReadLog reads the bytes of a write-ahead log: two pages of checkpoints, then records
// that begin at pages of their own and follow each other.
func ReadLog(data []byte) Log {
	var slots [2]logSlot
	for i := range slots {
		page := bytes.TrimRight(data[i*logPage:(i+1)*logPage], "\x00")
		if json.Unmarshal(page, &slots[i]) != nil {
			slots[i] = logSlot{}
		}
	}
	newest := 0
	if slots[1].D.Generation > slots[0].D.Generation {
		newest = 1
	}
	l := Log{Generation: slots[newest].D.Generation, Old: [2]int{(1 - newest) * logPage, (2 - newest) * logPage}, End: 2 * logPage}
	for seq := slots[newest].D.Seq + 1; l.End < len(data); seq++ {
		var record logSlot
		in := json.NewDecoder(bytes.NewReader(data[l.End:]))
		if in.Decode(&record) != nil || record.D.Seq != seq {
			break
		}
		l.Records++
		l.End += (int(in.InputOffset()) + logPage - 1) / logPage * logPage
	}
	return l
}

// Transaction is the newest transaction that a file has in whole, by its two meta pages as
// bbolt lays them out.
func Transaction(file []byte) uint64 {
	const pageSizeAt, txAt = 16 + 8, 16 + 48 // behind the header of a page
	second := int(binary.NativeEndian.Uint32(file[pageSizeAt:]))
	return max(binary.NativeEndian.Uint64(file[txAt:]), binary.NativeEndian.Uint64(file[second+txAt:]))
}

// Copy copies a file.
func Copy(t testing.TB, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// There reports whether there is a file of a name.
func There(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
