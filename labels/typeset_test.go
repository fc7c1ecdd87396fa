package labels

import (
	"slices"
	"strings"
	"testing"

	"stowright/assets/fonts"
)

func testSetter(t testing.TB) *setter {
	t.Helper()
	s, err := newSetter()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestNameBreaks(t *testing.T) {
	cases := []struct{ name, in, want string }{
		{"rivet", "AN470AD4-7", "AN470|AD4-7"},
		{"half size", "AN426AD3-3.5", "AN426|AD3-3.5"},
		{"bolt", "AN3-5A", "AN3|-5A"},
		{"cotter pin", "MS24665-132", "MS24665|-132"},
		{"washer", "NAS1149F0363P", "NAS1149|F0363P"},
		{"nutplate", "MS21047L08", "MS21047|L08"},
		{"kit part", "OQ-10-031-L", "OQ|-10|-031|-L"},
		{"kit part with a numbered prefix", "WL2-204-L", "WL2|-204|-L"},
		{"nothing to break", "C2", "C2"},
		{"words", "Tank sealant two-part", "Tank |sealant |two-part"},
		{"letters only", "SEALANT", "SEALANT"},
		{"empty", "", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var parts []string
			last := 0
			for _, at := range nameBreaks(c.in) {
				parts = append(parts, c.in[last:at])
				last = at
			}
			if got := strings.Join(append(parts, c.in[last:]), "|"); got != c.want {
				t.Errorf("nameBreaks(%q) = %q, want %q", c.in, got, c.want)
			}
		})
	}
}

func TestFitName(t *testing.T) {
	s := testSetter(t)
	room := func(width, height float64) nameRoom {
		return nameRoom{width: width, height: height, max: 5, floor: 3.2, hard: smallest}
	}
	cases := []struct {
		name string
		in   string
		room nameRoom
		want string
		cut  bool
	}{
		{"room enough", "AN470AD4-7", room(40, 12), "AN470AD4-7", false},
		{"shrunk", "AN470AD4-7", room(22, 12), "AN470AD4-7", false},
		{"broken after the prefix", "AN470AD4-7", room(18, 12), "AN470/AD4-7", false},
		{"never inside a dash group", "MS24665-132", room(12, 12), "MS24665/-132", false},
		{"too low for two lines", "AN470AD4-7", room(18, 2.5), "AN470AD4-7", false},
		{"hopeless", strings.Repeat("AN470AD4-7", 9), room(18, 2.5), "AN470AD4-7AN470…", true},
		{"none", "", room(18, 12), "", false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			n := s.fitName(fonts.MonoBold, c.in, c.room)
			if got := strings.Join(n.lines, "/"); got != c.want || n.cut != c.cut {
				t.Errorf("fitName(%q, %+v) = %q, cut %t, want %q, cut %t", c.in, c.room, got, n.cut, c.want, c.cut)
			}
			for _, line := range n.lines {
				if w := s.width(fonts.MonoBold, n.size, line); w > c.room.width+slack {
					t.Errorf("line %q is %.2f mm wide, room for %.2f", line, w, c.room.width)
				}
			}
			if n.height() > c.room.height+slack {
				t.Errorf("height %.2f mm, room for %.2f", n.height(), c.room.height)
			}
		})
	}
}

func TestClean(t *testing.T) {
	s := testSetter(t)
	cases := []struct {
		name, in, want string
		lost           int
	}{
		{"plain", "AN3-5A", "AN3-5A", 0},
		{"line ends and tabs", " a\r\n\tb ", "a b", 0},
		{"control characters", "a\x00\x1b[31mb", "a [31mb", 0},
		{"right-to-left override", "AN3\u202e-5A", "AN3 -5A", 0},
		{"not UTF-8", "a\xffb", "a?b", 1},
		{"above U+FFFF", "ok \U0001F6E9 \U0001D49C", "ok ? ?", 2},
		{"signs that look the same", "5 µm 3‑4 1″ 2×3", "5 μm 3-4 1\" 2×3", 0},
		{"accents of their own", "Cafe\u0301 nu\u0308tz", "Café nütz", 0},
		{"as wide as Chinese", "ＡＮ３－５Ａ", "AN3-5A", 0},
		{"right to left", "בורג 5", "???? 5", 4},
		{"not in the typeface", "螺栓", "??", 2},
		{"endless", strings.Repeat("a", 999), strings.Repeat("a", maxText) + "…", 0},
		{"in the typeface", "≠ ½ é …", "≠ ½ é …", 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, lost, _ := s.clean(fonts.TextRegular, c.in)
			if got != c.want || len(lost) != c.lost {
				t.Errorf("clean(%q) = %q, %q lost, want %q, %d", c.in, got, lost, c.want, c.lost)
			}
		})
	}
}

func TestWrap(t *testing.T) {
	s := testSetter(t)
	cases := []struct {
		name  string
		in    string
		width float64
		max   int
		want  []string
		cut   bool
	}{
		{"one line", "that one is longer", 40, 2, []string{"that one is longer"}, false},
		{"two lines", "that one is longer", 14, 2, []string{"that one is", "longer"}, false},
		{"last line shortened", "that one is 1/8 longer than this", 12, 2, []string{"that one is", "1/8 longer t…"}, true},
		{"long word", "Donaudampfschifffahrt", 10, 2, []string{"Donauda…"}, true},
		{"no room", "x", 10, 0, nil, true},
		{"narrower than an ellipsis", "xxxx", 0.5, 1, []string{""}, true},
		{"nothing", "", 10, 2, nil, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, cut := s.wrap(fonts.TextRegular, 2, c.in, c.width, c.max)
			if !slices.Equal(got, c.want) || cut != c.cut {
				t.Errorf("wrap(%q, %g mm, %d) = %q, %t, want %q, %t", c.in, c.width, c.max, got, cut, c.want, c.cut)
			}
		})
	}
	t.Run("balanced", func(t *testing.T) {
		got, _ := s.balance(fonts.TextRegular, 2, "that one is 1/8 longer", 18, 3)
		if want := []string{"that one is", "1/8 longer"}; !slices.Equal(got, want) {
			t.Errorf("balance = %q, want %q", got, want)
		}
	})
}

func TestSpacedTag(t *testing.T) {
	for in, want := range map[string]string{"SP7K3M9QXD": "SP 7K3M 9QXD", "C2": "C2", "AB CD EF G": "AB CD EF G", "": ""} {
		if got := SpacedTag(in); got != want {
			t.Errorf("SpacedTag(%q) = %q, want %q", in, got, want)
		}
	}
}
