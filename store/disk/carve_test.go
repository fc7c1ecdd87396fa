package disk

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/disk/disktest"
)

func never(_, _ int64) error { return nil }

// carved carves a file, which must not fail.
func carved(t testing.TB, path string, after uint64) *Carved {
	t.Helper()
	c, err := Carve(path, after, never)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// bare writes bytes into a file of their own.
func bare(t testing.TB, data ...[]byte) (path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "bare.stow")
	if err := os.WriteFile(path, bytes.Join(data, nil), FilePerm); err != nil {
		t.Fatal(err)
	}
	return path
}

// seqs are the numbers of records.
func seqs(records []Record) (all []uint64) {
	for _, r := range records {
		all = append(all, r.Seq)
	}
	return all
}

// aRecord is one as it lies in a file: with a number, behind a record of a checksum.
func aRecord(seq uint64, prev string) Record {
	body := fmt.Appendf(nil, `{"seq":%d,"prev":%q}`, seq, prev)
	return Record{Seq: seq, Sum: Checksum(body), Body: body}
}

// What the journal of a file has is found in its bytes, from any number on, and what only
// its log has, too.
func TestCarveFindsTheJournal(t *testing.T) {
	y := newToy(t)
	y.put(3)
	early := y.copyTo("early.stow")
	y.put(4)
	disktest.Copy(t, LogPath(y.path), LogPath(early))
	path := y.closed()
	for name, row := range map[string]struct {
		path  string
		after uint64
		from  uint64 // Follow goes on from this record
		want  []uint64
	}{
		"all of it":              {path, 0, 0, []uint64{1, 2, 3, 4, 5, 6, 7, 8}},
		"what is newer":          {path, 5, 5, []uint64{6, 7, 8}},
		"none that is newer":     {path, 8, 8, nil},
		"some are in the log":    {early, 0, 0, []uint64{1, 2, 3, 4, 5, 6, 7, 8}},
		"all new are in the log": {early, 4, 4, []uint64{5, 6, 7, 8}},
		"there is no file":       {path + "-gone", 0, 0, nil},
	} {
		t.Run(name, func(t *testing.T) {
			from, err := RecordOf(path, row.from)
			if err != nil {
				t.Fatal(err)
			}
			c := carved(t, row.path, row.after)
			if d := cmp.Diff(row.want, seqs(c.Follow(from))); d != "" {
				t.Errorf("records (-want +got):\n%s", d)
			}
			if want := slices.Max(append([]uint64{0}, row.want...)); c.Highest() != want {
				t.Errorf("the highest is %d, want %d", c.Highest(), want)
			}
		})
	}
}

// A record and a part are found once each wherever they begin, where one look at the file
// ends and the next one begins as well.
func TestCarveWhereLooksMeet(t *testing.T) {
	r := aRecord(7, "six")
	raw := someBytes(3000, 1)
	sealed, part := Seal(r.Body), sealPart(9, 0, 1, raw)
	for _, from := range []int{
		0, 1, carveChunk - len(sealed) - len(part), carveChunk - len(sealed) - 1, carveChunk - len(sealed), carveChunk - envelopeHead - 1, carveChunk - 1,
		carveChunk, carveChunk + 1, carveChunk + carveOverlap - 1, carveChunk + carveOverlap, 2*carveChunk - 3,
	} {
		t.Run(fmt.Sprint(from), func(t *testing.T) {
			path := bare(t, make([]byte, from), sealed, part, []byte("{}"))
			c := carved(t, path, 0)
			if got := c.records[7]; len(got) != 1 || got[0].Sum != r.Sum || !bytes.Equal(got[0].Body, r.Body) {
				t.Errorf("records %v, want one", got)
			}
			if at := c.parts[9][0]; !slices.Equal(at, []int64{int64(from + len(sealed))}) {
				t.Errorf("the part is at %d, want %d", at, from+len(sealed))
			}
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if got := c.Blob(f, 9, len(raw)); !bytes.Equal(got, raw) {
				t.Errorf("%d bytes of the blob, want %d", len(got), len(raw))
			}
		})
	}
}

// What is like a record and is none is left out.
func TestCarveRefuses(t *testing.T) {
	good := aRecord(3, "two")
	flipped := Seal(good.Body)
	flipped[len(flipped)-4] ^= 1
	for name, data := range map[string][]byte{
		"nothing":                   nil,
		"text":                      []byte("Two years in the garage"),
		"half of an envelope":       []byte(envelopePrefix),
		"an envelope without body":  []byte(envelopePrefix + `00000000","d":`),
		"a record cut short":        Seal(good.Body)[:len(Seal(good.Body))-3],
		"a bit of it":               flipped,
		"of another kind":           Seal([]byte(`{"name":"AN3-5A"}`)),
		"without a number":          Seal([]byte(`{"seq":,"prev":""}`)),
		"a number with no end":      Seal([]byte(`{"seq":99999999999999999999,"prev":""}`)),
		"version 2":                 newSealer("items", Table, true).seal([]byte("k"), good.Body),
		"the number not in front":   Seal([]byte(`{"prev":"two","seq":3}`)),
		"older than what is wanted": Seal(aRecord(2, "one").Body),
	} {
		t.Run(name, func(t *testing.T) {
			c := carved(t, bare(t, data, Seal(good.Body)), 2)
			if d := cmp.Diff(map[uint64][]Record{3: {good}}, c.records); d != "" {
				t.Errorf("beside the good one (-want +got):\n%s", d)
			}
		})
	}
}

