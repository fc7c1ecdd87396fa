package operation

import (
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
)

// PutComponent records a piece with a serial number, or changes what is known of one.
// Empty fields stay as they are, and those that say none are taken back.
type PutComponent struct {
	Name          string // "CO-1"; "": a new one
	Item          string
	Serial        string
	Lot           string
	SinceNew      string // hours that it had when it came: "112.4"
	SinceOverhaul string
	Known         string // by what its times are known
	Note          string
}

// Do records it.
func (o PutComponent) Do(_ context.Context, s *session.Session) (Result, error) {
	var c store.Component
	var err error
	if o.Name != "" {
		if c, err = componentNamed(s, o.Name); err != nil {
			return Result{}, err
		}
	}
	if o.Item != "" {
		c.Item = spelled(s, o.Item)
	}
	said(&c.Serial, o.Serial)
	said(&c.Lot, o.Lot)
	said(&c.Known, o.Known)
	said(&c.Note, o.Note)
	for _, field := range []struct {
		to    **build.Hours
		typed string
	}{{&c.SinceNew, o.SinceNew}, {&c.SinceOverhaul, o.SinceOverhaul}} {
		switch typed := strings.TrimSpace(field.typed); {
		case strings.EqualFold(typed, None):
			*field.to = nil
		case typed != "":
			if *field.to, err = hoursSaid(s, typed); err != nil {
				return Result{}, err
			}
		}
	}
	_, e, err := s.Shop.PutComponent(c)
	return did(e, err)
}

// hoursSaid are hours as they were typed; nil for nothing.
func hoursSaid(s *session.Session, text string) (*build.Hours, error) {
	if text = strings.TrimSpace(text); text == "" {
		return nil, nil
	}
	h, err := hoursTyped(s, text)
	return &h, err
}

// componentNamed is the component of a name such as CO-1, or of a serial number that is
// that of one alone.
func componentNamed(s *session.Session, name string) (store.Component, error) {
	name = strings.TrimSpace(name)
	all, err := s.Shop.Components()
	if err != nil {
		return store.Component{}, err
	}
	var found []store.Component
	for _, c := range all {
		switch {
		case strings.EqualFold(c.Name(), name):
			return c, nil
		case strings.EqualFold(c.Serial, name):
			found = append(found, c)
		}
	}
	switch len(found) {
	case 0:
		return store.Component{}, missing(name, "There is no component %q in this shop: see the list of them.", name)
	case 1:
		return found[0], nil
	}
	return store.Component{}, invalid("%s is the serial number of %d components: say which, as %s.", name, len(found), found[0].Name())
}

// Mount records that a component went on an aircraft.
type Mount struct {
	Component string
	Aircraft  string
	Position  string
	Hours     string // of the aircraft then; "": as it was read that day or before
	On        string // the day; "": today
}

// Do records it.
func (o Mount) Do(_ context.Context, s *session.Session) (Result, error) {
	c, m, err := mounting(s, o.Component, o.On, o.Hours)
	if err != nil {
		return Result{}, err
	}
	a, err := aircraftNamed(s, o.Aircraft)
	if err != nil {
		return Result{}, err
	}
	m.Aircraft, m.Position = a.Name, o.Position
	return did(s.Shop.MountComponent(c.Name(), m))
}

func mounting(s *session.Session, name, on, hours string) (c store.Component, m store.Mounting, err error) {
	if c, err = componentNamed(s, name); err != nil {
		return c, m, err
	}
	if m.Day, err = day(s, on, s.Shop.Today()); err != nil {
		return c, m, err
	}
	m.Hours, err = hoursSaid(s, hours)
	return c, m, err
}

// Dismount records that a component came off the aircraft that it is on.
type Dismount struct {
	Component string
	Hours     string // of the aircraft then; "": as it was read that day or before
	On        string // the day; "": today
	To        string // place; "": nobody said
}

// Do records it.
func (o Dismount) Do(_ context.Context, s *session.Session) (Result, error) {
	c, m, err := mounting(s, o.Component, o.On, o.Hours)
	if err != nil {
		return Result{}, err
	}
	if o.To != "" {
		to, err := s.PlaceNamed(o.To)
		if err != nil {
			return Result{}, err
		}
		m.Place = to.ID
	}
	return did(s.Shop.DismountComponent(c.Name(), m))
}

// CorrectMounting corrects the hours at which a component went on or came off.
type CorrectMounting struct {
	Component string
	Stretch   int    // from 1
	On, Off   string // hours; "": as it is
}

// Do corrects them.
func (o CorrectMounting) Do(_ context.Context, s *session.Session) (Result, error) {
	c, err := componentNamed(s, o.Component)
	if err != nil {
		return Result{}, err
	}
	on, err := hoursSaid(s, o.On)
	if err != nil {
		return Result{}, err
	}
	off, err := hoursSaid(s, o.Off)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.CorrectComponent(c.Name(), o.Stretch, on, off))
}

// PutPosition records a position on an aircraft. Empty fields stay as they are, and those
// that say none are taken back.
type PutPosition struct {
	Name     string // "Tailplane / left / hinge 2"
	Aircraft string
	Access   string
	Note     string
}

// Do records it.
func (o PutPosition) Do(_ context.Context, s *session.Session) (Result, error) {
	p := store.Position{Name: o.Name}
	if o.Aircraft != "" {
		a, err := aircraftNamed(s, o.Aircraft)
		if err != nil {
			return Result{}, err
		}
		p.Aircraft = a.Name
	}
	known, found, err := s.Shop.PositionNamed(p.Aircraft, p.Name)
	if err != nil {
		return Result{}, err
	}
	if found {
		p = known
	}
	said(&p.Access, o.Access)
	said(&p.Note, o.Note)
	return did(s.Shop.PutPosition(p))
}
