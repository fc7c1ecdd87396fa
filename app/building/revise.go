package building

import (
	"context"
	"fmt"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/table"
	"stowright/app/wording"
)

// readRevision works out what the list changes.
func (m *ListModel) readRevision() {
	o := operation.ReviseNeeds{List: m.list}
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (operation.Revision, error) { return o.Read(m.session) }, m.tookRevision)
}

func (m *ListModel) tookRevision(r operation.Revision, err error) {
	m.state = ListState{Revising: true}
	if m.failed(err) {
		return
	}
	for _, s := range r.Steps {
		m.state.Rows = append(m.state.Rows, stepRow(s))
	}
	codes := m.about(r.NeedListRead)
	if len(r.Problems) > 0 {
		for _, l := range r.Lines {
			if l.Problem != "" {
				m.state.Rows = append(m.state.Rows, needRow(l))
			}
		}
		m.state.Note = fmt.Sprintf("A change of %s that cannot be read whole", listed(codes))
		m.state.Problem = wording.Sentence(r.Problems[0].Error())
		m.show(m.state)
		return
	}
	m.state.Note = revisionNote(r, codes)
	m.state.Ready = len(r.Steps) > 0
	m.show(m.state)
}

// revisionNote is "2 changes of SA-21; 3 lines stay as they are".
func revisionNote(r operation.Revision, codes []string) string {
	what := "The whole list of "
	if r.Bulletin {
		what = "A bulletin on "
	}
	if len(r.Steps) == 0 {
		return fmt.Sprintf("%s%s, which changes nothing: %s", what, listed(codes), wording.Plural(r.Same, "line stays as it is", "lines stay as they are"))
	}
	return fmt.Sprintf("%s%s: %s, %s", what, listed(codes), wording.Plural(len(r.Steps), "change", "changes"), wording.Plural(r.Same, "line stays as it is", "lines stay as they are"))
}

// stepRow is one change as a row of the preview.
func stepRow(s operation.RevisionStep) table.Row {
	row, number, sub, now := "–", s.New, "", s.Now
	if s.Row > 0 {
		row = fmt.Sprint(s.Row)
	}
	mark := notice.Mark{Word: "added", Tone: notice.OK}
	switch s.Does {
	case "drops":
		number, now = s.Old, s.Was
		mark = notice.Mark{Word: "dropped: " + s.Requirement, Tone: notice.Warn}
	case "replaces":
		sub = s.Requirement + " was " + s.Old + ", " + s.Was
		mark = notice.Mark{Word: "in place of " + s.Requirement, Tone: notice.OK}
	}
	sub = wording.Joined(" · ", s.InJoint(), sub)
	if words := s.Stays(); words != "" {
		mark = notice.Mark{Word: s.Fitted.Figure() + " fitted already: stays so", Tone: notice.Warn}
		if s.Does == "drops" {
			mark.Word = "dropped; " + mark.Word
		}
	}
	return table.Row{ID: row + "/" + s.Requirement + "/" + s.New, Cells: []table.Cell{
		table.T(row), table.Name(s.SubAssembly, ""), table.Name(number, sub), table.T(now), {Mark: mark},
	}}
}

// Apply applies the revised list under the name of its paper, as one entry; back is told
// what is wrong, or nil.
func (m *ListModel) Apply(title, paper, on string, back func(error)) {
	o := operation.ReviseNeeds{List: m.list, Title: title, Paper: paper, On: on}
	operation.Start(m.session, &m.doing, o, func(r operation.Result, err error) {
		back(err)
		if err == nil {
			m.done(m.first, r.Words())
		}
	})
}
