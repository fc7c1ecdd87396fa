package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/store/build"
	"stowright/store/phrase"
)

const tableComponents = "components"

const componentLetters = "CO"

// Component is one piece with a serial number: a propeller, a magneto. How long it ran is
// what it had when it came and the stretches that it was on aircraft since.
type Component struct {
	Number uint64 `json:"number"`
	Item   string `json:"item"` // part number; the shop need not have any of it
	Serial string `json:"serial"`
	Lot    string `json:"lot,omitempty"` // "L-17"; empty where it is not known
	// SinceNew and SinceOverhaul are what it had when it came; nil: not known. Known says
	// by what they are: a log book, a tag.
	SinceNew      *build.Hours `json:"since_new,omitempty"`
	SinceOverhaul *build.Hours `json:"since_overhaul,omitempty"`
	Known         string       `json:"known,omitempty"`
	Note          string       `json:"note,omitempty"`
	Stretches     []Stretch    `json:"stretches,omitempty"` // the oldest first
	Undone        bool         `json:"undone,omitempty"`
}

// Stretch is the time between two readings of the hours of an aircraft, in which a
// component was on it.
type Stretch struct {
	Aircraft string        `json:"aircraft"`
	Position string        `json:"position,omitempty"`
	On       HoursReading  `json:"on"`
	Off      *HoursReading `json:"off,omitempty"`   // nil: it is on it still
	Place    string        `json:"place,omitempty"` // id of where it went then; empty where nobody said
}

// Name is what people call it: CO-1.
func (c Component) Name() string { return numberName(componentLetters, c.Number) }

func (c Component) key() string { return numberKey(c.Number) }

// Words are "OQ-PROP serial 0007".
func (c Component) Words() string { return c.Item + " serial " + c.Serial }

// On is the stretch that it is on an aircraft now, and whether it is on any.
func (c Component) On() (Stretch, bool) {
	if n := len(c.Stretches); n > 0 && c.Stretches[n-1].Off == nil {
		return c.Stretches[n-1], true
	}
	return Stretch{}, false
}

// Ran is how long it ran on aircraft of this shop, in tenths of an hour. Now is the total
// time of an aircraft; ok is false where that is not known of the one that it is on.
func (c Component) Ran(now func(aircraft string) (build.Hours, bool)) (sum build.Hours, ok bool) {
	for _, s := range c.Stretches {
		if s.Off != nil {
			sum += s.Off.Hours - s.On.Hours
			continue
		}
		hours, known := now(s.Aircraft)
		if !known || hours < s.On.Hours {
			return 0, false
		}
		sum += hours - s.On.Hours
	}
	return sum, true
}

// sound says what cannot be of its stretches: they follow each other, and on one aircraft
// its hours only grow.
func (c Component) sound() error {
	last := map[string]build.Hours{}
	var day Date
	for i, s := range c.Stretches {
		if s.Off == nil && i < len(c.Stretches)-1 {
			return fmt.Errorf("it is on %s still and was mounted again", s.Aircraft)
		}
		for _, r := range []*HoursReading{&s.On, s.Off} {
			if r == nil {
				continue
			}
			if r.Hours < last[s.Aircraft] || r.Hours > maxHours {
				return fmt.Errorf("%s had %s when it had %s already", s.Aircraft, r.Hours, last[s.Aircraft])
			}
			if !day.IsZero() && r.Day.DaysUntil(day) > 0 {
				return fmt.Errorf("%s comes after %s", day, r.Day)
			}
			last[s.Aircraft], day = r.Hours, r.Day
		}
	}
	return nil
}

var componentTable = table{
	name: tableComponents, one: "component", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Component]("component")},
	valid: func(key string, body []byte) error {
		if err := filed(Component.key)(key, body); err != nil {
			return err
		}
		c, err := decode[Component](body)
		return cmp.Or(err, c.sound())
	},
	refers: naming(func(_ string, c Component) []reference {
		if c.Undone {
			return nil
		}
		refs := lotReference(c.Lot)
		for _, s := range c.Stretches {
			refs = append(refs, reference{tableAircraft, s.Aircraft})
			if s.Place != "" {
				refs = append(refs, reference{tablePlaces, s.Place})
			}
		}
		return refs
	}),
	indexes: []index{},
	touches: touchingNothing,
	differs: others,
	unmade:  marked(func(c *Component) { c.Undone = true }),
	sheet:   ownSheet("components.csv", (*Reader).componentRows),
}

