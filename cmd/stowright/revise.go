package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// reviseStep is a line that a revised list changes, in the JSON answer.
type reviseStep struct {
	Row         int    `json:"row,omitempty"` // 0: the list leaves it out
	Does        string `json:"does"`
	SubAssembly string `json:"sub_assembly"`
	Requirement string `json:"requirement,omitempty"`
	WasCalled   string `json:"was_called,omitempty"`
	Called      string `json:"called,omitempty"`
	Was         string `json:"was,omitempty"`
	Now         string `json:"now,omitempty"`
	WasJoint    string `json:"was_joint,omitempty"` // with what its bolt goes through: "hinge: spar 0.188"
	Joint       string `json:"joint,omitempty"`
	Fitted      string `json:"fitted,omitempty"` // already, and it stays so
	inJoint     string
	stays       string
}

type reviseAnswer struct {
	Title    string       `json:"title"`
	Bulletin bool         `json:"bulletin"`
	Changes  []reviseStep `json:"changes"`
	Same     int          `json:"same"`
	Doubts   []needsDoubt `json:"doubts"`
	Entry    uint64       `json:"entry,omitempty"` // 0: nothing was changed
	said     string
}

// revise shows what the list changes, and changes it unless it is only looked at.
func (c *needsCommand) revise(p *program) error {
	return p.withSession(func(s *session.Session) error {
		o := operation.ReviseNeeds{List: operation.NeedList{Path: c.File, For: c.For}, Title: c.Revises, Paper: c.Paper, On: c.Dated}
		r, err := o.Read(s)
		if err != nil {
			return err
		}
		if err := firstOf(r.Problems); err != nil {
			return err
		}
		answer := revised(r, c.Revises)
		if !c.DryRun {
			did, err := o.Do(p.ctx, s)
			if err != nil {
				return err
			}
			answer.Entry, answer.said = did.Entry.Seq, did.Words()
		}
		return p.emit(answer, answer.print)
	})
}

func revised(r operation.Revision, title string) reviseAnswer {
	a := reviseAnswer{Title: title, Bulletin: r.Bulletin, Changes: []reviseStep{}, Same: r.Same, Doubts: doubtsOf(r.Doubts)}
	for _, s := range r.Steps {
		step := reviseStep{
			Row: s.Row, Does: s.Does, SubAssembly: s.SubAssembly, Requirement: s.Requirement, WasCalled: s.Old, Called: s.New, Was: s.Was, Now: s.Now,
			WasJoint: s.JointWas, Joint: s.JointNow, inJoint: s.InJoint(), stays: s.Stays(),
		}
		if step.stays != "" {
			step.Fitted = s.Fitted.String()
		}
		a.Changes = append(a.Changes, step)
	}
	return a
}

func (a reviseAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, s := range a.Changes {
		row := ""
		if s.Row > 0 {
			row = fmt.Sprint(s.Row)
		}
		what := s.Called + ", " + s.Now
		if s.WasCalled != "" {
			what = fmt.Sprintf("%s  %s, %s", s.Requirement, s.WasCalled, s.Was)
		}
		if s.Does == "replaces" {
			what += fmt.Sprintf(": now %s, %s", s.Called, s.Now)
		}
		fmt.Fprintf(&b, "%4s  %-8s %-8s  %s\n", row, s.Does, s.SubAssembly, what)
		for _, more := range []string{s.inJoint, s.stays} {
			if more != "" {
				fmt.Fprintf(&b, "      %s\n", more)
			}
		}
	}
	for _, d := range a.Doubts {
		fmt.Fprintf(&b, "ask: %s: %s\n", d.SubAssembly, d.Question)
	}
	if a.Same > 0 {
		fmt.Fprintf(&b, "%s.\n", wording.Plural(a.Same, "line stays as it is", "lines stay as they are"))
	}
	if a.Entry > 0 {
		fmt.Fprintf(&b, "%s\n", wording.Sentence(a.said))
	} else {
		b.WriteString("Nothing was changed.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// planChangeJSON is a bulletin or a revised list that was applied, in the JSON answer.
type planChangeJSON struct {
	Change   string   `json:"change"` // "C-1"
	Title    string   `json:"title"`
	Paper    string   `json:"paper,omitempty"`
	Day      string   `json:"day"`
	Added    []string `json:"added"`
	Dropped  []string `json:"dropped"`
	Replaced []string `json:"replaced"` // the lines that took the place of others
	words    string
}

// planChangesOf are the changes that touched some lines.
func planChangesOf(r *session.Reader, lines []store.Requirement) ([]planChangeJSON, error) {
	changes, err := r.Shop.PlanChanges()
	out := []planChangeJSON{}
	here := func(names []string) []string {
		return slices.DeleteFunc(append([]string{}, names...), func(name string) bool {
			return !slices.ContainsFunc(lines, func(l store.Requirement) bool { return l.Name() == name })
		})
	}
	for _, c := range changes {
		var taken []string
		for _, x := range c.Replaced {
			taken = append(taken, x.New)
		}
		j := planChangeJSON{Change: c.Name(), Title: c.Title, Paper: c.Paper, Day: isoDay(c.Day), Added: here(c.Added), Dropped: here(c.Ended), Replaced: here(taken)}
		if len(j.Added)+len(j.Dropped)+len(j.Replaced) == 0 {
			continue
		}
		words := []string{j.Change, c.Title, c.Day.String()}
		if c.Paper != "" {
			words = append(words, c.Paper)
		}
		j.words = fmt.Sprintf("%s: %d added, %d dropped, %d replaced", strings.Join(words, ", "), len(j.Added), len(j.Dropped), len(j.Replaced))
		out = append(out, j)
	}
	return out, err
}
