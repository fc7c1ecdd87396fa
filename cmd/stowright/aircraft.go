package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/store"
)

// aircraftCommand shows aircraft, or records what is known of one.
type aircraftCommand struct {
	Name        string `arg:"" optional:"" help:"The aircraft; without it, all are listed. With --certificate, a new one is made."`
	Certificate string `help:"experimental, standard, other, or \"none\" for none yet." placeholder:"KIND"`
	InspectedBy string `help:"Who may inspect it; \"none\" takes all of them back." placeholder:"NAME"`
	Paper       string `help:"With --inspected-by: the paper by which that person may." placeholder:"WORDS"`
	Hours       string `help:"Its total time." placeholder:"112.4"`
	On          string `help:"With --hours: the day of the reading (default: today)." placeholder:"2026-03-18"`
}

// aircraftAnswer is an aircraft in the JSON answer.
type aircraftAnswer struct {
	Name        string            `json:"name"`
	Certificate string            `json:"certificate"`
	Inspectors  []store.Inspector `json:"may_inspect"`
	Hours       []aircraftReading `json:"hours"`
}

// aircraftReading is the total time on a day, in hours.
type aircraftReading struct {
	Day   string  `json:"day"`
	Hours float64 `json:"hours"`
}

// Run records it, or lists them.
func (c *aircraftCommand) Run(p *program) error {
	o, err := c.operation()
	if err != nil {
		return err
	}
	return doOrList(p, o, "aircraft", func(r *store.Reader) ([]aircraftAnswer, error) { return aircraftNamed(r, strings.TrimSpace(c.Name)) }, printAircraft)
}

// operation is what the options say is to be done; nil for nothing.
func (c *aircraftCommand) operation() (operation.Operation, error) {
	describes := c.Certificate+c.InspectedBy+c.Paper != ""
	switch {
	case c.On != "" && c.Hours == "":
		return nil, &usageError{errors.New("--on goes with --hours: give both")}
	case describes && c.Hours != "":
		return nil, &usageError{errors.New("--hours is an entry of its own: give it by itself")}
	case c.Name == "" && (describes || c.Hours != ""):
		return nil, &usageError{errors.New("say which aircraft: its name stands before the options")}
	case c.Hours != "":
		return operation.LogHours{Aircraft: c.Name, Hours: c.Hours, On: c.On}, nil
	case describes:
		return operation.PutAircraft{Name: c.Name, Certificate: c.Certificate, Inspector: c.InspectedBy, Paper: c.Paper}, nil
	}
	return nil, nil
}

// aircraftNamed are all aircraft, or the one of a name.
func aircraftNamed(s *store.Reader, name string) ([]aircraftAnswer, error) {
	all, err := s.Aircraft()
	if err != nil {
		return nil, err
	}
	list := []aircraftAnswer{}
	for _, a := range all {
		if name == "" || strings.EqualFold(a.Name, name) {
			list = append(list, aircraftOf(a))
		}
	}
	if name != "" && len(list) == 0 {
		return nil, &store.Error{Kind: store.NotFound, Where: name, Message: fmt.Sprintf("There is no aircraft %q in this shop: --certificate makes it.", name)}
	}
	return list, nil
}

func aircraftOf(a store.Aircraft) aircraftAnswer {
	out := aircraftAnswer{
		Name: a.Name, Certificate: cmp.Or(string(a.Certificate), "none yet"), Inspectors: append([]store.Inspector{}, a.Inspectors...), Hours: []aircraftReading{},
	}
	for _, h := range a.Hours {
		out.Hours = append(out.Hours, aircraftReading{isoDay(h.Day), hoursOf(h.Hours)})
	}
	return out
}

func printAircraft(w io.Writer, list []aircraftAnswer) error {
	var b strings.Builder
	for _, a := range list {
		fmt.Fprintf(&b, "%s  certificate: %s\n", a.Name, a.Certificate)
		for _, who := range a.Inspectors {
			fmt.Fprintf(&b, "    may inspect: %s, by %s\n", who.Who, who.Paper)
		}
		for _, h := range a.Hours {
			fmt.Fprintf(&b, "    %s  %.1f h\n", h.Day, h.Hours)
		}
	}
	if len(list) == 0 {
		b.WriteString("No aircraft is known here: stowright aircraft NAME --certificate none makes one.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
