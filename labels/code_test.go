package labels

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// grid is the modules of a code, rebuilt from its runs.
type grid [codeModules][codeModules]bool

func gridOf(runs []Run) (g grid) {
	for _, r := range runs {
		for i := range r.Len {
			g[r.Row][r.Col+i] = true
		}
	}
	return g
}

// format reads the 15 format bits beside the top left finder.
// Source: ISO/IEC 18004, 7.9.1 and figure 25; the mask is 101010000010010.
func (g grid) format() (level string, mask int) {
	bits := 0
	read := func(row, col int) {
		bits <<= 1
		if g[row][col] {
			bits |= 1
		}
	}
	for _, col := range []int{0, 1, 2, 3, 4, 5, 7, 8} {
		read(8, col)
	}
	for _, row := range []int{7, 5, 4, 3, 2, 1, 0} {
		read(row, 8)
	}
	bits ^= 0b101010000010010
	return []string{"M", "L", "H", "Q"}[bits>>13], bits >> 10 & 7
}

// masked tells whether a mask pattern inverts a module.
// Source: ISO/IEC 18004, table 10.
func masked(mask, i, j int) bool {
	switch mask {
	case 0:
		return (i+j)%2 == 0
	case 1:
		return i%2 == 0
	case 2:
		return j%3 == 0
	case 3:
		return (i+j)%3 == 0
	case 4:
		return (i/2+j/3)%2 == 0
	case 5:
		return i*j%2+i*j%3 == 0
	case 6:
		return (i*j%2+i*j%3)%2 == 0
	default:
		return ((i+j)%2+i*j%3)%2 == 0
	}
}

// bits reads the data bits of a version 1 symbol in their order.
// Source: ISO/IEC 18004, 7.7.3.
func (g grid) bits(mask int) string {
	var b strings.Builder
	up := true
	for right := codeModules - 1; right > 0; right -= 2 {
		if right == 6 {
			right--
		}
		for n := range codeModules {
			row := n
			if up {
				row = codeModules - 1 - n
			}
			for _, col := range []int{right, right - 1} {
				finder := row < 9 && (col < 9 || col >= 13) || row >= 13 && col < 9
				if finder || row == 6 || col == 6 {
					continue
				}
				if g[row][col] != masked(mask, row, col) {
					b.WriteByte('1')
				} else {
					b.WriteByte('0')
				}
			}
		}
		up = !up
	}
	return b.String()
}

// decode reads the segments of an undamaged version 1 level H symbol.
// Source: ISO/IEC 18004, 7.4.4 and 7.4.5; 9 data codewords from table 9.
func (g grid) decode(mask int) (modes []string, text string, err error) {
	bits := g.bits(mask)[:9*8]
	take := func(n int) (v int) {
		for range n {
			v <<= 1
			if bits != "" {
				v |= int(bits[0] - '0')
				bits = bits[1:]
			}
		}
		return v
	}
	var b strings.Builder
	for len(bits) >= 4 {
		switch mode := take(4); mode {
		case 0:
			return modes, b.String(), nil
		case 1:
			modes = append(modes, "numeric")
			for n := take(10); n > 0; n -= 3 {
				digits := min(n, 3)
				fmt.Fprintf(&b, "%0*d", digits, take(1+3*digits))
			}
		case 2:
			modes = append(modes, "alphanumeric")
			for n := take(9); n > 0; n -= 2 {
				if n == 1 {
					b.WriteByte(tagAlphabet[take(6)])
					continue
				}
				v := take(11)
				b.WriteByte(tagAlphabet[v/45])
				b.WriteByte(tagAlphabet[v%45])
			}
		default:
			return modes, b.String(), fmt.Errorf("mode %04b", mode)
		}
	}
	return modes, b.String(), nil
}

// TestCodeIsVersion1LevelH reads codes back module by module.
func TestCodeIsVersion1LevelH(t *testing.T) {
	cases := []struct{ name, tag, modes string }{
		{"place", "SP7K3M9QXD", "alphanumeric"},
		{"bag, mostly digits", "SB12345A7K", "alphanumeric"},
		{"one character", "S", "alphanumeric"},
		{"punctuation", "A-7 $%*+./", "alphanumeric"},
		// go-qrcode cannot be told a mode and picks the shortest. Eight digits
		// at the end happen to one tag in 12,000; every reader knows both modes.
		{"eight digits at the end", "SP12345678", "alphanumeric numeric"},
		{"all digits", "1234567890", "numeric"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			modes := checkCode(t, c.tag)
			if modes != c.modes {
				t.Errorf("tag %q: modes %q, want %q", c.tag, modes, c.modes)
			}
		})
	}
}

// TestRandomTags checks many tags of the form that the shop issues: S, a kind,
// seven characters of Crockford base 32 and one of the alphanumeric check characters.
func TestRandomTags(t *testing.T) {
	const crockford, seed = "0123456789ABCDEFGHJKMNPQRSTVWXYZ", 1
	rng := rand.New(rand.NewPCG(seed, 0))
	for range 2000 {
		tag := []byte{'S', "PBCS"[rng.IntN(4)]}
		for range 8 {
			tag = append(tag, crockford[rng.IntN(32)])
		}
		if modes := checkCode(t, string(tag)); modes != "alphanumeric" {
			t.Errorf("seed %d, tag %s: modes %q, want alphanumeric", seed, tag, modes)
		}
	}
}

// checkCode fails unless a tag's code is version 1, level H, and says the tag.
func checkCode(t *testing.T, tag string) (modes string) {
	t.Helper()
	runs, err := runsOf(tag)
	if err != nil {
		t.Fatal(err)
	}
	g := gridOf(runs)
	level, mask := g.format()
	used, text, err := g.decode(mask)
	if level != "H" || text != tag || err != nil {
		t.Errorf("tag %q: level %s, mask %d, text %q, error %v; want level H and the tag", tag, level, mask, text, err)
	}
	return strings.Join(used, " ")
}

func TestCheckTag(t *testing.T) {
	cases := []struct{ name, tag, want string }{
		{"empty", "", ""},
		{"ten", "SP7K3M9QXD", ""},
		{"eleven", "SP7K3M9QXDX", "11 characters do not fit the code; use at most 10"},
		{"small letter", "sP7K3M9QXD", "a code cannot hold 's'; use capital letters and digits"},
		{"beyond ASCII", "SPÄ", "a code cannot hold 'Ä'; use capital letters and digits"},
		{"not UTF-8", "S\xff", "a code cannot hold '\ufffd'; use capital letters and digits"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := checkTag(c.tag); got != c.want {
				t.Errorf("checkTag(%q) = %q, want %q", c.tag, got, c.want)
			}
		})
	}
}

func TestModuleFor(t *testing.T) {
	cases := []struct {
		name             string
		limit, dot, want float64
	}{
		{"whole dots", 0.5, 0.1, 0.5},
		{"rounded down", 0.59, 0.1, 0.5},
		{"too small", 0.329, 0.01, 0},
		{"four dots of 300 an inch", 0.34, rollDot, 4 * rollDot},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if got := moduleFor(c.limit, c.dot); got < c.want-1e-9 || got > c.want+1e-9 {
				t.Errorf("moduleFor(%g, %g) = %g, want %g", c.limit, c.dot, got, c.want)
			}
		})
	}
}
