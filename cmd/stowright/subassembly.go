package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
)

// subAssemblyCommand shows a sub-assembly, or says what is to be known of it.
type subAssemblyCommand struct {
	Code     string `arg:"" help:"The sub-assembly, by its code; with --name, a new one is made."`
	Name     string `help:"Its name." placeholder:"WORDS"`
	Hours    string `help:"Planned for it; \"none\" takes them back." placeholder:"12.5"`
	Planned  string `help:"The day that the work is planned for, or \"none\"." placeholder:"2026-08-01"`
	Aircraft string `help:"The aircraft that it is for, by its name, or \"none\"." placeholder:"NAME"`
	PartOf   string `help:"The sub-assembly that it is part of, or \"none\"." placeholder:"CODE"`
	Kind     string `help:"build, inspection or change." placeholder:"KIND"`
}

// subAssemblyAnswer is a sub-assembly in the JSON answer.
type subAssemblyAnswer struct {
	Code         string            `json:"code"`
	Name         string            `json:"name"`
	Kind         string            `json:"kind"`
	State        build.State       `json:"state"`
	Sentence     string            `json:"sentence"`
	Hours        float64           `json:"hours"`
	Logged       float64           `json:"hours_logged"`
	Planned      string            `json:"planned,omitempty"`
	Aircraft     string            `json:"aircraft,omitempty"`
	PartOf       string            `json:"part_of,omitempty"`
	Assembled    string            `json:"came_assembled_by,omitempty"`
	Closed       string            `json:"closed,omitempty"`
	Requirements []requirementLine `json:"requirements"`
	Joints       []jointJSON       `json:"joints"`
	Notes        []store.Note      `json:"notes"`
	Changes      []planChangeJSON  `json:"plan_changes"`
	checks       []build.JointCheck
}

// requirementLine is a line of the list of a sub-assembly. Ended says why it asks for
// nothing any more, where it does not.
type requirementLine struct {
	Requirement string `json:"requirement"`
	Called      string `json:"called"`
	Item        string `json:"item"`
	Quantity    string `json:"quantity"`
	Where       string `json:"where,omitempty"`
	ReplacedBy  string `json:"replaced_by,omitempty"`
	Ended       string `json:"ended,omitempty"`
}

// Run changes the sub-assembly, or shows it.
func (c *subAssemblyCommand) Run(p *program) error {
	o := operation.PutSubAssembly{Code: c.Code, Name: c.Name, Hours: c.Hours, Planned: c.Planned, Aircraft: c.Aircraft, PartOf: c.PartOf, Kind: c.Kind}
	if o != (operation.PutSubAssembly{Code: c.Code}) {
		return p.do(o)
	}
	return p.withSession(func(s *session.Session) error {
		answer, err := session.Answer(s, func(r *session.Reader) (subAssemblyAnswer, error) { return subAssemblyOf(r, c.Code) })
		if err != nil {
			return err
		}
		return p.emit(answer, answer.print)
	})
}

func subAssemblyOf(r *session.Reader, code string) (subAssemblyAnswer, error) {
	a := subAssemblyAnswer{Requirements: []requirementLine{}, Notes: []store.Note{}, Changes: []planChangeJSON{}}
	subs, err := r.Shop.SubAssemblies()
	if err != nil {
		return a, err
	}
	sub, err := session.SubAssemblyNamed(subs, code)
	if err != nil {
		return a, err
	}
	a.Code, a.Name, a.Kind, a.Hours = sub.Code, sub.Name, cmp.Or(string(sub.Work), "build"), hoursOf(sub.Hours)
	a.Planned, a.Aircraft, a.PartOf = isoDay(sub.Planned), sub.Aircraft, sub.Parent
	if sub.Assembled != nil {
		a.Assembled = sub.Assembled.By
	}
	if sub.Closed != nil {
		a.Closed = isoDay(sub.Closed.On)
	}
	if err := r.Board(func(b *build.Board) error {
		status, _ := b.Status(sub.Code)
		a.State, a.Sentence = status.State, status.Sentence
		return nil
	}); err != nil {
		return a, err
	}
	listed, err := r.Shop.Requirements(sub.Code)
	if err != nil {
		return a, err
	}
	for _, need := range listed {
		a.Requirements = append(a.Requirements, requirementLineOf(need))
	}
	if a.checks, err = r.Joints(sub.Code); err != nil {
		return a, err
	}
	a.Joints = jointsOf(a.checks)
	if a.Changes, err = planChangesOf(r, listed); err != nil {
		return a, err
	}
	notes, err := r.Shop.Notes(sub.Code)
	logged := build.Hours(0)
	for _, n := range notes {
		logged += n.Hours
	}
	a.Logged, a.Notes = hoursOf(logged), append(a.Notes, notes...)
	return a, err
}

func requirementLineOf(r store.Requirement) requirementLine {
	l := requirementLine{
		Requirement: r.Name(), Called: r.Called, Item: r.Item, Quantity: r.Quantity(), ReplacedBy: r.ReplacedBy,
		Where: strings.Trim(r.Callout.String()+", "+r.Position, ", "),
	}
	if r.Ended != nil {
		l.Ended = r.Ended.Why
	}
	return l
}

func (a subAssemblyAnswer) print(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s  %s, %s\n    %s\n", a.Code, a.Name, a.Kind, a.Sentence)
	for _, f := range []struct{ what, text string }{
		{"aircraft", a.Aircraft}, {"part of", a.PartOf}, {"planned for", a.Planned}, {"came assembled by", a.Assembled}, {"closed on", a.Closed},
	} {
		if f.text != "" {
			fmt.Fprintf(&b, "    %s %s\n", f.what, f.text)
		}
	}
	if a.Hours > 0 || a.Logged > 0 {
		fmt.Fprintf(&b, "    %g h planned, %g h logged\n", a.Hours, a.Logged)
	}
	for _, r := range a.Requirements {
		b.WriteString(r.words())
	}
	for _, x := range a.checks {
		b.WriteString(jointWords(x) + "\n")
	}
	for _, c := range a.Changes {
		b.WriteString("changed by " + c.words + "\n")
	}
	for _, n := range a.Notes {
		fmt.Fprintf(&b, "%s  %s\n", n.Name(), n.Words())
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (r requirementLine) words() string {
	words := fmt.Sprintf("%-5s %-16s %s", r.Requirement, r.Called, r.Quantity)
	if r.Item != r.Called {
		words += ", kept as " + r.Item
	}
	if r.Where != "" {
		words += ", " + r.Where
	}
	switch {
	case r.ReplacedBy != "":
		words += ", replaced by " + r.ReplacedBy
	case r.Ended != "":
		words += ", ended: " + r.Ended
	}
	return words + "\n"
}
