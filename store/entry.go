package store

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Verb is what an entry did.
type Verb string

// The verbs of the store.
const (
	VerbImport   Verb = "import"
	VerbArrive   Verb = "arrive"
	VerbReceive  Verb = "receive"
	VerbStow     Verb = "stow"
	VerbMove     Verb = "move"
	VerbPull     Verb = "pull"
	VerbFit      Verb = "fit"
	VerbReturn   Verb = "return" // of programs before format 6: put back, or removed
	VerbPutBack  Verb = "put back"
	VerbBorrow   Verb = "borrow"
	VerbRemove   Verb = "remove"  // out of an aircraft
	VerbRelease  Verb = "release" // looked at, and good again
	VerbScrap    Verb = "scrap"
	VerbSendBack Verb = "send back" // to the supplier
	VerbFound    Verb = "found"     // what was lost
	VerbClose    Verb = "close"
	VerbReopen   Verb = "reopen"
	VerbDecide   Verb = "decide"
	VerbNote     Verb = "note"
	VerbAlert    Verb = "alert"
	VerbCount    Verb = "count"
	VerbPlace    Verb = "set up" // places made, named or retired
	VerbRecord   Verb = "record" // items, numbers, sub-assemblies, settings
	VerbPhoto    Verb = "photograph"
	VerbClaim    Verb = "claim"   // sent, or answered
	VerbUpgrade  Verb = "upgrade" // records of an older program brought up to date
	VerbOrder    Verb = "order"   // ordered, promised, canceled, matched with what came
	VerbUndo     Verb = "undo"
	VerbRedo     Verb = "redo"
)

// Entry is one entry of the journal.
type Entry struct {
	Seq     uint64    `json:"seq"` // from 1, without gaps
	At      time.Time `json:"at"`
	Hand    string    `json:"hand"`
	Verb    Verb      `json:"verb"`
	Text    string    `json:"text"`             // what was done, for people, without who and when
	Reason  string    `json:"reason,omitempty"` // why it was done against a list, as a person gave it
	Undoes  uint64    `json:"undoes,omitempty"` // of undo: the entry whose opposite this is; of redo: the undo
	Changes []Change  `json:"changes"`
	Prev    string    `json:"prev"` // checksum of the entry before; empty for the first
	// PrevSHA256 is the hash of the entry before, which covers all before that too; empty for
	// the first, and in what a program before format 7 wrote. It is the last field (disk.Hash).
	PrevSHA256 string `json:"prev_sha256,omitempty"`
}

// Change is one record before and after, or stock by how much. A missing before
// means that the record was made, a missing after that it was taken away.
type Change struct {
	Table  string          `json:"table"`
	Key    string          `json:"key"`
	Before json.RawMessage `json:"before,omitempty"`
	After  json.RawMessage `json:"after,omitempty"`
	Delta  *Amount         `json:"delta,omitempty"`
}

// eachTouched are what the changes of an entry are about, as about takes it from each:
// each once, in the order in which the entry came to them. What cannot be read of a
// change is left out: reading the record itself gives the error.
func eachTouched[T comparable](e Entry, about func(touched) T) []T {
	var list []T
	var none T
	seen := map[T]bool{none: true}
	for _, c := range e.Changes {
		t, err := tableOf(c.Table)
		if err != nil {
			continue
		}
		is, err := t.touches(c)
		if what := about(is); err == nil && !seen[what] {
			seen[what] = true
			list = append(list, what)
		}
	}
	return list
}

// Items are the designations whose record, stock or numbers an entry changed,
// each once.
func (e Entry) Items() []string {
	return eachTouched(e, func(t touched) string { return t.item })
}

// Places are the ids of the places that an entry made, changed or took away, each once.
func (e Entry) Places() []string {
	return eachTouched(e, func(t touched) string { return t.place })
}

// StockPlaces are the ids of the places in which an entry made stock more or less, each once.
func (e Entry) StockPlaces() (ids []string) {
	for _, c := range e.Changes {
		if c.Table != tableStock {
			continue
		}
		if k, err := parseStockKey(c.Key); err == nil && !slices.Contains(ids, k.Place) {
			ids = append(ids, k.Place)
		}
	}
	return ids
}

// Shipments reports whether the entry changed a shipment or one of its lines.
func (e Entry) Shipments() bool { return len(e.Lists()) > 0 }

// Lists are the ids of the shipments of which an entry changed the record or a
// line, each once.
func (e Entry) Lists() []string {
	return eachTouched(e, func(t touched) string { return t.shipment })
}

// Figures are the designations whose own figures an entry changed, each once.
func (e Entry) Figures() []string {
	return eachTouched(e, func(t touched) string { return t.figures })
}

// Photos are what an entry added, took away or described photographs of, each once.
func (e Entry) Photos() []Subject {
	return eachTouched(e, func(t touched) Subject { return t.photos })
}

// FirstLine is the id of the first line of a packing list that an entry changed; 0 for
// none.
func (e Entry) FirstLine(shipment string) LineID {
	for _, c := range e.Changes {
		number, isLine := strings.CutPrefix(c.Key, shipment+keySeparator)
		if c.Table != tableLines || !isLine {
			continue
		}
		if n, err := strconv.Atoi(number); err == nil {
			return LineID(n)
		}
	}
	return 0
}
