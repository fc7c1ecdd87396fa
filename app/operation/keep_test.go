package operation_test

import (
	"os"
	"path/filepath"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session/sessiontest"
)

func TestFigures(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	file := filepath.Join(t.TempDir(), "own.csv")
	if err := os.WriteFile(file, []byte("designation,source,grip,length\nAN7-10,my sheet,.4375,1.0625\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	bad := filepath.Join(t.TempDir(), "bad.csv")
	if err := os.WriteFile(bad, []byte("designation,source,grip,length\nAN7-10,,.4375,1.0625\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	each(t, b, []row{
		{"bring", operation.KeepFigures{File: file}, "AN7-10", ""},
		{"bring without a source", operation.KeepFigures{File: bad}, "", "source"},
		{"bring no file", operation.KeepFigures{File: file + "x"}, "", "cannot be read"},
		{"drop", operation.DropFigures{Designations: []string{"AN7-10"}}, "AN7-10", ""},
		{"drop again", operation.DropFigures{Designations: []string{"AN7-10"}}, "", "AN7-10"},
	})
}

func TestAddHand(t *testing.T) {
	b := sessiontest.Open(t, demo.Furnished)
	hands := func() int {
		settings, err := b.Shop.Settings()
		if err != nil {
			t.Fatal(err)
		}
		return len(settings.Hands)
	}
	before := hands()
	check(t, b, operation.AddHand{Name: " Neighbour "}, "", "")
	if hands() != before+1 {
		t.Errorf("%d hands are kept, want one more than %d", hands(), before)
	}
	journal := b.Journal()
	if _, err := (operation.AddHand{Name: "Neighbour"}).Do(t.Context(), b.Session); err != nil || b.Journal() != journal {
		t.Errorf("a name that is kept already: %v, %d entries, want none written", err, b.Journal()-journal)
	}
	check(t, b, operation.AddHand{Name: " "}, "", "Type the name")
}
