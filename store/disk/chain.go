package disk

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
)

// The checksums of the journal are proof against accident and none against a hand: whoever
// changes a record can work them out again. So each record carries the hash of the one
// before it as well, which covers that one and all that came before. A hash that stands on
// paper then tells of any change up to that record, long after.
//
// The hash of a record is not written with it: it follows from its body and from the hash
// that the body carries. The records of a file that a program before ChainHashed made carry
// none. Theirs is worked out in the same way from the first one on, and the first record
// after them carries it, so that they are covered too.

// ChainHashed is the first format of the file whose programs have records carry the hash of
// the one before.
const ChainHashed = 7

// HashDigits is how many hexadecimal digits a hash has.
const HashDigits = 2 * sha256.Size

// Hash is the hash of a record of the journal in hexadecimal digits: SHA-256 of the digits of
// the hash of the record before it, none for the first, and of its body.
func Hash(before string, body []byte) string {
	h := sha256.New()
	h.Write([]byte(before)) // a hash takes everything
	h.Write(body)
	return hex.EncodeToString(h.Sum(nil))
}

// How a body ends that carries the hash of the record before it.
const (
	hashStart = `,"prev_sha256":"`
	hashEnd   = `"}`
)

// CarriedHash is the hash of the record before it that a body carries in its last field,
// "prev_sha256"; false where it carries none.
func CarriedHash(body []byte) (hash string, ok bool) {
	rest, ok := bytes.CutSuffix(body, []byte(hashEnd))
	if !ok || len(rest) < len(hashStart)+HashDigits {
		return "", false
	}
	digits := rest[len(rest)-HashDigits:]
	for _, c := range digits {
		if bytes.IndexByte([]byte(hexDigits), c) < 0 {
			return "", false
		}
	}
	return string(digits), bytes.HasSuffix(rest[:len(rest)-HashDigits], []byte(hashStart))
}

// Head is the newest record of the journal with its hash; zero where there is none.
type Head struct {
	Record
	Hash string
}

// Head is where the journal ends. Where the newest record carries no hash, all records are
// gone over once by plain reads, and what came out is kept as long as the file is open.
func (t *Tx) Head() (Head, error) {
	r, err := t.newest()
	if err != nil || r.Seq == 0 {
		return Head{}, err
	}
	before, carries := CarriedHash(r.Body)
	if carries || r.Seq == 1 {
		return Head{r, Hash(before, r.Body)}, nil
	}
	if known := t.file.hashed.Load(); known != nil && known.end == r.end() {
		return Head{r, known.hash}, nil
	}
	hash := ""
	if err := t.Records(func(r Record, damage error) error {
		hash = Hash(hash, r.Body)
		return damage
	}); err != nil {
		return Head{}, err
	}
	if t.records == 0 { // what this transaction wrote may come to nothing
		t.file.hashed.Store(&hashedEnd{r.end(), hash})
	}
	return Head{r, hash}, nil
}

// hashedEnd is the end of a journal of records that carry no hashes, with its hash.
type hashedEnd struct {
	end  End
	hash string
}