// PutComponent records a component, or, where it has a number, changes what is known of
// it but for its stretches.
func (s *Shop) PutComponent(c Component) (Component, Entry, error) {
	e, err := s.commit(VerbRecord, func(w *writer) (string, error) {
		if err := w.cleanComponent(&c); err != nil {
			return "", err
		}
		c.Stretches, c.Undone = nil, false
		if c.Number == 0 {
			var err error
			if c.Number, err = w.nextNumber(tableComponents); err != nil {
				return "", err
			}
			return fmt.Sprintf("%s: %s", c.Name(), c.Words()), w.put(tableComponents, c.key(), c)
		}
		known, err := w.component(c.Name())
		c.Stretches = known.Stretches
		if err != nil {
			return "", err
		}
		return fmt.Sprintf("%s: %s, described", c.Name(), c.Words()), w.put(tableComponents, c.key(), c)
	})
	return c, e, err
}

func (w *writer) cleanComponent(c *Component) (err error) {
	if c.Item, err = cleanName("The part number of the component", c.Item); err != nil {
		return err
	}
	if c.Serial, err = cleanName("The serial number", c.Serial); err != nil {
		return err
	}
	if c.Known, err = cleanOptional("How its times are known", c.Known); err != nil {
		return err
	}
	if c.Note, err = cleanLong("The note", c.Note); err != nil {
		return err
	}
	for _, h := range []*build.Hours{c.SinceNew, c.SinceOverhaul} {
		switch {
		case h == nil:
		case !possible(h):
			return fail(Invalid, c.Serial, "The time of the component is none that it can have: correct it.")
		case c.Known == "":
			return fail(Invalid, c.Serial, "Say by what its time is known: a log book, a tag, a letter.")
		}
	}
	if c.Lot, err = cleanOptional("The lot", c.Lot); err != nil {
		return err
	}
	if n, ok := LotNumber(c.Lot); ok {
		c.Lot = LotName(n)
	}
	if _, err := lotOf(w.ledger, c.Item, c.Lot); err != nil {
		return err
	}
	return w.onlySerial(*c)
}

// onlySerial refuses a serial number that another component of the same part number has.
func (w *writer) onlySerial(c Component) error {
	return scan(w.ledger.tx, tableComponents, "", func(_ string, known Component) error {
		if !known.Undone && known.Number != c.Number && known.Item == c.Item && strings.EqualFold(known.Serial, c.Serial) {
			return fail(Conflict, c.Serial, "%s is %s already: a serial number is that of one piece.", c.Words(), known.Name())
		}
		return nil
	})
}

// component is the component of a name.
func (w *writer) component(name string) (Component, error) {
	n, _ := numbered(componentLetters, name)
	c, found, err := lookup[Component](w.ledger, tableComponents, numberKey(n))
	if err == nil && (!found || c.Undone) {
		err = fail(NotFound, name, "There is no component %s in this shop: see the list of them.", phrase.Quote(name))
	}
	return c, err
}

// Mounting is when and where a component went on an aircraft or came off it.
type Mounting struct {
	Aircraft string       // name; does not count when it comes off
	Position string       // on the aircraft; "" where nobody said
	Day      Date         // zero: today
	Hours    *build.Hours // total time of the aircraft then; nil: as it was read that day or before
	Place    string       // id of where it went when it came off; "" where nobody said
}

// MountComponent records that a component went on an aircraft.
func (s *Shop) MountComponent(name string, m Mounting) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		c, err := w.component(name)
		if err != nil {
			return "", err
		}
		if at, on := c.On(); on {
			return "", fail(Conflict, c.Name(), "%s is on %s since %s: it comes off there first.", c.Words(), at.Aircraft, at.On.Day)
		}
		stretch := Stretch{Aircraft: m.Aircraft}
		if stretch.Position, err = cleanLong("The position", m.Position); err != nil {
			return "", err
		}
		stretch.Position = positionOf(stretch.Position)
		if stretch.On, err = w.readingOf(m); err != nil {
			return "", err
		}
		c.Stretches = append(slices.Clone(c.Stretches), stretch)
		return fmt.Sprintf("%s %s on %s at %s", c.Name(), c.Words(), m.Aircraft, stretch.On.Hours), w.putSound(c)
	})
}

