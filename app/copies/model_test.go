package copies

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/app/table"
	"stowright/store"
	storecopies "stowright/store/copies"
	"stowright/store/exchange"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// rig is the page's model on a shop of its own, with what it has shown and handed on.
type rig struct {
	*sessiontest.Bench
	t        *testing.T
	m        *Model
	shown    []State
	replaced []*storecopies.Restored
	said     []string // what was to be said of each of them
}

func newRig(t *testing.T, b *sessiontest.Bench) *rig {
	t.Helper()
	r := &rig{Bench: b, t: t}
	r.m = NewModel(b.Session, func(s State) { r.shown = append(r.shown, s) }, func(restored *storecopies.Restored, done string) {
		r.replaced, r.said = append(r.replaced, restored), append(r.said, done)
	})
	r.m.Load()
	r.Drain()
	t.Cleanup(func() {
		for _, restored := range r.replaced {
			restored.Discard()
		}
	})
	return r
}

// full is the model on the unpacked demo shop, of which there is no copy yet.
func full(t *testing.T) *rig { return newRig(t, sessiontest.Open(t, demo.Unpacked)) }

// do does something and waits for what it brings back.
func (r *rig) do(f func()) State {
	r.t.Helper()
	f()
	r.Drain()
	return r.m.State()
}

// count makes one entry: it counts a heap to so many pieces.
func (r *rig) count(place string, pieces int64) session.Heap {
	r.t.Helper()
	heap := r.Heap(place)
	if _, err := r.Shop.Count(heap.StockKey, measure.Pieces(pieces)); err != nil {
		r.t.Fatal(err)
	}
	return heap
}

// wantSaid fails unless the model says what it should.
func (r *rig) wantSaid(when string, tone notice.Tone, lead, text string) {
	r.t.Helper()
	if want := (notice.Notice{Tone: tone, Lead: lead, Text: text}); r.m.State().Said != want {
		r.t.Errorf("%s: it says %+v, want %+v", when, r.m.State().Said, want)
	}
}

// column is what a column of the rows says: its text, or the word of its mark.
func column(rows []table.Row, n int) []string {
	texts := []string{}
	for _, row := range rows {
		texts = append(texts, row.Cells[n].Text+row.Cells[n].Mark.Word)
	}
	return texts
}

