package search_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/measure"
	"stowright/store/search"
)

// ids are the IDs of the hits, in order.
func ids(r search.Result) string {
	var all []string
	for _, h := range r.Hits {
		all = append(all, h.ID)
	}
	return strings.Join(all, " ")
}

// Answers come by how well they answer, then what is in the shop, then by kind, by name as
// people count, and last by ID.
func TestRanking(t *testing.T) {
	in := func(id string, kind search.Kind, name string) search.Doc {
		return search.Doc{ID: id, Kind: kind, Name: name, InShop: true}
	}
	out := func(id, name string) search.Doc { return search.Doc{ID: id, Name: name} }
	with := func(d search.Doc, change func(*search.Doc)) search.Doc { change(&d); return d }
	alias := func(names ...string) func(*search.Doc) { return func(d *search.Doc) { d.Aliases = names } }
	words := func(text string) func(*search.Doc) { return func(d *search.Doc) { d.Words = text } }
	for _, row := range []struct {
		name, typed string
		docs        []search.Doc // in any order
		want        string
	}{
		{"by class", "ab12", []search.Doc{
			with(out("f", "F"), words("box xab12")), with(out("e", "E"), words("box ab123")), out("d", "XAB12"), out("c", "AB123"),
			with(out("b", "B"), alias("AB-12")), out("a", "AB12"),
		}, "a b c d e f"},
		{"the class before what is in the shop", "ab12", []search.Doc{in("d", search.Item, "XAB12"), in("c", search.Item, "AB123"), out("a", "AB12")}, "a c d"},
		{"what is in the shop before kinds", "ab", []search.Doc{out("b", "AB1"), in("a", search.Shipment, "AB1")}, "a b"},
		{"kinds in their order", "ab", []search.Doc{
			in("f", search.Shipment, "AB1"), in("e", search.SubAssembly, "AB1"), in("d", search.Crate, "AB1"), in("c", search.Bag, "AB1"), in("b", search.Place, "AB1"), in("a", search.Item, "AB1"),
		}, "a b c d e f"},
		{"kinds before names", "ab", []search.Doc{in("b", search.Place, "AB1"), in("a", search.Item, "AB9")}, "a b"},
		{"names as people count", "ab", []search.Doc{in("d", search.Item, "AB100"), in("c", search.Item, "AB20"), in("b", search.Item, "AB3-10"), in("a", search.Item, "AB3-9")}, "a b c d"},
		{"IDs where names are the same", "ab", []search.Doc{in("10", search.Item, "AB1"), in("9", search.Item, "ab01"), in("1", search.Item, "AB1")}, "1 10 9"},
		{"a name before those that begin like it, whatever the ID", "ab", []search.Doc{in("a", search.Item, "AB1"), in("z", search.Item, "AB")}, "z a"},
		{"and so within its class", "b", []search.Doc{in("1", search.Item, "AB1"), in("z", search.Item, "AB")}, "z 1"},
		{"the best of several fields", "ab12", []search.Doc{
			with(in("b", search.Item, "XAB12"), alias("CAB12", "AB12X")), with(in("a", search.Item, "AB12Y"), alias("ab12")), with(in("c", search.Item, "XAB12"), words("ab12")),
		}, "a b c"},
		{"two old numbers count once", "ab", []search.Doc{with(in("a", search.Item, "K"), alias("AB1", "AB2")), in("b", search.Item, "XAB")}, "a b"},
		{"words at their start before the inside", "bolt tail", []search.Doc{
			with(in("b", search.Item, "K1"), words("eyebolt tail")), with(out("a", "K2"), words("bolt tail")),
		}, "a b"},
		{"a word in the number is one at its start", "k1 tail", []search.Doc{with(in("a", search.Item, "XK1"), words("tail")), with(in("b", search.Item, "AK1"), words("ptail"))}, "a b"},
		{"an error in a number before one within", "ms21042", []search.Doc{in("b", search.Item, "XMS21024Y"), out("a", "MS21024")}, "a b"},
		{"errors behind what is right", "ms21042", []search.Doc{in("b", search.Item, "MS21024"), with(out("a", "K"), words("ms21042"))}, "a b"},
		{"no errors beside what has it in its number", "ms21042", []search.Doc{in("b", search.Item, "MS21024"), out("a", "XMS21042")}, "a"},
		{"no errors where three have it", "boltx", []search.Doc{
			with(in("a", search.Item, "K1"), words("boltx")), with(in("b", search.Item, "K2"), words("boltx")), with(in("c", search.Item, "K3"), words("boltx")), in("d", search.Item, "BOLTY"),
		}, "a b c"},
		{"errors where only two do", "boltx", []search.Doc{
			with(in("a", search.Item, "K1"), words("boltx")), with(in("b", search.Item, "K2"), words("boltx")), in("d", search.Item, "BOLTY"),
		}, "a b d"},
	} {
		t.Run(row.name, func(t *testing.T) {
			want := len(strings.Fields(row.want))
			for name, x := range map[string]*search.Index{"built": built(t, row.docs), "put": put(row.docs)} {
				if got := ids(x.Search(row.typed, 10)); got != row.want {
					t.Errorf("%s: %q finds %s, want %s", name, row.typed, got, row.want)
				}
				for limit := 1; limit <= want; limit++ {
					r := x.Search(row.typed, limit)
					if got := strings.Join(strings.Fields(row.want)[:limit], " "); ids(r) != got || r.More != (limit < want) {
						t.Errorf("%s: the best %d are %s, more: %t; want %s", name, limit, ids(r), r.More, got)
					}
				}
			}
		})
	}
}

