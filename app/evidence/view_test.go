package evidence

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/apptest"
	"stowright/app/loop"
	"stowright/app/notice"
)

// A person says where the evidence goes; it shows how far it is, and is there in the end. One
// that is there is written over only when that was asked.
func TestEvidenceIsSavedFromTheWindow(t *testing.T) {
	b := rudder(t)
	w := apptest.NewWindow(t)
	path := filepath.Join(t.TempDir(), "evidence.pdf")
	Ask(b.Session, w, Subject{SubAssembly: "SA-20"}, "SA-20")
	b.Drain()
	w.Answer(t, path, "Enter")
	b.Drain()
	if w.Said.Tone != notice.OK || !strings.Contains(w.Said.Text, "evidence.pdf, with 1 photograph.") || w.Asking() {
		t.Fatalf("said %+v, asking %v", w.Said, w.Asking())
	}
	first, err := os.ReadFile(path)
	if err != nil || len(first) == 0 {
		t.Fatal(err)
	}
	w.Hush()
	Ask(b.Session, w, Subject{SubAssembly: "SA-10"}, "SA-10")
	b.Drain()
	w.Answer(t, path, "Enter")
	b.Drain()
	if !w.Asking() || w.Said != (notice.Notice{}) {
		t.Fatalf("it was not asked whether it is written over, but said %+v", w.Said)
	}
	w.Dialog.Key("Enter")
	b.Drain()
	again, err := os.ReadFile(path)
	if err != nil || string(first) == string(again) || w.Said.Tone != notice.OK {
		t.Errorf("it was not written over: %+v, %v", w.Said, err)
	}
}

func TestEvidenceOfWhatIsGoneIsNotSaved(t *testing.T) {
	b := rudder(t)
	w := apptest.NewWindow(t)
	Ask(b.Session, w, Subject{SubAssembly: "SA-99"}, "SA-99")
	b.Drain()
	w.Answer(t, filepath.Join(t.TempDir(), "evidence.pdf"), "Enter")
	b.Drain()
	if w.Said.Tone != notice.Stop || !strings.Contains(w.Said.Text, "SA-99") || w.Asking() {
		t.Errorf("said %+v, asking %v", w.Said, w.Asking())
	}
}

// Esc in the dialog that shows how far it is stops it, and leaves no file.
func TestSavingEvidenceIsStopped(t *testing.T) {
	b := rudder(t)
	w := apptest.NewWindow(t)
	path := filepath.Join(t.TempDir(), "evidence.pdf")
	m := NewModel(b.Session, Subject{SubAssembly: "SA-20"})
	v := &view{asker: w, model: m}
	m.Say = w.Say
	m.Show = func(p loop.Progress) {
		v.show(p)
		if v.dialog != nil {
			w.Dialog.Key("Esc")
		}
	}
	m.Save(path)
	b.Drain()
	if w.Said.Tone != notice.Quiet || w.Asking() {
		t.Errorf("said %+v, asking %v", w.Said, w.Asking())
	}
	if _, err := os.Stat(path); !os.IsNotExist(err) {
		t.Errorf("a file is left: %v", err)
	}
}

func TestFileNames(t *testing.T) {
	for name, want := range map[string]string{"SA-20": "evidence-sa-20.pdf", "Type Q": "evidence-type-q.pdf", "../x": "evidence-x.pdf", "": "evidence.pdf"} {
		if got := fileName(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}
