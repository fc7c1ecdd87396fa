package disk

import (
	"bytes"
	"encoding/json"
	"testing"
)

func TestSeal(t *testing.T) {
	// The check value of CRC-32C for "123456789" is e3069283 (RFC 3720, and the
	// catalogue of parametrised CRC algorithms).
	if got := Checksum([]byte("123456789")); got != "e3069283" {
		t.Errorf("checksum of 123456789 is %s, want e3069283", got)
	}
	sealed := Seal([]byte(`{"a":1}`))
	if !json.Valid(sealed) {
		t.Errorf("%s is not JSON", sealed)
	}
	body, sum, err := unseal(sealed)
	if err != nil || string(body) != `{"a":1}` || sum != Checksum(body) {
		t.Errorf("unsealed %s, %s, %v", body, sum, err)
	}
	for i := range sealed {
		for _, bit := range []byte{1, 0x20, 0x80} {
			wrong := bytes.Clone(sealed)
			wrong[i] ^= bit
			if body, _, err := unseal(wrong); err == nil {
				t.Errorf("%s, with byte %d flipped, is read as %s", sealed, i, body)
			}
		}
		if _, _, err := unseal(sealed[:i]); err == nil {
			t.Errorf("%s, cut to %d bytes, is read", sealed, i)
		}
	}
}

func FuzzUnseal(f *testing.F) {
	f.Add([]byte(`{"q":"24 ea"}`))
	f.Add(Seal([]byte(`{"q":"24 ea"}`)))
	f.Add([]byte(`{"v":1,"crc32c":"00000000","d":}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		body, sum, err := unseal(Seal(data))
		if err != nil || !bytes.Equal(body, data) || sum != Checksum(data) {
			t.Fatalf("%q sealed and unsealed is %q, %v", data, body, err)
		}
		if body, _, err := unseal(data); err == nil && !bytes.Equal(Seal(body), data) {
			t.Fatalf("%q is read as %q, which is sealed otherwise", data, body)
		}
	})
}

// A part says what it is at its very beginning, and nothing else passes for one.
func TestParts(t *testing.T) {
	raw := []byte("any bytes \x00\xff{}")
	sealed := sealPart(17, 2, 5, raw)
	p, got, err := openPart(sealed)
	if err != nil || !bytes.Equal(got, raw) || p.blob != 17 || p.index != 2 || p.parts != 5 || p.length() != len(sealed) {
		t.Errorf("%+v, %q, %v", p, got, err)
	}
	for i := range sealed {
		spoiled := bytes.Clone(sealed)
		spoiled[i] ^= 1
		if p, _, err := openPart(spoiled); err == nil {
			t.Errorf("byte %d spoiled: taken as %+v", i, p)
		}
	}
	for _, bad := range []string{
		"", envelopePrefix, envelopePrefix + `00000000","picture":`, envelopePrefix + `00000000","picture":1,"part":2,"parts":2,"bytes":0,"jpeg":}`,
		envelopePrefix + `00000000","picture":1,"part":0,"parts":1,"bytes":99999999,"jpeg":}`, envelopePrefix + `00000000","picture": 1,"part":0,"parts":1,"bytes":0,"jpeg":}`,
		envelopePrefix + `00000000","picture":1,"part":-1,"parts":1,"bytes":0,"jpeg":}`, string(Seal([]byte(`{"seq":1}`))),
	} {
		if p, ok := partAt([]byte(bad)); ok {
			t.Errorf("%q is taken for %+v", bad, p)
		}
	}
}
