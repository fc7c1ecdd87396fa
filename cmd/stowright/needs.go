package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store/packinglist"
)

// needsCommand brings in what the plans list for sub-assemblies.
type needsCommand struct {
	File   string `arg:"" help:"The list: CSV, XLSX, ODS or text, with the headings sub-assembly, number and quantity in its first row; unit, figure, step, revision, position, side, kind and others may stand there too." type:"path"`
	For    string `help:"The sub-assembly of rows that name none." placeholder:"CODE"`
	Name   string `help:"Its name, where it is new." placeholder:"WORDS"`
	DryRun bool   `help:"Only say how the list is understood."`

	Revises string `help:"The list is a revised one, or a bulletin with a column change: the paper's name." placeholder:"'Bulletin 4'"`
	Paper   string `help:"With --revises: where the paper is kept, or what it came with." placeholder:"WORDS"`
	Dated   string `help:"With --revises: its day; without it, today." placeholder:"2026-04-08"`
}

type needsLine struct {
	Row         int    `json:"row"`
	SubAssembly string `json:"sub_assembly"`
	Called      string `json:"called"`
	Item        string `json:"item"`
	Quantity    string `json:"quantity"`
	Where       string `json:"where,omitempty"`
	Joint       string `json:"joint,omitempty"`
	Through     string `json:"through,omitempty"`
	Doubt       string `json:"doubt,omitempty"`
}

type needsProblem struct {
	Row     int    `json:"row"`
	Column  string `json:"column"`
	Message string `json:"message"`
}

type needsDoubt struct {
	SubAssembly string `json:"sub_assembly"`
	Question    string `json:"question"`
	Source      string `json:"source,omitempty"`
}

type needsAnswer struct {
	SubAssemblies []string       `json:"sub_assemblies"`
	Lines         []needsLine    `json:"lines"`
	Doubts        []needsDoubt   `json:"doubts"`
	Problems      []needsProblem `json:"problems"`
	Entry         uint64         `json:"entry,omitempty"` // 0: nothing was brought in
}

// Run brings the list in, whole or not at all.
func (c *needsCommand) Run(p *program) error {
	switch {
	case c.Revises != "":
		return c.revise(p)
	case c.Paper != "" || c.Dated != "":
		return &usageError{errors.New("--paper and --dated go with --revises: give it too")}
	}
	return p.withSession(func(s *session.Session) error {
		o := operation.NeedList{Path: c.File, For: c.For, Name: c.Name}
		read, err := o.Read(s)
		if err != nil {
			return err
		}
		answer := needsOfList(read)
		if len(read.Problems) == 0 && !c.DryRun {
			r, err := o.Do(p.ctx, s)
			if err != nil {
				return err
			}
			answer.Entry = r.Entry.Seq
		}
		if len(read.Problems) == 0 || c.DryRun {
			if err := p.emit(answer, answer.print); err != nil {
				return err
			}
		}
		return firstOf(read.Problems)
	})
}

// firstOf is the first problem of a list, with how many more there are; nil for none.
func firstOf(problems []packinglist.Problem) error {
	if len(problems) == 0 {
		return nil
	}
	first := problems[0]
	if n := len(problems) - 1; n > 0 {
		first.Message += fmt.Sprintf(" (and %d more to correct)", n)
	}
	return &first
}

func needsOfList(read operation.NeedListRead) needsAnswer {
	a := needsAnswer{SubAssemblies: []string{}, Lines: []needsLine{}, Doubts: []needsDoubt{}, Problems: []needsProblem{}}
	for _, l := range read.Lists {
		a.SubAssemblies = append(a.SubAssemblies, l.SubAssembly.Code)
	}
	for _, l := range read.Lines {
		if l.Problem == "" {
			a.Lines = append(a.Lines, needsLine{l.Row, l.SubAssembly, l.Called, l.Item, l.Quantity, l.Place, l.Joint, l.Through, l.Doubt})
		}
	}
	a.Doubts = doubtsOf(read.Doubts)
	for _, x := range read.Problems {
		a.Problems = append(a.Problems, needsProblem{x.Row, x.Column, x.Message})
	}
	return a
}

func doubtsOf(doubts []operation.NeedDoubt) []needsDoubt {
	all := []needsDoubt{}
	for _, d := range doubts {
		all = append(all, needsDoubt{d.SubAssembly, d.Sentence, d.Source})
	}
	return all
}

func (a needsAnswer) print(w io.Writer) error {
	var b strings.Builder
	for _, l := range a.Lines {
		fmt.Fprintf(&b, "%4d  %-8s %-16s %s", l.Row, l.SubAssembly, l.Called, l.Quantity)
		if l.Item != l.Called {
			fmt.Fprintf(&b, ", kept as %s", l.Item)
		}
		if l.Where != "" {
			fmt.Fprintf(&b, ", %s", l.Where)
		}
		if l.Joint != "" {
			fmt.Fprintf(&b, ", joint %s", l.Joint)
		}
		if l.Through != "" {
			fmt.Fprintf(&b, " through %s", l.Through)
		}
		b.WriteString("\n")
		if l.Doubt != "" {
			fmt.Fprintf(&b, "      see: %s\n", l.Doubt)
		}
	}
	for _, d := range a.Doubts {
		fmt.Fprintf(&b, "ask: %s: %s\n", d.SubAssembly, d.Question)
	}
	if a.Entry > 0 {
		fmt.Fprintf(&b, "%s brought in for %s.\n", wording.Plural(len(a.Lines), "line", "lines"), strings.Join(a.SubAssemblies, ", "))
	} else {
		b.WriteString("Nothing was brought in.\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
