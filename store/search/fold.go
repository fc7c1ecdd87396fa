package search

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// maxCode is how many bytes of a folded designation are indexed. What lies
// behind is still found by its words.
const maxCode = 63

// fold brings a designation or a word to the form in which it is compared:
// small letters without accents, digits, and a point between two digits (AN426AD3-3.5).
func fold(s string) string {
	if isFolded(s) {
		return s
	}
	return string(appendFold(nil, s))
}

func isFolded(s string) bool {
	for i := range len(s) {
		if c := s[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}

// appendFold appends fold(s) to dst.
func appendFold(dst []byte, s string) []byte {
	for i := 0; i < len(s); {
		c := s[i]
		size := 1
		switch {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
			dst = append(dst, c)
		case 'A' <= c && c <= 'Z':
			dst = append(dst, c+'a'-'A')
		case c == '.':
			if i > 0 && i+1 < len(s) && digit(s[i-1]) && digit(s[i+1]) {
				dst = append(dst, '.')
			}
		case c >= utf8.RuneSelf:
			var r rune
			r, size = utf8.DecodeRuneInString(s[i:])
			dst = appendRune(dst, r)
		}
		i += size
	}
	return dst
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// appendRune appends a letter or digit beyond ASCII, small, without accents, of the usual
// width and in single letters: PDFs have ligatures, and some keyboards wide letters.
func appendRune(dst []byte, r rune) []byte {
	if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
		return dst
	}
	var buf [utf8.UTFMax]byte
	n := utf8.EncodeRune(buf[:], unicode.ToLower(r))
	for _, part := range string(norm.NFKD.Bytes(buf[:n])) {
		if !unicode.IsLetter(part) && !unicode.IsDigit(part) {
			continue
		}
		part = unicode.ToLower(part)
		if letters, ok := latin(part); ok {
			dst = append(dst, letters...)
		} else {
			dst = utf8.AppendRune(dst, part)
		}
	}
	return dst
}

// latin spells small letters that are not a letter with an accent to Unicode
// the way they are typed where the keyboard lacks them.
func latin(r rune) (string, bool) {
	switch r {
	case 'ß':
		return "ss", true
	case 'æ':
		return "ae", true
	case 'œ':
		return "oe", true
	case 'ø':
		return "o", true
	case 'ł':
		return "l", true
	}
	return "", false
}

func digit(c byte) bool { return '0' <= c && c <= '9' }

// foldCode folds a designation, cut to what the index holds.
func foldCode(s string) string {
	code := fold(s)
	if len(code) > maxCode {
		code = code[:maxCode]
	}
	return code
}

// appendNatural appends a key under which names sort as people count: AN3-5A
// before AN3-10A before AN310-3, and 3 before 3.5 before 4.
func appendNatural(dst []byte, s string) []byte {
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case digit(c):
			start := i
			for i < len(s) && digit(s[i]) {
				i++
			}
			run := strings.TrimLeft(s[start:i], "0")
			dst = append(dst, '0'+byte(min(len(run), 9)))
			dst = append(dst, run...)
			continue
		case c == '.':
			dst = append(dst, '.')
		case 'A' <= c && c <= 'Z':
			dst = append(dst, c+'a'-'A')
		case 'a' <= c && c <= 'z', c >= utf8.RuneSelf:
			dst = append(dst, c)
		default:
			dst = append(dst, 1)
		}
		i++
	}
	return dst
}

// chunks calls yield with each stretch of s that no space or comma or the like
// divides, and its offset: "Angle", "3/4x3/4x1/8", "10-32", "#10", `1/4"`.
func chunks(s string, yield func(chunk string, offset int)) {
	start := -1
	flush := func(end int) {
		if start < 0 {
			return
		}
		from, to := start, end
		for from < to && (strings.IndexByte("-/_'\"", s[from]) >= 0 || s[from] == '.' && (from+1 == to || !digit(s[from+1]))) {
			from++
		}
		for to > from && strings.IndexByte("-_.", s[to-1]) >= 0 {
			to--
		}
		if from < to {
			yield(s[from:to], from)
		}
		start = -1
	}
	for i, r := range s {
		if inChunk(r) {
			if start < 0 {
				start = i
			}
			continue
		}
		flush(i)
	}
	flush(len(s))
}

func inChunk(r rune) bool {
	if r < utf8.RuneSelf {
		c := byte(r)
		return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || digit(c) || strings.IndexByte("-./#'\"_", c) >= 0
	}
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) || r == '″' || r == '”')
}
