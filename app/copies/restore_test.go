package copies

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/storetest"
)

// counted is a rig with one copy, after which one heap was counted to three pieces.
func counted(t *testing.T) (r *rig, copied []string, heap session.Heap) {
	r = full(t)
	copied = journalOf(t, r.Shop)
	r.do(func() { r.m.Copy("") })
	heap = r.count("A-12", 3)
	r.do(r.m.Load)
	return r, copied, heap
}

// Before a restore it is said what would change, in words and by heap; nothing is done.
func TestAskRestore(t *testing.T) {
	r, _, heap := counted(t)
	r.m.Check()
	r.Drain() // leaves a notice
	s := r.do(r.m.AskRestore)
	if s.Plan == nil {
		t.Fatalf("no plan: %+v", s.Said)
	}
	if s.Said.Text != "" {
		t.Errorf("what was said before is still there: %+v", s.Said)
	}
	if want := "Restore the copy of 18 March 2026 10:00?"; s.Plan.Title != want {
		t.Errorf("the title is %q, want %q", s.Plan.Title, want)
	}
	plan, err := r.Copies.PlanRestore(context.Background(), s.Rows[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	if want := plan.Difference.Sentence() + " The shop as it is now becomes a copy first, so that you can go back to it."; s.Plan.Text != want {
		t.Errorf("the text is %q, want %q", s.Plan.Text, want)
	}
	if len(s.Plan.Rows) != 1 {
		t.Fatalf("%d heaps would change, want 1", len(s.Plan.Rows))
	}
	cells := s.Plan.Rows[0].Cells
	if cells[0].Text != heap.Item || !strings.HasSuffix(cells[0].Sub, "A-12") || cells[1].Text != "3 ea" || cells[2].Text != heap.Amount.String() {
		t.Errorf("the heap is shown as %+v, want %s: 3 ea now and %s then", cells, heap.Item, heap.Amount)
	}
	if len(r.replaced) != 0 || r.Heap("A-12").Amount.String() != "3 ea" {
		t.Error("asking has changed something")
	}
	if s = r.do(r.m.Drop); s.Plan != nil || len(r.replaced) != 0 {
		t.Error("dropped, and the plan is still there")
	}
	r.do(r.m.Restore)
	if len(r.replaced) != 0 {
		t.Error("a plan that was dropped is restored")
	}
}

// A copy of the shop as it is changes nothing, and no further copy is promised.
func TestAskRestoreOfTheSame(t *testing.T) {
	r := full(t)
	r.do(func() { r.m.Copy("") })
	s := r.do(r.m.AskRestore)
	if s.Plan == nil || len(s.Plan.Rows) != 0 {
		t.Fatalf("the plan is %+v", s.Plan)
	}
	if strings.Contains(s.Plan.Text, "becomes a copy") || s.Plan.Text != (store.Difference{}).Sentence() {
		t.Errorf("the text is %q", s.Plan.Text)
	}
}

// Nothing is asked about a copy that is damaged or gone, or where there is none.
func TestAskRestoreRefuses(t *testing.T) {
	for _, row := range []struct {
		name  string
		spoil func(t *testing.T, file string)
	}{
		{"damaged", cut},
		{"deleted", func(t *testing.T, file string) {
			if err := os.Remove(file); err != nil {
				t.Fatal(err)
			}
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r, _, _ := counted(t)
			file := r.m.State().Rows[0].ID
			row.spoil(t, file)
			s := r.do(r.m.AskRestore)
			if s.Plan != nil || s.Said.Tone != notice.Stop || !strings.Contains(s.Said.Text, file) {
				t.Errorf("plan %v, said %+v; want no plan and the file named", s.Plan, s.Said)
			}
		})
	}
	r := full(t)
	r.m.AskRestore()
	if r.Waiting() != 0 {
		t.Error("work is begun on no copy")
	}
	if r.m.Key("Enter") != true || r.Waiting() != 0 {
		t.Error("Enter begins work on no copy")
	}
}

// A restored file is handed on, with the shop untouched until it is put in its place;
// then it says what the copy said, and what was there before is among the copies.
func TestRestore(t *testing.T) {
	r, copied, _ := counted(t)
	now := journalOf(t, r.Shop)
	r.do(r.m.AskRestore)
	s := r.do(r.m.Restore)
	if len(r.replaced) != 1 || s.Plan != nil {
		t.Fatalf("%d files are handed on, plan %v: %+v", len(r.replaced), s.Plan, s.Said)
	}
	if want := "The copy of 18 March 2026 10:00 is the shop now."; r.said[0] != want {
		t.Errorf("it is to be said %q, want %q", r.said[0], want)
	}
	if !slices.Equal(journalOf(t, r.Shop), now) {
		t.Error("the shop was changed before the file took its place")
	}
	if err := r.Shop.Close(); err != nil {
		t.Fatal(err)
	}
	aside, err := r.replaced[0].Replace()
	if err != nil {
		t.Fatal(err)
	}
	file := r.Shop.File()
	if got := journalOf(t, storetest.OpenFile(t, file, store.Options{})); !slices.Equal(got, copied) {
		t.Errorf("restored there are %d entries, want the %d of the copy", len(got), len(copied))
	}
	if filepath.Dir(aside) != r.Copies.Folder() {
		t.Errorf("what was there before is at %s, want it among the copies", aside)
	}
	if got := journalOf(t, storetest.OpenFile(t, aside, store.Options{})); !slices.Equal(got, now) {
		t.Errorf("what was there before has %d entries, want %d", len(got), len(now))
	}
	wantFiles(t, "restored", r.Copies.Folder(), 2)
}

// A shop that went on after the question is not replaced by what was decided before.
func TestRestoreAfterChange(t *testing.T) {
	r, _, _ := counted(t)
	r.do(r.m.AskRestore)
	r.count("A-12", 5)
	r.do(r.m.Restore)
	if len(r.replaced) != 1 {
		t.Fatalf("%d files are handed on", len(r.replaced))
	}
	if err := r.Shop.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := r.replaced[0].Replace(); store.KindOf(err) != store.Conflict {
		t.Errorf("replacing says %v, want a conflict", err)
	}
	if got := journalOf(t, storetest.OpenFile(t, r.Shop.File(), store.Options{})); !strings.Contains(got[0], "5 ea") {
		t.Errorf("the last entry is %q, want the count to 5", got[0])
	}
}

// Where the copy cannot be read any more, the shop stays as it is.
func TestRestoreFails(t *testing.T) {
	r, _, _ := counted(t)
	now := journalOf(t, r.Shop)
	s := r.do(r.m.AskRestore)
	cut(t, s.Rows[0].ID)
	s = r.do(r.m.Restore)
	if len(r.replaced) != 0 || s.Plan != nil || s.Said.Tone != notice.Stop || s.Said.Text == "" {
		t.Errorf("%d files handed on, plan %v, said %+v; want only a refusal", len(r.replaced), s.Plan, s.Said)
	}
	if !slices.Equal(journalOf(t, r.Shop), now) {
		t.Error("the shop was changed")
	}
	for _, name := range files(t, filepath.Dir(r.Shop.File())) {
		if strings.Contains(name, "unfinished") {
			t.Errorf("%s is left", name)
		}
	}
}

// A restored file that comes when the page was left, or when it was stopped at the
// last moment, is thrown away.
func TestRestoreTooLate(t *testing.T) {
	for name, late := range map[string]func(r *rig){
		"left":    func(r *rig) { r.m.Leave() },
		"stopped": func(r *rig) { r.m.Key("Esc") },
	} {
		t.Run(name, func(t *testing.T) {
			r, _, _ := counted(t)
			r.do(r.m.AskRestore)
			folder := filepath.Dir(r.Shop.File())
			before := files(t, folder)
			r.m.Restore()
			for r.Waiting() > 0 { // the work is done, and its result is on the way
				r.Step()
			}
			late(r)
			r.Drain()
			if len(r.replaced) != 0 {
				t.Error("it is handed on nevertheless")
			}
			if after := files(t, folder); !slices.Equal(before, after) {
				t.Errorf("in the folder are %q, want %q", after, before)
			}
		})
	}
}

// An export becomes the shop where that is empty, and is refused anywhere else.
func TestBringIn(t *testing.T) {
	from := full(t)
	dir := t.TempDir()
	from.do(func() { from.m.Export(dir) })
	archive := filepath.Join(dir, files(t, dir)[0])

	r := newRig(t, sessiontest.Empty(t))
	r.do(func() { r.m.BringIn(archive) })
	if len(r.replaced) != 1 || r.said[0] != filepath.Base(archive)+" is the shop now." {
		t.Fatalf("%d files handed on, said %q: %+v", len(r.replaced), r.said, r.m.State().Said)
	}
	if err := r.Shop.Close(); err != nil {
		t.Fatal(err)
	}
	aside, err := r.replaced[0].Replace()
	if err != nil || aside != "" {
		t.Fatalf("replacing an empty shop keeps %q, %v; want nothing kept", aside, err)
	}
	if got := journalOf(t, storetest.OpenFile(t, r.Shop.File(), store.Options{})); !slices.Equal(got, journalOf(t, from.Shop)) {
		t.Errorf("brought in there are %d entries, want the %d exported", len(got), from.Journal())
	}

	from.m.BringIn(archive)
	if from.Waiting() != 0 {
		t.Error("work is begun to bring an export into a shop that is not empty")
	}
	if said := from.m.State().Said; said.Tone != notice.Warn || !strings.Contains(said.Text, "not empty") {
		t.Errorf("into a shop that is not empty it says %+v", said)
	}
}

// What is no export is refused, with the shop empty as it was.
func TestBringInRefuses(t *testing.T) {
	from := full(t)
	dir := t.TempDir()
	from.do(func() { from.m.Export(dir) })
	archive := filepath.Join(dir, files(t, dir)[0])
	data, err := os.ReadFile(archive)
	if err != nil {
		t.Fatal(err)
	}
	flipped := slices.Clone(data)
	flipped[len(flipped)/3] ^= 1
	for name, content := range map[string][]byte{
		"not an archive": []byte("designation,quantity\nAN3-5A,3\n"),
		"empty":          {},
		"cut short":      data[:len(data)/2],
		"one bit wrong":  flipped,
	} {
		t.Run(name, func(t *testing.T) {
			r := newRig(t, sessiontest.Empty(t))
			file := filepath.Join(t.TempDir(), "export.zip")
			if err := os.WriteFile(file, content, 0o600); err != nil {
				t.Fatal(err)
			}
			r.do(func() { r.m.BringIn(file) })
			if said := r.m.State().Said; len(r.replaced) != 0 || said.Tone != notice.Stop || said.Text == "" {
				t.Errorf("%d files handed on, said %+v; want a refusal", len(r.replaced), said)
			}
			if r.Journal() != 0 || !r.do(r.m.Load).Empty {
				t.Error("the shop is not empty any more")
			}
			for _, left := range files(t, filepath.Dir(r.Shop.File())) {
				if strings.Contains(left, "unfinished") {
					t.Errorf("%s is left", left)
				}
			}
		})
	}
	r := newRig(t, sessiontest.Empty(t))
	r.m.BringIn(archive)
	r.m.Key("Esc")
	r.Drain()
	r.wantSaid("stopped", notice.Quiet, "Stopped.", "Nothing was changed.")
	r.m.BringIn(filepath.Join(dir, "not there.zip"))
	r.Drain()
	if said := r.m.State().Said; said.Tone != notice.Stop || !strings.Contains(said.Text, "not there.zip") {
		t.Errorf("of a file that is not there it says %+v", said)
	}
}

// A shop that is not whole says how many problems there are, and names the first.
func TestCheckDamaged(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	file := filepath.Join(t.TempDir(), "shop.stow")
	must(t, b.Shop.Close())
	must(t, os.WriteFile(file, read(t, b.Shop.File()), 0o600))
	shop, err := store.Open(file, store.Options{Clock: demo.NewClock(demo.Today, true).Now})
	must(t, err)
	defer shop.Close()
	r := newRig(t, sessiontest.On(t, shop))
	misspell(t, file, "Garage")
	r.do(r.m.Check)
	said := r.m.State().Said
	if said.Tone != notice.Stop || !regexp.MustCompile(`^\d+ problems?:$`).MatchString(said.Lead) || !strings.HasSuffix(said.Text, ". Restore a copy made earlier.") {
		t.Errorf("of a shop with a record that was changed it says %+v", said)
	}
}
