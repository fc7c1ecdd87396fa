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

// IsTag reports whether text is a well-formed tag of ours: ten characters, which are
// S, a kind letter, seven Crockford base 32 characters and the right check character.
// The text must be as it is encoded: in capitals, without spaces.
func IsTag(text string) bool {
	if len(text) != TagLength {
		return false
	}
	tag := [TagLength]byte([]byte(text))
	return isTagBytes(&tag)
}

func isTagBytes(tag *[TagLength]byte) bool {
	if tag[0] != 'S' || strings.IndexByte(tagKinds, tag[1]) < 0 {
		return false
	}
	for _, c := range tag[2:] {
		if strings.IndexByte(crockford, c) < 0 {
			return false
		}
	}
	check, ok := checkCharacter(tag[:TagLength-1])
	return ok && check == tag[TagLength-1]
}

// checkCharacter is the ISO/IEC 7064 MOD 37,36 check character of body, which
// must hold digits and capital letters only.
func checkCharacter(body []byte) (byte, bool) {
	const m = 36
	p := m
	for _, c := range body {
		v := strings.IndexByte(alphanumeric, c)
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
