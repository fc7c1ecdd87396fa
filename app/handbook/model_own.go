package handbook

import (
	"errors"
	"fmt"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// OwnForm is one row as it is typed.
type OwnForm struct {
	Designation, Source string
	Figures             map[string]string // by the names of hardware.OwnFigures
}

// OwnFields are the figures that can be typed; a CSV may bring all of
// hardware.OwnFigures.
func OwnFields() []Reading {
	return []Reading{
		{hardware.Grip, "Grip", "7/16", true},
		{hardware.LengthField, "Length", "1-3/32", true},
		{hardware.AcrossFlats, "Across flats", "5/8", true},
		{hardware.HeadHeight, "Head height", "9/32", true},
		{hardware.ThreadLength, "Thread length", "21/32", true},
		{hardware.Thickness, "Thickness", "1/16", true},
	}
}

// OwnState is what the part shows.
type OwnState struct {
	Form     OwnForm
	Rows     []table.Row
	Heading  string
	Problems []string // what is wrong with what was typed or brought, row by row
}

// OwnColumns are those of the rows that are kept.
func OwnColumns() []table.Column {
	return []table.Column{{Title: "number", Kind: table.Names, Width: 130}, {Title: "your figures and where they are from", Kind: table.Words}}
}

// OwnHelp says what the part is for.
const OwnHelp = "Where our tables stop, the printed standard goes on. Type what it says, or bring a CSV with the columns designation, source, grip, length. Every row is checked against how its numbers count, and is marked as your own figure wherever it is shown."

// OwnModel keeps the builder's own figures.
type OwnModel struct {
	session *session.Session
	show    func(OwnState)
	said    func(words string)
	state   OwnState
}

// NewOwnModel makes the model; show is called with every new state, and said is
// told what was done.
func NewOwnModel(s *session.Session, show func(OwnState), said func(words string)) *OwnModel {
	return &OwnModel{session: s, show: show, said: said, state: OwnState{Form: OwnForm{Figures: map[string]string{}}}}
}

// State is what is shown now.
func (m *OwnModel) State() OwnState { return m.state }

// Load reads the rows that are kept.
func (m *OwnModel) Load() {
	session.Do(m.session, m.session.Shop.Figures, m.loaded)
}

func (m *OwnModel) loaded(rows []hardware.OwnRow, err error) {
	if err != nil {
		m.state.Problems = []string{err.Error()}
	}
	m.state.Rows = nil
	for _, r := range rows {
		var figures []string
		for _, f := range r.Figures {
			figures = append(figures, fieldName(f.Name)+" "+f.Length.String())
		}
		m.state.Rows = append(m.state.Rows, table.Row{ID: r.Designation, Cells: []table.Cell{
			table.Name(r.Designation, ""), {Text: strings.Join(figures, ", "), Sub: "from " + r.Source},
		}})
	}
	m.state.Heading = "No figures of your own yet"
	if n := len(rows); n > 0 {
		m.state.Heading = fmt.Sprintf("%d numbers with your own figures", n)
	}
	m.show(m.state)
}

// Type takes what was typed into a field: "designation", "source" or a figure.
func (m *OwnModel) Type(name, text string) {
	switch name {
	case "designation":
		m.state.Form.Designation = text
	case "source":
		m.state.Form.Source = text
	default:
		m.state.Form.Figures[name] = text
	}
}

// Keep keeps the row that was typed. The source stays for the next row.
func (m *OwnModel) Keep() {
	row, problems := m.state.Form.row(m.session.Lengths())
	if len(problems) > 0 {
		m.refuse(problems)
		return
	}
	m.put([]hardware.OwnRow{row})
}

// row turns the form into a row, or says what is wrong with it.
func (f OwnForm) row(in measure.System) (row hardware.OwnRow, problems []string) {
	row = hardware.OwnRow{Designation: strings.TrimSpace(f.Designation), Source: strings.TrimSpace(f.Source)}
	if row.Designation == "" {
		problems = append(problems, "The number is empty: write it like AN7-10.")
	}
	if row.Source == "" {
		problems = append(problems, "The source is empty: name the printed standard and its page or table.")
	}
	for _, field := range OwnFields() {
		text := strings.TrimSpace(f.Figures[field.Name])
		if text == "" {
			continue
		}
		l, err := in.Parse(text)
		if err != nil || l <= 0 {
			problems = append(problems, fmt.Sprintf("%s “%s” is not a length: write it like %s.", field.Label, phrase.Clip(text, longestQuoted), in.Example()))
			continue
		}
		row.Figures = append(row.Figures, hardware.OwnFigure{Name: field.Name, Length: l})
	}
	if len(row.Figures) == 0 && len(problems) == 0 {
		problems = append(problems, "There is no figure: give at least the grip or the length.")
	}
	return row, problems
}

// Bring reads a CSV and keeps all of its rows, or none.
func (m *OwnModel) Bring(path string) {
	m.do(operation.KeepFigures{File: path})
}

func (m *OwnModel) put(rows []hardware.OwnRow) { m.do(operation.KeepFigures{Rows: rows}) }

func (m *OwnModel) do(o operation.Operation) {
	operation.Start(m.session, nil, o, m.kept)
}

// kept says what was kept and empties the form, or shows what is wrong.
func (m *OwnModel) kept(r operation.Result, err error) {
	if err != nil {
		m.refuse(eachProblem(err))
		return
	}
	m.state.Problems = nil
	m.state.Form = OwnForm{Source: m.state.Form.Source, Figures: map[string]string{}}
	m.said(r.Words())
	m.Load()
}

// Drop takes the figures of a number away.
func (m *OwnModel) Drop(designation string) {
	if designation == "" {
		return
	}
	m.do(operation.DropFigures{Designations: []string{designation}})
}

func (m *OwnModel) refuse(problems []string) {
	m.state.Problems = problems
	m.show(m.state)
}

// maxProblems is how many problems of a file are listed.
const maxProblems = 12

// eachProblem lists the rows that an error is about, or else the error itself.
func eachProblem(err error) []string {
	var list []string
	var walk func(error)
	walk = func(err error) {
		var row *hardware.OwnError
		if many, ok := err.(interface{ Unwrap() []error }); ok {
			for _, e := range many.Unwrap() {
				walk(e)
			}
		} else if errors.As(err, &row) && err == error(row) {
			list = append(list, wording.Sentence(row.Error()))
		} else if next := errors.Unwrap(err); next != nil {
			walk(next)
		}
	}
	walk(err)
	if len(list) == 0 {
		return []string{err.Error()}
	}
	if more := len(list) - maxProblems; more > 0 {
		list = append(list[:maxProblems], fmt.Sprintf("and %d more.", more))
	}
	return list
}
