package disk

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"slices"
	"sort"
	"testing"

	"pgregory.net/rapid"
)

// laidPage is the size of a page that is laid out here.
const laidPage = smallestPage

// lay lays a page out as bbolt does, with as many that it goes on over as it needs.
func lay(id uint64, flags uint16, entries ...element) []byte {
	order := binary.NativeEndian
	page := make([]byte, pageHeader+len(entries)*elementSize)
	order.PutUint64(page, id)
	order.PutUint16(page[8:], flags)
	order.PutUint16(page[10:], uint16(len(entries)))
	for i, e := range entries {
		at := pageHeader + i*elementSize
		raw, position := page[at:at+elementSize], uint32(len(page)-at)
		if flags == branchPage {
			order.PutUint32(raw, position)
			order.PutUint32(raw[4:], uint32(len(e.key)))
			order.PutUint64(raw[8:], e.child)
		} else {
			if e.bucket {
				order.PutUint32(raw, bucketLeaf)
			}
			order.PutUint32(raw[4:], position)
			order.PutUint32(raw[8:], uint32(len(e.key)))
			order.PutUint32(raw[12:], uint32(len(e.value)))
		}
		page = append(append(page, e.key...), e.value...)
	}
	over := (len(page) - 1) / laidPage
	page = append(page, make([]byte, (over+1)*laidPage-len(page))...)
	order.PutUint32(page[12:], uint32(over))
	return page
}

// layFree lays out a list of free pages; long has the count that says that the true one follows.
func layFree(id uint64, long bool, ids ...uint64) []byte {
	page := lay(id, freePage)
	order := binary.NativeEndian
	order.PutUint16(page[10:], uint16(len(ids)))
	if long {
		order.PutUint16(page[10:], manyFree)
		ids = append([]uint64{uint64(len(ids))}, ids...)
	}
	for i, free := range ids {
		order.PutUint64(page[pageHeader+8*i:], free)
	}
	return page
}

// inBucket is the entry of a bucket with a root, or with a page that lies within the entry.
func inBucket(name string, root uint64, within []byte) element {
	value := binary.NativeEndian.AppendUint64(nil, root)
	return element{key: []byte(name), value: append(append(value, make([]byte, 8)...), within...), bucket: true}
}

func pair(key, value string) element        { return element{key: []byte(key), value: []byte(value)} }
func leading(key string, to uint64) element { return element{key: []byte(key), child: to} }

// laidFile is a file of a bucket "a" on branches and leaves and one "b" within the page of
// all buckets: 2 the buckets, 3 the free ones, 4 the branch, 5 and 6 leaves, of which 6 goes
// on over 7, 8 a leaf, 9 free.
func laidFile(long bool) []byte {
	within := bytes.TrimRight(lay(0, leafPage, pair("k", "v")), "\x00")
	pages := [][]byte{
		make([]byte, 2*laidPage),
		lay(2, leafPage, inBucket("a", 4, nil), inBucket("b", 0, within)),
		layFree(3, long, 9),
		lay(4, branchPage, leading("c", 5), leading("f", 6), leading("i", 8)),
		lay(5, leafPage, pair("c", "1"), pair("d", "2")),
		lay(6, leafPage, pair("f", "3"), pair("g", string(make([]byte, laidPage)))),
		lay(8, leafPage, pair("i", ""), pair("j", "5")),
		lay(9, leafPage, pair("c", "old")),
	}
	return bytes.Join(pages, nil)
}

// laidMeta is where the newest state of it is.
func laidMeta(file []byte) fileMeta {
	raw := make([]byte, metaLength)
	binary.NativeEndian.PutUint64(raw[metaRoot:], 2)
	binary.NativeEndian.PutUint64(raw[metaFree:], 3)
	return fileMeta{raw: raw, pageSize: laidPage, pages: uint64(len(file) / laidPage)}
}

