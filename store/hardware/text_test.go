package hardware

import (
	"strings"
	"testing"
)

func TestNormal(t *testing.T) {
	tests := []struct {
		name, text, want string
		ok               bool
	}{
		{"capitals", "an3-5a", "AN3-5A", true},
		{"dashes of all kinds", "AN3‐5–A—1−2", "AN3-5-A-1-2", true},
		{"spaces of all kinds", "AN3\t5\u00a0A_B", "AN3 5 A B", true},
		{"times sign", "24×AN3", "24XAN3", true},
		{"half", "3½", "3.5", true},
		{"exactly at the bound", strings.Repeat("A", maxText), strings.Repeat("A", maxText), true},
		{"over the bound", strings.Repeat("A", maxText+1), "", false},
		{"control character", "AN3\x00", "", false},
		{"other alphabet", "АN3", "", false},
		{"broken utf-8", "AN3\xff", "", false},
		{"nothing", "", "", true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := normal(nil, tt.text)
			if ok != tt.ok || ok && string(got) != tt.want {
				t.Errorf("%q: got %q %v, want %q %v", tt.text, got, ok, tt.want, tt.ok)
			}
		})
	}
}

func TestStart(t *testing.T) {
	tests := []struct {
		name, text, prefix, rest string // prefix "" for none
	}{
		{"alone", "AN3-5A", "AN", "3-5A"},
		{"space behind the letters", "AN 3-5A", "AN", "3-5A"},
		{"dash behind the letters", "AN-3-5A", "AN", "3-5A"},
		{"longest prefix", "NASM20470AD4-6", "NASM", "20470AD4-6"},
		{"quantity in front", "24 X AN3-5A", "AN", "3-5A"},
		{"bag in front", "BAG H103: MS21042-3", "MS", "21042-3"},
		{"bracket in front", "(AN3-5A)", "AN", "3-5A)"},
		{"O-ring standard", "AS568-012", "AS", "568-012"},
		{"no digit", "ANGLE", "", ""},
		{"letters alone", "AN", "", ""},
		{"inside a word", "XAN3-5A", "", ""},
		{"behind a dash", "OQ-AN3-5A", "", ""},
		{"behind a point", "1.AN3", "", ""},
		{"words in front", "BRACKET FOR AN3-5A", "", ""},
		{"kit part", "OQ-10-001", "", ""},
		{"nothing", "", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			prefix, at, ok := start([]byte(tt.text))
			if prefix != tt.prefix || ok != (tt.prefix != "") || ok && tt.text[at:] != tt.rest {
				t.Errorf("%q: got %q at %d %v, want %q %q", tt.text, prefix, at, ok, tt.prefix, tt.rest)
			}
		})
	}
}

func TestMarks(t *testing.T) {
	tests := []struct {
		text string
		want bool
	}{
		{"", true},
		{" 24", true},
		{" x24", false}, // capitals only: the text has been through normal
		{" X24", true},
		{" X 24 EA.", true},
		{"(24)", true},
		{"(24 PCS), BAG 7", true},
		{"BAG H103: ", true},
		{"QTY: 6 EA ", true},
		{"LOT Q7714", true},
		{"24PCS", true},
		{"1.5 LB", true},
		{"1/2 LB", true},
		{"P/N ", true},
		{" BOLT", true},
		{" HINGE PLATE", false},
		{" LONGNAME12 ", false},
		{"H103 ", false},
		{"H103: ", true},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			if got := marks(tt.text, nil); got != tt.want {
				t.Errorf("%q: got %v, want %v", tt.text, got, tt.want)
			}
		})
	}
}

func TestQuantityMark(t *testing.T) {
	for text, want := range map[string]bool{
		"24": true, "X24": true, "24X": true, "24EA": true, "1,680": true, "0.30": true, "X": false, "EA": false, "24Q": false, "": false, "A24": false,
	} {
		t.Run(text, func(t *testing.T) {
			if got := quantityMark(text); got != want {
				t.Errorf("%q: got %v, want %v", text, got, want)
			}
		})
	}
}

// TestEveryMarkWord: each word that may stand around a designation may.
func TestEveryMarkWord(t *testing.T) {
	words := strings.Fields("X EA EACH PC PCS PIECE PIECES QTY QUANTITY BAG BAGS PKG PACK BOX OF PN P/N PART NO LB LBS OZ G KG FT IN SET OFF ITEM LINE LOT BOLT BOLTS NUT NUTS WASHER WASHERS RIVET RIVETS SCREW SCREWS PIN PINS")
	for _, w := range words {
		t.Run(w, func(t *testing.T) {
			if !marks(" "+w+" ", nil) {
				t.Errorf("%q is not taken", w)
			}
		})
	}
	if len(markWords) != len(words) {
		t.Errorf("got %d words: name the new ones here", len(markWords))
	}
}