// Carve says how far it is, once every look, and ends when it is told to.
func TestCarveTellsHowFar(t *testing.T) {
	stop := errors.New("enough")
	for length, want := range map[int][]int64{
		0: {0}, 1: {0}, carveChunk: {0}, carveChunk + 1: {0, carveChunk}, 2*carveChunk + 5: {0, carveChunk, 2 * carveChunk},
	} {
		path := bare(t, make([]byte, length))
		var told []int64
		_, err := Carve(path, 0, func(done, size int64) error {
			if size != int64(length) {
				t.Errorf("of %d bytes it says %d", length, size)
			}
			told = append(told, done)
			return nil
		})
		if err != nil || !slices.Equal(told, want) {
			t.Errorf("%d bytes: told %d, %v; want %d", length, told, err, want)
		}
		for last := range want {
			n := -1
			_, err := Carve(path, 0, func(_, _ int64) error {
				if n++; n == last {
					return stop
				}
				return nil
			})
			if !errors.Is(err, stop) || n != last {
				t.Errorf("%d bytes: stopped after %d looks, %v; want after %d", length, n, err, last)
			}
		}
	}
	folder := t.TempDir()
	if _, err := Carve(folder, 0, never); said(err, folder) != "internal: The shop file FILE cannot be read: see that its disk is there." {
		t.Errorf("a folder: %v", err)
	}
}

// A blob is put together from parts that are whole, wherever they are, or not at all.
func TestCarvedBlob(t *testing.T) {
	whole := someBytes(2*partSize+9, 1)
	part := func(i int) []byte { return sealPart(4, i, 3, whole[i*partSize:min(len(whole), (i+1)*partSize)]) }
	bad := func(i int) []byte {
		sealed := part(i)
		sealed[len(sealed)-3] ^= 1
		return sealed
	}
	for name, row := range map[string]struct {
		pieces [][]byte
		there  bool
	}{
		"in order":                  {[][]byte{part(0), part(1), part(2)}, true},
		"in any order":              {[][]byte{part(2), part(0), part(1)}, true},
		"a bad one before the good": {[][]byte{bad(1), part(0), part(2), part(1)}, true},
		"a good one before the bad": {[][]byte{part(0), part(1), bad(1), part(2)}, true},
		"one is bad":                {[][]byte{part(0), bad(1), part(2)}, false},
		"one is missing":            {[][]byte{part(0), part(2)}, false},
		"one is cut short":          {[][]byte{part(0), part(1), part(2)[:len(part(2))-1]}, false},
		"those of another":          {[][]byte{sealPart(5, 0, 1, nil)}, false},
	} {
		t.Run(name, func(t *testing.T) {
			path := bare(t, row.pieces...)
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			got := carved(t, path, 0).Blob(f, 4, len(whole))
			if (got != nil) != row.there || row.there && !bytes.Equal(got, whole) {
				t.Errorf("%d bytes, want them %t", len(got), row.there)
			}
		})
	}
}

// FuzzCarve carves anything: what is found is sealed there, and was asked for.
func FuzzCarve(f *testing.F) {
	f.Add([]byte{}, uint64(0))
	f.Add(append(Seal(aRecord(1, "").Body), sealPart(2, 0, 1, []byte("JPEG"))...), uint64(0))
	f.Add(bytes.Repeat(Seal(aRecord(9, "x").Body), 3), uint64(8))
	f.Add([]byte(envelopePrefix+envelopePrefix+`00000000","d":{"seq":1}`), uint64(0))
	path := filepath.Join(f.TempDir(), "fuzzed.stow")
	f.Fuzz(func(t *testing.T, data []byte, after uint64) {
		if err := os.WriteFile(path, data, FilePerm); err != nil {
			t.Fatal(err)
		}
		for seq, all := range carved(t, path, after).records {
			for _, r := range all {
				if r.Seq != seq || seq <= after || Checksum(r.Body) != r.Sum || !bytes.Contains(data, []byte(envelopePrefix+r.Sum+envelopeMiddle)) {
					t.Fatalf("record %d of %q after %d is not there", seq, data, after)
				}
			}
		}
	})
}

// Where an entry was written, not committed and written otherwise under the same
// number, the one that later entries follow is the one that counts.
func TestFollow(t *testing.T) {
	at := func(seq uint64, prev, sum string) Record {
		return Record{Seq: seq, Sum: sum, Body: fmt.Appendf(nil, `{"seq":%d,"prev":%q}`, seq, prev)}
	}
	found := Carved{records: map[uint64][]Record{
		4: {at(4, "three", "four"), at(4, "three", "never"), at(4, "other", "strange")},
		5: {at(5, "four", "five")},
		6: {at(6, "five", "six"), at(6, "five", "six again")},
		8: {at(8, "seven", "eight")},
	}}
	var got []string
	for _, r := range found.Follow(End{3, "three"}) {
		got = append(got, r.Sum)
	}
	if want := []string{"four", "five", "six again"}; !slices.Equal(got, want) {
		t.Errorf("the run is %v, want %v", got, want)
	}
	if got := found.Follow(End{3, "elsewhere"}); len(got) != 0 {
		t.Errorf("of another journal %v is taken", got)
	}
	if got := found.Highest(); got != 8 {
		t.Errorf("the highest is %d, want 8", got)
	}
}
