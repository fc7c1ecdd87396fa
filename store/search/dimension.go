package search

import (
	"strconv"
	"strings"

	"stowright/store/measure"
)

// dimensions reads a chunk of text that is written as one or several
// dimensions: "3/16", ".190", "#10", `1/4"`, "14.3mm", "3/4x3/4x1/8". A bare
// whole number is none, since it may be anything; between others it is.
func dimensions(chunk string) []measure.Length {
	if !maybeDimension(chunk) {
		return nil
	}
	parts := strings.FieldsFunc(chunk, func(r rune) bool { return r == 'x' || r == 'X' })
	lengths := make([]measure.Length, 0, len(parts))
	sure := false
	for _, part := range parts {
		l, err := measure.ParseLength(part)
		if err != nil {
			return nil
		}
		sure = sure || !whole(part)
		lengths = append(lengths, l)
	}
	if !sure {
		return nil
	}
	return lengths
}

// maybeDimension is a quick look, so that words cost no parsing.
func maybeDimension(chunk string) bool {
	return startsDimension(chunk) && strings.ContainsAny(chunk, "/.#'\"″”mMiIfFcC")
}

// startsDimension says whether the first byte may be that of a dimension.
func startsDimension(chunk string) bool {
	return chunk != "" && (digit(chunk[0]) || chunk[0] == '.' || chunk[0] == '#')
}

func whole(s string) bool {
	for i := range len(s) {
		if !digit(s[i]) {
			return false
		}
	}
	return s != ""
}

// thread reads a screw thread as it is called: 10-32, #10-32, 1/4-28.
func thread(chunk string) (Dim, bool) {
	size, pitch, ok := strings.Cut(chunk, "-")
	if !ok || len(pitch) != 2 || !whole(pitch) {
		return Dim{}, false
	}
	perInch, err := strconv.ParseUint(pitch, 10, 16)
	if err != nil || !knownPitch(perInch) {
		return Dim{}, false
	}
	if whole(size) {
		size = "#" + size
	}
	if !strings.ContainsAny(size, "#/.") {
		return Dim{}, false
	}
	length, err := measure.ParseLength(size)
	if err != nil || length == 0 {
		return Dim{}, false
	}
	return Dim{Role: Thread, Length: length, PerInch: uint16(perInch)}, true
}

// knownPitch says whether so many threads per inch are in the unified series,
// so that a dash number is seldom taken for one. Source: ASME B1.1, UNC, UNF
// and UNEF (from memory).
func knownPitch(perInch uint64) bool {
	switch perInch {
	case 10, 11, 12, 13, 14, 16, 18, 20, 24, 28, 32, 36, 40, 44, 48, 56, 64, 72, 80:
		return true
	}
	return false
}

// unfinished says that a dimension looks like one that is still being typed:
// "3/", "3/3" on the way to 3/32, "." and the like.
func unfinished(chunk string) bool {
	if chunk == "" {
		return false
	}
	num, den, isFraction := strings.Cut(chunk, "/")
	if !isFraction {
		return chunk[0] == '.' && (len(chunk) == 1 || whole(chunk[1:])) || strings.HasPrefix(chunk, "0.") && (len(chunk) == 2 || whole(chunk[2:]))
	}
	if i := strings.LastIndexByte(num, '-'); i > 0 && whole(num[:i]) {
		num = num[i+1:]
	}
	if !whole(num) || den != "" && !whole(den) {
		return false
	}
	switch den {
	case "2", "4", "8", "16", "32", "64":
		return false
	}
	return true
}

// spellings are the ways a length is written, each of which may be half typed.
func spellings(l measure.Length) []string {
	decimal := l.Decimal()
	all := []string{decimal}
	if rest, ok := strings.CutPrefix(decimal, "0"); ok && rest != "" {
		all = append(all, rest)
	}
	if fraction, ok := l.Fraction(); ok && fraction != decimal {
		all = append(all, fraction)
	}
	return all
}

// roleOf reads the word for a role as it stands beside a dimension.
func roleOf(word string) Role {
	switch word {
	case "grip":
		return Grip
	case "length", "long", "len", "overall":
		return OverallLength
	case "diameter", "dia", "diam":
		return Diameter
	case "thread", "threads":
		return Thread
	case "thickness", "thick":
		return Thickness
	case "width", "wide":
		return Width
	}
	return AnyRole
}

// answers says whether dimension d is the one that is wanted.
func (d Dim) answers(want Dim) bool {
	if d.Length != want.Length {
		return false
	}
	if want.Role != AnyRole && d.Role != AnyRole && d.Role != want.Role {
		return false
	}
	return want.PerInch == 0 || d.PerInch == want.PerInch
}
