package building

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/packinglist"
)

// ListState is what the page shows on which a list of requirements comes in.
type ListState struct {
	Note      string // how many lines for which sub-assemblies; empty for nothing yet
	Rows      []table.Row
	Questions []string // about the list, never corrections
	More      int      // questions that are not shown
	Ready     bool     // it can be brought in
	Problem   string
	Revising  bool // it is taken for a revised list or a bulletin
	Listed    bool // some of it is listed already: it may be a revised list
}

// ListColumns are those of the preview.
func ListColumns() []table.Column {
	return []table.Column{
		{Title: "row", Kind: table.Faint, Width: 46},
		{Title: "for", Kind: table.Names, Width: 96},
		{Title: "number", Kind: table.Names},
		{Title: "quantity", Kind: table.Words, Width: 170},
		{Title: "", Kind: table.States, Width: 270},
	}
}

// ListModel decides what that page shows. Its methods are called on the window's goroutine.
type ListModel struct {
	session *session.Session
	show    func(ListState)
	done    func(code, words string)
	state   ListState
	list    operation.NeedList
	revises bool   // what is read is a revised list
	first   string // code of the first sub-assembly of the list
	reading loop.Latest
	doing   loop.Once
}

// NewListModel makes the model; done is called when a list was brought in, with the code
// of its first sub-assembly and what was done in words.
func NewListModel(s *session.Session, show func(ListState), done func(code, words string)) *ListModel {
	return &ListModel{session: s, show: show, done: done}
}

// State is what is shown now.
func (m *ListModel) State() ListState { return m.state }

// Open reads a file.
func (m *ListModel) Open(path string) { m.read(operation.NeedList{Path: path}) }

// Type reads what is typed for a sub-assembly, one line a part number.
func (m *ListModel) Type(code, name, text string) {
	if strings.TrimSpace(text) == "" {
		m.reading.Drop()
		m.list, m.state = operation.NeedList{}, ListState{Revising: m.revises}
		m.show(m.state)
		return
	}
	m.read(operation.NeedList{For: code, Name: name, Text: text})
}

// Revise takes the list for a revised one or a bulletin, or for a new one again.
func (m *ListModel) Revise() {
	m.revises = !m.revises
	if m.list == (operation.NeedList{}) {
		m.state.Revising = m.revises
		m.show(m.state)
		return
	}
	m.read(m.list)
}

func (m *ListModel) read(list operation.NeedList) {
	m.list = list
	if m.revises {
		m.readRevision()
		return
	}
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (operation.NeedListRead, error) { return list.Read(m.session) }, m.took)
}

// mostQuestions is how many questions are shown at once.
const mostQuestions = 3

func (m *ListModel) took(read operation.NeedListRead, err error) {
	m.state = ListState{}
	if m.failed(err) {
		return
	}
	for _, l := range read.Lines {
		m.state.Rows = append(m.state.Rows, needRow(l))
	}
	codes := m.about(read)
	m.state.Listed = read.Listed
	m.state.Note = fmt.Sprintf("%s for %s", wording.Plural(len(read.Lines), "line", "lines"), listed(codes))
	if len(read.Problems) > 0 {
		m.state.Problem = wording.Sentence(read.Problems[0].Error())
		m.show(m.state)
		return
	}
	m.state.Ready = len(read.Lists) > 0
	m.show(m.state)
}

// failed shows why nothing could be read, and reports whether that is so.
func (m *ListModel) failed(err error) bool {
	if err == nil {
		return false
	}
	var problem *packinglist.Problem
	if m.state.Problem = wording.Sentence(err.Error()); !errors.As(err, &problem) {
		m.state.Problem = wording.Error(err)
	}
	m.show(m.state)
	return true
}

// about takes what is asked of a list, and returns the codes that it is for.
func (m *ListModel) about(read operation.NeedListRead) []string {
	for _, d := range read.Doubts {
		if len(m.state.Questions) == mostQuestions {
			m.state.More++
			continue
		}
		m.state.Questions = append(m.state.Questions, d.SubAssembly+": "+wording.Sentence(d.Sentence))
	}
	var codes []string
	for _, l := range read.Lists {
		codes = append(codes, l.SubAssembly.Code)
	}
	if len(codes) > 0 {
		m.first = codes[0]
	}
	return codes
}

// needRow is a line of the list as a row of the preview.
func needRow(l operation.NeedLine) table.Row {
	sub := l.Title
	if l.Item != l.Called && l.Item != "" {
		sub = "kept as " + l.Item + " · " + l.Via
	}
	if l.Joint != "" {
		sub = wording.Joined(" · ", "joint "+wording.Joined(": ", l.Joint, l.Through), sub)
	}
	mark := notice.Mark{Word: l.Place, Tone: notice.OK}
	if mark.Word == "" {
		mark.Word = "understood"
	}
	switch {
	case l.Problem != "":
		mark = notice.Mark{Word: inShort(l.Problem), Tone: notice.Stop}
	case l.Doubt != "":
		mark = notice.Mark{Word: inShort(l.Doubt), Tone: notice.Warn}
	}
	return table.Row{ID: fmt.Sprint(l.Row), Cells: []table.Cell{
		table.T(fmt.Sprint(l.Row)), table.Name(l.SubAssembly, ""), table.Name(l.Called, sub), table.T(l.Quantity), {Mark: mark},
	}}
}

// inShort is what a sentence says before it goes into detail.
func inShort(sentence string) string {
	words, _, _ := strings.Cut(sentence, ":")
	return words
}

// BringIn brings the list in, as one entry.
func (m *ListModel) BringIn() {
	if !m.state.Ready {
		return
	}
	operation.Start(m.session, &m.doing, m.list, func(r operation.Result, err error) {
		if err != nil {
			m.state.Problem, m.state.Ready = wording.Error(err), false
			m.show(m.state)
			return
		}
		m.done(m.first, r.Words())
	})
}
