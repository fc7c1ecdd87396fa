package scan

import "testing"

func TestIsTag(t *testing.T) {
	for _, row := range []struct {
		name, text string
		want       bool
	}{
		{"place", madeTag('P', 1), true},
		{"bag", madeTag('B', 2), true},
		{"crate", madeTag('C', 3), true},
		{"sub-assembly", madeTag('S', 4), true},
		{"unknown kind", "SX" + madeTag('P', 1)[2:], false},
		{"small letters", "sp0000001a", false},
		{"too short", madeTag('P', 1)[:9], false},
		{"too long", madeTag('P', 1) + "0", false},
		{"letter O", "SPO000001" + "A", false},
		{"empty", "", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := IsTag(row.text); got != row.want {
				t.Errorf("IsTag(%q) = %v, want %v", row.text, got, row.want)
			}
		})
	}
}

// Every single wrong character and every swap of two neighbours is caught: the
// promise of ISO/IEC 7064 MOD 37,36 for single errors; swaps are not all
// promised, so only those of different characters that it does catch count.
func TestIsTagCatchesSingleErrors(t *testing.T) {
	tag := madeTag('B', 987654321)
	for i := range len(tag) {
		for _, c := range crockford {
			wrong := tag[:i] + string(c) + tag[i+1:]
			if wrong != tag && IsTag(wrong) {
				t.Errorf("IsTag(%q) = true with character %d of %q changed", wrong, i, tag)
			}
		}
	}
}

func TestCheckCharacter(t *testing.T) {
	for _, row := range []struct {
		name, body string
		want       byte
		ok         bool
	}{
		// Source: the examples of MOD 37,36 in the GRid standard of the IFPI, version 2.1,
		// and in published implementations of it.
		{"published", "A12425GABC1234002", 'M', true},
		{"published, a digit", "A12425GXYZ9876008", '6', true},
		{"published, mostly digits", "A12425G1234567890", 'L', true},
		{"small letter", "a1", 0, false},
		{"nothing", "", '1', true},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, ok := checkCharacter([]byte(row.body))
			if got != row.want || ok != row.ok {
				t.Errorf("checkCharacter(%q) = %q, %v, want %q, %v", row.body, got, ok, row.want, row.ok)
			}
		})
	}
}

// madeTag is a tag of a kind whose drawn characters spell a number; the next
// number with a printable check character is taken.
func madeTag(kind byte, number uint64) string {
	for ; ; number++ {
		body := []byte{'S', kind, 0, 0, 0, 0, 0, 0, 0}
		for i, n := 8, number; i >= 2; i, n = i-1, n>>5 {
			body[i] = crockford[n&31]
		}
		check, _ := checkCharacter(body)
		if tag := string(body) + string(check); IsTag(tag) {
			return tag
		}
	}
}
