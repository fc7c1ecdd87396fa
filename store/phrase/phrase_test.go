package phrase_test

import (
	"strings"
	"testing"

	"stowright/store/phrase"
)

func TestList(t *testing.T) {
	for _, row := range []struct {
		names []string
		want  string
	}{
		{nil, ""},
		{[]string{"C1"}, "C1"},
		{[]string{"C1", "C2"}, "C1 and C2"},
		{[]string{"C1", "C2", "C3"}, "C1, C2 and C3"},
	} {
		if got := phrase.List(row.names); got != row.want {
			t.Errorf("List(%q): got %q, want %q", row.names, got, row.want)
		}
	}
}

// A crate that its supplier calls "Crate 1" is no crate Crate 1.
func TestCrate(t *testing.T) {
	for name, want := range map[string]string{"C1": "crate C1", "Crate 1": "Crate 1", "CRATE-2": "CRATE-2", "": "crate "} {
		if got := phrase.Crate(name); got != want {
			t.Errorf("Crate(%q): got %q, want %q", name, got, want)
		}
	}
}

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 lines", 1: "1 line", 2: "2 lines"} {
		if got := phrase.Count(n, "line", "lines"); got != want {
			t.Errorf("Count(%d): got %q, want %q", n, got, want)
		}
	}
}

func TestQuote(t *testing.T) {
	for text, want := range map[string]string{
		"":                      "“”",
		"AN3-5A":                "“AN3-5A”",
		"\x1b[2Ja\tb\n":         "“\ufffd[2Ja\ufffdb\ufffd”",
		strings.Repeat("ä", 40): "“" + strings.Repeat("ä", 40) + "”",
		strings.Repeat("ä", 65): "“" + strings.Repeat("ä", 40) + "…”",
	} {
		if got := phrase.Quote(text); got != want {
			t.Errorf("Quote(%q): got %q, want %q", text, got, want)
		}
	}
}

// What is left out is whole words: half a number is a wrong number.
func TestClip(t *testing.T) {
	long := strings.Repeat("9", 64)
	for _, row := range []struct{ text, want string }{
		{"AN3-5A", "AN3-5A"},
		{"ten chars!", "ten chars!"},
		{"washer AN960-10L", "washer …"},
		{"ten chars! more", "ten chars! …"},
		{"NAS1149F0363P", "NAS1149F0363P"},
		{"NAS1149F0363P washer", "NAS1149F0363P …"},
		{long, long},
		{long + "9", long[:10] + "…"},
		{"", ""},
	} {
		if got := phrase.Clip(row.text, 10); got != row.want {
			t.Errorf("Clip(%q): got %q, want %q", row.text, got, row.want)
		}
	}
}
