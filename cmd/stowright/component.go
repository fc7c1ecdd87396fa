package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/store"
	"stowright/store/build"
)

// componentCommand shows pieces with a serial number, or records what is known of one.
type componentCommand struct {
	Component     string `arg:"" optional:"" help:"The component, as CO-1 or by its serial number; without it, all are listed. With --item and --serial, a new one is made." placeholder:"CO-1"`
	Item          string `help:"Its part number." placeholder:"NUMBER"`
	Serial        string `help:"Its serial number." placeholder:"0007"`
	Lot           string `help:"The lot that it came with." placeholder:"L-17"`
	SinceNew      string `help:"The hours that it had since new when it came." placeholder:"112.4"`
	SinceOverhaul string `help:"The hours that it had since overhaul when it came." placeholder:"12.0"`
	Known         string `help:"By what these are known." placeholder:"'log book, page 3'"`
	Remark        string `name:"note" help:"What else is to be known of it." placeholder:"WORDS"`
	Mount         string `help:"It went on this aircraft." placeholder:"Q" xor:"do"`
	Position      string `help:"With --mount: where on it." placeholder:"'Nose / hub'"`
	Dismount      bool   `help:"It came off." xor:"do"`
	To            string `help:"With --dismount: the place that it went to." placeholder:"PLACE"`
	Hours         string `help:"With --mount and --dismount: the hours of the aircraft then (default: as read that day or before)." placeholder:"112.4"`
	On            string `help:"With --mount and --dismount: the day (default: today)." placeholder:"2026-03-18"`
	Correct       int    `help:"Correct the hours of a stretch, from 1: with --mounted-at or --dismounted-at." placeholder:"1" xor:"do"`
	MountedAt     string `help:"With --correct: the hours when it went on." placeholder:"0.0"`
	DismountedAt  string `help:"With --correct: the hours when it came off." placeholder:"112.2"`
}

// componentAnswer is a component in the JSON answer; hours that nobody knows are left out.
type componentAnswer struct {
	Component     string          `json:"component"`
	Item          string          `json:"item"`
	Serial        string          `json:"serial"`
	Lot           string          `json:"lot,omitempty"`
	SinceNew      *float64        `json:"since_new_when_it_came,omitempty"`
	SinceOverhaul *float64        `json:"since_overhaul_when_it_came,omitempty"`
	Known         string          `json:"known_by,omitempty"`
	Ran           *float64        `json:"ran_here,omitempty"`
	SinceNewNow   *float64        `json:"since_new_now,omitempty"`
	Note          string          `json:"note,omitempty"`
	Stretches     []stretchAnswer `json:"stretches"`
}

// stretchAnswer is a stretch on an aircraft.
type stretchAnswer struct {
	Aircraft string           `json:"aircraft"`
	Position string           `json:"position,omitempty"`
	On       aircraftReading  `json:"on"`
	Off      *aircraftReading `json:"off,omitempty"`
	Place    string           `json:"place,omitempty"`
}

// Run records it, or lists them.
func (c *componentCommand) Run(p *program) error {
	o, err := c.operation()
	if err != nil {
		return err
	}
	return doOrList(p, o, "components", func(r *store.Reader) ([]componentAnswer, error) { return components(r, strings.TrimSpace(c.Component)) }, printComponents)
}

// operation is what the options say is to be done; nil for nothing.
func (c *componentCommand) operation() (operation.Operation, error) {
	describes := c.Item+c.Serial+c.Lot+c.SinceNew+c.SinceOverhaul+c.Known+c.Remark != ""
	moves := c.Mount != "" || c.Dismount
	if err := c.alone(moves); err != nil {
		return nil, err
	}
	switch {
	case describes && (moves || c.Correct != 0):
		return nil, &usageError{errors.New("what is known of a component and where it is are entries of their own: give one at a time")}
	case c.Component == "" && (moves || c.Correct != 0):
		return nil, &usageError{errors.New("say which component: its name stands before the options")}
	}
	return c.meant(describes), nil
}

// alone refuses an option without that which it belongs to.
func (c *componentCommand) alone(moves bool) error {
	switch {
	case !moves && c.Hours+c.On != "" || c.Mount == "" && c.Position != "" || !c.Dismount && c.To != "":
		return &usageError{errors.New("--hours and --on go with --mount or --dismount, --position with --mount, --to with --dismount")}
	case c.Correct == 0 && c.MountedAt+c.DismountedAt != "":
		return &usageError{errors.New("--mounted-at and --dismounted-at go with --correct: give both")}
	}
	return nil
}