// put puts documents into an index each into a segment of its own, which is never merged.
func put(docs []search.Doc) *search.Index {
	x := search.New(func(func()) {})
	for i, d := range docs {
		x.Put(d)
		for n := range 4 { // so many fill a segment
			x.Put(search.Doc{ID: fmt.Sprint("filler ", i, n), Name: "&"})
		}
	}
	return x
}

// Nothing is answered where nothing is asked for, or nothing is there.
func TestNothingToAnswer(t *testing.T) {
	x := built(t, shop())
	for _, row := range []struct {
		typed string
		limit int
	}{{"an3", 0}, {"an3", -1}, {"", 10}, {"  -/ ", 10}, {"\xff", 10}, {"...", 10}, {strings.Repeat("-", 300) + "an3", 10}} {
		if r := x.Search(row.typed, row.limit); len(r.Hits) != 0 || r.More {
			t.Errorf("Search(%.20q, %d) = %+v", row.typed, row.limit, r)
		}
	}
	if r := search.New(nil).Search("an3", 10); len(r.Hits) != 0 || r.More {
		t.Errorf("an empty index answers %+v", r)
	}
}

// A page is the start of every longer one, and says whether there is more.
func TestPages(t *testing.T) {
	docs := make([]search.Doc, 700)
	for i := range docs {
		docs[i] = search.Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("KX%d", i*7%700), InShop: i%3 == 0, Kind: search.Kind(i % 2)}
	}
	for name, x := range map[string]*search.Index{"built": built(t, docs), "put": put(docs)} {
		all := x.Search("kx", len(docs)+5)
		if len(all.Hits) != len(docs) || all.More {
			t.Fatalf("%s: %d hits of %d, more: %t", name, len(all.Hits), len(docs), all.More)
		}
		for _, limit := range []int{1, 2, 3, 63, 64, 65, 255, 256, 257, 300, 699, 700, 701} {
			r := x.Search("kx", limit)
			want := all.Hits[:min(limit, len(docs))]
			if d := cmp.Diff(want, r.Hits); d != "" || r.More != (limit < len(docs)) {
				t.Errorf("%s: the first %d, more: %t (-want +got):\n%s", name, limit, r.More, d)
			}
		}
	}
}

// errorsIn are all texts that are one typing error away from a text.
func errorsIn(s string) []string {
	var all []string
	for i := range len(s) + 1 {
		for _, c := range "x7" {
			all = append(all, s[:i]+string(c)+s[i:]) // one too many
			if i < len(s) {
				all = append(all, s[:i]+string(c)+s[i+1:]) // another one
			}
		}
		if i < len(s) {
			all = append(all, s[:i]+s[i+1:]) // one too few
		}
		if i+1 < len(s) {
			all = append(all, s[:i]+s[i+1:i+2]+s[i:i+1]+s[i+2:]) // two exchanged
		}
	}
	return all
}

// Every single typing error in a number is forgiven, in a word from four letters on, and
// alone or beside another word.
func TestTypingErrors(t *testing.T) {
	x := built(t, []search.Doc{{ID: "1", Name: "MS21042-3", Words: "locknut steel"}, {ID: "2", Name: "K9", Words: "tray"}})
	for _, typed := range errorsIn("ms210423") {
		if r := x.Search(typed, 5); ids(r) != "1" {
			t.Errorf("%q finds %+v", typed, r.Hits)
		}
	}
	for _, typed := range errorsIn("locknut") {
		for _, typed := range []string{typed, typed + " steel", "steel " + typed} {
			if r := x.Search(typed, 5); ids(r) != "1" {
				t.Errorf("%q finds %+v", typed, r.Hits)
			}
		}
	}
	for _, row := range []struct{ typed, want, why string }{
		{"ms21024-3", "1", "close to ms21024-3"},
		{"  ms21024-3 ", "1", "close to ms21024-3"},
		{"ms21024-3 locknut", "1", "close to ms21024-3 locknut"},
		{"locknut steal", "1", "close to locknut steal"},
		{"trxy", "2", "close to trxy"},
		{"try", "", ""}, // three letters are like everything else
		{"locknot stoel", "", ""},
		{"lokcntu", "", ""},
		{"ms21024-3 steal", "", ""},
		{"locknut trxy", "", ""},
	} {
		r := x.Search(row.typed, 5)
		if ids(r) != row.want || len(r.Hits) > 0 && (r.Hits[0].Why != row.why || r.Hits[0].Matches != nil) {
			t.Errorf("%q finds %+v, want %s, %q", row.typed, r.Hits, row.want, row.why)
		}
	}
}

