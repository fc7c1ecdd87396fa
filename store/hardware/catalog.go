package hardware

import (
	"sync"
)

// Catalog is the published tables taken together, with the builder's own rows
// if there are any. It does not change once made and may be shared by goroutines.
type Catalog struct {
	series map[string]*series
	names  []string // of series, in the order of the tables
	ranges []seriesRange
	alloys map[string]alloy
	pulled map[string]Result // commercial pulled rivets, by number

	torques   []Torque
	shopHeads map[string]shopHead // by the first number of a rivet

	indexOnce sync.Once
	index     []entry // of every row, for identification
	groups    []group // of the index
}

var standard = sync.OnceValues(load)

// Standard is the catalog of the embedded tables, read when it is first asked
// for. It panics if the program was built with broken tables.
func Standard() *Catalog {
	c, err := standard()
	if err != nil {
		panic("hardware: embedded tables: " + err.Error())
	}
	return c
}

// Decode says what a designation means by the embedded tables.
func Decode(text string) Result { return Standard().Decode(text) }
