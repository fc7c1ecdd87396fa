package scan

import "strings"

// TagLength is the number of characters of a tag of ours.
const TagLength = 10

const (
	// crockford is the alphabet of a tag's seven drawn characters.
	// Source: Crockford base 32, which leaves out I, L, O and U.
	crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	// tagKinds are the letters for place, bag, crate and sub-assembly.
	tagKinds = "PBCS"
	// alphanumeric is the alphabet of ISO/IEC 7064 MOD 37,36 and the first 36
	// characters of the QR alphanumeric mode, in the same order.
	alphanumeric = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
)

// IsTag says whether text has the form of a tag of ours: ten characters, S, a
// kind letter, seven Crockford characters and the right check character. It
// takes the text as printed, with no spaces and in capitals.
func IsTag(text string) bool {
	if len(text) != TagLength || text[0] != 'S' || strings.IndexByte(tagKinds, text[1]) < 0 {
		return false
	}
	for i := 2; i < TagLength; i++ {
		if strings.IndexByte(crockford, text[i]) < 0 {
			return false
		}
	}
	check, ok := checkCharacter(text[:TagLength-1])
	return ok && check == text[TagLength-1]
}

// checkCharacter is the ISO/IEC 7064 MOD 37,36 check character of body, which
// must hold digits and capital letters only.
func checkCharacter(body string) (byte, bool) {
	const m = 36
	p := m
	for i := range len(body) {
		v := strings.IndexByte(alphanumeric, body[i])
		if v < 0 {
			return 0, false
		}
		p += v
		if p > m {
			p -= m
		}
		p *= 2
		if p > m {
			p -= m + 1
		}
	}
	return alphanumeric[(m+1-p)%m], true
}
