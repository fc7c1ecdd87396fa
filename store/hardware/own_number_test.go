package hardware

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"stowright/store/measure"
)

// TestOwnNumber: what own figures are kept under, and of what none can be entered.
func TestOwnNumber(t *testing.T) {
	for text, want := range map[string]string{
		"AN7-10": "AN7-10", "an7h10a": "AN7-10", "AN7DD-10A": "AN7-10", "AN7-05": "AN7-5", " AN 7 - 10 ": "AN7-10", "AN8-66": "AN8-66", "NAS6204-8": "NAS6204-8",
		"MS35206-243": "MS35206-243", "MS35338-43": "MS35338-43", "AN960-10L": "AN960-10L", "AN310-3": "AN310-3", "MS24665-132": "MS24665-132",
		// Past the end of our table, which is no end of the standard.
		"AN7-70": "AN7-70", "AN7-197": "AN7-197", "AN3-71A": "AN3-71", "AN12H-100": "AN12-100",
	} {
		if got, err := Standard().OwnNumber(text); err != nil || got != want {
			t.Errorf("%q: got %q, %v; want %s", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"":              "is not a designation",
		"OQ-10-001":     "is not a designation",
		"AN470AD4-4":    "do not hang on one dash number",
		"AN526-1032R8":  "do not hang on one dash number",
		"AN481":         "needs a number behind it",
		"AN490HT5P":     "do not hang on one dash number",
		"MS171436":      "do not hang on one dash number",
		"AN3-8":         "AN3-8 does not exist",
		"AN7-78":        "cannot be read", // 78 eighths: 8 is no digit of the grammar
		"AN7-2":         "cannot be read",
		"AN7-200":       "is not in the tables here",
		"AN7-070":       "is not in the tables here",
		"AN7-70B":       "is not in the tables here",
		"AN7-70 x 4":    "is not in the tables here",
		"AN42-71Q":      "is not in the tables here",
		"AN365-1033":    "is not in the tables here",
		"NAS6204-9999x": "NAS6204",
		"AN9999-1":      "is not a series",
	} {
		if got, err := Standard().OwnNumber(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %q, %v; want %q", text, got, err, want)
		}
	}
}

// TestOwnProblems: each thing that can be wrong with the figures of a row.
func TestOwnProblems(t *testing.T) {
	figures := func(list ...OwnFigure) OwnRow {
		return OwnRow{Designation: "AN9-10", Source: "printed sheet", Line: 4, Figures: list}
	}
	long := figures(OwnFigure{Grip, measure.Inches(1, 2)})
	long.Source = strings.Repeat("s", maxSource+1)
	blank := figures(OwnFigure{Grip, measure.Inches(1, 2)})
	blank.Source = " "
	tests := []struct {
		name string
		row  OwnRow
		want string // "" for nothing wrong
	}{
		{"right", figures(OwnFigure{Grip, measure.Inches(1, 2)}, OwnFigure{LengthField, measure.Inches(5, 4)}), ""},
		{"no figure", figures(), "has no figure"},
		{"no such figure", figures(OwnFigure{"strength", measure.Inch}), "column strength: is not a figure that can be entered"},
		{"nothing long", figures(OwnFigure{Grip, 0}), "is not between 0 and 24 in"},
		{"below nothing", figures(OwnFigure{Grip, -1}), "is not between 0 and 24 in"},
		{"two feet", figures(OwnFigure{LengthField, 24 * measure.Inch}), ""},
		{"longer than that", figures(OwnFigure{LengthField, 24*measure.Inch + 1}), "is not between 0 and 24 in"},
		{"twice", figures(OwnFigure{Grip, measure.Inch}, OwnFigure{Grip, measure.Inch}), "is there twice"},
		{"grip as long as the bolt", figures(OwnFigure{Grip, measure.Inch}, OwnFigure{LengthField, measure.Inch}), "is not less than the length 1"},
		{"no source", blank, "is empty: name the printed standard"},
		{"a source like a book", long, "is longer than"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			errs := Standard().CheckOwn([]OwnRow{tt.row})
			if tt.want == "" && len(errs) > 0 || tt.want != "" && (len(errs) != 1 || !strings.Contains(errs[0].Error(), tt.want) || !strings.Contains(errs[0].Error(), "row 4")) {
				t.Errorf("got %v, want %q", errs, tt.want)
			}
		})
	}
	if errs := Standard().CheckOwn(make([]OwnRow, maxOwnRows+1)); len(errs) != 1 || !strings.Contains(errs[0].Error(), fmt.Sprintf("%d rows: at most %d", maxOwnRows+1, maxOwnRows)) {
		t.Errorf("got %v", errs)
	}
}

// TestOwnAgainstPublished: a figure that published sources give is held against theirs
// to a 64th; one that is from memory alone is not.
func TestOwnAgainstPublished(t *testing.T) {
	for _, tt := range []struct {
		designation, name, figure string
		wrong                     bool
	}{
		{"AN3-5", Grip, "1/4", false},
		{"AN3-5", Grip, ".265", false},
		{"AN3-5", Grip, ".267", true}, // published: 1/4, and 1/64 on either side
		{"AN3-5", Grip, ".233", true},
		{"AN3-40", Grip, "1", false}, // by rule, in no source
		{"AN7-10", LengthField, "2", false},
		{"NAS6204-8", Grip, "5/8", true},
		{"MS21919DG8", InsideDiameter, "9/16", false}, // from memory
	} {
		row := OwnRow{Designation: tt.designation, Source: "sheet", Figures: []OwnFigure{{tt.name, length(t, tt.figure)}}}
		errs := Standard().CheckOwn([]OwnRow{row})
		if wrong := len(errs) > 0 && strings.Contains(errs[0].Error(), "look at the sheet again"); wrong != tt.wrong {
			t.Errorf("%s %s %s: got %v, want wrong %v", tt.designation, tt.name, tt.figure, errs, tt.wrong)
		}
	}
}

// TestOwnSteps: rows of one size go up by eighths; beside the shortest grip of 1/16 a
// step may be short by as much as an eighth.
func TestOwnSteps(t *testing.T) {
	row := func(dash, grip, long string) OwnRow {
		r := OwnRow{Designation: "AN9-" + dash, Source: "sheet"}
		for name, text := range map[string]string{Grip: grip, LengthField: long} {
			if text != "" {
				r.Figures = append(r.Figures, OwnFigure{name, length(t, text)})
			}
		}
		return r
	}
	for _, tt := range []struct {
		name string
		rows []OwnRow
		want string
	}{
		{"one step", []OwnRow{row("10", "1/2", ""), row("11", "5/8", "")}, ""},
		{"over the gap from 7 to 10", []OwnRow{row("7", "3/8", ""), row("10", "1/2", "")}, ""},
		{"down", []OwnRow{row("12", "3/4", ""), row("10", "1/2", "")}, ""},
		{"a thousandth", []OwnRow{row("10", "1/2", ""), row("11", ".626", "")}, ""},
		{"two thousandths", []OwnRow{row("10", "1/2", ""), row("11", ".627", "")}, "grip 0.627 is not the steps of 1/8 from AN9-10 (1/2): 5/8 was expected"},
		{"length", []OwnRow{row("10", "", "1-1/8"), row("11", "", "1-3/8")}, "length 1-3/8 is not the steps"},
		{"the shortest", []OwnRow{row("6", "1/16", ""), row("7", "1/8", "")}, ""},
		{"the shortest by more", []OwnRow{row("6", "1/16", ""), row("7", "3/8", "")}, "is not the steps"},
		{"nothing to compare", []OwnRow{row("10", "1/2", ""), row("11", "", "1-1/4")}, ""},
		{"the same number twice", []OwnRow{row("10", "1/2", ""), row("10", "1/2", "")}, "is there twice"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			errs := Standard().CheckOwn(tt.rows)
			if (len(errs) > 0) != (tt.want != "") || len(errs) > 0 && !strings.Contains(errs[0].Error(), tt.want) {
				t.Errorf("got %v, want %q", errs, tt.want)
			}
		})
	}
}

