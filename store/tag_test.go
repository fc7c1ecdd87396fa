package store

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestCheckCharacter(t *testing.T) {
	for _, row := range []struct {
		body, source string
		want         byte
	}{
		{"A12425GABC1234002", "GRid Handbook 2.1 (IFPI), the example A1-2425G-ABC1234002-M", 'M'},
		{"000000003A8D0000", "ISAN 0000-0000-3A8D-0000-Z-0000-0000-6 of the ISAN user guide, from memory", 'Z'},
		{"000000003A8D000000000000", "the same, its second character over both parts, from memory", '6'},
	} {
		if got := checkCharacter(row.body); got != row.want {
			t.Errorf("check character of %s is %c, want %c (%s)", row.body, got, row.want, row.source)
		}
	}
}

// ISO/IEC 7064 says of its hybrid systems that they find every wrong character and
// nearly every two that changed places.
func TestTagFindsMistakes(t *testing.T) {
	random := rand.NewChaCha8([32]byte{1})
	swaps, missed := 0, 0
	for range 50 {
		tag, err := NewTag(random, TagPlace)
		if err != nil {
			t.Fatal(err)
		}
		for i := 2; i < tagLength; i++ {
			for _, c := range crockford {
				wrong := string(tag[:i]) + string(c) + string(tag[i+1:])
				if _, problem := ParseTag(wrong); (problem == "") != (wrong == string(tag)) {
					t.Fatalf("%s for %s: problem %q", wrong, tag, problem)
				}
			}
			if i+1 < tagLength && tag[i] != tag[i+1] {
				swaps++
				if _, problem := ParseTag(string(tag[:i]) + string(tag[i+1]) + string(tag[i]) + string(tag[i+2:])); problem == "" {
					missed++
				}
			}
		}
	}
	if missed*20 > swaps {
		t.Errorf("%d of %d swaps were not noticed", missed, swaps)
	}
}

func TestParseTag(t *testing.T) {
	body := "SP7K3M9Q0"
	tag := Tag(body + string(checkCharacter(body)))
	if strings.IndexByte(crockford, checkCharacter(body)) < 0 {
		t.Fatalf("the test's own tag %s is never issued", tag)
	}
	check := string(tag[9:])
	for _, row := range []struct {
		name, text string
		tag        Tag
		problem    TagProblem
	}{
		{"as printed", tag.Spaced(), tag, ""},
		{"as in the code", string(tag), tag, ""},
		{"small letters", strings.ToLower(string(tag)), tag, ""},
		{"dashes", "sp-7k3m-9q0" + check, tag, ""},
		{"from a scanner that ends the line", string(tag) + "\r\n", tag, ""},
		{"O for 0", "SP7K3M9QO" + check, tag, ""},
		{"small o for 0", "sp7k3m9qo" + check, tag, ""},
		{"mistyped", "SP7K3M9Q1" + check, "", Mistyped},
		{"U, which no tag has", "SP7K3M9QU" + check, "", NotATag},
		{"another kind", "SX7K3M9Q0" + check, "", NotATag},
		{"too short", string(tag[:9]), "", NotATag},
		{"too long", string(tag) + "0", "", NotATag},
		{"nothing", "", "", NotATag},
		{"an address", "https://example.org/SP7K3M9Q0" + check, "", NotATag},
		{"a letter of two bytes", "SP7K3M9Ü" + check, "", NotATag},
		{"spaces without end", strings.Repeat(" ", 1000) + string(tag), "", NotATag},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got, problem := ParseTag(row.text); got != row.tag || problem != row.problem {
				t.Errorf("ParseTag(%q) = %q, %q; want %q, %q", row.text, got, problem, row.tag, row.problem)
			}
		})
	}
	for _, pair := range []string{"i1", "I1", "l1", "L1", "o0", "O0"} {
		body := "SB" + "0000" + "11" + string(pair[1])
		tag := Tag(body + string(checkCharacter(body)))
		if got, problem := ParseTag(body[:8] + string(pair[0]) + string(tag[9])); got != tag || problem != "" {
			t.Errorf("%q read as %q: %q, %q; want %q", pair[:1], pair[1:], got, problem, tag)
		}
	}
}

func TestNewTag(t *testing.T) {
	random := rand.NewChaCha8([32]byte{2})
	for _, kind := range []TagKind{TagPlace, TagBag, TagCrate, TagSubAssembly} {
		seen := map[Tag]bool{}
		for range 500 {
			tag, err := NewTag(random, kind)
			if err != nil {
				t.Fatal(err)
			}
			if got, problem := ParseTag(string(tag)); got != tag || problem != "" || tag.Kind() != kind || strings.ContainsAny(string(tag[2:]), "ILOU") {
				t.Fatalf("drew %s for a %s: parsed %q, %q", tag, kind, got, problem)
			}
			seen[tag] = true
		}
		if len(seen) != 500 {
			t.Errorf("%d different tags of 500", len(seen))
		}
	}
	if _, err := NewTag(bytes.NewReader([]byte{1, 2}), TagBag); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("with no more random bytes: %v", err)
	}
}

// A draw whose check character could be misread is drawn again: eight characters of
// 36 are not in Crockford's alphabet, of which the four letters can be drawn.
func TestNewTagDrawsAgain(t *testing.T) {
	for value := range 32 * 32 {
		body := "SP00000" + string(crockford[value/32]) + string(crockford[value%32])
		if c := checkCharacter(body); strings.IndexByte("ILOU", c) < 0 {
			continue
		}
		random := bytes.NewReader([]byte{0, 0, 0, 0, 0, byte(value / 32), byte(value % 32), 1, 2, 3, 4, 5, 6, 7})
		tag, err := NewTag(random, TagPlace)
		if err == nil && strings.HasPrefix(string(tag), "SP1234567") {
			return
		}
		t.Fatalf("after %s, whose check character can be misread, came %q, %v", body, tag, err)
	}
	t.Fatal("no body has a check character that can be misread: the test tests nothing")
}

func FuzzParseTag(f *testing.F) {
	for _, s := range []string{"SP 7K3M 9Q07", "sb-0000-0000", "SC00000000", "", "S", "SPIIIIIII1", "SP\x00", "ſp00000000", "SP0000000ı"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		tag, problem := ParseTag(s)
		if (tag == "") != (problem != "") {
			t.Fatalf("ParseTag(%q) = %q, %q", s, tag, problem)
		}
		if tag == "" {
			return
		}
		for _, again := range []string{string(tag), tag.Spaced(), strings.ToLower(string(tag))} {
			if got, problem := ParseTag(again); got != tag || problem != "" {
				t.Fatalf("%q gave %q, and that as %q gives %q, %q", s, tag, again, got, problem)
			}
		}
	})
}