// files are the names in a folder; none where it is not there.
func files(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// wantFiles fails unless a folder holds so many files, none of them unfinished.
func wantFiles(t *testing.T, when, folder string, n int) {
	t.Helper()
	names := files(t, folder)
	if len(names) != n {
		t.Errorf("%s: %s holds %q, want %d files", when, folder, names, n)
	}
	for _, name := range names {
		if strings.Contains(name, "unfinished") {
			t.Errorf("%s: %s is left in %s", when, name, folder)
		}
	}
}

// What the page says of the copies that there are.
func TestLoad(t *testing.T) {
	r := full(t)
	entries := r.Journal()
	const made = "The newest is of 18 March 2026 10:00: "
	for _, step := range []struct {
		name   string
		do     func()
		note   string
		behind []string
		chosen int
	}{
		{"no copy", func() {}, "There is no safe copy yet. ", []string{}, -1},
		{"one made", func() { r.m.Copy("") }, made + "nothing missing. ", []string{"nothing missing"}, 0},
		{"one entry after it", func() { r.count("A-12", 3) }, made + "1 entry behind. ", []string{"1 entry behind"}, 0},
		{"two entries after it", func() { r.count("A-12", 4) }, made + "2 entries behind. ", []string{"2 entries behind"}, 0},
		{"another made", func() { r.m.Copy("") }, made + "nothing missing. ", []string{"nothing missing", "2 entries behind"}, 0},
	} {
		r.do(step.do)
		s := r.do(r.m.Load)
		if !strings.HasPrefix(s.Note, step.note) || !strings.HasSuffix(s.Note, " "+s.Folder+".") {
			t.Errorf("%s: the note is %q, want %q and the folder", step.name, s.Note, step.note)
		}
		if got := column(s.Rows, 1); !slices.Equal(got, step.behind) {
			t.Errorf("%s: against the shop the copies are %q, want %q", step.name, got, step.behind)
		}
		if s.Chosen != step.chosen || s.Empty || s.Loading {
			t.Errorf("%s: copy %d chosen, want %d; empty %v, loading %v", step.name, s.Chosen, step.chosen, s.Empty, s.Loading)
		}
	}
	if r.Journal() != entries+2 {
		t.Errorf("looking and copying made entries: %d, want %d", r.Journal(), entries+2)
	}
	for _, row := range r.m.State().Rows {
		if name := row.Cells[0]; name.Text != "18 March 2026 10:00" || name.Sub != "by hand" {
			t.Errorf("a copy made by hand is shown as %+v", name)
		}
		if _, err := os.Stat(row.ID); err != nil {
			t.Errorf("a row's ID is to be its file: %v", err)
		}
	}
}

// Reading the copies waits in the background; until then the page says that it loads.
func TestLoadWaits(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	m := NewModel(b.Session, func(State) {}, nil)
	if s := m.State(); !s.Loading || s.Chosen != -1 || s.Folder != b.Copies.Folder() {
		t.Errorf("before anything is read: %+v", s)
	}
	m.Load()
	b.Waits(b.Journal())
	if !m.State().Loading {
		t.Error("loaded before the background work")
	}
	b.Drain()
	if m.State().Loading {
		t.Error("still loading")
	}
}

// A shop in which nothing was done offers to bring an export in, and nothing else.
func TestLoadEmpty(t *testing.T) {
	r := newRig(t, sessiontest.Empty(t))
	s := r.m.State()
	if !s.Empty || len(s.Rows) != 0 || s.Chosen != -1 {
		t.Errorf("an empty shop: %+v", s)
	}
	if want := "there is nothing to copy. An export of another shop can be brought in."; !strings.Contains(s.Note, want) {
		t.Errorf("the note is %q, want it to contain %q", s.Note, want)
	}
}

// A folder of copies that cannot be read is said, and is not the same as none.
func TestLoadFails(t *testing.T) {
	r := full(t)
	if err := os.WriteFile(r.Copies.Folder(), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	s := r.do(r.m.Load)
	r.wantSaid("a file where the folder should be", notice.Stop, "", "The folder "+s.Folder+" cannot be read: see that it may be.")
	if s.Loading {
		t.Error("it goes on loading")
	}
}

// A copy is made where it is asked for; it is whole and holds every entry.
func TestCopy(t *testing.T) {
	for _, row := range []struct {
		name, folder string
		elsewhere    bool
	}{
		{"no folder named", "", false},
		{"only spaces", "  ", false},
		{"a folder that is not there yet", "disk/copies", true},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := full(t)
			folder, want := row.folder, r.Copies.Folder()
			if row.elsewhere {
				folder = filepath.Join(t.TempDir(), row.folder)
				want, folder = folder, " "+folder+" "
			}
			r.m.Copy(folder)
			r.Waits(r.Journal())
			r.Drain()
			wantFiles(t, "copied", want, 1)
			file := filepath.Join(want, files(t, want)[0])
			r.wantSaid("copied", notice.OK, "Copied, and the copy is whole:", file)
			if err := storecopies.Check(context.Background(), file); err != nil {
				t.Errorf("the copy: %v", err)
			}
			if got := len(r.m.State().Rows); row.elsewhere == (got == 1) {
				t.Errorf("%d copies in the list", got)
			}
		})
	}
}

// A copy that cannot be made is said to be none, with what to do.
func TestCopyFails(t *testing.T) {
	r := full(t)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	r.do(func() { r.m.Copy(file) })
	r.wantSaid("into a file", notice.Stop, "", "No safe copy could be made in "+file+": see that the folder may be written and its disk has room.")
	if data, err := os.ReadFile(file); string(data) != "mine" {
		t.Errorf("the file was changed to %q, %v", data, err)
	}
}

