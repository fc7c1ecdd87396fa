package store

import (
	"fmt"
	"io"
	"strings"
)

// TagKind says what a tag names.
type TagKind byte

// The kinds of tag, by their letter.
const (
	TagPlace       TagKind = 'P'
	TagBag         TagKind = 'B'
	TagCrate       TagKind = 'C'
	TagSubAssembly TagKind = 'S'
)

func (k TagKind) String() string {
	switch k {
	case TagPlace:
		return "place"
	case TagBag:
		return "bag"
	case TagCrate:
		return "crate"
	case TagSubAssembly:
		return "sub-assembly"
	}
	return "unknown"
}

// Tag is the short code on a label: S, the letter of its kind, seven characters
// of Crockford base 32 drawn at random, and one check character by ISO/IEC 7064
// MOD 37,36. It carries no name and no position, so that no renaming or moving
// spoils a printed label.
type Tag string

const (
	tagLength = 10
	// crockford is Crockford's base 32: no I, L, O or U, so that nothing can be misread.
	crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	// alphabet36 gives the characters their values in ISO/IEC 7064 MOD 37,36.
	alphabet36 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
)

// Kind is the kind the tag was drawn for.
func (t Tag) Kind() TagKind {
	if len(t) != tagLength {
		return 0
	}
	return TagKind(t[1])
}

// Spaced is the tag as it stands under its code, "SP 7K3M 9QXD".
func (t Tag) Spaced() string {
	if len(t) != tagLength {
		return string(t)
	}
	return string(t[:2]) + " " + string(t[2:6]) + " " + string(t[6:])
}

// NewTag draws a tag of a kind from random.
func NewTag(random io.Reader, kind TagKind) (Tag, error) {
	var raw [tagLength - 3]byte
	for {
		if _, err := io.ReadFull(random, raw[:]); err != nil {
			return "", fmt.Errorf("drawing a tag: %w", err)
		}
		body := []byte{'S', byte(kind)}
		for _, b := range raw {
			body = append(body, crockford[b&31])
		}
		check := checkCharacter(string(body))
		// A check character outside Crockford's letters could be misread: draw again.
		if strings.IndexByte(crockford, check) >= 0 {
			return Tag(append(body, check)), nil
		}
	}
}

// checkCharacter is the check character of ISO/IEC 7064 MOD 37,36 for body,
// which holds only digits and capital letters.
func checkCharacter(body string) byte {
	const m = 36
	p := m
	for i := range len(body) {
		s := (p + strings.IndexByte(alphabet36, body[i])) % m
		if s == 0 {
			s = m
		}
		p = s * 2 % (m + 1)
	}
	return alphabet36[(m+1-p)%m]
}

// TagProblem says why a text is not a tag of any shop.
type TagProblem string

// What can be wrong with a text that should be a tag.
const (
	NotATag  TagProblem = "not a tag" // it does not have the form of a tag at all
	Mistyped TagProblem = "mistyped"  // it has the form, and the check character says no
)

// ParseTag reads a tag as typed or scanned: case, spaces and dashes do not
// matter, and I, L and O are read as the digits they look like. The problem is
// empty for a good tag.
func ParseTag(text string) (Tag, TagProblem) {
	if len(text) > 3*tagLength {
		return "", NotATag
	}
	clean := strings.Map(func(r rune) rune {
		switch r {
		case ' ', '-', '\t', '\r', '\n':
			return -1
		case 'o', 'O':
			return '0'
		case 'i', 'I', 'l', 'L':
			return '1'
		}
		return r
	}, text)
	clean = strings.ToUpper(clean)
	if len(clean) != tagLength || clean[0] != 'S' || !strings.ContainsRune("PBCS", rune(clean[1])) {
		return "", NotATag
	}
	for i := 2; i < tagLength; i++ {
		if strings.IndexByte(crockford, clean[i]) < 0 {
			return "", NotATag
		}
	}
	if checkCharacter(clean[:tagLength-1]) != clean[tagLength-1] {
		return "", Mistyped
	}
	return Tag(clean), ""
}
