package search

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"stowright/store/measure"
)

func TestFold(t *testing.T) {
	for _, row := range []struct{ name, in, want string }{
		{"a designation", "AN3-5A", "an35a"},
		{"spaces and signs", " MS 21042 / 3 ", "ms210423"},
		{"a point between digits", "AN426AD3-3.5", "an426ad33.5"},
		{"a point elsewhere", "No. 10. .5", "no105"},
		{"accents", "Größe Ångström É", "grosseangstrome"},
		{"accents apart", "Gro\u0308ße", "grosse"},
		{"other scripts", "Винт 5", "винт5"},
		{"broken text", "A\xffN\xc3", "an"},
		{"nothing", "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := fold(row.in); got != row.want {
				t.Errorf("fold(%q) = %q, want %q", row.in, got, row.want)
			}
		})
	}
}

func TestChunks(t *testing.T) {
	for _, row := range []struct{ name, in, want string }{
		{"words", "Bolt, hex (steel)", "Bolt hex steel"},
		{"dimensions", `Angle 3/4x3/4x1/8 .063" #10 10-32`, `Angle 3/4x3/4x1/8 .063" #10 10-32`},
		{"signs around", "-end- /x. ... 'a'", "end x a'"},
		{"a point before a digit", "..5 a.5.", ".5 a.5"},
		{"nothing", " ,;", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []string
			chunks(row.in, func(chunk string, offset int) {
				got = append(got, chunk)
				if row.in[offset:offset+len(chunk)] != chunk {
					t.Errorf("chunk %q is not at %d of %q", chunk, offset, row.in)
				}
			})
			if all := strings.Join(got, " "); all != row.want {
				t.Errorf("chunks(%q) = %q, want %q", row.in, all, row.want)
			}
		})
	}
}

func TestDimensions(t *testing.T) {
	in := measure.Inches
	for _, row := range []struct {
		name, chunk string
		want        []measure.Length
	}{
		{"a fraction", "3/16", []measure.Length{in(3, 16)}},
		{"a mixed number", "1-3/16", []measure.Length{in(19, 16)}},
		{"a decimal", ".190", []measure.Length{in(19, 100)}},
		{"inches", `2"`, []measure.Length{2 * measure.Inch}},
		{"a screw number", "#8", []measure.Length{in(164, 1000)}},
		{"across", "3/4X3/4x.125", []measure.Length{in(3, 4), in(3, 4), in(1, 8)}},
		{"whole numbers across a fraction", "1x1x1/16", []measure.Length{measure.Inch, measure.Inch, in(1, 16)}},
		{"whole numbers", "2x4", nil},
		{"a whole number", "12", nil},
		{"a designation", "3-5A", nil},
		{"over zero", "3/0", nil},
		{"a word", "x", nil},
		{"nothing", "", nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := dimensions(row.chunk); !slices.Equal(got, row.want) {
				t.Errorf("dimensions(%q) = %v, want %v", row.chunk, got, row.want)
			}
		})
	}
}

// Threads are in the unified series of ASME B1.1 (from memory).
func TestThread(t *testing.T) {
	for _, row := range []struct {
		name, chunk string
		want        Dim
		ok          bool
	}{
		{"by number", "10-32", Dim{Thread, measure.Inches(190, 1000), 32}, true},
		{"by number, marked", "#8-32", Dim{Thread, measure.Inches(164, 1000), 32}, true},
		{"by fraction", "5/16-24", Dim{Thread, measure.Inches(5, 16), 24}, true},
		{"by decimal", ".250-28", Dim{Thread, measure.Inches(1, 4), 28}, true},
		{"no such pitch", "10-31", Dim{}, false},
		{"no such number", "96-32", Dim{}, false},
		{"a designation", "AN3-32", Dim{}, false},
		{"half of one", "10-", Dim{}, false},
		{"of no size", "0/4-28", Dim{}, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got, ok := thread(row.chunk); got != row.want || ok != row.ok {
				t.Errorf("thread(%q) = %v, %t, want %v, %t", row.chunk, got, ok, row.want, row.ok)
			}
		})
	}
}

func TestUnfinished(t *testing.T) {
	for chunk, want := range map[string]bool{
		"3/": true, "3/3": true, "1-1/6": true, ".": true, ".1": true, "0.": true, "0.19": true,
		"3/16": false, "1/2": false, "and/or": false, "12": false, "AN": false, "1.5": false, "": false, "3/a": false,
	} {
		if got := unfinished(chunk); got != want {
			t.Errorf("unfinished(%q) = %t, want %t", chunk, got, want)
		}
	}
}

func TestRoles(t *testing.T) {
	for _, role := range []Role{Grip, OverallLength, Diameter, Thread, Thickness, Width} {
		if got := roleOf(role.String()); got != role {
			t.Errorf("roleOf(%q) = %v", role, got)
		}
	}
	for word, want := range map[string]Role{"long": OverallLength, "dia": Diameter, "thick": Thickness, "wide": Width, "bolt": AnyRole, "": AnyRole} {
		if got := roleOf(word); got != want {
			t.Errorf("roleOf(%q) = %v, want %v", word, got, want)
		}
	}
	if got := Role(99).String(); got != "" {
		t.Errorf("Role(99) = %q", got)
	}
	if got := fmt.Sprint(Item, SubAssembly, Kind(99)); got != "item sub-assembly thing" {
		t.Errorf("kinds are %q", got)
	}
}

