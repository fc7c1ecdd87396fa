package store

import (
	"fmt"
	"strconv"
	"strings"
)

// Records that have a number for life, such as R-31, are filed under it with leading
// zeros, so that the last key is that of the highest number. What Undo takes back stays
// as a record that says so: a number is never given twice.

// numberKey is the key of a number.
func numberKey(n uint64) string { return fmt.Sprintf("%08d", n) }

// maxNumber is the highest number that a key has room for.
const maxNumber = 99_999_999

// nextNumber is the number that the next record of a table gets.
func (w *writer) nextNumber(table string) (uint64, error) {
	b, err := w.ledger.tx.Bucket(table)
	if err != nil {
		return 0, err
	}
	last, err := b.Last()
	if err != nil || last == nil {
		return 1, err
	}
	n, err := strconv.ParseUint(string(last), 10, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is no key of %s: %w", last, table, err)
	}
	if n >= maxNumber {
		return 0, fail(Conflict, table, "There are %d of them, and no more can be kept: begin another shop file.", maxNumber)
	}
	return n + 1, nil
}

// numbered reads a name such as R-31, r31 or 31; letter is "R".
func numbered(letter, name string) (uint64, bool) {
	digits := strings.TrimPrefix(strings.TrimPrefix(strings.ToUpper(strings.TrimSpace(name)), letter), "-")
	n, err := strconv.ParseUint(digits, 10, 32)
	return n, err == nil && n > 0 && n <= maxNumber
}

// numberName is R-31.
func numberName(letter string, n uint64) string {
	return letter + "-" + strconv.FormatUint(n, 10)
}

// marked is what is left of a record with a number whose making is undone.
func marked[T any](mark func(v *T)) func(body []byte) ([]byte, error) {
	return func(body []byte) ([]byte, error) {
		v, err := decode[T](body)
		if err != nil {
			return nil, err
		}
		mark(&v)
		return encode(v)
	}
}