// Each kind of long work can be stopped: it says so, and leaves nothing behind.
func TestStop(t *testing.T) {
	for _, row := range []struct {
		name  string
		begin func(r *rig, dir string)
	}{
		{"copy", func(r *rig, dir string) { r.m.Copy(dir) }},
		{"export", func(r *rig, dir string) { r.m.Export(dir) }},
		{"check", func(r *rig, _ string) { r.m.Check() }},
		{"look at a copy", func(r *rig, _ string) { r.m.LookAt() }},
		{"what restoring changes", func(r *rig, _ string) { r.m.AskRestore() }},
		{"restore", func(r *rig, _ string) { r.do(r.m.AskRestore); r.m.Restore() }},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := full(t)
			r.do(func() { r.m.Copy("") })
			r.count("A-12", 3)
			entries, rows := r.Journal(), column(r.do(r.m.Load).Rows, 3)
			dir := filepath.Join(t.TempDir(), "new")
			row.begin(r, dir)
			if job := r.m.State().Job; job.Title == "" || job.Words != "starting" || job.Done >= 0 {
				t.Errorf("the work is shown as %+v", job)
			}
			if !r.m.Key("Esc") {
				t.Error("Esc does not stop the work")
			}
			r.Drain()
			r.wantSaid("stopped", notice.Quiet, "Stopped.", "Nothing was changed.")
			s := r.m.State()
			if s.Job != (loop.Progress{}) || s.Plan != nil || len(r.replaced) != 0 {
				t.Errorf("after it was stopped: job %+v, plan %v, %d files handed on", s.Job, s.Plan, len(r.replaced))
			}
			if got := column(s.Rows, 3); !slices.Equal(got, rows) {
				t.Errorf("the copies are said to be %q, want %q", got, rows)
			}
			wantFiles(t, "stopped", dir, 0)
			wantFiles(t, "stopped", r.Copies.Folder(), 1)
			wantFiles(t, "stopped", filepath.Dir(r.Shop.File()), len(files(t, filepath.Dir(r.Shop.File()))))
			if r.Journal() != entries {
				t.Errorf("%d entries, want %d", r.Journal(), entries)
			}
		})
	}
}

// One piece of work at a time: what is asked meanwhile is not begun.
func TestOneAtATime(t *testing.T) {
	r := full(t)
	dir := t.TempDir()
	r.m.Copy("")
	title := r.m.State().Job.Title
	r.m.Export(dir)
	r.m.Check()
	r.m.AskRestore()
	if got := r.m.State().Job.Title; got != title {
		t.Errorf("the work under way is %q, want %q still", got, title)
	}
	if r.Waiting() != 1 {
		t.Errorf("%d pieces of work wait, want 1", r.Waiting())
	}
	r.Drain()
	wantFiles(t, "copied", r.Copies.Folder(), 1)
	wantFiles(t, "not exported", dir, 0)
	if lead := r.m.State().Said.Lead; lead != "Copied, and the copy is whole:" {
		t.Errorf("it says %q", lead)
	}
}

// Work says how far it is while it goes on, and nothing once it is done.
func TestProgress(t *testing.T) {
	r := full(t)
	r.shown = nil
	r.m.Copy("")
	r.Drain()
	var words []string
	last, most := "", -1.0
	for _, s := range r.shown {
		if s.Job.Title != "" && s.Job.Words != last {
			last = s.Job.Words
			words = append(words, last)
		}
		most = max(most, s.Job.Done)
		if s.Job.Done > 1 {
			t.Errorf("%q is done to %v", s.Job.Words, s.Job.Done)
		}
	}
	// The result comes back before what was told meanwhile is shown, unless it was told first.
	if len(words) < 2 || words[0] != "starting" || most != 1 {
		t.Errorf("the progress shown is %q, up to %v, want more than the beginning, up to 1", words, most)
	}
	if job := r.m.State().Job; job != (loop.Progress{}) {
		t.Errorf("still at work: %+v", job)
	}
}

// Everything is exported into a new folder, and what was exported is the shop again.
func TestExport(t *testing.T) {
	r := full(t)
	dir := filepath.Join(t.TempDir(), "new", "folder")
	r.do(func() { r.m.Export(" " + dir + " ") })
	file := filepath.Join(dir, "demo-2026-03-18-100000.zip")
	r.wantSaid("exported", notice.OK, "Exported:", file)
	wantFiles(t, "exported", dir, 1)
	again := filepath.Join(t.TempDir(), "again.stow")
	if err := exchange.ImportArchive(context.Background(), again, file); err != nil {
		t.Fatal(err)
	}
	shop := storetest.OpenFile(t, again, store.Options{})
	if got := journalOf(t, shop); !slices.Equal(got, journalOf(t, r.Shop)) {
		t.Errorf("brought in again there are %d entries, want the same %d", len(got), r.Journal())
	}
	was, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	r.do(func() { r.m.Export(dir) })
	if said := r.m.State().Said; said.Tone != notice.Stop || !strings.Contains(said.Text, file) {
		t.Errorf("the same name again, and it says %+v", said)
	}
	if now, err := os.ReadFile(file); err != nil || string(now) != string(was) {
		t.Errorf("the first export was touched: %v", err)
	}
}

