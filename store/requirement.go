package store

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/build"
	"stowright/store/disk"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// RequirementKind says how the quantity of a requirement is meant.
type RequirementKind = build.Kind

// The kinds of requirement.
const (
	ExactNeed  = build.Exact
	AsRequired = build.AsRequired
	Temporary  = build.Temporary
)

// Requirement is so many of an item for a sub-assembly. It has a number for life, and
// is never deleted: it is ended, or replaced by another.
type Requirement struct {
	Number      uint64       `json:"number"`
	SubAssembly string       `json:"sub_assembly"`  // code
	Called      string       `json:"called"`        // the number that the plans use
	Item        string       `json:"item"`          // what that number is kept under here
	Via         []Equivalent `json:"via,omitempty"` // the recorded numbers that lead from Called to Item
	// Expression is the quantity as printed, "10 x 2 sides"; empty for a plain number.
	Expression string           `json:"expression,omitempty"`
	Needed     measure.Quantity `json:"needed,omitzero"` // zero where it is as required and no quantity is given
	Kind       RequirementKind  `json:"kind,omitempty"`
	Callout    Callout          `json:"callout,omitzero"`
	Revision   string           `json:"revision,omitempty"`
	Position   string           `json:"position,omitempty"` // words on the aircraft: "Tailplane / left / hinge 2"
	Option     string           `json:"option,omitempty"`   // for which engine, side or option it holds
	Joint      string           `json:"joint,omitempty"`    // names the requirements that are one joint
	Stack      []Layer          `json:"stack,omitempty"`    // what the bolt of the joint goes through
	// Torque is as typed, with its unit, and TorqueSource where it stands.
	Torque       string `json:"torque,omitempty"`
	TorqueSource string `json:"torque_source,omitempty"`
	Note         string `json:"note,omitempty"`
	ReplacedBy   string `json:"replaced_by,omitempty"`
	Ended        *Ended `json:"ended,omitempty"`       // nil: in force, or replaced
	Undone       bool   `json:"undone,omitempty"`      // its making was undone
}

// Callout is where the plans name a requirement. Text is one that was not taken apart.
type Callout struct {
	Drawing string `json:"drawing,omitempty"`
	Sheet   string `json:"sheet,omitempty"`
	Figure  string `json:"figure,omitempty"`
	Item    string `json:"item,omitempty"`
	Step    string `json:"step,omitempty"`
	Text    string `json:"text,omitempty"`
}

// String is "drawing 12, sheet 3, figure 4, item 5, step 6".
func (c Callout) String() string {
	var words []string
	for _, part := range []struct{ what, text string }{
		{"drawing ", c.Drawing}, {"sheet ", c.Sheet}, {"figure ", c.Figure}, {"item ", c.Item}, {"step ", c.Step}, {"", c.Text},
	} {
		if part.text != "" {
			words = append(words, part.what+part.text)
		}
	}
	return strings.Join(words, ", ")
}

// Layer is a part that the bolt of a joint goes through.
type Layer struct {
	Name      string         `json:"name"`
	Thickness measure.Length `json:"thickness"`
}

// Ended is when a requirement or a decision ended, and why.
type Ended struct {
	On   Date   `json:"on"`
	Hand string `json:"hand"`
	Why  string `json:"why"`
}

// Name is what people call it: R-31.
func (r Requirement) Name() string { return numberName("R", r.Number) }

// InForce reports whether it still asks for something.
func (r Requirement) InForce() bool { return !r.Undone && r.Ended == nil && r.ReplacedBy == "" }

// Quantity is how many are needed, for people: "6 ea", "as required".
func (r Requirement) Quantity() string {
	if r.Needed.IsZero() {
		return string(r.Kind)
	}
	return r.Needed.String()
}

// Through is what the bolt of the joint goes through, from the head to the nut, exactly and
// as it is typed: "spar 0.125, bracket 0.063"; empty where the requirement does not say.
func (r Requirement) Through() string {
	var words []string
	for _, l := range r.Stack {
		thickness, _ := l.Thickness.MarshalText() // never fails
		words = append(words, strings.TrimSpace(l.Name+" "+string(thickness)))
	}
	return strings.Join(words, ", ")
}

func (r Requirement) key() string { return numberKey(r.Number) }