// A dimension is found at every step of typing it, in each way it is written, from the sign
// that tells it from a number on, and nothing that is not it is found once it is whole.
func TestDimensionsAsOneTypes(t *testing.T) {
	for n := int64(1); n <= 64; n++ {
		l := measure.Inches(n, 64)
		if testing.Short() && n%5 != 0 && n != 12 {
			continue
		}
		x := built(t, []search.Doc{{ID: "it", Name: "K1", Dims: []search.Dim{{Role: search.Grip, Length: l}}}, {ID: "other", Name: "K2", Dims: []search.Dim{{Role: search.Grip, Length: l + 1}}}})
		written := []string{l.Decimal()}
		if rest, ok := strings.CutPrefix(l.Decimal(), "0."); ok {
			written = append(written, "."+rest)
		}
		if fraction, ok := l.Fraction(); ok {
			written = append(written, fraction)
		}
		for _, text := range written {
			if !strings.ContainsAny(text, "./") {
				continue // a whole inch: the figure alone may be anything
			}
			from := strings.IndexAny(text, "./") + 1
			if text[from-1] == '.' {
				from++ // a point with nothing behind it is none
			}
			for end := from; end <= len(text); end++ {
				r := x.Search(text[:end], 5)
				if !slices.ContainsFunc(r.Hits, func(h search.Hit) bool { return h.ID == "it" }) {
					t.Errorf("%q of %s does not find it", text[:end], text)
				}
			}
			for _, typed := range []string{text + `"`, "grip " + text + `"`, text + `" grip`} {
				if r := x.Search(typed, 5); ids(r) != "it" {
					t.Errorf("%s finds %s", typed, ids(r))
				}
			}
		}
	}
}

// One role is not another, one that is not known answers to each, and a pitch to its own.
func TestRolesAreAsked(t *testing.T) {
	quarter := measure.Inches(1, 4)
	dim := func(id string, d search.Dim) search.Doc {
		d.Length = quarter
		return search.Doc{ID: id, Name: "K" + id, Dims: []search.Dim{d}}
	}
	x := built(t, []search.Doc{
		dim("any", search.Dim{}), dim("grip", search.Dim{Role: search.Grip}), dim("length", search.Dim{Role: search.OverallLength}), dim("diameter", search.Dim{Role: search.Diameter}),
		dim("coarse", search.Dim{Role: search.Thread, PerInch: 20}), dim("fine", search.Dim{Role: search.Thread, PerInch: 28}), dim("pitchless", search.Dim{Role: search.Thread}),
		dim("thickness", search.Dim{Role: search.Thickness}), dim("width", search.Dim{Role: search.Width}),
	})
	for typed, want := range map[string]string{
		"1/4 grip": "any grip", "grip .25": "any grip", "overall 1/4": "any length", "1/4 long": "any length", "dia 1/4": "any diameter",
		"thick 1/4": "any thickness", `1/4" wide`: "any width", "1/4-28": "any fine", "1/4-20": "any coarse", "thread 1/4": "any coarse fine pitchless",
		"1/4": "any coarse diameter fine grip length pitchless thickness width", "1/4-24": "any", "grip": "grip", "diam": "diameter", "3/8 grip": "",
	} {
		got := strings.Fields(ids(x.Search(typed, 20)))
		slices.Sort(got)
		wanted := strings.Fields(want)
		if typed == "1/4-28" || typed == "1/4-20" || typed == "1/4-24" {
			wanted = slices.DeleteFunc(wanted, func(id string) bool { return id == "any" }) // without a pitch it is no thread of one
		}
		if !slices.Equal(got, wanted) {
			t.Errorf("%q finds %v, want %v", typed, got, wanted)
		}
	}
}

func ExampleIndex_Put() {
	x := search.New(nil)
	x.Put(search.Doc{ID: "1", Name: "AN3-5A", Words: "Bolt"})
	x.Put(search.Doc{ID: "1", Name: "AN3-6A", Words: "Bolt"}) // in its place
	fmt.Println(x.Len(), x.Search("bolt", 10).Hits[0].Name)
	x.Remove("1")
	fmt.Println(x.Len(), len(x.Search("bolt", 10).Hits))
	// Output:
	// 1 AN3-6A
	// 0 0
}

func ExampleIndex_Build() {
	x := search.New(nil)
	err := x.Build(context.Background(), func(yield func(search.Doc, error) bool) {
		for _, name := range []string{"AN3-10A", "AN3-5A"} {
			if !yield(search.Doc{ID: name, Name: name}, nil) {
				return
			}
		}
	}, nil)
	r := x.Search("an3", 1)
	fmt.Println(r.Hits[0].Name, r.More, err)
	// Output: AN3-5A true <nil>
}

func ExampleMatch() {
	x := search.New(nil)
	x.Put(search.Doc{ID: "1", Name: "AN3-5A", Words: "Bolt, rod-end"})
	for _, m := range x.Search("bolt end", 1).Hits[0].Matches {
		fmt.Println(m.Field == search.FieldWords, "Bolt, rod-end"[m.Start:m.End])
	}
	// Output:
	// true Bolt
	// true end
}
