package copies

import (
	"context"
	"errors"
	"path/filepath"

	"stowright/app/loop"
	"stowright/app/table"
	"stowright/app/wording"
	storecopies "stowright/store/copies"
)

// RescueState is what the page shows that a damaged shop file opens on.
type RescueState struct {
	Problem string // what is wrong with the file, in a sentence
	Text    string // what can be done, in sentences
	Rows    []table.Row
	CanDo   bool // there is something to restore from
	Older   bool // entries can be put back, and need not be
	Job     loop.Progress
	Error   string
}

// RescueModel decides what that page shows. Nothing is done to the file until
// somebody says so. Its methods are called on the window's goroutine.
type RescueModel struct {
	file   string
	show   func(RescueState)
	opened func(aside string) // the file is whole again
	state  RescueState
	plan   storecopies.Plan
	job    *loop.Job
}

// NewRescueModel makes the model for a file that cannot be opened.
func NewRescueModel(file string, problem error, l loop.Loop, show func(RescueState), opened func(aside string)) *RescueModel {
	m := &RescueModel{file: file, show: show, opened: opened, state: RescueState{Problem: wording.Error(problem)}}
	m.job = loop.NewJob(l, m.render)
	return m
}

func (m *RescueModel) render() {
	m.state.Job = m.job.Progress()
	m.show(m.state)
}

// Load looks for the newest good copy.
func (m *RescueModel) Load() {
	m.look(func(ctx context.Context) (storecopies.Plan, error) {
		return storecopies.PlanRestore(ctx, m.file, storecopies.Folder(m.file))
	})
}

// Use looks at a copy that is named.
func (m *RescueModel) Use(copyFile string) {
	m.look(func(ctx context.Context) (storecopies.Plan, error) {
		return storecopies.PlanRestoreFrom(ctx, m.file, copyFile)
	})
}

func (m *RescueModel) look(plan func(context.Context) (storecopies.Plan, error)) {
	m.state.Error = ""
	work(m.job, "Looking for what is whole", plan, func(p storecopies.Plan, err error) {
		if err != nil {
			m.fail(err)
			return
		}
		m.plan = p
		m.state.CanDo, m.state.Older = true, p.Copy.File != "" && len(p.Missing) > 0
		m.state.Text, m.state.Rows = rescueWords(p), entryRows(p.Missing)
		if len(p.Missing) == 0 {
			m.state.Rows = entryRows(p.Difference.Lost)
		}
		m.render()
	})
}

// rescueWords says what restoring does to a damaged file.
func rescueWords(p storecopies.Plan) string {
	text := p.Sentence()
	if len(p.Missing) == 0 && !p.Difference.None() {
		text += " " + p.Difference.Sentence()
	}
	for _, bad := range p.Bad {
		text += " The copy " + filepath.Base(bad.File) + " is damaged itself."
	}
	return text + " The file as it is now is kept beside it."
}

func (m *RescueModel) fail(err error) {
	m.state.Error = wording.Error(err)
	if errors.Is(err, context.Canceled) {
		m.state.Error = "Stopped: nothing was changed."
	}
	m.render()
}

// Restore does it; later entries that can still be read are put back, or not.
func (m *RescueModel) Restore(putBack bool) {
	if !m.state.CanDo {
		return
	}
	work(m.job, "Restoring", func(ctx context.Context) (string, error) {
		return storecopies.Restore(ctx, m.plan, putBack)
	}, func(aside string, err error) {
		if err != nil {
			m.fail(err)
			return
		}
		m.opened(aside)
	})
}

// Key does what a key is for and reports whether it is one of this page's.
func (m *RescueModel) Key(key string) bool {
	if key == "Esc" && m.job.Busy() {
		m.job.Stop()
		return true
	}
	return key == "Esc" // there is nowhere to go back to
}