// Each thing that is wrong with the pages of a file is told by its page.
func TestCheckPages(t *testing.T) {
	order := binary.NativeEndian
	at := func(file []byte, id uint64) []byte { return file[id*laidPage:][:laidPage] }
	put := func(file []byte, id uint64, page []byte) { copy(file[id*laidPage:], page) }
	for _, row := range []struct {
		name  string
		spoil func(file []byte, meta *fileMeta)
		want  string
		slow  bool // it is within a leaf of records, which a quick look does not read
	}{
		{"nothing", func([]byte, *fileMeta) {}, "", false},
		{"no pages", func(_ []byte, m *fileMeta) { m.pages = 1 }, "page 1 cannot be the last", false},
		{"more pages than can be", func(_ []byte, m *fileMeta) { m.pages = 1<<36/smallestPage + 1 }, "page 134217729 cannot be the last", false},
		{"one page more", func(_ []byte, m *fileMeta) { m.pages++ }, "page 10 is neither used nor free", false},
		{"the root is a meta", func(_ []byte, m *fileMeta) { order.PutUint64(m.raw[metaRoot:], 1) }, "page 1 is not in the file", false},
		{"the root is past the end", func(_ []byte, m *fileMeta) { order.PutUint64(m.raw[metaRoot:], 10) }, "page 10 is not in the file", false},
		{"the root is the free list", func(_ []byte, m *fileMeta) { order.PutUint64(m.raw[metaRoot:], 3) }, "page 3 is of kind 0x10, neither branch nor leaf", false},
		{"the free list is a leaf", func(_ []byte, m *fileMeta) { order.PutUint64(m.raw[metaFree:], 9) }, "page 9 is of kind 0x2, not the list of free pages", false},
		{"the free list is the root", func(_ []byte, m *fileMeta) { order.PutUint64(m.raw[metaFree:], 2) }, "page 2 is used twice", false},
		{"another number", func(f []byte, _ *fileMeta) { at(f, 5)[0] = 9 }, "page 5 says that it is page 9", false},
		{"it goes on past the end", func(f []byte, _ *fileMeta) { order.PutUint32(at(f, 8)[12:], 2) }, "page 8 goes on past the end", false},
		{"it goes on over a free one", func(f []byte, _ *fileMeta) { order.PutUint32(at(f, 8)[12:], 1) }, "page 9 is free and used", false},
		{"it goes on over its neighbour", func(f []byte, _ *fileMeta) { order.PutUint32(at(f, 5)[12:], 1) }, "page 6 is used twice", false},
		{"no kind", func(f []byte, _ *fileMeta) { order.PutUint16(at(f, 4)[8:], 0) }, "page 4 is of kind 0x0, neither branch nor leaf", false},
		{"more entries than fit", func(f []byte, _ *fileMeta) { order.PutUint16(at(f, 4)[10:], 32) }, "page 4 has no room for its 32 entries", false},
		{"an entry too many", func(f []byte, _ *fileMeta) { order.PutUint16(at(f, 4)[10:], 4) }, "page 4 has an entry 0, of 4, that is not where it should be", false},
		{"an entry too few", func(f []byte, _ *fileMeta) { order.PutUint16(at(f, 4)[10:], 2) }, "page 4 has an entry 0, of 2, that is not where it should be", false},
		{"a long key", func(f []byte, _ *fileMeta) { order.PutUint32(at(f, 4)[pageHeader+4:], laidPage) }, "page 4 has an entry 0 that ends outside it", false},
		{"an entry elsewhere", func(f []byte, _ *fileMeta) { order.PutUint32(at(f, 4)[pageHeader+elementSize:], 30) }, "page 4 has an entry 1, of 3, that is not where it should be", false},
		{"a branch of nothing", func(f []byte, _ *fileMeta) { put(f, 4, lay(4, branchPage)) }, "page 4 is an empty branch", false},
		{"a branch out of order", func(f []byte, _ *fileMeta) {
			put(f, 4, lay(4, branchPage, leading("c", 5), leading("i", 8), leading("f", 6)))
		}, "page 4 has its entry 2 out of order", false},
		{"a branch with a key twice", func(f []byte, _ *fileMeta) {
			put(f, 4, lay(4, branchPage, leading("c", 5), leading("c", 6), leading("i", 8)))
		}, "page 4 has its entry 1 out of order", false},
		{"a branch that leads to itself", func(f []byte, _ *fileMeta) { put(f, 4, lay(4, branchPage, leading("c", 4))) }, "page 4 is used twice", false},
		{"a page that two lead to", func(f []byte, _ *fileMeta) { put(f, 4, lay(4, branchPage, leading("c", 5), leading("f", 5))) }, "page 5 is used twice", false},
		{"a page that none leads to", func(f []byte, _ *fileMeta) { put(f, 4, lay(4, branchPage, leading("c", 5), leading("f", 6))) }, "page 8 is neither used nor free", false},
		{"a leaf under the wrong key", func(f []byte, _ *fileMeta) {
			put(f, 4, lay(4, branchPage, leading("d", 5), leading("f", 6), leading("i", 8)))
		}, "page 5 has an entry 0 that belongs elsewhere", true},
		{"a leaf that reaches too far", func(f []byte, _ *fileMeta) { put(f, 5, lay(5, leafPage, pair("c", "1"), pair("f", "2"))) }, "page 5 has an entry 1 that belongs elsewhere", true},
		{"a leaf out of order", func(f []byte, _ *fileMeta) { put(f, 5, lay(5, leafPage, pair("d", "1"), pair("c", "2"))) }, "page 5 has its entry 1 out of order", true},
		{"a bucket among records", func(f []byte, _ *fileMeta) { put(f, 5, lay(5, leafPage, pair("c", "1"), inBucket("d", 0, nil))) }, "page 5 has a bucket among its records", true},
		{"a bucket cut short", func(f []byte, _ *fileMeta) {
			put(f, 2, lay(2, leafPage, element{key: []byte("a"), value: make([]byte, 15), bucket: true}))
		}, "page 2 has a bucket that is cut short", false},
		{"one within cut short", func(f []byte, _ *fileMeta) { put(f, 2, lay(2, leafPage, inBucket("a", 0, make([]byte, 15)))) }, "page 2 has a bucket that is cut short", false},
		{"one within of no kind", func(f []byte, _ *fileMeta) { put(f, 2, lay(2, leafPage, inBucket("a", 0, make([]byte, 16)))) }, "page 2 is of kind 0x0, neither branch nor leaf", false},
		{"one within that branches", func(f []byte, _ *fileMeta) {
			put(f, 2, lay(2, leafPage, inBucket("a", 0, lay(0, branchPage, leading("c", 5))[:40])))
		}, "page 2 has a bucket within it that branches", false},
		{"one within out of order", func(f []byte, _ *fileMeta) {
			put(f, 2, lay(2, leafPage, inBucket("a", 0, lay(0, leafPage, pair("k", "1"), pair("k", "2"))[:64])))
		}, "page 2 has its entry 1 out of order", false},
		{"a free page past the end", func(f []byte, _ *fileMeta) { put(f, 3, layFree(3, false, 10)) }, "page 10 is free, and not in the file", false},
		{"a meta that is free", func(f []byte, _ *fileMeta) { put(f, 3, layFree(3, false, 1)) }, "page 1 is free, and not in the file", false},
		{"a leaf that is free", func(f []byte, _ *fileMeta) { put(f, 3, layFree(3, false, 8, 9)) }, "page 8 is free and used", false},
		{"one free twice", func(f []byte, _ *fileMeta) { put(f, 3, layFree(3, true, 9, 9)) }, "page 9 is free and used", false},
		{"none free", func(f []byte, _ *fileMeta) { put(f, 3, layFree(3, false)) }, "page 9 is neither used nor free", false},
		{"more free than fit", func(f []byte, _ *fileMeta) { order.PutUint16(at(f, 3)[10:], 63) }, "page 3 has no room for its 63 free pages", false},
		{"very many free", func(f []byte, _ *fileMeta) {
			order.PutUint16(at(f, 3)[10:], manyFree)
			order.PutUint64(at(f, 3)[pageHeader:], 1<<61) // times eight it is nothing
		}, "page 3 has no room for its 2305843009213693952 free pages", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, quick := range []bool{false, true} {
				file := laidFile(row.name == "one free twice")
				meta := laidMeta(file)
				row.spoil(file, &meta)
				want := row.want
				if quick && row.slow {
					want = ""
				}
				if err := checkPages(bytes.NewReader(file), meta, quick); said(err, "kit.stow") != want {
					t.Errorf("quick %t: %v, want %q", quick, err, want)
				}
			}
		})
	}
	long := laidFile(true)
	if err := checkPages(bytes.NewReader(long), laidMeta(long), false); err != nil {
		t.Errorf("with a long list of free pages: %v", err)
	}
	for _, cut := range []int{9, 6, 5} { // pages that are left
		if err := checkPages(bytes.NewReader(long[:cut*laidPage]), laidMeta(long), true); (err == nil) != (cut == 9) {
			t.Errorf("of %d pages: %v", cut, err)
		}
	}
}

