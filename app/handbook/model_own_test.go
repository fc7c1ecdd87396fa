package handbook_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/handbook"
	"stowright/app/session/sessiontest"
	"stowright/store/hardware"
)

// ownBench is an empty shop with the own figures open on it. The figures of the
// tests are made up and follow the steps of 1/8.
type ownBench struct {
	*sessiontest.Bench
	m    *handbook.OwnModel
	said string
}

func newOwnBench(t *testing.T) *ownBench {
	b := &ownBench{Bench: sessiontest.Empty(t)}
	b.m = handbook.NewOwnModel(b.Session, func(handbook.OwnState) {}, func(words string) { b.said = words })
	b.m.Load()
	b.Drain()
	return b
}

func (b *ownBench) keep(pairs ...string) handbook.OwnState {
	for i := 0; i+1 < len(pairs); i += 2 {
		b.m.Type(pairs[i], pairs[i+1])
	}
	b.m.Keep()
	b.Drain()
	return b.m.State()
}

func TestOwnFiguresAreTyped(t *testing.T) {
	b := newOwnBench(t)
	s := b.keep("designation", "an7-10", "source", "printed sheet page 2", hardware.Grip, "7/16", hardware.LengthField, "1-3/32")
	if len(s.Problems) > 0 || len(s.Rows) != 1 || s.Rows[0].ID != "AN7-10" {
		t.Fatalf("after AN7-10: problems %q, rows %+v", s.Problems, s.Rows)
	}
	if cell := s.Rows[0].Cells[1]; cell.Text != "grip 7/16 (0.4375), length 1-3/32 (1.09375)" || cell.Sub != "from printed sheet page 2" {
		t.Errorf("the row says %q, %q", cell.Text, cell.Sub)
	}
	if s.Form.Source != "printed sheet page 2" || s.Form.Designation != "" || len(s.Form.Figures) > 0 || b.said != "own figures of AN7-10, from printed sheet page 2" {
		t.Errorf("the form is %+v and it said %q: want it empty but for the source", s.Form, b.said)
	}
	look := handbook.NewLookUpModel(b.Session, func(handbook.LookUpState) {})
	look.Ask("AN7-10A")
	b.Drain()
	if got, want := fact(look.State().Facts, "grip"), "7/16 (0.4375) | your own figure | printed sheet page 2"; got != want {
		t.Errorf("looked up: got %q, want %q", got, want)
	}
	if got := look.State().Title; !strings.HasSuffix(got, "(your own figure)") {
		t.Errorf("the title %q does not say whose the figure is", got)
	}
	bolt := handbook.NewBoltModel(b.Session, func(handbook.BoltState) {})
	bolt.Set(handbook.BoltForm{Series: "AN7", Stack: "7/16"})
	b.Drain()
	if s := bolt.State(); len(s.Rows) == 0 || s.Rows[0].ID != "AN7-10A" || !strings.Contains(s.Rows[0].Cells[0].Sub, "your own figure") {
		t.Errorf("chosen: %+v %s", s.Rows, s.Problem)
	}
	b.m.Drop("")
	b.m.Drop("AN7-10")
	b.Drain()
	if s := b.m.State(); len(s.Rows) > 0 || s.Heading != "No figures of your own yet" {
		t.Errorf("after taking it away: %+v", s.Rows)
	}
	if _, err := b.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	b.m.Load()
	b.Drain()
	if len(b.m.State().Rows) != 1 {
		t.Error("undo does not bring the figures back")
	}
}

func TestOwnFiguresTypedWrong(t *testing.T) {
	b := newOwnBench(t)
	b.keep("designation", "AN7-10", "source", "sheet", hardware.Grip, "7/16")
	for _, row := range []struct {
		name, designation, source, grip, want string
	}{
		{"no number", "", "sheet", "1/2", "The number is empty"},
		{"no source", "AN7-11", " ", "1/2", "The source is empty"},
		{"no figure", "AN7-11", "sheet", "", "There is no figure"},
		{"no length", "AN7-11", "sheet", "long", "Grip “long” is not a length"},
		{"no steps of 1/8", "AN7-11", "sheet", "1/2", "is not the steps of 1/8 from AN7-10"},
		{"no such number", "AN7-18", "sheet", "1/2", "AN7-18 cannot be read"},
		{"against a published figure", "AN3-5", "sheet", "1/2", "look at the sheet again"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := b.keep("designation", row.designation, "source", row.source, hardware.Grip, row.grip)
			if got := strings.Join(s.Problems, "\n"); !strings.Contains(got, row.want) {
				t.Errorf("got %q, want %q", got, row.want)
			}
			if len(s.Rows) != 1 || s.Form.Designation != row.designation {
				t.Errorf("%d rows, form %+v: what was typed must stay", len(s.Rows), s.Form)
			}
		})
	}
}

func TestOwnFiguresAreBrought(t *testing.T) {
	b := newOwnBench(t)
	for _, row := range []struct {
		name, file string
		rows       int
		want       []string // problems
	}{
		{"nothing below the header", "designation,grip,source\n", 0, []string{"it holds no rows"}},
		{"two wrong rows, none kept", "designation,grip,source\nAN7-10,7/16,sheet\nAN7-11,long,sheet\nAN7-18,1,sheet\n", 0, []string{"sheet.csv: row 3: column grip: \"long\" is not a length"}},
		{"wrong by the steps", "designation,grip,source\nAN7-10,7/16,sheet\nAN7-11,1,sheet\nAN7-12,2,sheet\n", 0, []string{"Row 3", "Row 4"}},
		{"right", "designation,grip,source\nAN7-10,7/16,sheet\nAN7-11,9/16,sheet\n", 2, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "sheet.csv")
			if err := os.WriteFile(path, []byte(row.file), 0o600); err != nil {
				t.Fatal(err)
			}
			b.m.Bring(path)
			b.Drain()
			s := b.m.State()
			got := strings.Join(s.Problems, "\n")
			for _, want := range row.want {
				if !strings.Contains(strings.ToLower(got), strings.ToLower(want)) {
					t.Errorf("got %q, want %q", got, want)
				}
			}
			if len(s.Rows) != row.rows || (len(row.want) == 0) != (got == "") {
				t.Errorf("%d rows with problems %q, want %d", len(s.Rows), got, row.rows)
			}
		})
	}
	b.m.Bring(filepath.Join(t.TempDir(), "missing.csv"))
	b.Drain()
	if got := strings.Join(b.m.State().Problems, ""); !strings.Contains(got, "cannot be read") {
		t.Errorf("a missing file: %q", got)
	}
}
