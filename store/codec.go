package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"
)

// Every value in the file is JSON in an envelope that carries the version of the
// record and a CRC-32C of its body:
//
//	{"v":1,"crc32c":"e3069283","d":{...}}
//
// Any tool can read it, and a flipped byte is noticed rather than shown as stock.
const (
	recordVersion  = 1
	envelopePrefix = `{"v":1,"crc32c":"`
	envelopeMiddle = `","d":`
	sumDigits      = 8
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func checksum(body []byte) string { return fmt.Sprintf("%08x", crc32.Checksum(body, castagnoli)) }

// seal wraps a JSON body into its envelope.
func seal(body []byte) []byte {
	out := make([]byte, 0, len(body)+len(envelopePrefix)+sumDigits+len(envelopeMiddle)+1)
	out = append(out, envelopePrefix...)
	out = append(out, checksum(body)...)
	out = append(out, envelopeMiddle...)
	out = append(out, body...)
	return append(out, '}')
}

// unseal returns a copy of the body of an envelope and its checksum.
func unseal(sealed []byte) (body []byte, sum string, err error) {
	const head = len(envelopePrefix) + sumDigits + len(envelopeMiddle)
	switch {
	case len(sealed) < head+1 || !bytes.HasPrefix(sealed, []byte(envelopePrefix)):
		return nil, "", fmt.Errorf("record of %d bytes has no version %d envelope", len(sealed), recordVersion)
	case string(sealed[head-len(envelopeMiddle):head]) != envelopeMiddle || sealed[len(sealed)-1] != '}':
		return nil, "", fmt.Errorf("record of %d bytes has a damaged envelope", len(sealed))
	}
	sum = string(sealed[len(envelopePrefix) : len(envelopePrefix)+sumDigits])
	body = bytes.Clone(sealed[head : len(sealed)-1])
	if got := checksum(body); got != sum {
		return nil, "", fmt.Errorf("record of %d bytes: checksum is %s, its envelope says %s", len(sealed), got, sum)
	}
	return body, sum, nil
}

func encode(v any) ([]byte, error) {
	body, err := json.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("encoding %T: %w", v, err)
	}
	return body, nil
}

func decode[T any](body []byte) (T, error) {
	var v T
	if err := json.Unmarshal(body, &v); err != nil {
		return v, fmt.Errorf("decoding %T: %w", v, err)
	}
	return v, nil
}
