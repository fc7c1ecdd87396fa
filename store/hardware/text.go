package hardware

import "strings"

// maxText is the longest text that is looked at; no designation comes near it.
const maxText = 64

// prefixes are the letters that designations begin with, longest first.
var prefixes = [...]string{"NASM", "NAS", "AN", "MS", "AS", "M"}

// normal writes text in capitals with plain dashes and spaces into buf. It says
// false for text that cannot hold a designation.
func normal(buf []byte, text string) ([]byte, bool) {
	if len(text) > maxText {
		return nil, false
	}
	for _, r := range text {
		switch {
		case r >= 'a' && r <= 'z':
			r += 'A' - 'a'
		case r == '\t', r == '\n', r == '\r', r == '\u00a0', r == '_':
			r = ' '
		case r == '‐', r == '‑', r == '–', r == '—', r == '−':
			r = '-'
		case r == '×':
			r = 'X'
		case r == '½':
			buf = append(buf, '.')
			r = '5'
		case r < ' ' || r > '~':
			return nil, false
		}
		buf = append(buf, byte(r))
	}
	return buf, true
}

// start finds the first designation prefix that only quantity or bag marks
// stand in front of, and where the digits of the standard begin behind it.
func start(s []byte) (prefix string, digits int, ok bool) {
	for i := range s {
		if i > 0 && (alphanumeric(s[i-1]) || s[i-1] == '-' || s[i-1] == '.') {
			continue
		}
		for _, p := range prefixes {
			if len(s)-i <= len(p) || string(s[i:i+len(p)]) != p {
				continue
			}
			j := skipSeparators(s, i+len(p))
			if j < len(s) && digit(s[j]) && (i == 0 || marks(string(s[:i]), nil)) {
				return p, j, true
			}
		}
	}
	return "", 0, false
}

func skipSeparators(s []byte, i int) int {
	for i < len(s) && (s[i] == ' ' || s[i] == '-') {
		i++
	}
	return i
}

func run(s []byte, i int, is func(byte) bool) int {
	for i < len(s) && is(s[i]) {
		i++
	}
	return i
}

func digit(c byte) bool        { return c >= '0' && c <= '9' }
func upper(c byte) bool        { return c >= 'A' && c <= 'Z' }
func alphanumeric(c byte) bool { return digit(c) || upper(c) }

// markWords may stand around a designation on a bag or in a list (common practice).
var markWords = map[string]bool{
	"X": true, "EA": true, "EACH": true, "PC": true, "PCS": true, "PIECE": true, "PIECES": true,
	"QTY": true, "QUANTITY": true, "BAG": true, "BAGS": true, "PKG": true, "PACK": true, "BOX": true, "OF": true,
	"PN": true, "P/N": true, "PART": true, "NO": true, "LB": true, "LBS": true, "OZ": true, "G": true, "KG": true,
	"FT": true, "IN": true, "SET": true, "OFF": true, "ITEM": true, "LINE": true, "LOT": true,
	"BOLT": true, "BOLTS": true, "NUT": true, "NUTS": true, "WASHER": true, "WASHERS": true, "RIVET": true,
	"RIVETS": true, "SCREW": true, "SCREWS": true, "PIN": true, "PINS": true,
}

// tradeWords may stand around a designation as well: what it is, what it is
// made of and where it goes. None of them is another part than the piece itself.
var tradeWords = words("HEX", "HEAD", "HEADED", "STEEL", "STAINLESS", "ALUMINUM", "ALUMINIUM", "BRASS", "CAD", "CADMIUM", "PLATED", "DRILLED", "UNDRILLED", "SHANK",
	"NYLON", "FIBER", "FIBRE", "INSERT", "METAL",
	"UNIVERSAL", "FLUSH", "COUNTERSUNK", "CSK", "DOME", "ROUND", "PAN", "FLAT", "THIN", "THICK", "LOCK", "LOCKNUT", "CASTLE", "PLAIN", "SELF", "LOCKING", "CLEVIS",
	"COTTER", "SOLID", "BLIND", "AIRCRAFT", "STD", "STANDARD", "LIGHT", "MACHINE", "STRUCTURAL", "CLAMP", "CLAMPS", "O", "RING", "ORING", "FITTING", "ELBOW", "TEE", "UNION",
	"HINGE", "WING", "SPAR", "RIB", "TAIL", "RUDDER", "ELEVATOR", "AILERON", "FLAP", "FUSELAGE", "ENGINE", "MOUNT", "GEAR", "FUEL", "TANK", "SKIN", "LEFT", "RIGHT")

// wordsBehind may stand behind a designation only: "AN3-5A bolt for the hinge".
// In front of it "for" would make it another part's: "bracket for AN3-5A".
var wordsBehind = words("FOR", "THE", "IN", "ON", "AT", "A", "AN")

func words(list ...string) map[string]bool {
	out := make(map[string]bool, len(list))
	for _, w := range list {
		out[w] = true
	}
	return out
}

// marks says that text holds nothing but quantity and bag marks, "24 x", "(12)",
// "bag H103:", "qty 6 ea", and words of the trade.
func marks(text string, more map[string]bool) bool {
	named := false // the word before names what follows: BAG H103
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ()[]{},;=*#'\"-", r) }) {
		label := strings.HasSuffix(w, ":")
		w = strings.Trim(w, ":.")
		switch {
		case w == "", label && len(w) <= 8:
		case named && len(w) <= 8:
			named = false
			continue
		case markWords[w], tradeWords[w], more[w], quantityMark(w):
		default:
			return false
		}
		named = w == "BAG" || w == "LOT" || w == "LINE" || w == "ITEM" || w == "BOX"
	}
	return true
}

// quantityMark reads "24", "1.5", "X24", "24X", "24EA", and sizes as in "32X1/2".
func quantityMark(w string) bool {
	w = strings.TrimPrefix(w, "X")
	for {
		rest := strings.TrimLeft(w, "0123456789.,/")
		if rest == w {
			return false
		}
		if rest == "" || markWords[rest] {
			return true
		}
		if rest[0] != 'X' {
			return false
		}
		w = rest[1:]
	}
}
