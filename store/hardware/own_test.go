package hardware

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"stowright/store/measure"
)

// sheet is what a person might type from a printed standard. The figures are
// made up for the test and follow the steps of 1/8.
const sheet = "designation, grip, length, source\n" +
	"AN7-10, 7/16, 1.094, printed sheet page 2\n" +
	"AN7-11A, .563, 1-7/32, printed sheet page 2\n" +
	"AN7-70, 6.4375, 7-3/32, printed sheet page 4\n"

func TestOwnRowsAreUsedEverywhere(t *testing.T) {
	rows, errs := ReadOwn(strings.NewReader(sheet), "an7.csv")
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	c, err := Standard().With(rows)
	if err != nil {
		t.Fatal(err)
	}
	r := c.Decode("AN7-10A")
	f, _ := r.Field(Grip)
	if f.Length != measure.Inches(7, 16) || !f.Own || f.Mark() != BuildersOwn || f.Source != "printed sheet page 2" {
		t.Errorf("got grip %+v, want 7/16 as the builder's own", f)
	}
	if r.Title != "Bolt, steel, hex head, 7/16-20, grip 7/16, no cotter-pin hole" || r.Mark() != BuildersOwn || len(r.Warnings) > 0 {
		t.Errorf("got %q marked %q warnings %q", r.Title, r.Mark(), r.Warnings)
	}
	if got := r.LookAlikes[len(r.LookAlikes)-2]; got.Designation != "AN7-11A" || got.Difference != "1/8 longer in the grip" {
		t.Errorf("got look-alikes %+v", r.LookAlikes)
	}
	if got := c.Decode("AN7-70"); !got.Known {
		t.Errorf("AN7-70: %s", got.Problem)
	}
	choice, err := c.ChooseBolt(Joint{Series: "AN7", Layers: stack(t, "7/16")})
	if err != nil || choice.Choices[0].Designation != "AN7-10A" || choice.Choices[0].Mark != BuildersOwn {
		t.Errorf("got %+v, %v, want AN7-10A chosen", choice.Choices, err)
	}
	id, err := c.Identify(Readings{Kind: Bolt, Diameter: 436 * thou, Grip: measure.Inches(7, 16), Length: 1094 * thou, ShankDrilled: No, Head: "hex head"}, nil)
	if err != nil || id.Candidates[0].Designation != "AN7-10A" || id.Candidates[0].Mark != BuildersOwn {
		t.Errorf("got %+v, %v, want AN7-10A identified", id.Candidates, err)
	}
	if f, _ := Decode("AN7-10A").Field(Grip); !f.Unknown {
		t.Errorf("the embedded tables changed: %+v", f)
	}
	if d := Documented(r).Results[0].Fields; fmt.Sprint(d) == "" || !strings.Contains(fmt.Sprint(d), BuildersOwn) {
		t.Errorf("the JSON form does not say whose the figures are: %+v", d)
	}
}

func TestReadOwnRefuses(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"empty", "", []string{"an7.csv: row 1: the header could not be read"}},
		{"no source column", "designation,grip\nAN7-10,1\n", []string{"an7.csv: row 1: column source: is missing"}},
		{"foreign column", "designation,source,colour\nAN7-10,x,red\n", []string{"an7.csv: row 1: column colour: is not a column"}},
		{"column twice", "designation,source,grip,Grip\nAN7-10,x,1,1\n", []string{"column Grip: is there twice"}},
		{"no length", "designation,source,grip\nAN7-10,x,seven\nAN7-11,x,-1\n", []string{`an7.csv: row 2: column grip: "seven" is no length`, "row 3"}},
		{"short row", "designation,source,grip\nAN7-10,x\n", []string{"row 2: has 2 cells, the header 3"}},
		{"no rows", "designation,source,grip\n", []string{"holds no rows"}},
		{"broken quotes", "designation,source,grip\n\"AN7-10,x,1\n", []string{"is not CSV"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows, errs := ReadOwn(strings.NewReader(tt.text), "an7.csv")
			got := errors.Join(errs...)
			if got == nil || rows != nil {
				t.Fatalf("got %d rows, %v, want nothing and %q", len(rows), got, tt.want)
			}
			for _, want := range tt.want {
				if !strings.Contains(got.Error(), want) {
					t.Errorf("got %v, want %q", got, want)
				}
			}
			var at *OwnError
			if !errors.As(got, &at) || at.File != "an7.csv" {
				t.Errorf("got %T, want an OwnError with its file", got)
			}
		})
	}
}