// TestOwnLength: a length alone leaves the grip unknown and says so in the title; the
// nominal length is none any more.
func TestOwnLength(t *testing.T) {
	rows, errs := ReadOwn(strings.NewReader("designation,source,length,grip\nAN9-10,sheet,1.094,\n"), "an9.csv")
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	c, err := Standard().With(rows)
	if err != nil {
		t.Fatal(err)
	}
	r := c.Decode("AN9-10A")
	l, _ := r.Field(LengthField)
	g, _ := r.Field(Grip)
	if !l.Own || short(l.Length) != "1-3/32" || !g.Unknown || !strings.Contains(r.Title, "length 1-3/32, grip unknown") || r.Mark() != BuildersOwn {
		t.Errorf("got %q, %+v, %+v", r.Title, l, g)
	}
	if p, _ := c.parse("AN9-10"); p.nums[0].nominal != 0 {
		t.Errorf("the nominal length %s stands beside the real one", p.nums[0].nominal)
	}
	if p, _ := c.parse("AN9-11"); p.nums[0].nominal == 0 || !slices.Contains(c.Numbers("AN9", ""), "AN9-10") {
		t.Error("the other numbers changed")
	}
}

// TestReadOwnCutShort: a file that cannot be read to its end is refused by name.
func TestReadOwnCutShort(t *testing.T) {
	r := io.MultiReader(strings.NewReader("designation,source,grip\nAN9-10,sheet,1\n"), iotest.ErrReader(io.ErrUnexpectedEOF))
	rows, errs := ReadOwn(r, "an9.csv")
	if rows != nil || len(errs) != 1 || !strings.Contains(errs[0].Error(), "an9.csv: it could not be read to its end: unexpected EOF") {
		t.Errorf("got %v, %v", rows, errs)
	}
}
