package disk

import (
	"bytes"
	"fmt"
	"hash/crc32"
)

// Every record in the file is JSON in an envelope that carries a version and a CRC-32C:
//
//	{"v":2,"crc32c":"e3069283","d":{...}}
//
// Any tool can read it, and a flipped bit is noticed rather than shown as stock. The
// checksum of version 2 covers the name of the bucket, the key and the body, so that a
// record is proven to be the one of its key; that of version 1 covers the body alone.
// Records are of version 1 in files of a format before KeysSealed, and so are the records
// of the journal in every format: their body says which number they have, and each
// carries the checksum of the one before it.
//
// An index entry of a format from KeysSealed on is the same checksum as eight digits,
// with its body, which is often empty, after them.
const (
	envelopeStart  = `{"v":`
	envelopePrefix = `{"v":1,"crc32c":"`
	keyedPrefix    = `{"v":2,"crc32c":"`
	envelopeMiddle = `","d":`
	sumDigits      = 8
	envelopeHead   = len(envelopePrefix) + sumDigits + len(envelopeMiddle)
)

// KeysSealed is the first format of the file in which the checksum of a record or an
// index entry covers its key.
const KeysSealed = 5

// Castagnoli is the polynomial of all checksums.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Checksum is the CRC-32C of bytes in eight hexadecimal digits.
func Checksum(body []byte) string { return digits(crc32.Checksum(body, castagnoli)) }

func digits(sum uint32) string { return string(appendDigits(nil, sum)) }

// appendDigits makes them by hand: it is done for every record that is written.
func appendDigits(to []byte, sum uint32) []byte {
	for shift := 28; shift >= 0; shift -= 4 {
		to = append(to, hexDigits[sum>>shift&15])
	}
	return to
}

const hexDigits = "0123456789abcdef"

// isDigits reports whether eight bytes are the digits of a checksum.
func isDigits(sum uint32, says []byte) bool {
	for i, shift := 0, 28; i < sumDigits; i, shift = i+1, shift-4 {
		if says[i] != hexDigits[sum>>shift&15] {
			return false
		}
	}
	return true
}

// sumOfLength goes on with a checksum over the four bytes of a length, the highest first.
// It is worked out here since bytes that are handed to package crc32 are allocated.
func sumOfLength(sum uint32, length int) uint32 {
	sum = ^sum
	for shift := 24; shift >= 0; shift -= 8 {
		sum = castagnoli[byte(sum)^byte(length>>shift)] ^ sum>>8
	}
	return ^sum
}

// Seal wraps the JSON body of a journal record into its envelope.
func Seal(body []byte) []byte {
	return envelope(envelopePrefix, crc32.Checksum(body, castagnoli), body)
}

func envelope(prefix string, sum uint32, body []byte) []byte {
	out := make([]byte, 0, envelopeHead+len(body)+1)
	out = append(out, prefix...)
	out = appendDigits(out, sum)
	out = append(out, envelopeMiddle...)
	out = append(out, body...)
	return append(out, '}')
}

// unseal returns the body of an envelope of version 1, which stays part of it, and its checksum.
func unseal(sealed []byte) (body []byte, sum string, err error) {
	body, says, err := opened(envelopePrefix, sealed)
	if err != nil {
		return nil, "", err
	}
	return body, string(says), sameSum(crc32.Checksum(body, castagnoli), says, sealed)
}

// opened takes an envelope apart without looking at its checksum.
func opened(prefix string, sealed []byte) (body, sum []byte, err error) {
	switch {
	case len(sealed) < envelopeHead+1 || string(sealed[:len(prefix)]) != prefix:
		return nil, nil, fmt.Errorf("record of %d bytes has no version %c envelope", len(sealed), prefix[len(envelopeStart)])
	case string(sealed[envelopeHead-len(envelopeMiddle):envelopeHead]) != envelopeMiddle || sealed[len(sealed)-1] != '}':
		return nil, nil, fmt.Errorf("record of %d bytes has a damaged envelope", len(sealed))
	}
	return sealed[envelopeHead : len(sealed)-1], sealed[len(prefix) : len(prefix)+sumDigits], nil
}

func sameSum(is uint32, says, sealed []byte) error {
	if !isDigits(is, says) {
		return fmt.Errorf("record of %d bytes: checksum is %s, its envelope says %s", len(sealed), digits(is), says)
	}
	return nil
}

// sealer seals and opens what lies in one bucket of a file.
type sealer struct {
	name  string
	kind  Kind
	keyed bool // the file is of a format from KeysSealed on

	nameSum uint32 // checksum of the name and a zero byte, which ends it
}

func newSealer(name string, kind Kind, keyed bool) sealer {
	return sealer{name, kind, keyed, crc32.Checksum(append([]byte(name), 0), castagnoli)}
}

// sum is the checksum over the name of the bucket, a key and a body. The length of the
// key stands before it, so that no two of them give the same bytes.
func (s sealer) sum(key, body []byte) uint32 {
	sum := sumOfLength(s.nameSum, len(key))
	sum = crc32.Update(sum, castagnoli, key)
	return crc32.Update(sum, castagnoli, body)
}

func (s sealer) seal(key, body []byte) []byte {
	switch {
	case s.kind == Index && s.keyed:
		return append(appendDigits(make([]byte, 0, sumDigits+len(body)), s.sum(key, body)), body...)
	case s.kind == Index:
		return append([]byte{}, body...) // never nil: bbolt takes that for a bucket of its own
	case s.keyed:
		return envelope(keyedPrefix, s.sum(key, body), body)
	}
	return Seal(body)
}

// open returns the body of what lies under a key, which stays part of it.
func (s sealer) open(key, sealed []byte) ([]byte, error) {
	body, err := s.opened(key, sealed)
	if err != nil {
		return nil, s.damaged(key, err)
	}
	return body, nil
}

func (s sealer) opened(key, sealed []byte) ([]byte, error) {
	switch {
	case s.kind == Journal:
		r, err := openRecord(key, sealed)
		return r.Body, err
	case s.kind == Blobs:
		p, raw, err := openPart(sealed)
		if err == nil && !bytes.Equal(key, partKey(p.blob, p.index)) {
			err = fmt.Errorf("part %d of blob %d is filed under %x", p.index, p.blob, key)
		}
		return raw, err
	case s.kind == Index && !s.keyed:
		return sealed, nil
	case s.kind == Index:
		if len(sealed) < sumDigits {
			return nil, fmt.Errorf("index entry of %d bytes has no seal", len(sealed))
		}
		body := sealed[sumDigits:]
		return body, sameSum(s.sum(key, body), sealed[:sumDigits], sealed)
	case !s.keyed:
		body, _, err := unseal(sealed)
		return body, err
	}
	body, sum, err := opened(keyedPrefix, sealed)
	if err != nil {
		return nil, err
	}
	return body, sameSum(s.sum(key, body), sum, sealed)
}
