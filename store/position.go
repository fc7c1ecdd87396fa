package store

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/disk"
)

const tablePositions = "positions"

// Position is a place on an aircraft, in words from the large to the small, whichever
// sub-assembly it belongs to. Requirements, fits and notes name it by its words.
type Position struct {
	Name     string `json:"name"`               // "Tailplane / left / hinge 2"
	Aircraft string `json:"aircraft,omitempty"` // name; empty where the shop builds one only
	Access   string `json:"access,omitempty"`   // how one gets to it once it is closed up
	Note     string `json:"note,omitempty"`
}

func (p Position) key() string { return p.Aircraft + keySeparator + p.Name }

// within is what the position is part of: "Tailplane / left"; empty for none.
func (p Position) within() string {
	if i := strings.LastIndex(p.Name, positionSeparator); i >= 0 {
		return p.Name[:i]
	}
	return ""
}

// Covers reports whether a position, by its words, is this one or a part of it.
func (p Position) Covers(words string) bool {
	return words == p.Name || strings.HasPrefix(words, p.Name+positionSeparator)
}

var positionTable = table{
	name: tablePositions, one: "position", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Position]("position")},
	valid: filed(Position.key),
	refers: naming(func(_ string, p Position) []reference {
		var refs []reference
		if p.Aircraft != "" {
			refs = append(refs, reference{tableAircraft, p.Aircraft})
		}
		if up := p.within(); up != "" {
			refs = append(refs, reference{tablePositions, Position{Name: up, Aircraft: p.Aircraft}.key()})
		}
		return refs
	}),
	indexes: []index{},
	touches: touchingNothing,
	differs: others,
	unmade:  gone,
	sheet:   ownSheet("positions.csv", (*Reader).positionRows),
}

const positionSeparator = " / "

// positionOf writes a position as words on the aircraft, from the large to the small:
// "Tailplane / left / hinge 2".
func positionOf(text string) string {
	var words []string
	for part := range strings.SplitSeq(text, "/") {
		if part = strings.TrimSpace(part); part != "" {
			words = append(words, part)
		}
	}
	return strings.Join(words, positionSeparator)
}

// PositionOf is a position as people type it, "" of the aircraft where the shop builds one
// only; it need not be recorded.
func PositionOf(aircraft, name string) Position {
	return Position{Name: positionOf(name), Aircraft: aircraft}
}

// PutPosition makes a position, and those that it is part of, or changes what is known of
// one.
func (s *Shop) PutPosition(p Position) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		for _, field := range []struct {
			what string
			text *string
		}{{"The position", &p.Name}, {"How one gets to it", &p.Access}, {"The note", &p.Note}} {
			var err error
			if *field.text, err = cleanLong(field.what, *field.text); err != nil {
				return "", err
			}
		}
		if p.Name = positionOf(p.Name); p.Name == "" {
			return "", fail(Invalid, "position", "The position has no name: write it like Tailplane / left / hinge 2.")
		}
		if p.Aircraft != "" {
			if _, err := w.aircraft(p.Aircraft); err != nil {
				return "", err
			}
		}
		for up := p.within(); up != ""; {
			above := Position{Name: up, Aircraft: p.Aircraft}
			there, err := w.ledger.get(tablePositions, above.key())
			if err == nil && there == nil {
				err = w.put(tablePositions, above.key(), above)
			}
			if err != nil {
				return "", err
			}
			up = above.within()
		}
		text := "position " + p.Name
		if p.Access != "" {
			text += fmt.Sprintf(", by %s", p.Access)
		}
		return text, w.put(tablePositions, p.key(), p)
	})
}

// Positions are all that were recorded, by aircraft and name.
func (r *Reader) Positions() ([]Position, error) { return all[Position](r, tablePositions, "") }

// PositionNamed is the position of an aircraft, "" where the shop builds one only, and
// whether it was recorded. It may be named as people type it.
func (r *Reader) PositionNamed(aircraft, name string) (p Position, found bool, err error) {
	err = r.view(func(tx *disk.Tx) error {
		p, found, err = lookup[Position](fileLedger{tx}, tablePositions, PositionOf(aircraft, name).key())
		return err
	})
	return p, found, err
}

// At is what was fitted in a position and in what is part of it, and what came out again,
// event by event, the oldest first.
func (r *Reader) At(p Position) (list []Fit, err error) {
	err = r.view(func(tx *disk.Tx) error {
		all, err := numberedOf[Fit](tx, tableFits, "", "")
		if err != nil {
			return err
		}
		subs := map[string]string{} // aircraft, by code
		err = scan(tx, tableSubAssemblies, "", func(code string, s SubAssembly) error {
			subs[code] = s.Aircraft
			return nil
		})
		list = slices.DeleteFunc(all, func(f Fit) bool {
			return f.Undone || !p.Covers(f.Position) || subs[f.SubAssembly] != p.Aircraft
		})
		return err
	})
	return list, err
}

func (r *Reader) positionRows() ([][]string, error) {
	list, err := r.Positions()
	rows := [][]string{{"position", "aircraft", "access", "note"}}
	for _, p := range list {
		rows = append(rows, []string{p.Name, p.Aircraft, p.Access, p.Note})
	}
	return rows, err
}

// onlyPosition is where something is fitted, where its events name one position alone; empty
// where they name none or several.
func (w *writer) onlyPosition(f Fitted) (string, error) {
	events, err := numberedOf[Fit](w.ledger.tx, tableFits, indexFitsOf, f.SubAssembly)
	if err != nil {
		return "", err
	}
	only := ""
	for i, e := range slices.DeleteFunc(events, func(e Fit) bool { return e.Undone || e.fitted().key() != f.key() }) {
		if i > 0 && e.Position != only {
			return "", nil
		}
		only = e.Position
	}
	return only, nil
}
