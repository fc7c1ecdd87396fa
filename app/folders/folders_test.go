package folders

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/loop"
)

// walk is a chooser on folders of the test, whose reading waits for the test.
type walk struct {
	*loop.Queue
	m      *Model
	chosen []string
}

// tree are the folders of most tests; /locked may not be read.
var tree = map[string][]Entry{
	"/":              {{Name: "home", Folder: true}, {Name: "locked", Folder: true}, {Name: "shop", Folder: true}},
	"/home":          {{Name: "me", Folder: true}},
	"/home/me":       {{Name: "zeta.csv", Bytes: 999}, {Name: "Alpha.CSV", Bytes: 4120}, {Name: "notes.txt"}, {Name: ".hidden.csv"}, {Name: "scans", Folder: true}, {Name: "papers", Folder: true}},
	"/home/me/scans": {{Name: "list-10.csv", Bytes: 12}, {Name: "list-9.csv", Bytes: 12}},
	"/shop":          nil,
}

func inTree(dir string) ([]Entry, error) {
	if dir == "/locked" {
		return nil, fs.ErrPermission
	}
	if entries, ok := tree[dir]; ok {
		return entries, nil
	}
	return nil, fs.ErrNotExist
}

func inTheTree(want Want) *walk {
	w := &walk{Queue: &loop.Queue{}}
	w.m = NewModel(&Ways{Loop: w.Loop(), Home: "/home/me", Shop: "/shop", Read: inTree}, want, func(State) {}, w.take)
	return w
}

func (w *walk) take(path string) { w.chosen = append(w.chosen, path) }

// do does something and waits for what it reads.
func (w *walk) do(f func()) State {
	f()
	w.Drain()
	return w.m.State()
}