func TestAnswers(t *testing.T) {
	quarter := measure.Inches(1, 4)
	for _, row := range []struct {
		name    string
		d, want Dim
		ok      bool
	}{
		{"any role wanted", Dim{Grip, quarter, 0}, Dim{Length: quarter}, true},
		{"the role wanted", Dim{Grip, quarter, 0}, Dim{Grip, quarter, 0}, true},
		{"a role not known", Dim{Length: quarter}, Dim{Grip, quarter, 0}, true},
		{"another role", Dim{Diameter, quarter, 0}, Dim{Grip, quarter, 0}, false},
		{"another length", Dim{Grip, quarter + 1, 0}, Dim{Grip, quarter, 0}, false},
		{"the pitch", Dim{Thread, quarter, 28}, Dim{Thread, quarter, 28}, true},
		{"another pitch", Dim{Thread, quarter, 20}, Dim{Thread, quarter, 28}, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := row.d.answers(row.want); got != row.ok {
				t.Errorf("%v.answers(%v) = %t, want %t", row.d, row.want, got, row.ok)
			}
		})
	}
}

func TestRecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := someDoc.Draw(t, "doc")
		want.Words = rapid.String().Draw(t, "words")
		record := string(appendRecord(nil, &want)) + "what follows"
		got := Doc{Aliases: []string{"left", "over"}, Dims: make([]Dim, 3)}
		readRecord(record, &got)
		if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("record read back (-want +got):\n%s", diff)
		}
		if id := recordID(record); id != want.ID {
			t.Fatalf("recordID = %q, want %q", id, want.ID)
		}
	})
}

func TestIDTable(t *testing.T) {
	ids := make([]string, 300)
	for i := range ids {
		ids[i] = fmt.Sprint("id ", i%250)
	}
	table := newIDTable(0, func(doc uint32) string { return ids[doc] })
	for i, id := range ids {
		old, had := table.put(id, uint32(i))
		if had != (i >= 250) || had && old != uint32(i-250) {
			t.Fatalf("put(%q, %d) = %d, %t", id, i, old, had)
		}
	}
	for i, id := range ids {
		if doc, ok := table.find(id); !ok || doc < uint32(i) || ids[doc] != id {
			t.Errorf("find(%q) = %d, %t", id, doc, ok)
		}
	}
	if doc, ok := table.find("id 250"); ok {
		t.Errorf("find(id 250) = %d, want none", doc)
	}
}

// TestLeast compares the least values of stretches with those of a sort.
func TestLeast(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 1))
	for round := range 2000 {
		values := make([]uint32, 1+draw.IntN(1500))
		for i := range values {
			values[i] = draw.Uint32N(3000)
		}
		lo := draw.IntN(len(values))
		hi := lo + draw.IntN(len(values)-lo+1)
		tree := newMinTree(values)
		b := best{want: draw.IntN(30), dead: numbers(nil).sized(3000)}
		b.dead.set(17)
		tree.least(lo, hi, b.bound(), func(v uint32) uint32 {
			b.offer(v)
			return b.bound()
		})
		want := slices.Clone(values[lo:hi])
		slices.Sort(want)
		want = slices.DeleteFunc(slices.Compact(want), func(v uint32) bool { return v == 17 })
		if want = want[:min(len(want), b.want)]; !slices.Equal(b.docs, want) {
			t.Fatalf("round %d: least of [%d, %d) = %v, want %v", round, lo, hi, b.docs, want)
		}
	}
}

func TestNumbers(t *testing.T) {
	a, b := numbers(nil).sized(200), numbers(nil).sized(200)
	a.setAll([]uint32{1, 64, 199})
	b.setAll([]uint32{64, 100, 199})
	union := slices.Clone(a)
	union.unite(b)
	if n := a.intersect(b); n != 2 || a.has(1) || !a.has(64) || !a.has(199) || a.has(5000) {
		t.Errorf("intersection has %d numbers: %v", n, a)
	}
	if n := union.intersect(union); n != 4 || !union.has(100) {
		t.Errorf("union has %d numbers: %v", n, union)
	}
	a.clear(64)
	if reused := a.sized(70); a.has(64) || reused.intersect(reused) != 0 || len(reused) != 2 {
		t.Errorf("a set used again holds %v", reused)
	}
}

// someEntries are strings over a small alphabet, some of them long and alike.
var someEntries = rapid.SliceOfN(rapid.OneOf(
	rapid.StringMatching(`[ab1.]{0,5}`), rapid.StringMatching(`nas1149f0[ab]{0,12}`), rapid.StringMatching(`(é|ab){1,20}`),
), 1, 30)