// A page in the map is taken for what it is by its number, its kind and its length.
func TestMappedPage(t *testing.T) {
	order := binary.NativeEndian
	for _, row := range []struct {
		name  string
		id    uint64
		spoil func(page []byte)
		want  string
	}{
		{"a leaf", 5, nil, ""},
		{"a branch", 4, nil, ""},
		{"a leaf that goes on", 6, nil, ""},
		{"the last page", 9, nil, ""},
		{"a meta", 1, nil, "page 1 is not in the file"},
		{"past the end", 10, nil, "page 10 is not in the file"},
		{"far past the end", 1 << 63, nil, "page 9223372036854775808 is not in the file"},
		{"the middle of one", 7, nil, "page 7 says that it is page 0"},
		{"another's number", 5, func(p []byte) { p[0] = 8 }, "page 5 says that it is page 8"},
		{"the free list", 3, nil, "page 3 is of kind 0x10, neither branch nor leaf"},
		{"both kinds", 5, func(p []byte) { p[8] = branchPage | leafPage }, "page 5 is of kind 0x3, neither branch nor leaf"},
		{"past the end of the file", 9, func(p []byte) { p[12] = 1 }, "page 9 goes on past the end"},
		{"far past it", 5, func(p []byte) { order.PutUint32(p[12:], 1<<32-1) }, "page 5 goes on past the end"},
		{"too long", 5, func(p []byte) { p[12] = 1 }, "page 5 is not as long as what it holds"},
		{"too short", 6, func(p []byte) { p[12] = 0 }, "page 6 is not as long as what it holds"},
		{"too many entries", 5, func(p []byte) { p[10] = 3 }, "page 5 has not the 3 entries that it says"},
		{"too few entries", 5, func(p []byte) { p[10] = 1 }, "page 5 has not the 1 entries that it says"},
		{"as many as have room", 5, func(p []byte) { p[10] = 31 }, "page 5 has not the 31 entries that it says"},
		{"more than have room", 5, func(p []byte) { p[10] = 32 }, "page 5 has no room for its 32 entries"},
		{"none", 5, func(p []byte) { p[10] = 0 }, ""},
		{"none, and goes on", 6, func(p []byte) { p[10] = 0 }, "page 6 is not as long as what it holds"},
	} {
		t.Run(row.name, func(t *testing.T) {
			file := laidFile(false)
			if row.spoil != nil {
				row.spoil(file[row.id*laidPage:])
			}
			m := mappedPages{data: file, pageSize: laidPage}
			if _, err := m.page(row.id); said(err, "kit.stow") != row.want {
				t.Errorf("it says %v, want %q", err, row.want)
			}
		})
	}
}