// rows are the rows as they read, the one that is stood on with a mark.
func rows(s State) string {
	var out []string
	for i, r := range s.Rows {
		text := r.Cells[0].Text
		if i == s.Chosen {
			text = ">" + text
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

// Each kind of choice shows what fits: folders first, then files by their names.
func TestRows(t *testing.T) {
	for _, row := range []struct {
		name  string
		want  Want
		field string
		rows  string
	}{
		{"a file", File(".csv", ".tsv"), "/home/me", ">papers, scans, Alpha.CSV, zeta.csv"},
		{"a file of another ending", File(".txt"), "/home/me", ">papers, scans, notes.txt"},
		{"a folder", Folder(), "/home/me", ">This folder, papers, scans"},
		{"either", Source(".csv"), "/home/me/scans", ">This folder, list-9.csv, list-10.csv"},
		{"a new file", NewFile("labels.pdf"), "/home/me", ">Here, as labels.pdf, papers, scans"},
		{"a new file as the field names it", NewFile("a.csv"), "/home/me/zeta.csv", "Here, as zeta.csv, papers, scans, Alpha.CSV, >zeta.csv"},
		{"a new file that is only named", NewFile("a.csv"), "mine.csv", ">Here, as mine.csv, papers, scans, Alpha.CSV, zeta.csv"},
		{"nothing in it", File(".csv"), "/shop", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := inTheTree(row.want)
			if got := rows(w.do(func() { w.m.Start(row.field) })); got != row.rows {
				t.Errorf("from %q: got %s, want %s", row.field, got, row.rows)
			}
		})
	}
}

// It begins where the field says, and says so where it cannot.
func TestStart(t *testing.T) {
	for _, row := range []struct {
		field, folder, problem string
	}{
		{"", "/home/me", ""},
		{"/home/me/scans", "/home/me/scans", ""},
		{" '/home/me/scans/' ", "/home/me/scans", ""},
		{"~/scans", "/home/me/scans", ""},
		{"~", "/home/me", ""},
		{"file:///home/me/scans/list.csv", "/home/me/scans", ""},
		{"/home/me/new.csv", "/home/me", ""},
		{"/home/me/gone/list.csv", "/home/me", "There is no /home/me/gone."},
		{"/locked", "/", "/locked cannot be read: choose another."},
		{"/locked/list.csv", "/home/me", "/locked cannot be read: choose another."},
		{"list.csv", "/home/me", ""},
	} {
		t.Run(row.field, func(t *testing.T) {
			w := inTheTree(File(".csv"))
			got := w.do(func() { w.m.Start(row.field) })
			if got.Folder != row.folder || got.Problem != row.problem {
				t.Errorf("in %q with %q, want %q with %q", got.Folder, got.Problem, row.folder, row.problem)
			}
		})
	}
}

// A machine of which nothing can be read says so, and asks for nothing more.
func TestNothingToRead(t *testing.T) {
	w := inTheTree(Folder())
	w.m.ways.Read = func(string) ([]Entry, error) { return nil, fs.ErrPermission }
	got := w.do(func() { w.m.Start("") })
	if got.Problem == "" || got.Do != "" || got.Chosen != -1 {
		t.Errorf("nothing can be read: %+v", got)
	}
	w.do(w.m.Open)
	w.do(w.m.Above)
	if len(w.chosen) > 0 {
		t.Errorf("chosen %q", w.chosen)
	}
}

// The way down and up: a folder is gone into, the one above stands on where one came
// from, and one that may not be read leaves everything as it is.
func TestWalk(t *testing.T) {
	w := inTheTree(File(".csv"))
	w.do(func() { w.m.Start("") })
	w.m.Choose(1)
	if got := w.do(w.m.Open); got.Folder != "/home/me/scans" || rows(got) != ">list-9.csv, list-10.csv" || got.Do != "Choose" {
		t.Errorf("in scans: %q with %s, Enter does %q", got.Folder, rows(got), got.Do)
	}
	if got := w.do(w.m.Above); rows(got) != "papers, >scans, Alpha.CSV, zeta.csv" || got.Do != "Open" || got.Top {
		t.Errorf("above it: %s, Enter does %q", rows(got), got.Do)
	}
	w.do(w.m.Above)
	top := w.do(w.m.Above)
	if top.Folder != "/" || !top.Top || rows(top) != ">home, locked, shop" {
		t.Errorf("at the top: %q, %v, %s", top.Folder, top.Top, rows(top))
	}
	w.m.Choose(1)
	if got := w.do(w.m.Open); got.Folder != "/" || got.Problem == "" || rows(got) != "home, >locked, shop" {
		t.Errorf("locked: in %q with %q and %s", got.Folder, got.Problem, rows(got))
	}
	if got := w.do(func() { w.m.Go("/shop") }); got.Problem != "" || got.Chosen != -1 {
		t.Errorf("another: %q, stood on %d", got.Problem, got.Chosen)
	}
	w.m.Choose(7)
	w.do(w.m.Open)
	if len(w.chosen) > 0 {
		t.Errorf("chosen %q of an empty folder", w.chosen)
	}
}

// What is read late is shown only while it is still wanted.
func TestLate(t *testing.T) {
	w := inTheTree(File(".csv"))
	w.do(func() { w.m.Start("") })
	w.m.Go("/shop")
	w.m.Go("/home")
	w.Drain()
	if got := w.m.State().Folder; got != "/home" {
		t.Errorf("in %q; want /home, which was asked for last", got)
	}
	w.m.Go("/shop")
	if got := w.do(w.m.Open); got.Folder != "/shop" || got.Problem != "" || len(w.chosen) > 0 {
		t.Errorf("in %q, %q, chosen %q; want /shop, and nothing of the list on its way out", got.Folder, got.Problem, w.chosen)
	}
	w.m.Go("/home")
	w.m.Leave()
	w.Drain()
	if got := w.m.State().Folder; got != "/shop" {
		t.Errorf("after it was left: in %q", got)
	}
	w.do(func() { w.m.Go("/home/me") })
	w.m.Choose(2)
	w.m.Open()
	w.m.Leave()
	w.Drain()
	if got := w.m.State().Problem; got != "" || len(w.chosen) > 0 {
		t.Errorf("left while a file was looked at: %q, chosen %q", got, w.chosen)
	}
}

// made is a person's folder on the disk of the test.
func made(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"in", "out", "in/.secret"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range map[string]string{"in/list.csv": "a,b", "out/old.pdf": "%PDF-"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(filepath.Join(dir, "gone"), filepath.Join(dir, "in", "nowhere.csv")); err != nil {
		t.Fatal(err)
	}
	t.Setenv("HOME", dir)
	return dir
}

// What is chosen on a disk, and where the next choice begins for it.
func TestChoose(t *testing.T) {
	for _, row := range []struct {
		name  string
		want  Want
		field string
		index int
		path  string
		next  string // where the same choice begins then, without a field
	}{
		{"a file", File(".csv"), "in", 0, "in/list.csv", "in"},
		{"a folder", Folder(), "out", 0, "out", "out"},
		{"a folder of files", Source(".csv"), "in", 0, "in", ""},
		{"a new file", NewFile("labels.pdf"), "out", 0, "out/labels.pdf", "out"},
		{"a new name", NewFile("labels.pdf"), "out/mine.pdf", 0, "out/mine.pdf", "out"},
		{"over an old file", NewFile("labels.pdf"), "out", 1, "out/old.pdf", "out"},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := made(t)
			w := &walk{Queue: &loop.Queue{}}
			ways := New(w.Loop(), filepath.Join(dir, "in", "my.stow"))
			w.m = NewModel(ways, row.want, func(State) {}, w.take)
			w.do(func() { w.m.Start(filepath.Join(dir, row.field)) })
			w.m.Choose(row.index)
			got := w.do(w.m.Open)
			if diff := cmp.Diff([]string{filepath.Join(dir, row.path)}, w.chosen); diff != "" || got.Problem != "" {
				t.Errorf("chosen (-want +got):\n%s%s", diff, got.Problem)
			}
			again := NewModel(ways, row.want, func(State) {}, w.take)
			w.do(func() { again.Start("") })
			if want := filepath.Join(dir, row.next); again.State().Folder != want {
				t.Errorf("the next begins in %q, want %q", again.State().Folder, want)
			}
			if left, err := filepath.Glob(filepath.Join(dir, "*", ".stowright-*")); len(left) > 0 || err != nil {
				t.Errorf("left behind: %q, %v", left, err)
			}
		})
	}
}

// What was read from last has no say in where something is written.
func TestReadingAndWritingApart(t *testing.T) {
	dir := made(t)
	q := &loop.Queue{}
	ways := New(q.Loop(), filepath.Join(dir, "my.stow"))
	ways.Check(filepath.Join(dir, "in", "list.csv"), File(".csv"), func(string) {})
	q.Drain()
	if got := ways.ToWrite(); got != dir {
		t.Errorf("proposed to write in %q, want the person's own folder", got)
	}
	documents := filepath.Join(dir, "Documents")
	if err := os.Mkdir(documents, 0o700); err != nil {
		t.Fatal(err)
	}
	ways.FindDocuments()
	q.Drain()
	if got := ways.ToWrite(); got != documents {
		t.Errorf("proposed to write in %q, want the documents", got)
	}
	ways.Check(filepath.Join(dir, "out"), Folder(), func(string) {})
	q.Drain()
	if got := ways.ToWrite(); got != filepath.Join(dir, "out") {
		t.Errorf("proposed to write in %q, want where it was written last", got)
	}
}

// What cannot be taken is refused with one sentence, and is not remembered.
func TestRefuse(t *testing.T) {
	dir := made(t)
	if err := os.WriteFile(filepath.Join(dir, "in", "locked.csv"), nil, 0); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "shut"), 0o500); err != nil {
		t.Fatal(err)
	}
	root := os.Getuid() == 0 // for whom nothing is locked
	for _, row := range []struct {
		name, path string
		want       Want
		says       string // after the folder of the test; "" for taken
		locks      bool   // only where the person is not root
	}{
		{"a file", "in/list.csv", File(".csv"), "", false},
		{"no file", "in/none.csv", File(".csv"), "There is no /in/none.csv.", false},
		{"a folder for a file", "in", File(".csv"), "/in is a folder: choose a file in it.", false},
		{"a file that may not be read", "in/locked.csv", File(".csv"), "/in/locked.csv cannot be read: choose another.", true},
		{"a folder of files", "in", Source(".csv"), "", false},
		{"a folder", "out", Folder(), "", false},
		{"a folder that is made", "out/new", Folder(), "", false},
		{"a folder of one that is not there", "none/new", Folder(), "There is no /none.", false},
		{"a file for a folder", "in/list.csv", Folder(), "/in/list.csv is not a folder: choose a folder.", false},
		{"a folder in a file", "in/list.csv/new", Folder(), "/in/list.csv is not a folder: choose a folder.", false},
		{"a folder that cannot be written", "shut", Folder(), "Nothing can be written in /shut: choose another folder.", true},
		{"a new file", "out/new.pdf", NewFile("labels.pdf"), "", false},
		{"a new file in a folder that is not there", "none/new.pdf", NewFile("labels.pdf"), "There is no /none.", false},
		{"a folder for a new file", "out", NewFile("labels.pdf"), "/out is a folder: name the file in it too, such as /out/labels.pdf.", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			if row.locks && root {
				t.Skip("root may read and write everything")
			}
			q := &loop.Queue{}
			ways := New(q.Loop(), filepath.Join(dir, "my.stow"))
			got := "not told"
			ways.Check(filepath.Join(dir, row.path), row.want, func(problem string) { got = problem })
			q.Drain()
			if got = strings.ReplaceAll(got, dir, ""); got != row.says {
				t.Errorf("%s: says %q, want %q", row.path, got, row.says)
			}
			if known := ways.read + ways.written; (known == "") != (row.says != "") {
				t.Errorf("%s: remembered %q", row.path, known)
			}
		})
	}
}

