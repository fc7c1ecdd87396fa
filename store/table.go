package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
)

// table is all that the rest of the store has to know of one table of a shop. What
// replays, checks, exports, compares and restores a shop goes over tables and asks here;
// so a new table is one descriptor, and the verb that changes it. No field is left empty:
// where there is nothing to say, that is said.
type table struct {
	name  string
	one   string // of its records, for people: "place"
	since int    // the format of the file in which it appeared
	keys  keys
	by    changing
	forms []form

	// valid says what is wrong with a record from outside: that it is none of this table, or
	// lies under a key that is not its own. Of amounts only the key is looked at.
	valid func(key string, body []byte) error

	// refers are the records that one names and that have to be there.
	refers func(key string, body []byte) ([]reference, error)

	indexes []index
	touches func(c Change) (touched, error)

	// differs is where a record that is otherwise in another state of the shop is counted;
	// nil for one that goes with another record, or is listed and not counted.
	differs func(d *Difference) *int

	// unmade is what is left of a record when the entry that made it is undone; nil: nothing.
	unmade func(body []byte) ([]byte, error)

	sheet sheet
}

// keys says where the keys of a table come from.
type keys int

const (
	named keys = iota + 1 // from what the records say
	drawn                 // ids, each of which sorts after all that there were
)

// changing is how entries change the records of a table.
type changing int

const (
	replacing changing = iota + 1 // a record before and after
	adding                        // an amount, by how much
)

// form is what the records of a table are, or some of them where the key says which.
type form struct {
	record reflect.Type
	schema string // its name among the definitions of the schema of exports
}

// reference names a record of a table.
type reference struct{ table, key string }

// index is a list of keys that follow from the records of a table, for reading them by
// something else than their key. It has no values and is never written by hand.
type index struct {
	name  string
	since int
	fixed bool // the key follows from that of the record alone
	key   func(key string, body []byte) (string, error)
}

// touched is what a change is about, as whoever shows it knows it.
type touched struct {
	item     string // designation
	place    string // id
	shipment string // id
	figures  string // designation
	photos   Subject
	building Concern
}

// sheet is where people find a table among those that they open in a spreadsheet: in a
// file with rows of its own, in that of another table, or in none, for a reason.
type sheet struct {
	file string
	rows func(r *Reader) ([][]string, error) // the heading first; nil in another table's file
	none string
}

func ownSheet(file string, rows func(r *Reader) ([][]string, error)) sheet {
	return sheet{file: file, rows: rows}
}

func sheetOf(file string) sheet { return sheet{file: file} }

func noSheet(reason string) sheet { return sheet{none: reason} }

// tableOf is the table of a name.
func tableOf(name string) (*table, error) {
	for i := range tables {
		if tables[i].name == name {
			return &tables[i], nil
		}
	}
	return nil, fmt.Errorf("there is no table %q", name)
}

func formOf[T any](schema string) form { return form{reflect.TypeFor[T](), schema} }

// filed checks that a record of type T lies under the key that its own words give.
func filed[T any](keyOf func(v T) string) func(key string, body []byte) error {
	return func(key string, body []byte) error {
		v, err := understood[T](body)
		if err != nil {
			return err
		}
		if own := keyOf(v); own != key {
			return fmt.Errorf("%q is filed under %q", own, key)
		}
		return nil
	}
}

// understood decodes a record of which this program knows every field. How it is
// spelled does not matter: an older program may have spelled it differently.
func understood[T any](body []byte) (T, error) {
	var v T
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		return v, fmt.Errorf("decoding %T: %w", v, err)
	}
	return v, nil
}

// naming are the references of records of type T.
func naming[T any](refs func(key string, v T) []reference) func(key string, body []byte) ([]reference, error) {
	return func(key string, body []byte) ([]reference, error) {
		v, err := decode[T](body)
		if err != nil {
			return nil, err
		}
		return refs(key, v), nil
	}
}

func namingNothing(string, []byte) ([]reference, error) { return nil, nil }

func touchingNothing(Change) (touched, error) { return touched{}, nil }

// gone is what is left of most records whose making is undone.
func gone([]byte) ([]byte, error) { return nil, nil }

func others(d *Difference) *int { return &d.Others }

// uncounted is for records that go with others.
func uncounted(*Difference) *int { return nil }
