package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store/hardware"
)

// figuresCommand keeps the builder's own figures of a printed standard.
type figuresCommand struct {
	Bring string   `help:"A CSV with the columns designation, source, grip, length; all of its rows are kept, or none." type:"path" placeholder:"FILE.csv" xor:"do"`
	Drop  []string `help:"Take the figures of a number away." placeholder:"AN7-10" xor:"do"`
}

type figuresAnswer struct {
	Figures []hardware.OwnRow `json:"figures"`
}

// Run changes the figures, if it is asked to, and prints those that are kept.
func (c *figuresCommand) Run(p *program) error {
	answer := figuresAnswer{Figures: []hardware.OwnRow{}}
	err := p.withSession(func(s *session.Session) (err error) {
		switch {
		case c.Bring != "":
			_, err = operation.KeepFigures{File: c.Bring}.Do(p.ctx, s)
		case len(c.Drop) > 0:
			_, err = operation.DropFigures{Designations: c.Drop}.Do(p.ctx, s)
		}
		if err != nil {
			return err
		}
		kept, err := s.Shop.Figures()
		answer.Figures = append(answer.Figures, kept...)
		return err
	})
	if err != nil {
		return err
	}
	return p.emit(answer, answer.print)
}

func (a figuresAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, r := range a.Figures {
		var figures []string
		for _, f := range r.Figures {
			figures = append(figures, strings.ReplaceAll(f.Name, "_", " ")+" "+f.Length.String())
		}
		fmt.Fprintf(&b, "%s  %s  [%s; %s]\n", r.Designation, strings.Join(figures, ", "), r.Source, hardware.BuildersOwn)
	}
	if len(a.Figures) == 0 {
		b.WriteString("No figures of your own are kept in this shop.\n")
	}
	b.WriteString(caution + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}