// requirementKey is the key of a name such as R-31, which need not be a name at all.
func requirementKey(name string) string {
	n, ok := numbered("R", name)
	if !ok {
		return ""
	}
	return numberKey(n)
}

const (
	indexRequirementsOf     = "requirements_of"      // sub-assembly, number -> nothing
	indexRequirementsByItem = "requirements_by_item" // part number asked for, number -> nothing
)

var requirementTable = table{
	name: tableRequirements, one: "requirement", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Requirement]("requirement")},
	valid: filed(Requirement.key),
	refers: naming(func(_ string, r Requirement) []reference {
		if r.Undone {
			return nil // so may be the sub-assembly
		}
		refs := []reference{{tableSubAssemblies, r.SubAssembly}} // the item, the shop may never have had
		if r.ReplacedBy != "" {
			refs = append(refs, reference{tableRequirements, requirementKey(r.ReplacedBy)})
		}
		return refs
	}),
	indexes: []index{
		{name: indexRequirementsOf, since: 6, key: func(key string, body []byte) (string, error) {
			r, err := decode[Requirement](body)
			return r.SubAssembly + keySeparator + key, err
		}},
		{name: indexRequirementsByItem, since: 7, key: func(key string, body []byte) (string, error) {
			r, err := decode[Requirement](body)
			return r.Item + keySeparator + key, err
		}},
	},
	touches: func(c Change) (touched, error) {
		body := c.After
		if body == nil {
			body = c.Before
		}
		r, err := decode[Requirement](body)
		return touched{building: Concern{ListPart, r.SubAssembly}}, err
	},
	differs: others,
	unmade:  marked(func(r *Requirement) { r.Undone = true }),
	sheet:   ownSheet("requirements.csv", (*Reader).requirementRows),
}

// addRequirement makes a requirement of a sub-assembly. Where it does not say which item
// the called number is kept under, the recorded numbers do.
func (w *writer) addRequirement(sub SubAssembly, r Requirement) (Requirement, error) {
	r, err := w.cleanRequirement(sub, r)
	if err != nil {
		return r, err
	}
	if r.Number, err = w.nextNumber(tableRequirements); err != nil {
		return r, err
	}
	return r, w.put(tableRequirements, r.key(), r)
}

func (w *writer) cleanRequirement(sub SubAssembly, r Requirement) (Requirement, error) {
	r.SubAssembly, r.ReplacedBy, r.Ended, r.Undone = sub.Code, "", nil, false
	var err error
	if r.Item, err = cleanOptional("A part number that "+sub.Code+" needs", r.Item); err != nil {
		return r, err
	}
	if r.Called == "" {
		r.Called = r.Item
	}
	if r.Called, err = cleanName("A part number that "+sub.Code+" needs", r.Called); err != nil {
		return r, err
	}
	if err := r.clean(); err != nil {
		return r, err
	}
	if err := w.resolve(&r); err != nil {
		return r, err
	}
	return r, r.measured(sub.Code)
}

// clean cleans the texts that a requirement may have.
func (r *Requirement) clean() error {
	of := " of " + r.Called
	fields := []struct {
		what string
		text *string
	}{
		{"The quantity" + of, &r.Expression},
		{"The drawing" + of, &r.Callout.Drawing},
		{"The sheet" + of, &r.Callout.Sheet},
		{"The figure" + of, &r.Callout.Figure},
		{"The item number" + of, &r.Callout.Item},
		{"The step" + of, &r.Callout.Step},
		{"The callout" + of, &r.Callout.Text},
		{"The revision" + of, &r.Revision},
		{"The position" + of, &r.Position},
		{"The option" + of, &r.Option},
		{"The joint" + of, &r.Joint},
		{"The torque" + of, &r.Torque},
		{"The source of the torque" + of, &r.TorqueSource},
		{"The note" + of, &r.Note},
	}
	for i := range r.Stack {
		fields = append(fields, struct {
			what string
			text *string
		}{"A part of the stack" + of, &r.Stack[i].Name})
		if r.Stack[i].Thickness <= 0 {
			return fail(Invalid, r.Called, "A part of the stack%s has no thickness: type it.", of)
		}
	}
	for _, f := range fields {
		var err error
		if *f.text, err = cleanLong(f.what, *f.text); err != nil {
			return err
		}
	}
	r.Position = positionOf(r.Position)
	return nil
}