// Where a file is there already it is asked first, and replaced only when that is answered.
func TestExportAsksToReplace(t *testing.T) {
	r := full(t)
	dir := t.TempDir()
	r.do(func() { r.m.Export(dir) })
	file := filepath.Join(dir, files(t, dir)[0])
	r.count("A-12", 3)
	was := read(t, file)
	var asked []string
	var replace func()
	r.m.AskReplace = func(files []string, yes func()) { asked, replace = files, yes }
	r.do(func() { r.m.Export(dir) })
	if !slices.Equal(asked, []string{file}) || replace == nil {
		t.Fatalf("it is asked about %q, want %s", asked, file)
	}
	if !slices.Equal(read(t, file), was) {
		t.Error("the file was replaced before that was answered")
	}
	r.do(replace)
	r.wantSaid("answered", notice.OK, "Exported:", file)
	if slices.Equal(read(t, file), was) {
		t.Error("the file was not replaced")
	}
	wantFiles(t, "replaced", dir, 1)
}

func TestExportFails(t *testing.T) {
	r := full(t)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(file, "below")
	r.do(func() { r.m.Export(dir) })
	if said := r.m.State().Said; said.Tone != notice.Stop || !strings.Contains(said.Text, dir) {
		t.Errorf("below a file it says %+v", said)
	}
}

// journalOf is a whole journal in words, the oldest entry last.
func journalOf(t *testing.T, shop *store.Shop) []string {
	t.Helper()
	entries, err := shop.Entries(0, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	lines := make([]string, 0, len(entries))
	for _, e := range entries {
		lines = append(lines, fmt.Sprintf("%d %s %s", e.Seq, e.At, e.Text))
	}
	return lines
}

// Checking says how many entries add up.
func TestCheck(t *testing.T) {
	r := full(t)
	r.do(r.m.Check)
	r.wantSaid("a whole shop", notice.OK, "Whole:", fmt.Sprintf("%d entries add up to what the shop says.", r.Journal()))
	one := newRig(t, sessiontest.Empty(t))
	if _, _, err := one.Shop.AddPlace(store.Place{Name: "Garage", Kind: store.Room}); err != nil {
		t.Fatal(err)
	}
	one.do(one.m.Check)
	one.wantSaid("one entry", notice.OK, "Whole:", "1 entry adds up to what the shop says.")
}

// A copy that was looked at says what was found, and only that copy does.
func TestLookAt(t *testing.T) {
	r := full(t)
	r.do(r.m.LookAt)
	if r.m.State().Said.Text != "" {
		t.Errorf("without a copy it says %+v", r.m.State().Said)
	}
	r.do(func() { r.m.Copy("") })
	r.count("A-12", 3)
	r.do(func() { r.m.Copy("") })
	rows := r.do(r.m.Load).Rows
	cut(t, rows[1].ID)
	r.do(func() { r.m.Choose(0); r.m.LookAt() })
	r.wantSaid("a whole copy", notice.OK, "Whole:", filepath.Base(rows[0].ID))
	if got, want := column(r.m.State().Rows, 3), []string{"whole, checked now", "whole when made"}; !slices.Equal(got, want) {
		t.Errorf("the copies are said to be %q, want %q", got, want)
	}
	r.do(func() { r.m.Choose(1); r.m.LookAt() })
	if said := r.m.State().Said; said.Tone != notice.Stop || !strings.Contains(said.Text, rows[1].ID) {
		t.Errorf("of a damaged copy it says %+v", said)
	}
	if got, want := column(r.m.State().Rows, 3), []string{"whole, checked now", "damaged"}; !slices.Equal(got, want) {
		t.Errorf("the copies are said to be %q, want %q", got, want)
	}
	if got := column(r.do(r.m.Load).Rows, 3); got[1] != "damaged" {
		t.Errorf("read again, the copies are said to be %q", got)
	}
}
