package folders

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"stowright/app/loop"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// State is what the chooser shows.
type State struct {
	Folder  string // the folder that is shown
	Problem string // why the last step was not taken
	Rows    []table.Row
	Chosen  int    // -1 for none
	Do      string // what Enter does with the chosen row; "" for nothing
	Top     bool   // there is no folder above
	Note    string
}

// step is what a row leads to.
type step struct {
	name   string // "" for the folder that is shown itself
	folder bool
}

// Model walks from folder to folder until something is chosen. Its methods are called
// on the window's goroutine.
type Model struct {
	ways   *Ways
	want   Want
	show   func(State)
	chosen func(path string)

	state  State
	name   string // what a new file is called
	steps  []step
	asking loop.Latest // for what is in a folder, or whether a path can be taken
}

// NewModel makes the model. Chosen is called with the path, once.
func NewModel(ways *Ways, want Want, show func(State), chosen func(path string)) *Model {
	return &Model{ways: ways, want: want, show: show, chosen: chosen, name: want.name, state: State{Chosen: -1, Top: true}}
}

// State is what is shown now.
func (m *Model) State() State { return m.state }

// reached is what was read of a folder.
type reached struct {
	folder  string // empty where none could be read
	entries []Entry
	mark    string // the name to stand on
	problem string // why it is not the folder that was asked for
}

// Start begins where a field says, and else where something was chosen last.
func (m *Model) Start(field string) {
	path := m.ways.Clean(field)
	starts := m.ways.starts(m.want)
	m.read(func() reached { return m.begin(path, starts) })
}

// begin reads the first folder that can be read. The path may be a folder or a file in
// one, of which the name is kept.
func (m *Model) begin(path string, starts []string) reached {
	name, problem := "", ""
	if path != "" {
		name = filepath.Base(path)
	}
	if filepath.IsAbs(path) {
		entries, err := m.ways.Read(path)
		if err == nil {
			return reached{folder: filepath.Clean(path), entries: entries}
		}
		if !errors.Is(err, errNoFolder) && !errors.Is(err, fs.ErrNotExist) { // else it names a file
			problem = sentence(path, err)
		}
		starts = append([]string{filepath.Dir(path)}, starts...)
	}
	for _, dir := range starts {
		entries, err := m.ways.Read(dir)
		if err == nil {
			return reached{dir, entries, name, problem}
		}
		if problem == "" {
			problem = sentence(dir, err)
		}
	}
	return reached{problem: problem}
}

// Go shows a folder; one that cannot be read says so, and the one before stays.
func (m *Model) Go(dir string) { m.goTo(dir, "") }

func (m *Model) goTo(dir, mark string) {
	m.read(func() reached {
		entries, err := m.ways.Read(dir)
		if err != nil {
			return reached{problem: sentence(dir, err)}
		}
		return reached{folder: dir, entries: entries, mark: mark}
	})
}

// Above shows the folder above, and stands on the one it came from.
func (m *Model) Above() {
	if !m.state.Top {
		m.goTo(filepath.Dir(m.state.Folder), filepath.Base(m.state.Folder))
	}
}

// read reads a folder away from the window.
func (m *Model) read(do func() reached) {
	m.state.Note = "Reading the folder ..."
	m.show(m.state)
	loop.DoLatest(m.ways.Loop, &m.asking, func(context.Context) (reached, error) { return do(), nil }, m.take)
}

// take shows what was read, or why it was not.
func (m *Model) take(r reached, _ error) {
	m.state.Note, m.state.Problem = m.want.shown(), r.problem
	if r.folder != "" {
		m.enter(r)
	}
	m.show(m.state)
}

func (m *Model) enter(r reached) {
	if m.state.Folder == "" && r.mark != "" && m.want.kind == newFile {
		m.name = r.mark // as the field has it
	}
	m.state.Folder, m.state.Top = r.folder, filepath.Dir(r.folder) == r.folder
	if len(r.entries) >= mostEntries {
		m.state.Note += fmt.Sprintf(" Only %d names of this folder are shown.", mostEntries)
	}
	m.lay(r.entries)
	m.mark(max(0, slices.IndexFunc(m.steps, func(s step) bool { return s.name == r.mark })))
}

// lay makes the rows: the folder itself where it can be chosen, the folders in it, the
// files that fit. Hidden ones are left out.
func (m *Model) lay(entries []Entry) {
	entries = slices.DeleteFunc(slices.Clone(entries), func(e Entry) bool {
		return strings.HasPrefix(e.Name, ".") || !e.Folder && !m.want.fits(e.Name)
	})
	slices.SortFunc(entries, func(a, b Entry) int {
		if a.Folder != b.Folder {
			if a.Folder {
				return -1
			}
			return 1
		}
		return store.CompareNames(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	m.steps, m.state.Rows = nil, nil
	add := func(s step, text, beside string) {
		m.steps = append(m.steps, s)
		m.state.Rows = append(m.state.Rows, table.Row{ID: fmt.Sprint(s.folder, s.name), Cells: []table.Cell{table.T(text), table.T(beside)}})
	}
	switch m.want.kind {
	case folder, source:
		add(step{}, "This folder", "")
	case newFile:
		add(step{}, "Here, as "+m.name, "")
	}
	for _, e := range entries {
		if e.Folder {
			add(step{e.Name, true}, e.Name, "folder")
		} else {
			add(step{e.Name, false}, e.Name, wording.Bytes(e.Bytes))
		}
	}
}

// Choose moves to a row.
func (m *Model) Choose(index int) {
	if index >= 0 && index < len(m.steps) {
		m.mark(index)
		m.show(m.state)
	}
}

func (m *Model) mark(index int) {
	m.state.Chosen, m.state.Do = index, ""
	switch {
	case index >= len(m.steps):
		m.state.Chosen = -1
	case m.steps[index].folder:
		m.state.Do = "Open"
	default:
		m.state.Do = "Choose"
	}
}

// Open goes into the folder of the row that is stood on, or chooses what it is.
func (m *Model) Open() {
	if m.asking.Waiting() || m.state.Chosen < 0 {
		return
	}
	s := m.steps[m.state.Chosen]
	path := filepath.Join(m.state.Folder, s.name)
	switch {
	case s.folder:
		m.Go(path)
		return
	case s.name == "" && m.want.kind == newFile:
		path = filepath.Join(path, m.name)
	}
	request := m.asking.Start()
	m.ways.Check(path, m.want, func(problem string) {
		if !request.Current() {
			return
		}
		m.asking.Drop() // it is answered
		if m.state.Problem = problem; problem != "" {
			m.show(m.state)
			return
		}
		m.chosen(path)
	})
}

// Leave drops what is still being read.
func (m *Model) Leave() { m.asking.Drop() }