// Entries of a page are found by their keys as by looking at each.
func TestMappedSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		keys := rapid.SliceOfNDistinct(rapid.StringMatching(`[ab]{1,4}`), 1, 30, rapid.ID).Draw(t, "keys")
		sort.Strings(keys)
		var leaf, branch []element
		for i, k := range keys {
			leaf, branch = append(leaf, pair(k, fmt.Sprint(i))), append(branch, leading(k, uint64(100+i)))
		}
		l, b := mappedPage(lay(2, leafPage, leaf...)), mappedPage(lay(3, branchPage, branch...))
		key := rapid.StringMatching(`[abc]{0,5}`).Draw(t, "key")
		want := slices.IndexFunc(keys, func(k string) bool { return k >= key })
		if want < 0 {
			want = len(keys)
		}
		if got := l.search([]byte(key)); got != want {
			t.Fatalf("%q of %q is at %d, want %d", key, keys, got, want)
		}
		under := 0 // the last that is not after the key, or else the first
		for i, k := range keys {
			if k <= key {
				under = i
			}
		}
		if got := b.childOf([]byte(key)); got != under || b.child(got) != uint64(100+under) {
			t.Fatalf("%q of %q is under %d, want %d", key, keys, got, under)
		}
		for i, k := range keys {
			gotKey, value := l.record(i)
			if string(gotKey) != k || string(value) != fmt.Sprint(i) || string(b.key(i)) != k {
				t.Fatalf("entry %d is %q with %q and %q, want %q", i, gotKey, value, b.key(i), k)
			}
		}
	})
}

