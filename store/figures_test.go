package store_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// figures are rows as a person might type them; the lengths are made up and follow
// the steps of 1/8 of the standard.
func figures(designation, source string, grip, length measure.Length) hardware.OwnRow {
	return hardware.OwnRow{Designation: designation, Source: source, Figures: []hardware.OwnFigure{
		{Name: hardware.Grip, Length: grip}, {Name: hardware.LengthField, Length: length},
	}}
}

func numbers(t *testing.T, s *store.Shop) []string {
	t.Helper()
	rows, err := s.Figures()
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, r := range rows {
		list = append(list, r.Designation)
	}
	return list
}

func TestOwnFiguresAreKept(t *testing.T) {
	s := storetest.Open(t, store.Options{})
	seven := figures("an7-10a", " printed  sheet page 2 ", measure.Inches(7, 16), measure.Inches(35, 32))
	seven.Line = 2
	e, err := s.PutFigures([]hardware.OwnRow{seven, figures("AN7-11", "printed sheet page 2", measure.Inches(9, 16), measure.Inches(39, 32))})
	if err != nil {
		t.Fatal(err)
	}
	if want := "own figures of AN7-10 to AN7-11 (2 numbers), from printed sheet page 2"; e.Text != want || e.Verb != store.VerbRecord {
		t.Errorf("got %s entry %q, want %q", e.Verb, e.Text, want)
	}
	if got := e.Figures(); !slices.Equal(got, []string{"AN7-10", "AN7-11"}) {
		t.Errorf("the entry changed %q", got)
	}
	rows, err := s.Figures()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(figures("AN7-10", "printed sheet page 2", measure.Inches(7, 16), measure.Inches(35, 32)), rows[0]); diff != "" {
		t.Errorf("the first row (-want +got):\n%s", diff)
	}
	if _, err := s.PutFigures([]hardware.OwnRow{figures("AN7-10", "printed sheet, revised", measure.Inches(7, 16), measure.Inches(35, 32))}); err != nil {
		t.Errorf("AN7-10 once more: %v", err)
	}
	if rows, err := s.Figures(); err != nil || len(rows) != 2 || rows[0].Source != "printed sheet, revised" {
		t.Errorf("after AN7-10 once more: %+v, %v", rows, err)
	}
	e, err = s.DropFigures("AN7-10")
	if got := numbers(t, s); err != nil || !slices.Equal(got, []string{"AN7-11"}) || !slices.Equal(e.Figures(), []string{"AN7-10"}) {
		t.Errorf("after taking AN7-10 away: %q, %v", got, err)
	}
	for _, want := range [][]string{{"AN7-10", "AN7-11"}, {"AN7-10", "AN7-11"}, nil} {
		if _, err := s.Undo(); err != nil {
			t.Fatal(err)
		}
		if got := numbers(t, s); !slices.Equal(got, want) {
			t.Errorf("after undo: got %q, want %q", got, want)
		}
	}
	if settings, err := s.Settings(); err != nil || settings.Title != "" {
		t.Errorf("the settings beside the figures: %+v, %v", settings, err)
	}
}

func TestOwnFiguresRefused(t *testing.T) {
	s := storetest.Open(t, store.Options{})
	if _, err := s.PutFigures([]hardware.OwnRow{figures("AN7-10", "sheet", measure.Inches(7, 16), measure.Inches(35, 32))}); err != nil {
		t.Fatal(err)
	}
	row := func(designation string, grip measure.Length) hardware.OwnRow {
		return figures(designation, "sheet", grip, grip+measure.Inches(21, 32))
	}
	for _, tt := range []struct {
		name string
		rows []hardware.OwnRow
		want string // in the sentence
		list int    // of causes
	}{
		{"nothing", nil, "give at least one row", 0},
		{"no designation", []hardware.OwnRow{row("OQ-1", measure.Inch)}, `"OQ-1" is not a designation`, 1},
		{"a number that cannot be", []hardware.OwnRow{row("AN7-18", measure.Inch)}, "AN7-18 cannot be read", 1},
		{"no steps of 1/8 from what is kept", []hardware.OwnRow{row("AN7-12", measure.Inch)}, "not the steps of 1/8 from AN7-10", 1},
		{"against a published figure", []hardware.OwnRow{row("AN3-5", measure.Inch)}, "look at the sheet again", 1},
		{"no source", []hardware.OwnRow{{Designation: "AN7-11", Figures: row("AN7-11", measure.Inches(9, 16)).Figures}}, "name the printed standard", 1},
		{"twice", []hardware.OwnRow{row("AN7-11", measure.Inches(9, 16)), row("AN7-11A", measure.Inches(9, 16))}, "is there twice", 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := s.PutFigures(tt.rows)
			var e *store.Error
			if !errors.As(err, &e) || e.Kind != store.Invalid || !strings.Contains(e.Message, tt.want) {
				t.Fatalf("PutFigures(%+v) says %v, want invalid with %q", tt.rows, err, tt.want)
			}
			var row *hardware.OwnError
			if tt.list > 0 && !errors.As(err, &row) {
				t.Errorf("%v names no row", err)
			}
			if got := numbers(t, s); !slices.Equal(got, []string{"AN7-10"}) {
				t.Errorf("something was kept: %q", got)
			}
		})
	}
	if _, err := s.DropFigures("AN7-99"); store.KindOf(err) != store.NotFound {
		t.Errorf("taking away what is not there: %v", err)
	}
	if _, err := s.DropFigures(); store.KindOf(err) != store.Invalid {
		t.Errorf("taking nothing away: %v", err)
	}
}