// DismountComponent records that a component came off the aircraft that it is on.
func (s *Shop) DismountComponent(name string, m Mounting) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		c, err := w.component(name)
		if err != nil {
			return "", err
		}
		at, on := c.On()
		if !on {
			return "", fail(Conflict, c.Name(), "%s is on no aircraft: it cannot come off.", c.Words())
		}
		m.Aircraft = at.Aircraft
		off, err := w.readingOf(m)
		if err != nil {
			return "", err
		}
		text := fmt.Sprintf("%s %s off %s at %s", c.Name(), c.Words(), at.Aircraft, off.Hours)
		if m.Place != "" {
			to, err := w.usablePlace(m.Place)
			if err != nil {
				return "", err
			}
			text += ", to " + to.Name
		}
		at.Off, at.Place = &off, m.Place
		c.Stretches = slices.Clone(c.Stretches)
		c.Stretches[len(c.Stretches)-1] = at
		return text, w.putSound(c)
	})
}

// CorrectComponent corrects the readings of a stretch, from 1; nil: it stays as it is.
func (s *Shop) CorrectComponent(name string, stretch int, on, off *build.Hours) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		c, err := w.component(name)
		if err != nil {
			return "", err
		}
		if stretch < 1 || stretch > len(c.Stretches) {
			return "", fail(NotFound, c.Name(), "%s has no stretch %d: it has %d.", c.Words(), stretch, len(c.Stretches))
		}
		c.Stretches = slices.Clone(c.Stretches)
		at := &c.Stretches[stretch-1]
		var words []string
		correct := func(what string, r HoursReading, to *build.Hours) HoursReading {
			if to != nil && *to != r.Hours {
				words = append(words, fmt.Sprintf("%s at %s, corrected from %s", what, *to, r.Hours))
				r.Hours, r.At, r.Hand = *to, w.at, w.hand
			}
			return r
		}
		at.On = correct("on", at.On, on)
		if at.Off != nil {
			corrected := correct("off", *at.Off, off)
			at.Off = &corrected
		} else if off != nil {
			return "", fail(Conflict, c.Name(), "%s is on %s still: it has no reading of coming off.", c.Words(), at.Aircraft)
		}
		if len(words) == 0 {
			return "", fail(Invalid, c.Name(), "Nothing is corrected: say the hours when it went on or came off.")
		}
		return fmt.Sprintf("%s %s: %s", c.Name(), c.Words(), phrase.List(words)), w.putSound(c)
	})
}

// putSound keeps a component whose stretches can be.
func (w *writer) putSound(c Component) error {
	if err := c.sound(); err != nil {
		return fail(Conflict, c.Name(), "%s: %v: correct one of the two.", c.Words(), err)
	}
	return w.put(tableComponents, c.key(), c)
}

// readingOf is the reading of an aircraft's hours at a mounting, which is held against
// those that were recorded.
func (w *writer) readingOf(m Mounting) (HoursReading, error) {
	r := HoursReading{Day: cmp.Or(m.Day, DateOf(w.at)), At: w.at, Hand: w.hand}
	a, err := w.aircraft(m.Aircraft)
	if err != nil {
		return r, err
	}
	if m.Hours != nil {
		r.Hours = *m.Hours
		return r, a.holds(r.Day, r.Hours)
	}
	read, ok := a.HoursOn(r.Day)
	if !ok {
		return r, fail(Invalid, a.Name, "The hours of %s on %s are not known: say them.", a.Name, r.Day)
	}
	r.Hours = read.Hours
	return r, nil
}

// Components are all that are recorded, by number.
func (r *Reader) Components() ([]Component, error) {
	list, err := all[Component](r, tableComponents, "")
	return slices.DeleteFunc(list, func(c Component) bool { return c.Undone }), err
}

func (r *Reader) componentRows() ([][]string, error) {
	list, err := r.Components()
	rows := [][]string{{"component", "part number", "serial", "lot", "since new when it came", "since overhaul when it came", "known by", "aircraft", "position", "on", "at hours", "off", "at hours", "note"}}
	hours := func(h *build.Hours) string {
		if h == nil {
			return ""
		}
		return h.String()
	}
	for _, c := range list {
		first := []string{c.Name(), c.Item, c.Serial, c.Lot, hours(c.SinceNew), hours(c.SinceOverhaul), c.Known}
		if len(c.Stretches) == 0 {
			rows = append(rows, append(slices.Clone(first), "", "", "", "", "", "", c.Note))
		}
		for _, s := range c.Stretches {
			row := append(slices.Clone(first), s.Aircraft, s.Position, s.On.Day.String(), s.On.Hours.String(), "", "", c.Note)
			if s.Off != nil {
				row[11], row[12] = s.Off.Day.String(), s.Off.Hours.String()
			}
			rows = append(rows, row)
		}
	}
	return rows, err
}