// An entry that is not within its page, or is a bucket, is none of a record.
func TestMappedRecordOutside(t *testing.T) {
	order := binary.NativeEndian
	for name, row := range map[string]struct {
		spoil func(entry []byte)
		key   string
	}{
		"a bucket":           {func(e []byte) { e[0] = bucketLeaf }, "a"},
		"another flag":       {func(e []byte) { e[0] = 2 }, "a"},
		"a value too long":   {func(e []byte) { order.PutUint32(e[12:], laidPage) }, "a"},
		"one byte too long":  {func(e []byte) { order.PutUint32(e[12:], laidPage-pageHeader-elementSize) }, "a"},
		"a key too long":     {func(e []byte) { order.PutUint32(e[8:], laidPage) }, ""},
		"a key further on":   {func(e []byte) { order.PutUint32(e[4:], laidPage) }, ""},
		"as far as can be":   {func(e []byte) { order.PutUint32(e[4:], 1<<32-1); order.PutUint32(e[8:], 1<<32-1) }, ""},
		"a key one too long": {func(e []byte) { order.PutUint32(e[8:], laidPage-pageHeader-elementSize+1) }, ""},
	} {
		page := mappedPage(lay(2, leafPage, pair("a", "1")))
		row.spoil(page[pageHeader:])
		if key, sealed := page.record(0); string(key) != row.key || len(sealed) != 0 || sealed == nil {
			t.Errorf("%s: %q with %q, want %q with nothing", name, key, sealed, row.key)
		}
	}
	whole := mappedPage(lay(2, leafPage, pair("a", string(make([]byte, laidPage-pageHeader-elementSize-1)))))
	if _, sealed := whole.record(0); len(whole) != laidPage || len(sealed) != laidPage-pageHeader-elementSize-1 {
		t.Errorf("a value up to the end of the page has %d bytes", len(sealed))
	}
}

// A page is free where the list of free pages has it, whichever way its count is written.
func TestMappedFree(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := range 20 {
		ids := []uint64{}
		for id := uint64(2); len(ids) < n; id++ {
			if r.IntN(2) == 0 {
				ids = append(ids, id)
			}
		}
		for _, long := range []bool{false, true} {
			m := mappedPages{freelist: layFree(3, long, ids...)}
			for id := range uint64(60) {
				if got := m.free(id); got != slices.Contains(ids, id) {
					t.Errorf("long %t: page %d of %d is free: %t", long, id, ids, got)
				}
			}
		}
	}
	if (mappedPages{}).free(2) {
		t.Error("a page is free by a list that is not known")
	}
	// A count that the page has no room for leads no further than the page.
	page := layFree(3, true, 5)
	binary.NativeEndian.PutUint64(page[pageHeader:], 1<<60)
	if m := (mappedPages{freelist: page}); m.free(1<<62) || m.free(7) {
		t.Error("what is not on the page is free")
	}
}

// The shape of a bucket is how deep its leaves lie; what never ends is refused.
func TestShapeOf(t *testing.T) {
	chain := make([]byte, 2*laidPage)
	for id := uint64(2); id < deepest+4; id++ {
		chain = append(chain, lay(id, branchPage, leading("c", id+1))...)
	}
	chain = append(chain, lay(deepest+4, leafPage, pair("c", "1"))...)
	file := laidFile(false)
	for _, row := range []struct {
		name  string
		file  []byte
		root  uint64
		depth int
		want  string
	}{
		{"within another page", file, 0, 0, ""},
		{"a leaf", file, 8, 0, ""},
		{"a branch over leaves", file, 4, 1, ""},
		{"the free list", file, 3, 0, "page 3 is of kind 0x10, neither branch nor leaf"},
		{"an empty branch", append(make([]byte, 2*laidPage), lay(2, branchPage)...), 2, 0, "page 2 leads to no leaf"},
		{"one that leads to itself", append(make([]byte, 2*laidPage), lay(2, branchPage, leading("c", 2))...), 2, deepest, "page 2 leads to no leaf"},
		{"as deep as can be", chain, 4, deepest, ""},
		{"one deeper", chain, 3, deepest, "page 67 leads to no leaf"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := (mappedPages{data: row.file, pageSize: laidPage}).shapeOf("a", row.root)
			if said(err, "kit.stow") != row.want || err == nil && got != (shape{"a", row.root, row.depth}) {
				t.Errorf("%+v, %v; want %d deep, %q", got, err, row.depth, row.want)
			}
		})
	}
}

// The keys of a branch are in order, or the page that breaks it is named.
func TestBranchInOrder(t *testing.T) {
	for keys, want := range map[string]string{
		"a": "", "abc": "", "aab": "page 101 has a key that is out of order in the branch over it", "acb": "page 102 has a key that is out of order in the branch over it",
		"ba": "page 101 has a key that is out of order in the branch over it",
	} {
		var entries []element
		for i, k := range keys {
			entries = append(entries, leading(string(k), uint64(100+i)))
		}
		if err := mappedPage(lay(2, branchPage, entries...)).inOrder(); said(err, "kit.stow") != want {
			t.Errorf("%s: %v, want %q", keys, err, want)
		}
	}
}
