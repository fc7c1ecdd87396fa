package hardware

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// TestAWordChangesNoPiece: a word of the trade in front of a number or behind it
// leaves the piece as it is, or the text is refused with a reason; what it denies by
// its own figures is never taken.
func TestAWordChangesNoPiece(t *testing.T) {
	const seed = 5
	rng := rand.New(rand.NewPCG(seed, seed))
	c := Standard()
	all := c.entries()
	var list []string
	for w := range tradeWords {
		list = append(list, w)
	}
	for w := range markWords {
		list = append(list, w)
	}
	slices.Sort(list)
	taken, refused := 0, 0
	for range 1500 {
		e := all[rng.IntN(len(all))]
		number := e.candidates(&Readings{}, nil)[0].Designation
		word := list[rng.IntN(len(list))]
		text := number + " " + strings.ToLower(word)
		if rng.IntN(2) == 0 {
			text = word + " " + number
		}
		if len(text) > maxText {
			continue
		}
		r := Decode(text)
		switch {
		case r.Known && r.Designation == number:
			taken++
		case r.Known:
			t.Errorf("seed %d: %q is read as %s", seed, text, r.Designation)
		case r.Problem == "":
			t.Errorf("seed %d: %q is not taken for hardware", seed, text)
		default:
			refused++
		}
		claim, ok := claims[word]
		if f, has := Decode(number).Field(claim.field); ok && has && !f.Unknown && r.Known {
			if !slices.ContainsFunc(claim.of, func(of string) bool { return strings.Contains(f.Text, of) }) {
				t.Errorf("seed %d: %q is taken, and %s is %s", seed, text, number, f.Text)
			}
		}
	}
	if taken < 700 || refused < 150 {
		t.Errorf("%d taken and %d refused: one of the two was not tried", taken, refused)
	}
}

// TestTradeWords: each word may stand behind a piece of which nothing of the sort is
// known, so that none stands in the list for nothing.
func TestTradeWords(t *testing.T) {
	for w := range tradeWords {
		if !marks(" "+w+" ", nil) {
			t.Errorf("%q is not taken", w)
		}
	}
	for w := range claims {
		if !tradeWords[w] {
			t.Errorf("%q claims something and may not stand there", w)
		}
	}
	for w := range sorts {
		if !markWords[w] && !tradeWords[w] {
			t.Errorf("%q names a sort and may not stand there", w)
		}
	}
}

// TestWordsOf: which words are held against the piece.
func TestWordsOf(t *testing.T) {
	for text, want := range map[string]string{
		"":                        "",
		" HEX HEAD, STEEL":        "HEX HEAD STEEL",
		" BOLT FOR THE HINGE":     "BOLT",
		" 24 EA (BAG 7) THIN":     "EA BAG THIN",
		" SELF-LOCKING NUT":       "SELF LOCKING NUT",
		" WITH NUT":               "",
		"X12 STEEL ON ALUMINIUM.": "X STEEL",
	} {
		if got := strings.Join(wordsOf([]byte(text), notes), " "); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
	if got := strings.Join(wordsOf([]byte("BAG OF NUTS "), nil), " "); got != "BAG OF NUTS" {
		t.Errorf("in front: got %q", got)
	}
}

// TestThinAndThick: which washers and nuts the words are held against.
func TestThinAndThick(t *testing.T) {
	for _, tt := range []struct{ number, thin, thick string }{ // "" where the word may stand
		{"AN960-10", "0.063 thick", ""},
		{"AN960-10L", "", "0.032 thick"},
		{"AN960-8", "0.032 thick", ""},
		{"AN960-8L", "", "0.016 thick"},
		{"NAS1149FN816P", "", "0.016 thick"},
		{"NAS1149F0316P", "", "0.016 thick"},
		{"NAS1149F0390P", "0.090 thick", ""},
		{"AN970-4", "0.063 thick", ""},
		{"AN364-1032A", "", "thin"},
		{"AN365-1032A", "full height", ""},
		{"AN310-3", "full height", ""},
		{"AN320-3", "", "thin"},
		{"MS21042-3", "", ""},
		{"MS35333-39", "", ""}, // its thickness is unknown
		{"AN3-5A", "", ""},
	} {
		r := Decode(tt.number)
		if got := r.thickAgainst(true); got != tt.thin {
			t.Errorf("%s thin: got %q, want %q", tt.number, got, tt.thin)
		}
		if got := r.thickAgainst(false); got != tt.thick {
			t.Errorf("%s thick: got %q, want %q", tt.number, got, tt.thick)
		}
	}
}

// TestUnified: what may be a thread beside a number, and what is a count or a name.
func TestUnified(t *testing.T) {
	for text, want := range map[string]bool{
		"10-32": true, "1/4-28": true, "8-36": true, "1-14": true, "2-56": true, "0-80": true, "1-1/8-12": true, "10-24": true, "1/2-13": true, "1/2-20": true, "7/8-9": true,
		"2-8": false, "10-20": false, "1/4-40": false, "1/2-15": false, "6-22": false,
		"12-5": false, "10-31": false, "3-6": false, "4-90": false, "2-1/4-12": false, "H-104": false, "20-32": false, "32": false, "": false, "-32": false,
	} {
		if got := unified(threadOf(text)); got != want {
			t.Errorf("%q: got %v", text, got)
		}
	}
}
