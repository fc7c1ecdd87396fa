package store

import (
	"fmt"
	"strings"
	"time"

	"stowright/store/disk"
)

// Anchor is what a page says of the shop that it was printed from: its newest entry, and the
// hash over that entry and all before it. By that the shop tells years later whether it
// still has all of them as they were (CheckPaper). The zero Anchor is of a shop without entries.
type Anchor struct {
	Entry  uint64    `json:"entry"`
	At     time.Time `json:"at"`
	SHA256 string    `json:"sha256"`
}

// Head is the anchor of the newest entry.
func (r *Reader) Head() (a Anchor, err error) {
	err = r.view(func(tx *disk.Tx) error {
		head, err := tx.Head()
		if err != nil || head.Seq == 0 {
			return err
		}
		e, err := entryOf(head.Record)
		a = Anchor{Entry: head.Seq, At: e.At, SHA256: head.Hash}
		return err
	})
	return a, err
}

// hashGroup is how many digits of a hash stand together on paper.
const hashGroup = 4

// Grouped is the hash as it stands on paper: "3F9A 01C2 ...".
func (a Anchor) Grouped() string {
	var b strings.Builder
	for i, c := range strings.ToUpper(a.SHA256) {
		if i > 0 && i%hashGroup == 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(c)
	}
	return b.String()
}

// Code is the text of the code that stands beside it.
func (a Anchor) Code() string {
	if a.Entry == 0 {
		return ""
	}
	return fmt.Sprintf("%s%d %s", anchorCode, a.Entry, strings.ToUpper(a.SHA256))
}

const anchorCode = "ENTRY "

// OnPaper is the number and the hash of an entry as a page has them, and what became of it.
type OnPaper struct {
	Entry  uint64      `json:"entry"`
	SHA256 string      `json:"sha256"` // its digits as far as they were given
	Answer PaperAnswer `json:"answer"` // empty: not reached, since the journal is damaged before it
	Off    int         `json:"off,omitempty"`
}

// PaperAnswer is whether a shop has an entry as paper has it.
type PaperAnswer string

// The answers.
const (
	AsPrinted   PaperAnswer = "contains it as printed"
	Differs     PaperAnswer = "differs"
	NoSuchEntry PaperAnswer = "no such entry yet"
)

// leastDigits is how many digits of a hash say enough: another shop agrees in them by
// chance once in 2^64.
const leastDigits = 16

// ReadPaper reads what a page says: its hash in either case and in whatever groups, or at
// least its first 16 digits.
func ReadPaper(entry uint64, hash string) (OnPaper, error) {
	digits := strings.Map(func(c rune) rune {
		if c == ' ' || c == '-' || c == ':' || c == '\u00a0' {
			return -1
		}
		return c
	}, strings.ToLower(hash))
	wrong := strings.TrimLeft(digits, "0123456789abcdef")
	switch {
	case entry == 0:
		return OnPaper{}, fail(Invalid, "0", "Entries are numbered from 1: give the number that the paper has.")
	case wrong != "":
		return OnPaper{}, fail(Invalid, wrong[:1], "A hash has the digits 0 to 9 and A to F, and no %q: read the paper again.", []rune(wrong)[0])
	case len(digits) < leastDigits || len(digits) > disk.HashDigits:
		return OnPaper{}, fail(Invalid, digits, "That is a hash of %d digits: give all %d of them, or at least the first %d.", len(digits), disk.HashDigits, leastDigits)
	}
	return OnPaper{Entry: entry, SHA256: digits}, nil
}

// compare holds what the paper says against the hash of its entry.
func (p *OnPaper) compare(hash string) {
	for i := range p.SHA256 {
		if p.SHA256[i] != hash[i] {
			p.Off++
		}
	}
	p.Answer = AsPrinted
	if p.Off > 0 {
		p.Answer = Differs
	}
}

// mistyped is the most digits that differ where a hash was read wrongly: of another hash, 15 in
// 16 do.
const mistyped = 3

// Words is the answer in a sentence. It says nothing of whether what was recorded is true,
// nor who changed it.
func (p OnPaper) Words(newest uint64) string {
	by := ""
	if n := len(p.SHA256); n < disk.HashDigits {
		by = fmt.Sprintf(", by the first %d of its %d digits", n, disk.HashDigits)
	}
	switch {
	case p.Answer == AsPrinted:
		return fmt.Sprintf("Contains entry %d as printed%s: unchanged since that paper.", p.Entry, by)
	case p.Answer == NoSuchEntry && newest == 0:
		return fmt.Sprintf("There is no entry %d yet: nothing was done in this shop.", p.Entry)
	case p.Answer == NoSuchEntry:
		return fmt.Sprintf("There is no entry %d yet: the newest of this shop is %d.", p.Entry, newest)
	case p.Answer == Differs && p.Off <= mistyped:
		digits := "digit"
		if p.Off > 1 {
			digits = "digits"
		}
		return fmt.Sprintf("Differs from the paper at entry %d%s, in %d %s only, which looks mistyped: read the paper again.", p.Entry, by, p.Off, digits)
	case p.Answer == Differs:
		return fmt.Sprintf("Differs from the paper at entry %d%s: that entry or one before it is not what it was.", p.Entry, by)
	}
	return fmt.Sprintf("Entry %d cannot be told from the paper: the journal is damaged before it.", p.Entry)
}

// BegunWords says of which entries the chain of hashes was begun later; empty where it has
// them all.
func (r Report) BegunWords() string {
	switch {
	case r.Entries < 2 || r.Begun == 2:
		return ""
	case r.Begun == 0:
		return "The chain of hashes begins with the next entry: those that are there were written by an older program."
	}
	return fmt.Sprintf("Entries before %d were there when the chain of hashes was begun: it covers them from then on.", r.Begun)
}