// Reading a folder leaves out what is not there any more, and says what is no folder.
func TestRead(t *testing.T) {
	dir := made(t)
	got, err := read(filepath.Join(dir, "in"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff([]Entry{{".secret", true, 0}, {"list.csv", false, 3}}, withoutSizes(got)); diff != "" {
		t.Errorf("entries (-want +got):\n%s", diff)
	}
	if _, err := read(filepath.Join(dir, "in", "list.csv")); err != errNoFolder {
		t.Errorf("a file: %v", err)
	}
	if got, err := read(filepath.Join(dir, "in", ".secret")); err != nil || len(got) != 0 {
		t.Errorf("an empty folder: %v, %v", got, err)
	}
}

// withoutSizes leaves the size out of folders, which every disk counts otherwise.
func withoutSizes(entries []Entry) []Entry {
	for i := range entries {
		if entries[i].Folder {
			entries[i].Bytes = 0
		}
	}
	return entries
}

// What a field shows is short, and means the same.
func TestShort(t *testing.T) {
	w := &Ways{Home: "/home/me"}
	for path, want := range map[string]string{
		"/home/me/labels.pdf": "~/labels.pdf", "/home/me": "/home/me", "/home/merle/a.pdf": "/home/merle/a.pdf", "/mnt/a.pdf": "/mnt/a.pdf", "": "",
	} {
		if got := w.Short(path); got != want || w.Clean(got) != path {
			t.Errorf("Short(%q) = %q, which means %q; want %q", path, got, w.Clean(got), want)
		}
	}
	if got := (&Ways{}).Short("/a"); got != "/a" {
		t.Errorf("without a home: %q", got)
	}
}