func TestCheckOwnRefuses(t *testing.T) {
	row := func(designation, grip, long string) OwnRow {
		r := OwnRow{Designation: designation, Source: "printed sheet"}
		for _, f := range []struct{ name, text string }{{Grip, grip}, {LengthField, long}} {
			if f.text != "" {
				r.Figures = append(r.Figures, OwnFigure{f.name, length(t, f.text)})
			}
		}
		return r
	}
	tests := []struct {
		name string
		rows []OwnRow
		want string // "" for none
	}{
		{"good", []OwnRow{row("AN7-10", "7/16", "1-3/32"), row("AN7-20", "1-7/16", "2-3/32")}, ""},
		{"exception of a short bolt, as in AN4-3", []OwnRow{row("AN4-5", "3/16", "21/32"), row("AN4-3", "1/16", "15/32")}, ""},
		{"no such dash", []OwnRow{row("AN7-8", "7/16", "")}, "AN7-8 does not exist"},
		{"no designation", []OwnRow{row("grip of AN7", "7/16", "")}, "is not a designation"},
		{"series without a dash (found by fuzzing)", []OwnRow{row("AN10", "", "1")}, "AN10 needs a dash number"},
		{"rivet", []OwnRow{row("AN470AD4-7", "", "7/16")}, "do not hang on one dash number"},
		{"no source", []OwnRow{{Designation: "AN7-10", Figures: []OwnFigure{{Grip, measure.Inch}}}}, "column source: is empty"},
		{"no figure", []OwnRow{row("AN7-10", "", "")}, "has no figure"},
		{"grip longer than the bolt", []OwnRow{row("AN7-10", "2", "1")}, "is not less than the length"},
		{"not in steps", []OwnRow{row("AN7-10", "7/16", "1-3/32"), row("AN7-11", "1/2", "1-7/32")}, `"AN7-11" grip 1/2 is not the steps of 1/8 from AN7-10 (7/16): 9/16 was expected`},
		{"twice", []OwnRow{row("AN7-10", "7/16", ""), row("AN7-10A", "7/16", "")}, "is there twice"},
		{"against the published table", []OwnRow{row("AN3-5", "3/8", "")}, "grip 3/8 is not the 1/4 of NASM3-20"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := errors.Join(Standard().CheckOwn(tt.rows)...)
			if (got == nil) != (tt.want == "") || got != nil && !strings.Contains(got.Error(), tt.want) {
				t.Errorf("got %v, want %q", got, tt.want)
			}
			if _, err := Standard().With(tt.rows); (err == nil) != (tt.want == "") {
				t.Errorf("With: got %v", err)
			}
		})
	}
}

func FuzzReadOwn(f *testing.F) {
	f.Add(sheet)
	f.Add("designation,source,length\nAN10,x,1\n")
	f.Add("designation,source,grip\nAN7-10,x,11.1 mm\n")
	f.Add("\ufeffDesignation;source\n")
	f.Add("designation,source,thickness\nAN960-416,x,.063\nAN20-199,x,1\n")
	f.Fuzz(func(t *testing.T, text string) {
		rows, errs := ReadOwn(strings.NewReader(text), "f.csv")
		if (len(rows) == 0) == (len(errs) == 0) {
			t.Fatalf("%d rows and %d errors", len(rows), len(errs))
		}
		c, err := Standard().With(rows)
		if err != nil {
			return
		}
		for _, row := range rows {
			if r := c.Decode(row.Designation); !r.Known || r.Mark() != BuildersOwn && row.figure(Grip) != 0 {
				t.Errorf("%+v: decodes to %+v", row, r)
			}
		}
	})
}
