package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/build"
	"stowright/store/disk"
	"stowright/store/phrase"
)

// NoteKind says what a note is of.
type NoteKind string

// The kinds of note. A look is of a second person; hours are those that were worked.
const (
	TorqueNote     NoteKind = "torque"
	PaintNote      NoteKind = "paint"
	InspectionNote NoteKind = "inspection"
	LookNote       NoteKind = "look"
	HoursNote      NoteKind = "hours"
	OtherNote      NoteKind = "other"
)

// Note is what somebody wrote down of the work on a sub-assembly, on one of its
// requirements or on a position of the aircraft. It says nothing but what was written.
type Note struct {
	Number      uint64      `json:"number"`
	Kind        NoteKind    `json:"kind"`
	SubAssembly string      `json:"sub_assembly"` // code
	Requirement string      `json:"requirement,omitempty"`
	Position    string      `json:"position,omitempty"`
	Text        string      `json:"text,omitempty"`   // a value as typed, with its unit, or what was looked at
	Tool        string      `json:"tool,omitempty"`   // the wrench
	Second      string      `json:"second,omitempty"` // the person besides who writes
	Hours       build.Hours `json:"hours,omitempty"`  // worked, in tenths of an hour
	Day         Date        `json:"day"`
	At          time.Time   `json:"at"`
	Hand        string      `json:"hand"`
	Undone      bool        `json:"undone,omitempty"`
}

// Name is what people call it: N-4.
func (n Note) Name() string { return numberName("N", n.Number) }

func (n Note) key() string { return numberKey(n.Number) }

// said is what was noted, as the journal has it: "R-31, Tailplane / left, 25 in-lb".
func (n Note) said() string {
	var words []string
	for _, part := range []string{n.Requirement, n.Position, n.Text} {
		if part != "" {
			words = append(words, part)
		}
	}
	if n.Kind == HoursNote {
		words = append(words, n.Hours.String())
	}
	return strings.Join(words, ", ")
}

// Words are the note for people: "torque, 18 March 2026: R-31, 25 in-lb, by wrench 2".
func (n Note) Words() string {
	words := []string{}
	for _, part := range []struct{ before, text string }{{"", n.said()}, {"by ", n.Tool}, {"seen by ", n.Second}} {
		if part.text != "" {
			words = append(words, part.before+part.text)
		}
	}
	return fmt.Sprintf("%s, %s: %s", n.Kind, n.Day, cmp.Or(strings.Join(words, ", "), "done"))
}

const indexNotesOf = "notes_of" // sub-assembly, number -> nothing

var noteTable = table{
	name: tableNotes, one: "note", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Note]("note")},
	valid: filed(Note.key),
	refers: naming(func(_ string, n Note) []reference {
		if n.Undone {
			return nil
		}
		refs := []reference{{tableSubAssemblies, n.SubAssembly}}
		if n.Requirement != "" {
			refs = append(refs, reference{tableRequirements, requirementKey(n.Requirement)})
		}
		return refs
	}),
	indexes: []index{{name: indexNotesOf, since: 6, key: func(key string, body []byte) (string, error) {
		n, err := decode[Note](body)
		return n.SubAssembly + keySeparator + key, err
	}}},
	touches: touchingNothing,
	differs: others,
	unmade:  marked(func(n *Note) { n.Undone = true }),
	sheet:   ownSheet("notes.csv", (*Reader).noteRows),
}

// Note keeps a note. It may be of a closed sub-assembly: nothing of that changes by it.
func (s *Shop) Note(n Note) (Note, Entry, error) {
	var made Note
	e, err := s.commit(VerbNote, func(w *writer) (string, error) {
		made = n
		made.At, made.Hand, made.Undone = w.at, w.hand, false
		if made.Day.IsZero() {
			made.Day = DateOf(w.at)
		}
		sub, err := w.cleanNote(&made)
		if err != nil {
			return "", err
		}
		if made.Number, err = w.nextNumber(tableNotes); err != nil {
			return "", err
		}
		text := fmt.Sprintf("%s of %s %s noted: %s", made.Kind, sub.Code, sub.Name, cmp.Or(made.said(), made.Second, "done"))
		return text, w.put(tableNotes, made.key(), made)
	})
	return made, e, err
}

