package store

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"stowright/store/phototest"
)

// Whatever is wrong with the pictures, although each part of them is as it was
// written, check says it, and says nothing of a picture that is known to be lost.
func TestCheckPictures(t *testing.T) {
	small, large := phototest.JPEG(30, 20, 1), phototest.JPEG(320, 320, 2) // of one part and of two
	if partsOf(small) != 1 || partsOf(large) != 2 {
		t.Fatalf("the pictures have %d and %d bytes", len(small), len(large))
	}
	for _, row := range []struct {
		name  string
		spoil func(b *bbolt.Bucket, tx *bbolt.Tx) error
		want  string // "" where the shop is whole
	}{
		{"nothing", func(*bbolt.Bucket, *bbolt.Tx) error { return nil }, ""},
		{"another picture", func(_ *bbolt.Bucket, tx *bbolt.Tx) error { return putPicture(tx, 1, phototest.JPEG(30, 20, 3)) }, "P-1 is not the one that was brought in"},
		{"exchanged with another", func(_ *bbolt.Bucket, tx *bbolt.Tx) error { return putPicture(tx, 1, large) }, "P-1 is not the one that was brought in"},
		{"missing", func(b *bbolt.Bucket, _ *bbolt.Tx) error { return b.Delete(partKey(1, 0)) }, "that of photograph P-1 is missing"},
		{"its end missing", func(b *bbolt.Bucket, _ *bbolt.Tx) error { return b.Delete(partKey(2, 1)) }, "picture P-2 ends after part 1"},
		{"its beginning missing", func(b *bbolt.Bucket, _ *bbolt.Tx) error { return b.Delete(partKey(2, 0)) }, "part 1 of picture P-2 is filed under"},
		{"a part too many", func(b *bbolt.Bucket, _ *bbolt.Tx) error { return b.Put(partKey(1, 1), sealPart(1, 1, 2, small)) }, "P-1 has parts that are none of its own"},
		{"one that no entry names", func(_ *bbolt.Bucket, tx *bbolt.Tx) error { return putPicture(tx, 9, small) }, "P-9 is there, and the journal does not call for it"},
		{"under another number", func(b *bbolt.Bucket, _ *bbolt.Tx) error { return b.Put(partKey(1, 0), b.Get(partKey(2, 0))) }, "part 0 of picture P-2 is filed under"},
		{"a strange key", func(b *bbolt.Bucket, _ *bbolt.Tx) error { return b.Put([]byte("x"), small) }, "there is a key 78"},
		{"no envelope", func(b *bbolt.Bucket, _ *bbolt.Tx) error { return b.Put(partKey(1, 0), small) }, "has a damaged envelope"},
		{"lost", func(_ *bbolt.Bucket, tx *bbolt.Tx) error { return putPicture(tx, 1, nil) }, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			shop, err := Open(filepath.Join(t.TempDir(), "shop.stow"), Options{Create: true})
			if err != nil {
				t.Fatal(err)
			}
			defer shop.Close()
			place, _, err := shop.AddPlace(Place{Kind: Room, Name: "Garage"})
			if err != nil {
				t.Fatal(err)
			}
			for _, picture := range [][]byte{small, large} {
				if _, _, err := shop.AddPhoto(OfPlace(place.ID), "", picture); err != nil {
					t.Fatal(err)
				}
			}
			if _, err := shop.RemovePhoto(2); err != nil { // its picture counts all the same
				t.Fatal(err)
			}
			if err := shop.update(func(tx *bbolt.Tx) error { return row.spoil(tx.Bucket(bucketPictures), tx) }); err != nil {
				t.Fatal(err)
			}
			report, err := shop.Check(context.Background(), nil)
			if err != nil || report.OK != (row.want == "") {
				t.Errorf("check: %+v, %v", report, err)
			}
			if all := strings.Join(report.Problems, "\n"); !strings.Contains(all, row.want) {
				t.Errorf("check says %q, want %q", all, row.want)
			}
		})
	}
}

// A part says what it is at its very beginning, and nothing else passes for one.
func TestParts(t *testing.T) {
	raw := []byte("any bytes \x00\xff{}")
	sealed := sealPart(17, 2, 5, raw)
	p, got, err := openPart(sealed)
	if err != nil || !bytes.Equal(got, raw) || p.picture != 17 || p.index != 2 || p.parts != 5 || p.length() != len(sealed) {
		t.Errorf("%+v, %q, %v", p, got, err)
	}
	for i := range sealed {
		spoiled := bytes.Clone(sealed)
		spoiled[i] ^= 1
		if p, _, err := openPart(spoiled); err == nil {
			t.Errorf("byte %d spoiled: taken as %+v", i, p)
		}
	}
	for _, bad := range []string{
		"", envelopePrefix, envelopePrefix + `00000000","picture":`, envelopePrefix + `00000000","picture":1,"part":2,"parts":2,"bytes":0,"jpeg":}`,
		envelopePrefix + `00000000","picture":1,"part":0,"parts":1,"bytes":99999999,"jpeg":}`, envelopePrefix + `00000000","picture": 1,"part":0,"parts":1,"bytes":0,"jpeg":}`,
		envelopePrefix + `00000000","picture":1,"part":-1,"parts":1,"bytes":0,"jpeg":}`, string(seal([]byte(`{"seq":1}`))),
	} {
		if p, ok := partAt([]byte(bad)); ok {
			t.Errorf("%q is taken for %+v", bad, p)
		}
	}
}
