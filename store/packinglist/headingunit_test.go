package packinglist_test

import (
	"fmt"
	"testing"

	"stowright/store/packinglist"
)

// The heading of the quantities may name their unit, or say that they are no plain counts:
// then it is asked.
func TestHeadingsWithUnits(t *testing.T) {
	for _, row := range []struct {
		heading, cell, unit string
		want                string // quantity, problem or question
	}{
		{"Qty", "12", "", "12 ea"},
		{"Qty (ft)", "12", "", "12 ft"},
		{"Qty [ FT ]", "5.5", "", "5.5 ft"},
		{"Qty, lb", "0.25", "", "0.25 lb"},
		{"Quantity (lbs.)", "1,250", "", "asked decimal-mark"},
		{"Qty (ft)", "12", "ft", "12 ft"},
		{"Qty (ft)", "12", "in", `the quantity is in in and the heading says ft; write one of them`},
		{"Qty (ft)", "12 in", "", `the quantity is in in and the heading says ft; write one of them`},
		{"Qty (ft)", "12 in", "ft", `the quantity is in in and the heading says ft; write one of them`},
		{"Qty (pcs)", "1.5", "", `the quantity "1.5": a piece is never a fraction; write it like 24, or with its unit where it is weighed or measured`},
		{"Qty (pcs)", "1,250", "", "1,250 ea"},
		{"Qty (shipped)", "12", "", "12 ea"},
		{"Qty, total", "12", "", "none"},
		{"Qty (M)", "2", "", "asked unit-m"},
		{"Qty (doz)", "2", "", "asked heading-quantity"},
		{"Qty [x100]", "2", "", "asked heading-quantity"},
		{"Qty per kit", "2", "", "asked heading-quantity"},
		{"Qty of packs", "2", "", "asked heading-quantity"},
	} {
		t.Run(fmt.Sprint(row.heading, " ", row.cell, " ", row.unit), func(t *testing.T) {
			book, err := packinglist.Open("list.txt", fmt.Appendf(nil, "Part\t%s\tUnit\nOQ-1\t%s\t%s\n", row.heading, row.cell, row.unit))
			if err != nil {
				t.Fatal(err)
			}
			r := book.Read(packinglist.Choices{})
			got := "none"
			switch {
			case len(r.Questions) > 0:
				got = "asked " + r.Questions[0].ID
			case len(r.Bad) > 0 && r.Bad[0].Place.Row > 0:
				got = r.Bad[0].Problems[0].Message
			case len(r.Lines) > 0:
				got = r.Lines[0].Listed.String()
			}
			if got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

// What is asked of a heading is answered once for its column.
func TestAHeadingIsSettledOnce(t *testing.T) {
	const text = "Part,Qty per kit,Qty bo\nOQ-1,2,1\nOQ-2,3,0\n"
	r := reading(t, packinglist.Choices{Answers: map[string]string{"heading-quantity": "as-they-stand"}}, text)
	list, problems := r.List()
	if len(problems) > 0 || len(list.Lines) != 3 || list.Lines[0].Listed.String() != "2 ea" || len(r.Questions) != 1 {
		t.Errorf("got %+v, %v, %d questions", list.Lines, problems, len(r.Questions))
	}
}