func (w *writer) cleanNote(n *Note) (SubAssembly, error) {
	kinds := []NoteKind{TorqueNote, PaintNote, InspectionNote, LookNote, HoursNote, OtherNote}
	if !slices.Contains(kinds, n.Kind) {
		return SubAssembly{}, fail(Invalid, string(n.Kind), "%s is no kind of note: say torque, paint, inspection, look, hours or other.", phrase.Quote(string(n.Kind)))
	}
	if n.Requirement != "" {
		r, err := w.requirement(n.Requirement)
		if err != nil {
			return SubAssembly{}, err
		}
		if n.SubAssembly == "" {
			n.SubAssembly = r.SubAssembly
		}
		if n.SubAssembly != r.SubAssembly {
			return SubAssembly{}, fail(Invalid, r.Name(), "%s is of %s, and not of %s: correct one of them.", r.Name(), r.SubAssembly, n.SubAssembly)
		}
		n.Requirement = r.Name()
	}
	sub, err := w.subAssembly(n.SubAssembly)
	if err != nil {
		return sub, err
	}
	for _, field := range []struct {
		what string
		text *string
	}{{"The note", &n.Text}, {"The tool", &n.Tool}, {"The second person", &n.Second}, {"The position", &n.Position}} {
		if *field.text, err = cleanLong(field.what, *field.text); err != nil {
			return sub, err
		}
	}
	n.Position = positionOf(n.Position)
	return sub, n.complete(sub)
}

// complete refuses a note that does not say what its kind has to.
func (n *Note) complete(sub SubAssembly) error {
	switch {
	case !n.Day.Valid():
		return fail(Invalid, sub.Code, "The day of the note is no day of the calendar: correct it.")
	case (n.Kind == HoursNote) != (n.Hours != 0) || n.Hours < 0 || n.Hours > maxHours:
		return fail(Invalid, sub.Code, "A note of hours says how many were worked, and no other does: correct it.")
	case (n.Kind == LookNote || n.Kind == InspectionNote) && n.Second == "":
		return fail(Invalid, sub.Code, "The note (%s) does not say who looked: add the name.", n.Kind)
	case n.Kind == LookNote && strings.EqualFold(n.Second, n.Hand):
		return fail(Invalid, sub.Code, "%s writes this note: a look is somebody else's, name that person.", n.Hand)
	case n.Kind == TorqueNote && n.Text == "" || n.Kind == OtherNote && n.Text == "":
		return fail(Invalid, sub.Code, "The note (%s) is empty: type it.", n.Kind)
	}
	return nil
}

// Notes are those of a sub-assembly, or of all of them for "", the oldest first.
func (r *Reader) Notes(code string) ([]Note, error) {
	var list []Note
	err := r.view(func(tx *disk.Tx) (err error) {
		list, err = numberedOf[Note](tx, tableNotes, indexNotesOf, code)
		return err
	})
	return slices.DeleteFunc(list, func(n Note) bool { return n.Undone }), err
}

func (r *Reader) noteRows() ([][]string, error) {
	list, err := r.Notes("")
	rows := [][]string{{"note", "day", "kind", "sub-assembly", "requirement", "position", "text", "tool", "second person", "hours", "written by"}}
	for _, n := range list {
		hours := ""
		if n.Hours != 0 {
			hours = n.Hours.String()
		}
		rows = append(rows, []string{n.Name(), n.Day.String(), string(n.Kind), n.SubAssembly, n.Requirement, n.Position, n.Text, n.Tool, n.Second, hours, n.Hand})
	}
	return rows, err
}
