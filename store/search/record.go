package search

import (
	"encoding/binary"
	"errors"
	"hash/maphash"

	"stowright/store/measure"
)

// errFull is returned when an index would hold more text than it can address.
var errFull = errors.New("more text than one index holds (4 GB)")

// appendRecord writes a document so that readRecord reads it.
func appendRecord(dst []byte, d *Doc) []byte {
	flags := byte(d.Kind) << 1
	if d.InShop {
		flags |= 1
	}
	dst = append(dst, flags)
	dst = appendText(dst, d.ID)
	dst = appendText(dst, d.Name)
	dst = appendTexts(dst, d.Aliases)
	dst = appendText(dst, d.Words)
	dst = appendTexts(dst, d.Places)
	dst = binary.AppendUvarint(dst, uint64(len(d.Dims)))
	for _, dim := range d.Dims {
		dst = append(dst, byte(dim.Role))
		dst = binary.AppendUvarint(dst, uint64(dim.PerInch))
		dst = binary.AppendVarint(dst, int64(dim.Length))
	}
	return dst
}

func appendTexts(dst []byte, texts []string) []byte {
	dst = binary.AppendUvarint(dst, uint64(len(texts)))
	for _, s := range texts {
		dst = appendText(dst, s)
	}
	return dst
}

func appendText(dst []byte, s string) []byte {
	return append(binary.AppendUvarint(dst, uint64(len(s))), s...)
}

// readRecord reads the document at the start of the text into d, using the
// memory of its slices again. Its strings are part of the text.
func readRecord(text string, d *Doc) {
	r := readNames(text, d)
	d.Words = r.text()
	d.Places = r.texts(d.Places[:0])
	d.Dims = d.Dims[:0]
	for range r.number() {
		role := r[0]
		r = r[1:]
		d.Dims = append(d.Dims, Dim{Role: Role(role), PerInch: uint16(r.number()), Length: r.length()})
	}
}

// readNames reads ID, kind, name and aliases only, and returns what is left.
func readNames(text string, d *Doc) reader {
	r := reader(text[1:])
	d.Kind, d.InShop = Kind(text[0]>>1), text[0]&1 != 0
	d.ID, d.Name = r.text(), r.text()
	d.Aliases = r.texts(d.Aliases[:0])
	return r
}

// recordID is the ID alone.
func recordID(text string) string {
	r := reader(text[1:])
	return r.text()
}

// reader is what is left of a record.
type reader string

func (r *reader) number() uint64 {
	n := uint64(0)
	for i := 0; ; i++ {
		c := (*r)[i]
		n |= uint64(c&0x7f) << (7 * i)
		if c < 0x80 {
			*r = (*r)[i+1:]
			return n
		}
	}
}

func (r *reader) length() measure.Length {
	n := r.number()
	return measure.Length(int64(n>>1) ^ -int64(n&1))
}

func (r *reader) text() string {
	n := r.number()
	s := string((*r)[:n])
	*r = (*r)[n:]
	return s
}

func (r *reader) texts(dst []string) []string {
	for range r.number() {
		dst = append(dst, r.text())
	}
	return dst
}

// idTable finds documents by their ID without holding the IDs a second time.
type idTable struct {
	seed  maphash.Seed
	slots []uint32 // document + 1; 0 is free
	used  int
	id    func(doc uint32) string
}

func newIDTable(room int, id func(doc uint32) string) *idTable {
	size := 16
	for size < 2*room {
		size *= 2
	}
	return &idTable{seed: maphash.MakeSeed(), slots: make([]uint32, size), id: id}
}

// slot is where the ID is, or where it belongs.
func (t *idTable) slot(id string) int {
	mask := uint64(len(t.slots) - 1)
	for i := maphash.String(t.seed, id) & mask; ; i = (i + 1) & mask {
		if held := t.slots[i]; held == 0 || t.id(held-1) == id {
			return int(i)
		}
	}
}

func (t *idTable) find(id string) (doc uint32, ok bool) {
	held := t.slots[t.slot(id)]
	return held - 1, held != 0
}

// put sets the document of the ID and returns the one it had.
func (t *idTable) put(id string, doc uint32) (old uint32, had bool) {
	if 2*(t.used+1) > len(t.slots) {
		t.grow()
	}
	i := t.slot(id)
	old, had = t.slots[i]-1, t.slots[i] != 0
	if !had {
		t.used++
	}
	t.slots[i] = doc + 1
	return old, had
}

func (t *idTable) grow() {
	held := t.slots
	t.slots = make([]uint32, 2*len(held))
	for _, doc := range held {
		if doc != 0 {
			t.slots[t.slot(t.id(doc-1))] = doc
		}
	}
}
