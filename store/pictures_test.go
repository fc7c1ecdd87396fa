package store

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"stowright/store/disk"
	"stowright/store/disk/disktest"
	"stowright/store/phototest"
)

// Whatever is wrong with the pictures, although each part of them is as it was
// written, check says it, and says nothing of a picture that is known to be lost.
func TestCheckPictures(t *testing.T) {
	t.Parallel()
	small, large := phototest.JPEG(30, 20, 1), phototest.JPEG(320, 320, 2) // of one part and of two
	if len(small) > partSize || len(large) <= partSize {
		t.Fatalf("the pictures have %d and %d bytes", len(small), len(large))
	}
	put := func(number uint64, picture []byte) func(*testing.T, *Shop) {
		return func(t *testing.T, s *Shop) {
			if err := s.update(func(tx *disk.Tx) error { return tx.PutBlob(number, picture) }); err != nil {
				t.Fatal(err)
			}
		}
	}
	back := func(do func(raw disktest.Raw) error) func(*testing.T, *Shop) {
		return func(t *testing.T, s *Shop) { s.behindBack(t, do) }
	}
	partKey := func(number uint64, part byte) []byte { return append(disk.SeqKey(number), 0, part) }
	for _, row := range []struct {
		name  string
		spoil func(t *testing.T, s *Shop)
		want  string // "" where the shop is whole
	}{
		{"nothing", func(*testing.T, *Shop) {}, ""},
		{"another picture", put(1, phototest.JPEG(30, 20, 3)), "P-1 is not the one that was brought in"},
		{"exchanged with another", put(1, large), "P-1 is not the one that was brought in"},
		{"missing", back(func(raw disktest.Raw) error { return raw.Delete(blobPictures, partKey(1, 0)) }), "the picture of photograph P-1 is missing"},
		{"its end missing", back(func(raw disktest.Raw) error { return raw.Delete(blobPictures, partKey(2, 1)) }), "the picture of photograph P-2: blob 2 ends after part 1"},
		{"its beginning missing", back(func(raw disktest.Raw) error { return raw.Delete(blobPictures, partKey(2, 0)) }), "part 1 of blob 2 is filed under"},
		{"a part too many", back(func(raw disktest.Raw) error {
			return raw.Put(blobPictures, partKey(1, 1), raw.Get(blobPictures, partKey(2, 1)))
		}), "P-1 has parts that are none of its own"},
		{"one that no entry names", put(9, small), "P-9 is there, and the journal does not call for it"},
		{"under another number", back(func(raw disktest.Raw) error {
			return raw.Put(blobPictures, partKey(1, 0), raw.Get(blobPictures, partKey(2, 0)))
		}), "part 0 of blob 2 is filed under"},
		{"a strange key", back(func(raw disktest.Raw) error { return raw.Put(blobPictures, []byte("x"), small) }), "there is a key 78"},
		{"no envelope", back(func(raw disktest.Raw) error { return raw.Put(blobPictures, partKey(1, 0), small) }), "has a damaged envelope"},
		{"lost", put(1, nil), ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			shop, err := Open(filepath.Join(t.TempDir(), "shop.stow"), Options{Create: true})
			if err != nil {
				t.Fatal(err)
			}
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
			defer func() { _ = shop.Close() }()
			row.spoil(t, shop)
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

// partSize is how many bytes of a picture lie in one part of the file.
const partSize = 64 << 10
