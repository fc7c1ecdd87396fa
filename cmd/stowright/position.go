package main

import (
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/store"
)

// positionCommand shows positions on an aircraft with what went in there, or records one.
type positionCommand struct {
	Position string `arg:"" optional:"" help:"The position, from the large to the small; without it, all are listed." placeholder:"'Tailplane / left / hinge 2'"`
	Aircraft string `help:"On this aircraft, where the sub-assemblies say which is theirs." placeholder:"Q"`
	Access   string `help:"How one gets to it once it is closed up; \"none\" takes it back." placeholder:"'panel 3, 12 screws'"`
	Remark   string `name:"note" help:"What else is to be known of it." placeholder:"WORDS"`
	Record   bool   `help:"Record it, and those that it is part of."`
}

// positionAnswer is a position in the JSON answer. Fits are those of the position and of
// what is part of it; below zero it came out again.
type positionAnswer struct {
	Position string        `json:"position"`
	Aircraft string        `json:"aircraft,omitempty"`
	Access   string        `json:"access,omitempty"`
	Note     string        `json:"note,omitempty"`
	Fits     []positionFit `json:"fits,omitempty"`
}

type positionFit struct {
	Day         string `json:"day"`
	SubAssembly string `json:"sub_assembly"`
	Item        string `json:"item"`
	Lot         string `json:"lot,omitempty"`
	Amount      string `json:"amount"`
	Position    string `json:"position"`
	Hand        string `json:"hand"`
}

// Run records it, or lists them.
func (c *positionCommand) Run(p *program) error {
	if c.Record || c.Access+c.Remark != "" {
		return p.do(operation.PutPosition{Name: c.Position, Aircraft: c.Aircraft, Access: c.Access, Note: c.Remark})
	}
	return p.withShop(func(s *store.Shop) error {
		list := []positionAnswer{}
		err := s.Read(func(r *store.Reader) (err error) {
			if c.Position == "" {
				list, err = positions(r)
				return err
			}
			var one positionAnswer
			one, err = positionAt(r, c.Aircraft, c.Position)
			list = append(list, one)
			return err
		})
		if err != nil {
			return err
		}
		answer := struct {
			Positions []positionAnswer `json:"positions"`
		}{list}
		return p.emit(answer, func(w io.Writer) error { return printPositions(w, list) })
	})
}

func positions(r *store.Reader) ([]positionAnswer, error) {
	all, err := r.Positions()
	list := []positionAnswer{}
	for _, p := range all {
		list = append(list, positionAnswer{Position: p.Name, Aircraft: p.Aircraft, Access: p.Access, Note: p.Note})
	}
	return list, err
}

// positionAt is a position with what went in there. It need not be recorded, where things
// were fitted in it.
func positionAt(r *store.Reader, aircraft, name string) (positionAnswer, error) {
	p, found, err := r.PositionNamed(aircraft, name)
	if err != nil {
		return positionAnswer{}, err
	}
	if !found {
		p = store.PositionOf(aircraft, name)
	}
	a := positionAnswer{Position: p.Name, Aircraft: p.Aircraft, Access: p.Access, Note: p.Note}
	fits, err := r.At(p)
	if err != nil {
		return a, err
	}
	for _, f := range fits {
		a.Fits = append(a.Fits, positionFit{f.At.Format("2006-01-02"), f.SubAssembly, f.Item, f.Lot, f.Amount.String(), f.Position, f.Hand})
	}
	if !found && len(fits) == 0 {
		return a, &store.Error{Kind: store.NotFound, Where: name, Message: fmt.Sprintf("Nothing is recorded of the position %q: --record makes it.", p.Name)}
	}
	return a, nil
}

func printPositions(w io.Writer, list []positionAnswer) error {
	var b strings.Builder
	for _, a := range list {
		b.WriteString(a.Position)
		for _, part := range []struct{ before, text string }{{", on ", a.Aircraft}, {", by ", a.Access}, {": ", a.Note}} {
			if part.text != "" {
				b.WriteString(part.before + part.text)
			}
		}
		b.WriteString("\n")
		for _, f := range a.Fits {
			fmt.Fprintf(&b, "    %s  %s %s for %s in %s, by %s\n", f.Day, f.Amount, strings.TrimSpace(f.Item+" "+f.Lot), f.SubAssembly, f.Position, f.Hand)
		}
	}
	if len(list) == 0 {
		b.WriteString("No position is recorded here: stowright position 'Tailplane / left' --record makes one.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
