package main

import (
	"cmp"
	"errors"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
)

// requirementCommand shows a line of the list of a sub-assembly, ends or replaces it.
type requirementCommand struct {
	Requirement string `arg:"" help:"The line, as R-31: sub-assembly CODE shows them." placeholder:"R-31"`
	End         string `help:"It asks for nothing any more: why." placeholder:"WHY" xor:"do"`
	ReplaceBy   string `help:"The number that the plans call in its place." placeholder:"NUMBER" xor:"do"`
	Quantity    string `help:"With --replace-by: how many, as printed; without it, as before." placeholder:"'10 x 2 sides'"`
	Revision    string `help:"With --replace-by: the revision of the plans." placeholder:"B"`
	Note        string `help:"With --replace-by: what else is to be known of it." placeholder:"WORDS"`
}

// requirementAnswer is the line in the JSON answer.
type requirementAnswer struct {
	requirementLine
	SubAssembly string   `json:"sub_assembly"`
	Kind        string   `json:"kind"`
	AsPrinted   string   `json:"as_printed,omitempty"`
	Revision    string   `json:"revision,omitempty"`
	Torque      string   `json:"torque,omitempty"`
	Note        string   `json:"note,omitempty"`
	Fitted      []string `json:"fitted"` // "6 ea AN3-5A"
}

// Run ends or replaces it, or shows it.
func (c *requirementCommand) Run(p *program) error {
	switch {
	case c.ReplaceBy == "" && (c.Quantity != "" || c.Revision != "" || c.Note != ""):
		return &usageError{errors.New("--quantity, --revision and --note go with --replace-by: give both")}
	case c.End != "":
		return p.do(operation.EndRequirement{Requirement: c.Requirement, Why: c.End})
	case c.ReplaceBy != "":
		return p.do(operation.ReplaceRequirement{Requirement: c.Requirement, By: c.ReplaceBy, Quantity: c.Quantity, Revision: c.Revision, Note: c.Note})
	}
	return p.withShop(func(s *store.Shop) error {
		all, err := s.Requirements("")
		if err != nil {
			return err
		}
		r, err := session.RequirementNamed(all, c.Requirement)
		if err != nil {
			return err
		}
		answer := requirementAnswer{
			requirementLine: requirementLineOf(r), SubAssembly: r.SubAssembly, Kind: cmp.Or(string(r.Kind), "exact"), AsPrinted: r.Expression,
			Revision: r.Revision, Torque: r.Torque, Note: r.Note, Fitted: []string{},
		}
		fitted, err := s.Fitted(r.SubAssembly)
		if err != nil {
			return err
		}
		for _, f := range fitted {
			if f.Requirement == r.Name() {
				answer.Fitted = append(answer.Fitted, f.Amount.String()+" "+f.Item)
			}
		}
		return p.emit(answer, answer.print)
	})
}

func (a requirementAnswer) print(w io.Writer) error {
	text := a.SubAssembly + "  " + a.words()
	for _, f := range []struct{ what, text string }{
		{"as printed: ", a.AsPrinted}, {"revision ", a.Revision}, {"torque: ", a.Torque}, {"note: ", a.Note}, {"fitted: ", strings.Join(a.Fitted, ", ")},
	} {
		if f.text != "" {
			text += "    " + f.what + f.text + "\n"
		}
	}
	_, err := io.WriteString(w, text)
	return err
}

// singleUseCommand says of an item that it is used once.
type singleUseCommand struct {
	Item string `arg:"" help:"The part number."`
	Not  bool   `help:"It is not, after all."`
}

// Run marks it.
func (c *singleUseCommand) Run(p *program) error {
	return p.do(operation.MarkSingleUse{Item: c.Item, Not: c.Not})
}