func (c *componentCommand) meant(describes bool) operation.Operation {
	switch {
	case c.Mount != "":
		return operation.Mount{Component: c.Component, Aircraft: c.Mount, Position: c.Position, Hours: c.Hours, On: c.On}
	case c.Dismount:
		return operation.Dismount{Component: c.Component, Hours: c.Hours, On: c.On, To: c.To}
	case c.Correct != 0:
		return operation.CorrectMounting{Component: c.Component, Stretch: c.Correct, On: c.MountedAt, Off: c.DismountedAt}
	case describes:
		return operation.PutComponent{
			Name: c.Component, Item: c.Item, Serial: c.Serial, Lot: c.Lot, SinceNew: c.SinceNew, SinceOverhaul: c.SinceOverhaul, Known: c.Known, Note: c.Remark,
		}
	}
	return nil
}

// components are all of them, or the one of a name or a serial number.
func components(r *store.Reader, name string) ([]componentAnswer, error) {
	all, err := r.Components()
	if err != nil {
		return nil, err
	}
	times, err := r.Times()
	if err != nil {
		return nil, err
	}
	list := []componentAnswer{}
	for _, k := range all {
		if name != "" && !strings.EqualFold(k.Name(), name) && !strings.EqualFold(k.Serial, name) {
			continue
		}
		ran, sinceNew := times.Component(k.Name())
		a := componentAnswer{
			Component: k.Name(), Item: k.Item, Serial: k.Serial, Lot: k.Lot, SinceNew: hoursIn(k.SinceNew), SinceOverhaul: hoursIn(k.SinceOverhaul),
			Known: k.Known, Ran: hoursIn(ran), SinceNewNow: hoursIn(sinceNew), Note: k.Note, Stretches: []stretchAnswer{},
		}
		for _, at := range k.Stretches {
			stretch, err := stretchOf(r, at)
			if err != nil {
				return nil, err
			}
			a.Stretches = append(a.Stretches, stretch)
		}
		list = append(list, a)
	}
	if name != "" && len(list) == 0 {
		return nil, &store.Error{Kind: store.NotFound, Where: name, Message: fmt.Sprintf("There is no component %q in this shop: --item and --serial make one.", name)}
	}
	return list, nil
}

func stretchOf(r *store.Reader, s store.Stretch) (stretchAnswer, error) {
	a := stretchAnswer{Aircraft: s.Aircraft, Position: s.Position, On: aircraftReading{isoDay(s.On.Day), hoursOf(s.On.Hours)}}
	if s.Off != nil {
		a.Off = &aircraftReading{isoDay(s.Off.Day), hoursOf(s.Off.Hours)}
	}
	if s.Place == "" {
		return a, nil
	}
	place, err := r.Place(s.Place)
	a.Place = place.Name
	return a, err
}

// hoursIn are hours as a number; nil where they are not known.
func hoursIn(h *build.Hours) *float64 {
	if h == nil {
		return nil
	}
	f := hoursOf(*h)
	return &f
}

func printComponents(w io.Writer, list []componentAnswer) error {
	var b strings.Builder
	known := func(h *float64) string {
		if h == nil {
			return "not known"
		}
		return fmt.Sprintf("%.1f h", *h)
	}
	for _, a := range list {
		fmt.Fprintf(&b, "%s  %s serial %s: ran here %s, since new %s\n", a.Component, a.Item, a.Serial, known(a.Ran), known(a.SinceNewNow))
		if a.SinceNew != nil || a.SinceOverhaul != nil {
			fmt.Fprintf(&b, "    when it came: since new %s, since overhaul %s, by %s\n", known(a.SinceNew), known(a.SinceOverhaul), a.Known)
		}
		for _, at := range a.Stretches {
			fmt.Fprintf(&b, "    on %s at %.1f h, %s", strings.TrimSpace(at.Aircraft+" "+at.Position), at.On.Hours, at.On.Day)
			if at.Off != nil {
				fmt.Fprintf(&b, "; off at %.1f h, %s", at.Off.Hours, at.Off.Day)
			}
			if at.Place != "" {
				fmt.Fprintf(&b, ", to %s", at.Place)
			}
			b.WriteString("\n")
		}
		if a.Note != "" {
			fmt.Fprintf(&b, "    %s\n", a.Note)
		}
	}
	if len(list) == 0 {
		b.WriteString("No component is known here: stowright component --item NUMBER --serial NUMBER makes one.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
