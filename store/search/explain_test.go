package search_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stowright/store/measure"
	"stowright/store/search"
)

// marked writes the fields of a document with what matched in brackets, and
// nothing of fields in which nothing did.
func marked(d search.Doc, h search.Hit) string {
	fields := func(m search.Match) string {
		switch m.Field {
		case search.FieldName:
			return d.Name
		case search.FieldAlias:
			return d.Aliases[m.Index]
		case search.FieldWords:
			return d.Words
		case search.FieldPlace:
			return d.Places[m.Index]
		}
		return d.Dims[m.Index].Length.Decimal()
	}
	var out []string
	last := search.Match{Field: 99}
	for i := len(h.Matches) - 1; i >= 0; i-- {
		m := h.Matches[i]
		if m.Field != last.Field || m.Index != last.Index {
			out = append(out, fields(m))
		}
		text := &out[len(out)-1]
		if m.Field == search.FieldDim {
			*text = "[" + *text + "]"
		} else {
			*text = (*text)[:m.Start] + "[" + (*text)[m.Start:m.End] + "]" + (*text)[m.End:]
		}
		last = m
	}
	slices.Reverse(out)
	return strings.Join(out, " | ")
}

func TestMatches(t *testing.T) {
	bolt := search.Doc{
		ID: "1", Name: "AN3-5A", Aliases: []string{"NAS-AN3-5", "MS 3.5 A"}, Words: "Bolt, rod-end 3/16 and/or 10-32, bolts Größe",
		Dims:   []search.Dim{{Role: search.Grip, Length: measure.Inches(1, 4)}, {Role: search.Diameter, Length: measure.Inches(190, 1000)}},
		Places: []string{"Garage, Cabinet A, A-12", "Loft, Bin 3"}, InShop: true,
	}
	long := search.Doc{ID: "2", Name: strings.Repeat("Cover ", 12) + "sealant 3/8", Words: "x"}
	x := built(t, []search.Doc{bolt, long})
	for _, row := range []struct {
		name, typed, want, why string
	}{
		{"over a dash", "n35", "A[N3-5]A | NAS-A[N3-5]", ""},
		{"case and spaces", "an 35A", "[AN3-5A]", ""},
		{"in an old number only", "nasan", "[NAS-AN]3-5", "old number NAS-AN3-5"},
		{"a point in an old number", "3.5a", "MS [3.5 A]", "old number MS 3.5 A"},
		{"every place where a word is", "bolt", "[Bolt], rod-end 3/16 and/or 10-32, [bolt]s Größe", ""},
		{"part of a hyphenated word", "end", "Bolt, rod-[end] 3/16 and/or 10-32, bolts Größe", ""},
		{"over a hyphen", "rodend", "Bolt, [rod-end] 3/16 and/or 10-32, bolts Größe", ""},
		{"not over a stroke", "and/or", "Bolt, rod-end 3/16 [and]/[or] 10-32, bolts Größe", ""},
		{"a dimension in words", ".1875 rod", "Bolt, [rod]-end [3/16] and/or 10-32, bolts Größe", ""},
		{"a thread", "#10-32", "Bolt, rod-end 3/16 and/or [10-32], bolts Größe", ""},
		{"accents", "grosse", "Bolt, rod-end 3/16 and/or 10-32, bolts [Größe]", ""},
		{"a dimension", "bolt #10", "[Bolt], rod-end 3/16 and/or [10-32], [bolt]s Größe | [0.19]", ""},
		{"a role", "grip 1/4", "[0.25]", ""},
		{"a role alone", "grip bolt", "[Bolt], rod-end 3/16 and/or 10-32, [bolt]s Größe | [0.25]", ""},
		{"a half-typed dimension", "bolt .2", "[Bolt], rod-end 3/16 and/or 10-32, [bolt]s Größe | [0.25]", ""},
		{"a second place", "bin 3", "AN[3]-5A | NAS-AN[3]-5 | MS [3].5 A | Bolt, rod-end [3]/16 and/or 10-[3]2, bolts Größe | Garage, Ca[bin]et A, A-12 | Loft, [Bin] [3]", ""},
		{"places", "loft cab", "Garage, [Cab]inet A, A-12 | [Loft], Bin 3", ""},
		{"a long name", "sealant .375", strings.Repeat("Cover ", 12) + "[sealant] [3/8]", ""},
		{"an error", "an3-6a", "", "close to an3-6a"},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := x.Search(row.typed, 1)
			if len(r.Hits) == 0 {
				t.Fatalf("Search(%q) found nothing", row.typed)
			}
			d := bolt
			if r.Hits[0].ID == "2" {
				d = long
			}
			if got := marked(d, r.Hits[0]); got != row.want || r.Hits[0].Why != row.why {
				t.Errorf("Search(%q) marks %q, why %q; want %q, %q", row.typed, got, r.Hits[0].Why, row.want, row.why)
			}
		})
	}
}

// TestAsOneTypes types every designation of the shop letter by letter, in
// several ways, and sees that the thing is there at every step.
func TestAsOneTypes(t *testing.T) {
	docs := shop()
	x := built(t, docs)
	for _, d := range docs {
		for _, name := range append([]string{d.Name}, d.Aliases...) {
			for _, typed := range []string{name, strings.ToLower(name), strings.ReplaceAll(name, "-", " "), strings.ReplaceAll(name, "-", "")} {
				for end := 1; end <= len(typed); end++ {
					finds(t, x, typed[:end], d.ID)
					finds(t, x, typed[len(typed)-end:], d.ID)
				}
			}
		}
	}
}

// TestEveryWordFinds asks for things by pairs of what is known about them.
func TestEveryWordFinds(t *testing.T) {
	docs := shop()
	x := built(t, docs)
	for _, d := range docs {
		known := strings.Fields(d.Words)
		for _, dim := range d.Dims {
			known = append(known, dim.Length.Decimal())
			if fraction, ok := dim.Length.Fraction(); ok {
				known = append(known, fraction+" "+dim.Role.String(), dim.Role.String()+" "+fraction)
			}
			if dim.PerInch != 0 {
				known = append(known, fmt.Sprintf("10-%d", dim.PerInch))
			}
		}
		for _, place := range d.Places {
			known = append(known, strings.Split(place, ", ")...)
		}
		for _, one := range known {
			finds(t, x, one, d.ID)
			for _, other := range known {
				finds(t, x, d.Name+" "+one+" "+other, d.ID)
			}
		}
	}
}

func finds(t *testing.T, x *search.Index, typed, id string) {
	t.Helper()
	if strings.Trim(typed, "- ") == "" || typed[0] == '.' { // nothing, or half an inch
		return
	}
	r := x.Search(typed, 100)
	if !slices.ContainsFunc(r.Hits, func(h search.Hit) bool { return h.ID == id }) {
		t.Errorf("Search(%q) does not find %s", typed, id)
	}
}
