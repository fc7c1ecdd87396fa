package copies

import (
	"os"
	"path/filepath"
	"testing"
)

// Only a copy that there is can be chosen, and none while restoring is asked about.
func TestChoose(t *testing.T) {
	r := full(t)
	r.do(func() { r.m.Copy("") })
	r.count("A-12", 3)
	r.do(func() { r.m.Copy("") })
	for _, row := range []struct{ choose, want int }{{1, 1}, {2, 1}, {-1, 1}, {0, 0}, {1, 1}} {
		r.m.Choose(row.choose)
		if got := r.m.State().Chosen; got != row.want {
			t.Errorf("Choose(%d): copy %d is chosen, want %d", row.choose, got, row.want)
		}
	}
	r.do(r.m.AskRestore)
	r.m.Choose(0)
	if got := r.m.State().Chosen; got != 1 {
		t.Errorf("while a restore is asked about, copy %d was chosen", got)
	}
}

// The same copy stays chosen when another one joins the list or leaves it.
func TestChosenCopyStays(t *testing.T) {
	r := full(t)
	r.do(func() { r.m.Copy("") })
	r.count("A-12", 3)
	r.do(func() { r.m.Copy("") })
	r.m.Choose(1)
	file := r.m.State().Rows[1].ID
	r.count("A-12", 4)
	s := r.do(func() { r.m.Copy("") })
	if s.Chosen < 0 || s.Rows[s.Chosen].ID != file {
		t.Errorf("row %d is chosen after another copy was made, want %s", s.Chosen, filepath.Base(file))
	}
	if err := os.Remove(s.Rows[0].ID); err != nil {
		t.Fatal(err)
	}
	if s = r.do(r.m.Load); s.Chosen != 1 || s.Rows[1].ID != file {
		t.Errorf("row %d is chosen after the newest was deleted, want %s", s.Chosen, filepath.Base(file))
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	if s = r.do(r.m.Load); s.Chosen != 0 || len(s.Rows) != 1 {
		t.Errorf("row %d of %d is chosen after the chosen one was deleted, want the newest", s.Chosen, len(s.Rows))
	}
}

// Keys, by what is under way.
func TestKeys(t *testing.T) {
	r := full(t)
	r.do(func() { r.m.Copy("") })
	r.count("A-12", 3)
	r.do(func() { r.m.Copy("") })
	key := func(key string, want bool) State {
		t.Helper()
		if got := r.m.Key(key); got != want {
			t.Errorf("Key(%q) reports %v, want %v", key, got, want)
		}
		return r.m.State()
	}
	for _, row := range []struct {
		key    string
		known  bool
		chosen int
	}{
		{"Up", false, 0},
		{"Down", true, 1},
		{"Down", true, 1},
		{"Up", true, 0},
		{"Esc", false, 0},
		{"Q", false, 0},
	} {
		if s := key(row.key, row.known); s.Chosen != row.chosen || s.Job.Title != "" {
			t.Errorf("%s: copy %d is chosen, want %d; job %q", row.key, s.Chosen, row.chosen, s.Job.Title)
		}
	}
	if s := key("Enter", true); s.Job.Title == "" {
		t.Error("Enter does not ask what restoring changes")
	}
	key("Enter", true) // at work: neither twice nor anything else
	key("Down", false)
	r.Drain()
	if r.m.State().Plan == nil {
		t.Fatal("no plan")
	}
	for _, k := range []string{"Up", "Down", "Q"} {
		if s := key(k, false); s.Plan == nil || s.Chosen != 0 {
			t.Errorf("%s changed what is asked", k)
		}
	}
	if s := key("Esc", true); s.Plan != nil {
		t.Error("Esc does not leave the shop as it is")
	}
	r.do(r.m.AskRestore)
	key("Enter", true)
	r.Drain()
	if len(r.replaced) != 1 {
		t.Errorf("Enter on a plan handed %d files on, want 1", len(r.replaced))
	}
}

// A page that was left shows nothing more.
func TestLeave(t *testing.T) {
	r := full(t)
	r.m.Copy("")
	r.m.Leave()
	r.shown = nil
	r.Drain()
	if len(r.shown) != 0 {
		t.Errorf("shown after the page was left: %d states", len(r.shown))
	}
	wantFiles(t, "left", r.Copies.Folder(), 0)
	r.m.Leave() // again is nothing
}