// TestLexicon compares the lexicon with looking at every entry.
func TestLexicon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := someEntries.Draw(t, "entries")
		l := newLexicon([]byte(strings.Join(entries, terminator) + terminator))
		if rapid.Bool().Draw(t, "buckets") {
			l.suffix.values, l.suffix.buckets = l.scatter(l.suffix.values)
			l.sortBuckets(l.suffix.values, l.suffix.buckets)
		}
		typed := rapid.OneOf(rapid.StringMatching(`[ab1é.]{1,4}`), rapid.StringMatching(`nas1149f0[ab]{0,3}`)).Draw(t, "typed")
		for i, entry := range entries {
			value := func(s *sorted, lo, hi int) bool {
				return slices.ContainsFunc(s.values[lo:hi], func(v uint32) bool { return v>>offsetBits == uint32(i) })
			}
			lo, hi := l.beginning(&l.whole, typed)
			if got, want := value(&l.whole, lo, hi), strings.HasPrefix(entry, typed); got != want {
				t.Fatalf("%q starts with %q: %t, want %t", entry, typed, got, want)
			}
			lo, hi = l.beginning(&l.suffix, typed)
			if got, want := value(&l.suffix, lo, hi), strings.Contains(entry, typed); got != want {
				t.Fatalf("%q contains %q: %t, want %t", entry, typed, got, want)
			}
			if len(typed) < minNear {
				continue
			}
			inside, whole := false, false
			l.near(&l.suffix, typed, false, func(lo, hi, _ int) { inside = inside || value(&l.suffix, lo, hi) })
			l.near(&l.whole, typed, true, func(lo, hi, _ int) { whole = whole || value(&l.whole, lo, hi) })
			// What has the typing exactly is not what near is for.
			if want := oneOffInside(typed, entry); inside != want && !strings.Contains(entry, typed) {
				t.Fatalf("%q nearly contains %q: %t, want %t", entry, typed, inside, want)
			}
			if want := oneOff(typed, entry); whole != want && entry != typed {
				t.Fatalf("%q is nearly %q: %t, want %t", entry, typed, whole, want)
			}
		}
	})
}

// TestNearMatcherAgainstScan compares the matcher with trying every stretch.
func TestNearMatcherAgainstScan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[abc]{4,8}`).Draw(t, "word")
		texts := rapid.SliceOfN(rapid.StringMatching(`[abcd]{0,12}`), 1, 3).Draw(t, "texts")
		var m nearMatcher
		m.reset(word)
		want := slices.ContainsFunc(texts, func(s string) bool { return oneOffInside(word, s) })
		if got := m.inside(strings.Join(texts, terminator) + terminator); got != want {
			t.Fatalf("%q inside %q: %t, want %t", word, texts, got, want)
		}
	})
}

func TestOneOff(t *testing.T) {
	for _, row := range []struct {
		a, b string
		want bool
	}{
		{"bolt", "bolt", true},
		{"bolt", "bot", true},
		{"bolt", "boltt", true},
		{"bolt", "bult", true},
		{"bolt", "botl", true},
		{"bolt", "obtl", false},
		{"bolt", "bo", false},
		{"bolt", "lobt", false},
		{"", "a", true},
		{"ab", "ba", true},
	} {
		if got := oneOff(row.a, row.b); got != row.want {
			t.Errorf("oneOff(%q, %q) = %t, want %t", row.a, row.b, got, row.want)
		}
	}
}

// A document that is put as it is there changes nothing; anything else about it does.
func TestPutAsItIs(t *testing.T) {
	as := func(change func(*Doc)) Doc {
		d := Doc{
			ID: "1", Kind: Item, Name: "AN3-5A", Aliases: []string{"AN3-5"}, Words: "bolt",
			Dims: []Dim{{Role: Thread, PerInch: 32, Length: 4826000}}, Places: []string{"Garage, A-01"}, InShop: true,
		}
		change(&d)
		return d
	}
	for name, change := range map[string]func(*Doc){
		"the same":        func(*Doc) {},
		"kind":            func(d *Doc) { d.Kind = Place },
		"name":            func(d *Doc) { d.Name = "AN3-5B" },
		"one alias more":  func(d *Doc) { d.Aliases = append(d.Aliases, "AN3-6") },
		"words":           func(d *Doc) { d.Words = "bolts" },
		"no words":        func(d *Doc) { d.Words = "" },
		"a dimension":     func(d *Doc) { d.Dims[0].PerInch = 24 },
		"no dimension":    func(d *Doc) { d.Dims = nil },
		"one place more":  func(d *Doc) { d.Places = append(d.Places, "Hangar") },
		"none in shop":    func(d *Doc) { d.InShop = false },
		"another, unlike": func(d *Doc) { d.ID = "2" },
	} {
		x := New(nil)
		x.Put(as(func(*Doc) {}))
		before := x.snap.Load()
		x.Put(as(change))
		if kept := x.snap.Load() == before; kept != (name == "the same") {
			t.Errorf("%s: the index is kept %t", name, kept)
		}
	}
	x := New(nil)
	x.Put(as(func(*Doc) {}))
	x.Remove("1")
	x.Put(as(func(*Doc) {}))
	if x.Len() != 1 {
		t.Errorf("one that was taken out and put again: Len() = %d", x.Len())
	}
}