// resolve finds the item that a called number is kept under.
func (w *writer) resolve(r *Requirement) error {
	if r.Item != "" && len(r.Via) == 0 && r.Item == r.Called {
		r.Item = ""
	}
	if r.Item != "" {
		return nil
	}
	var known []Equivalent
	err := scan(w.ledger.tx, tableEquivalents, "", func(_ string, q Equivalent) error {
		known = append(known, q)
		return nil
	})
	if err != nil {
		return err
	}
	var problem error
	if r.Item, r.Via, problem = resolved(r.Called, known); problem != nil {
		return fail(Invalid, r.Called, "%s can be read in two ways: %v.", r.Called, problem)
	}
	return nil
}

// resolved follows the recorded numbers from a called one, one way only.
func resolved(called string, known []Equivalent) (item string, via []Equivalent, err error) {
	rows := make([]build.Equivalent, len(known))
	for i, q := range known {
		rows[i] = build.Equivalent{Old: q.Old, New: q.New, Source: q.Source, Date: q.Date}
	}
	item, steps, err := build.Resolve(called, rows)
	for _, s := range steps {
		via = append(via, Equivalent{Old: s.Old, New: s.New, Source: s.Source, Date: s.Date})
	}
	return item, via, err
}

// measured sees that the quantity makes sense, and works out what an expression comes to.
func (r *Requirement) measured(code string) error {
	switch r.Kind {
	case ExactNeed, AsRequired, Temporary:
	default:
		return fail(Invalid, r.Called, "%s is no kind of requirement: say exact, as required or temporary.", phrase.Quote(string(r.Kind)))
	}
	if r.Expression != "" {
		e, err := build.ParseExpression(r.Expression, r.Needed.Unit)
		if err != nil {
			return fail(Invalid, r.Called, "The %v: correct it.", err)
		}
		if r.Needed.Micro != 0 && e.Quantity != r.Needed {
			return fail(Invalid, r.Called, "%s comes to %s, and %s is given: correct one of them.", phrase.Quote(r.Expression), e.Quantity, r.Needed)
		}
		if e.Kind == AsRequired {
			r.Kind = AsRequired
		} else {
			r.Needed = e.Quantity
		}
	}
	if !canBeKept(r.Needed) {
		return fail(Invalid, r.Called, "%s cannot need that much of %s: correct the list.", code, r.Called)
	}
	if r.Kind == AsRequired && r.Needed.Micro == 0 {
		r.Needed = measure.Quantity{}
		return nil
	}
	if r.Needed.Sign() <= 0 {
		return fail(Invalid, r.Called, "%s needs a quantity above zero of %s: correct the list.", code, r.Called)
	}
	return nil
}

// requirement is the requirement of a name.
func (w *writer) requirement(name string) (Requirement, error) {
	var r Requirement
	var found bool
	var err error
	if key := requirementKey(name); key != "" {
		r, found, err = lookup[Requirement](w.ledger, tableRequirements, key)
	}
	if err == nil && (!found || r.Undone) {
		err = fail(NotFound, name, "There is no requirement %s in this shop: see the list of its sub-assembly.", phrase.Quote(name))
	}
	return r, err
}

// EndRequirement ends a requirement: it asks for nothing any more. What was fitted for
// it stays fitted.
func (s *Shop) EndRequirement(name, why string) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		r, sub, err := w.standing(name)
		if err != nil {
			return "", err
		}
		if err := w.end(r, why); err != nil {
			return "", err
		}
		return fmt.Sprintf("%s of %s %s ended: %s", r.Name(), sub.Code, r.Called, why), nil
	})
}

func (w *writer) end(r Requirement, why string) (err error) {
	ended := Ended{On: DateOf(w.at), Hand: w.hand}
	if ended.Why, err = cleanName("The reason", why); err != nil {
		return err
	}
	r.Ended = &ended
	return w.put(tableRequirements, r.key(), r)
}

// ReplaceRequirement puts a requirement in the place of another, which says so. What was
// fitted for the old one stays fitted for it.
func (s *Shop) ReplaceRequirement(name string, with Requirement) (Requirement, Entry, error) {
	var made Requirement
	e, err := s.commit(VerbRecord, func(w *writer) (string, error) {
		old, sub, err := w.standing(name)
		if err != nil {
			return "", err
		}
		if made, err = w.replace(old, sub, with); err != nil {
			return "", err
		}
		return fmt.Sprintf("%s of %s %s replaced by %s %s", old.Name(), sub.Code, old.Called, made.Name(), made.Called), nil
	})
	return made, e, err
}

