package hardware

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
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
		{"no length", "designation,source,grip\nAN7-10,x,seven\nAN7-11,x,-1\n", []string{`an7.csv: row 2: column grip: "seven" is not a length`, "row 3"}},
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
		{"no such dash", []OwnRow{row("AN7-8", "7/16", "")}, "AN7-8 cannot be read"},
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

// TestCheckOwnReportsAll: every row that is wrong is named, not the first alone.
func TestCheckOwnReportsAll(t *testing.T) {
	rows := []OwnRow{
		{Designation: "nothing", Line: 2},
		{Designation: "AN7-8", Source: "sheet", Line: 3},
		{Designation: "AN7-10", Source: "sheet", Line: 4, Figures: []OwnFigure{{Grip, measure.Inches(7, 16)}}},
		{Designation: "AN7-11", Source: "", Line: 5, Figures: []OwnFigure{{"colour", measure.Inch}}},
	}
	got := errors.Join(Standard().CheckOwn(rows)...).Error()
	for _, want := range []string{"row 2:", "row 3:", "row 5: column source", "row 5: column colour"} {
		if !strings.Contains(got, want) {
			t.Errorf("got %s\nwant it to hold %q", got, want)
		}
	}
	if strings.Contains(got, "row 4") {
		t.Errorf("got %s\nwant nothing of row 4", got)
	}
}

// TestOwnFiguresOfEveryKind: a nut's height and a washer's dimensions may be
// entered too, and take the place of ours from memory.
func TestOwnFiguresOfEveryKind(t *testing.T) {
	c, err := Standard().With([]OwnRow{
		{Designation: "MS21042-3", Source: "printed sheet", Figures: []OwnFigure{{Height, 190 * thou}, {AcrossFlats, measure.Inches(1, 4)}}},
		{Designation: "AN960-416", Source: "printed sheet", Figures: []OwnFigure{{OutsideDiameter, 500 * thou}, {InsideDiameter, 266 * thou}}},
	})
	if err != nil {
		t.Fatal(err)
	}
	joint := Joint{Series: "AN3", Nut: "MS21042-3", Layers: stack(t, "1/4")}
	bolt, err := c.ChooseBolt(joint)
	if err != nil || !bolt.Choices[0].ShowingKnown {
		t.Errorf("got %+v, %v, want the height of the nut used", bolt.Choices, err)
	}
	inside, _ := c.Decode("AN960-416").Field(InsideDiameter)
	if inside.Length != 266*thou || !inside.Own {
		t.Errorf("got %+v, want the builder's 0.266", inside)
	}
	id, err := c.Identify(Readings{Kind: Nut, AcrossFlats: measure.Inches(1, 4), ThreadsPerInch: 32}, nil)
	if err != nil || id.Candidates[0].Designation != "MS21042-3" {
		t.Errorf("got %+v, %v, want MS21042-3 by its flats", id.Candidates, err)
	}
	if before, err := Standard().ChooseBolt(joint); err != nil || before.Choices[0].ShowingKnown {
		t.Errorf("the embedded tables changed: %+v, %v", before.Choices, err)
	}
}

// TestOwnRowsInJSON: rows come back from the shop file as they went.
func TestOwnRowsInJSON(t *testing.T) {
	rows, errs := ReadOwn(strings.NewReader(sheet), "an7.csv")
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	b, err := json.Marshal(rows)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(b), `{"name":"grip","in":"0.4375"}`) {
		t.Errorf("got %s", b)
	}
	var back []OwnRow
	if err := json.Unmarshal(b, &back); err != nil || !reflect.DeepEqual(back, rows) {
		t.Errorf("got %+v, %v, want %+v", back, err, rows)
	}
}

func TestSnap(t *testing.T) {
	for text, want := range map[string]string{".438": "7/16", ".437": "7/16", ".4375": "7/16", ".094": "3/32", ".190": "0.190", ".0626": "1/16", "11.1 mm": "7/16", ".44": "0.440"} {
		if got := short(snap(length(t, text))); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}

func TestReadOwnBounds(t *testing.T) {
	long := "designation,source,grip\n" + strings.Repeat("AN7-10,x,1\n", maxOwnRows+1)
	if _, errs := ReadOwn(strings.NewReader(long), "long.csv"); len(errs) != 1 || !strings.Contains(errs[0].Error(), "too long") {
		t.Errorf("got %v, want one error that the file is too long", errs)
	}
	wide := "designation,source,grip\nAN7-10," + strings.Repeat("x", maxOwnBytes) + ",1\n"
	if rows, errs := ReadOwn(strings.NewReader(wide), "wide.csv"); len(errs) == 0 || rows != nil {
		t.Errorf("got %d rows, %v, want none", len(rows), errs)
	}
	bad := "designation,source,grip\n" + strings.Repeat("AN7-10,x,seven\n", 500)
	if _, errs := ReadOwn(strings.NewReader(bad), "bad.csv"); len(errs) > 60 {
		t.Errorf("got %d errors, want them bounded", len(errs))
	}
	if rows, errs := ReadOwn(strings.NewReader("\ufeffDesignation, Source, Grip in\r\nAN7-10, sheet, 7/16\r\n"), "bom.csv"); len(errs) > 0 || rows[0].figure(Grip) != measure.Inches(7, 16) {
		t.Errorf("got %+v, %v, want the row of a spreadsheet's CSV", rows, errs)
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
