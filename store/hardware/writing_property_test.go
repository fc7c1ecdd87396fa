package hardware

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// some yields about one in n designations of the tables, the same ones each time.
func some(c *Catalog, n int, yield func(designation string)) {
	at := 0
	every(c, func(p piece) {
		if at++; at%n == 0 {
			yield(p.canonical())
		}
	})
}

// writings are ways in which people write a number on bags and in lists: none of
// them makes it another piece.
var writings = []func(d string, r *rand.Rand) string{
	func(d string, _ *rand.Rand) string { return strings.ToLower(d) },
	func(d string, _ *rand.Rand) string { return "  " + d + "\t" },
	func(d string, _ *rand.Rand) string { return strings.ReplaceAll(d, "-", " - ") },
	func(d string, _ *rand.Rand) string { return strings.ReplaceAll(d, "-", "–") },
	func(d string, _ *rand.Rand) string { return strings.ReplaceAll(d, "-", "\u2011") },
	func(d string, _ *rand.Rand) string { return d + " (24)" },
	func(d string, _ *rand.Rand) string { return "12 x " + d },
	func(d string, _ *rand.Rand) string { return "qty 4 " + d },
	func(d string, _ *rand.Rand) string { return "P/N " + d },
	func(d string, _ *rand.Rand) string { return d + ", 6 ea" },
	func(d string, _ *rand.Rand) string { return "\"" + d + "\"" },
	func(d string, _ *rand.Rand) string { return "bag H103: " + d },
	func(d string, r *rand.Rand) string {
		b := []byte(d)
		for i := range b {
			if r.IntN(2) == 0 {
				b[i] = strings.ToLower(string(b[i]))[0]
			}
		}
		return string(b)
	},
}

// TestWritingChangesNothing: a number of the tables is the same piece however it is written.
func TestWritingChangesNothing(t *testing.T) {
	c := Standard()
	r := rand.New(rand.NewPCG(12, 1))
	n, wrong := 0, 0
	some(c, 97, func(d string) {
		for i, write := range writings {
			text := write(d, r)
			if len(text) > maxText {
				continue
			}
			n++
			if got := c.Decode(text); got.Designation != d {
				if wrong++; wrong < 20 {
					t.Errorf("writing %d: %q is read as %q (%s), want %s", i, text, got.Designation, got.Problem, d)
				}
			}
		}
	})
	if n < 5000 {
		t.Errorf("only %d texts were read", n)
	}
}

// TestNoLetterIsDropped: a letter behind a number is part of it or refused, and never
// left out: AN3-5 and AN3-5A are two bolts.
func TestNoLetterIsDropped(t *testing.T) {
	c := Standard()
	wrong := 0
	some(c, 61, func(d string) {
		for l := 'A'; l <= 'Z'; l++ {
			for _, between := range []string{"", "-"} {
				r := c.Decode(d + between + string(l))
				if !r.Known || strings.HasSuffix(r.Designation, string(l)) && r.Designation != d {
					continue
				}
				if strings.HasSuffix(d, string(l)) && r.Designation == d {
					continue // written twice: refused elsewhere, or said once
				}
				if wrong++; wrong < 20 {
					t.Errorf("%s%s%c is read as %s", d, between, l, r.Designation)
				}
			}
		}
	})
}

// TestRefusalsProposeRealNumbers: what a refusal proposes is known, written as it is
// proposed, and the sentence names it.
func TestRefusalsProposeRealNumbers(t *testing.T) {
	c := Standard()
	refused := 0
	some(c, 83, func(d string) {
		for _, text := range []string{d + "9", d + "99", d + "(A)", d + "-1", d + "Z", strings.Replace(d, "-", "-9", 1), strings.Replace(d, "-", "", 1)} {
			r := c.Decode(text)
			if r.Known {
				continue
			}
			if r.Problem == "" {
				t.Errorf("%q has the form of a number and is taken for none", text)
				continue
			}
			refused++
			for _, near := range r.Nearest {
				if k := c.Decode(near); !k.Known && !strings.Contains(k.Problem, "needs its second number") {
					t.Errorf("%q: %s is proposed and is %q", text, near, k.Problem)
				}
			}
			if strings.HasSuffix(r.Problem, ".") || strings.ContainsAny(r.Problem, "\n\t") {
				t.Errorf("%q: the problem is no part of a sentence: %q", text, r.Problem)
			}
		}
	})
	if refused < 1000 {
		t.Errorf("only %d refusals were looked at", refused)
	}
}

// TestEveryFactSaysWhere: every fact of every piece has its source; what is unknown
// says so, counts no source and carries no figure.
func TestEveryFactSaysWhere(t *testing.T) {
	c := Standard()
	wrong := 0
	some(c, 41, func(d string) {
		r := c.Decode(d)
		var names []string
		for _, f := range r.Fields {
			switch {
			case f.Source == "", f.Text == "", f.Name == "":
			case f.Unknown && (!strings.HasPrefix(f.Text, "unknown: ") || f.Checked != 0 || f.Length != 0):
			case !f.Unknown && strings.HasPrefix(f.Text, "unknown"):
			case strings.HasSuffix(f.Source, "from memory)") && f.Checked > 0:
			case slices.Contains(names, f.Name) && f.Name != "cotter_pin": // several were seen with a nut
			default:
				names = append(names, f.Name)
				continue
			}
			if wrong++; wrong < 20 {
				t.Errorf("%s: %+v", d, f)
			}
		}
		if r.Title == "" || r.Short == "" || r.Family == "" || r.Kind == "" || len(r.Short) > len(r.Title) {
			t.Errorf("%s: title %q, short %q, family %q, kind %q", d, r.Title, r.Short, r.Family, r.Kind)
		}
	})
}

// TestNothingIsCertified: no title, fact, caution or problem says what a program may
// not say of a piece.
func TestNothingIsCertified(t *testing.T) {
	c := Standard()
	look := func(d, text string) {
		for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r < 'a' || r > 'z' }) {
			switch w {
			case "airworthy", "approved", "certified", "eligible", "compliant", "inspected", "safe":
				t.Errorf("%s: %q says %q", d, text, w)
			}
		}
	}
	some(c, 131, func(d string) {
		r := c.Decode(d)
		look(d, r.Title)
		for _, f := range r.Fields {
			look(d, f.Text)
		}
		for _, w := range r.Warnings {
			look(d, w)
		}
		for _, l := range r.LookAlikes {
			look(d, l.Difference)
		}
		look(d, c.Decode(d+"9Z").Problem)
	})
}