func (w *writer) replace(old Requirement, sub SubAssembly, with Requirement) (Requirement, error) {
	made, err := w.addRequirement(sub, with)
	if err != nil {
		return made, err
	}
	old.ReplacedBy = made.Name()
	return made, w.put(tableRequirements, old.key(), old)
}

// standing is a requirement in force of a sub-assembly that is not closed.
func (w *writer) standing(name string) (Requirement, SubAssembly, error) {
	r, err := w.requirement(name)
	if err != nil {
		return r, SubAssembly{}, err
	}
	if !r.InForce() {
		return r, SubAssembly{}, fail(Conflict, r.Name(), "%s is in force no more: see what took its place.", r.Name())
	}
	sub, err := w.openSubAssembly(r.SubAssembly)
	return r, sub, err
}

// requirementsOf are the requirements of a sub-assembly, in the order in which they were
// listed, those that ended too.
func requirementsOf(tx *disk.Tx, code string) ([]Requirement, error) {
	byCode, err := tx.Bucket(indexRequirementsOf)
	if err != nil {
		return nil, err
	}
	var list []Requirement
	prefix := []byte(code + keySeparator)
	err = byCode.Scan(prefix, func(k, _ []byte) error {
		r, _, err := lookup[Requirement](fileLedger{tx}, tableRequirements, string(k[len(prefix):]))
		if err == nil && !r.Undone {
			list = append(list, r)
		}
		return err
	})
	return list, err
}

// Requirements are those of a sub-assembly, or of all of them for "", in the order in
// which they were listed; those that ended or were replaced too.
func (r *Reader) Requirements(code string) ([]Requirement, error) {
	var list []Requirement
	err := r.view(func(tx *disk.Tx) (err error) {
		if code != "" {
			list, err = requirementsOf(tx, code)
			return err
		}
		return scanAll(tx, tableRequirements, "", func(_ string, r Requirement) error {
			if !r.Undone {
				list = append(list, r)
			}
			return nil
		})
	})
	return list, err
}

// RequirementsFor are those that ask for an item, in the order in which they were listed;
// those that ended or were replaced too.
func (r *Reader) RequirementsFor(item string) ([]Requirement, error) {
	var list []Requirement
	err := r.view(func(tx *disk.Tx) error {
		return requirementsNaming(tx, item, nil, func(r Requirement) { list = append(list, r) })
	})
	return list, err
}

// requirementsNaming calls do with the requirements that ask for an item, and with those of
// the names in also, by number.
func requirementsNaming(tx *disk.Tx, item string, also map[string]bool, do func(Requirement)) error {
	byItem, err := tx.Bucket(indexRequirementsByItem)
	if err != nil {
		return err
	}
	keys := make([]string, 0, len(also))
	for name := range also {
		keys = append(keys, requirementKey(name))
	}
	prefix := []byte(item + keySeparator)
	if err := byItem.Scan(prefix, func(k, _ []byte) error {
		keys = append(keys, string(k[len(prefix):]))
		return nil
	}); err != nil {
		return err
	}
	slices.Sort(keys)
	for _, key := range slices.Compact(keys) {
		r, found, err := lookup[Requirement](fileLedger{tx}, tableRequirements, key)
		if err != nil {
			return err
		}
		if found && !r.Undone {
			do(r)
		}
	}
	return nil
}

func (r *Reader) requirementRows() ([][]string, error) {
	list, err := r.Requirements("")
	rows := [][]string{{"requirement", "sub-assembly", "called", "part number", "quantity", "unit", "as printed", "kind", "callout", "revision", "position", "option", "joint", "stack", "torque", "note", "replaced by", "ended"}}
	for _, q := range list {
		needed, ended := "", ""
		if !q.Needed.IsZero() {
			needed = q.Needed.Plain()
		}
		if q.Ended != nil {
			ended = q.Ended.On.String()
		}
		rows = append(rows, []string{
			q.Name(), q.SubAssembly, q.Called, q.Item, needed, string(q.Needed.Unit), q.Expression, string(q.Kind), q.Callout.String(),
			q.Revision, q.Position, q.Option, q.Joint, q.Through(), q.Torque, q.Note, q.ReplacedBy, ended,
		})
	}
	return rows, err
}
