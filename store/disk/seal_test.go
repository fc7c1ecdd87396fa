package disk

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"strings"
	"testing"

	"pgregory.net/rapid"
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

// The seal of an index entry of no body, and of one with, as another implementation of
// CRC-32C has it over by_tag, 0, the length of the key in four bytes, the key and the body.
func TestSealOfIndex(t *testing.T) {
	s := newSealer("by_tag", Index, true)
	for _, row := range []struct{ key, body, want string }{
		{"A-07\x00", "", "549c45cb"}, {"A-07", "x", "40ed2210x"},
	} {
		if got := string(s.seal([]byte(row.key), []byte(row.body))); got != row.want {
			t.Errorf("%q, %q is sealed %s, want %s", row.key, row.body, got, row.want)
		}
	}
}

// What is worked out by hand is what the standard library would say.
func TestChecksumByHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sum, length := rapid.Uint32().Draw(t, "sum"), int(rapid.Uint32().Draw(t, "length"))
		want := crc32.Update(sum, castagnoli, binary.BigEndian.AppendUint32(nil, uint32(length)))
		if got := sumOfLength(sum, length); got != want {
			t.Fatalf("%08x over the length %d is %08x, want %08x", sum, length, got, want)
		}
		text := fmt.Sprintf("%08x", sum)
		if got := digits(sum); got != text || !isDigits(sum, []byte(text)) {
			t.Fatalf("the digits of %s are %s, and are taken for them: %t", text, got, isDigits(sum, []byte(text)))
		}
		at := rapid.IntRange(0, sumDigits-1).Draw(t, "at")
		other := []byte(text)
		other[at] = rapid.SampledFrom([]byte("0123456789abcdefABCDEF gx")).Draw(t, "other")
		if isDigits(sum, other) != (string(other) == text) {
			t.Fatalf("%s is taken for %s", other, text)
		}
	})
}

// What is sealed opens as it was, by every kind and format, and one format is not taken for
// another.
func TestSealersBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]Kind{Table, Index}).Draw(t, "kind")
		keyed := rapid.Bool().Draw(t, "keyed")
		key, body := rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(t, "key"), rapid.SliceOf(rapid.Byte()).Draw(t, "body")
		s := newSealer(rapid.SampledFrom([]string{"", "items", "by_tag"}).Draw(t, "name"), kind, keyed)
		sealed := s.seal(key, body)
		if sealed == nil {
			t.Fatal("bbolt would take it for a bucket")
		}
		got, err := s.open(key, sealed)
		if err != nil || got == nil || !bytes.Equal(got, body) {
			t.Fatalf("%q sealed %q opens as %q, %v", body, sealed, got, err)
		}
		s.keyed = !keyed
		if got, err := s.open(key, sealed); err == nil && (kind == Table || !keyed) {
			t.Fatalf("sealed as keyed %t, it opens otherwise as %q", keyed, got)
		}
	})
}

// What a record lacks is told by how far it goes wrong.
func TestSealsSayWhatIsWrong(t *testing.T) {
	key := []byte("AN3-5A")
	table, index, old := newSealer("items", Table, true), newSealer("by_tag", Index, true), newSealer("items", Table, false)
	sealed := string(table.seal(key, []byte("{}")))
	blobs := newSealer(bucketBlobs, Blobs, true)
	for _, row := range []struct {
		name   string
		s      sealer
		sealed string
		want   string
	}{
		{"nothing", table, "", "record of 0 bytes has no version 2 envelope"},
		{"an envelope alone", table, keyedPrefix + `00000000","d":`, "record of 31 bytes has no version 2 envelope"},
		{"an empty body", table, keyedPrefix + `00000000","d":}`, "record of 32 bytes: checksum is 84c84bd5, its envelope says 00000000"},
		{"the older version", table, string(old.seal(key, []byte("{}"))), "record of 34 bytes has no version 2 envelope"},
		{"the newer version", old, sealed, "record of 34 bytes has no version 1 envelope"},
		{"another middle", table, strings.Replace(sealed, `"d"`, `"D"`, 1), "record of 34 bytes has a damaged envelope"},
		{"another end", table, sealed[:len(sealed)-1] + "]", "record of 34 bytes has a damaged envelope"},
		{"another body", table, strings.Replace(sealed, "{}", "[]", 1), ""},
		{"no seal", index, "1234567", "index entry of 7 bytes has no seal"},
		{"large digits", index, strings.ToUpper(string(index.seal(key, nil))), ""},
		{"no part", blobs, "JPEG", "a part of 4 bytes has a damaged envelope"},
		{"a part of another", blobs, string(sealPart(2, 1, 3, nil)), "part 1 of blob 2 is filed under 414e332d3541"},
	} {
		t.Run(row.name, func(t *testing.T) {
			body, err := row.s.opened(key, []byte(row.sealed))
			if err == nil || row.want != "" && err.Error() != row.want {
				t.Errorf("%q opens as %q, %v; want %q", row.sealed, body, err, row.want)
			}
			wantSaid := fmt.Sprintf("corrupt: A record of the table %q is damaged: keep the file, and open a copy made earlier.", row.s.name)
			if body, err := row.s.open(key, []byte(row.sealed)); said(err, "kit.stow") != wantSaid || body != nil {
				t.Errorf("it is said %v, with %q", err, body)
			}
		})
	}
}

func ExampleSeal() {
	fmt.Printf("%s\n", Seal([]byte(`{"seq":1,"prev":""}`)))
	fmt.Println(Checksum([]byte(`{"seq":1,"prev":""}`)))
	// Output:
	// {"v":1,"crc32c":"c80a3475","d":{"seq":1,"prev":""}}
	// c80a3475
}
