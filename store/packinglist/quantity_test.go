package packinglist_test

import (
	"fmt"
	"strings"
	"testing"

	"stowright/store/packinglist"
)

// What a cell of quantities comes to, with what stands beside it in its row: the lines, what
// is asked, and what is wrong with the row. Nothing is read that the cell does not say.
func TestWhatAQuantityComesTo(t *testing.T) {
	for _, row := range []struct {
		name, text string
		answers    map[string]string
		want       string
		asked      string
		bad        string
	}{
		{name: "a date", text: "Part,Qty\nOQ-1,2026-03-14\n", bad: `the quantity "2026-03-14" is a date; format the column as a number and type the quantity again`},
		{name: "none", text: "Part,Qty,Description\nOQ-1,,Rib\n", bad: "the line has no quantity; write how many the list says, such as 24 or 0.30"},
		{name: "nought sent and some owed", text: "Part,Qty,Back-ordered\nOQ-1,0,3\n", want: "OQ-1 3 ea back-ordered"},
		{name: "a thousand of too many", text: "Part,Qty,Unit\nOQ-1,4000000,M\n", answers: map[string]string{"unit-m": "thousand"}, asked: "unit-m", bad: "the quantity 4000000 is too large"},
		{name: "thousands", text: "Part,Qty,Unit\nOQ-1,2,M\n", answers: map[string]string{"unit-m": "thousand"}, asked: "unit-m", want: "OQ-1 2000 ea"},
		{name: "metres", text: "Part,Qty,Unit\nOQ-1,2,M\n", answers: map[string]string{"unit-m": "metre"}, asked: "unit-m", want: "OQ-1 2 m"},
		{name: "its unit behind it and in the column", text: "Part,Qty,Unit\nOQ-1,6 FT,ft\n", want: "OQ-1 6 ft"},
		{name: "two units", text: "Part,Qty,Unit\nOQ-1,6 FT,in\n", bad: "the quantity is in FT and the column of units says in; write one of them"},
		{name: "so many of so many, not settled", text: "Part,Qty\nOQ-1,12/24\n", asked: "fraction", want: "OQ-1 12 ea"},
		{name: "in words", text: "Part,Qty\nOQ-1,12 of 24\n", answers: map[string]string{"fraction": "sent"}, asked: "fraction", want: "OQ-1 12 ea"},
		{name: "in words it is asked even where a fraction were plain", text: "Part,Qty,Unit\nOQ-1,1 of 2,lb\n", answers: map[string]string{"fraction": "sent"}, asked: "fraction", want: "OQ-1 1 lb"},
		{name: "the rest is owed", text: "Part,Qty\nOQ-1,12/24\n", answers: map[string]string{"fraction": "sent-and-owed"}, asked: "fraction", want: "OQ-1 12 ea; OQ-1 12 ea back-ordered"},
		{name: "the rest, and what the list says is owed", text: "Part,Qty,Back-ordered\nOQ-1,12/24,5\n", answers: map[string]string{"fraction": "sent-and-owed"}, asked: "fraction", want: "OQ-1 12 ea; OQ-1 5 ea back-ordered"},
		{name: "more than were ordered", text: "Part,Qty\nOQ-1,24/12\n", answers: map[string]string{"fraction": "sent-and-owed"}, asked: "fraction", bad: `the quantity "24/12" has more sent than ordered; write how many are sent`},
		{name: "all that were ordered", text: "Part,Qty\nOQ-1,12/24\n", answers: map[string]string{"fraction": "ordered"}, asked: "fraction", want: "OQ-1 24 ea"},
		{name: "a fraction of a pound", text: "Part,Qty,Unit\nOQ-1,12/24,lb\n", answers: map[string]string{"fraction": "fraction"}, asked: "fraction", want: "OQ-1 0.5 lb"},
		{name: "one that is doubted puts the others in doubt", text: "Part,Qty,Unit\nOQ-1,1/2,lb\nOQ-2,12/24,lb\n", answers: map[string]string{"fraction": "sent"}, asked: "fraction", want: "OQ-1 1 lb; OQ-2 12 lb"},
		{name: "so many of a length, together", text: "Part,Qty\nOQ-1,2 @ 36 IN\n", answers: map[string]string{"times-length": "total"}, asked: "times-length", want: "OQ-1 72 in (2 @ 36 IN)"},
		{name: "so many of a length, as pieces", text: "Part,Qty\nOQ-1,2 @ 36 IN\n", answers: map[string]string{"times-length": "pieces"}, asked: "times-length", want: "OQ-1 2 ea (2 @ 36 IN)"},
		{name: "none of a length", text: "Part,Qty\nOQ-1,0 @ 36 IN\n", bad: `the quantity "0 @ 36 IN" is not so many of so much; write it as one number`},
		{name: "too many of a length", text: "Part,Qty\nOQ-1,999999 @ 999999 IN\n", bad: `the quantity "999999 @ 999999 IN" is not so many of so much; write it as one number`},
		{name: "as required, one", text: "Part,Qty\nOQ-1,A/R\nOQ-2,1\n", answers: map[string]string{"as-required": "one"}, asked: "as-required", want: "OQ-1 1 ea (as required); OQ-2 1 ea"},
		{name: "as required, none", text: "Part,Qty\nOQ-1,A/R\nOQ-2,1\n", answers: map[string]string{"as-required": "leave-out"}, asked: "as-required", want: "OQ-2 1 ea"},
	} {
		t.Run(row.name, func(t *testing.T) {
			book, err := packinglist.Open("list.csv", []byte(row.text))
			if err != nil {
				t.Fatal(err)
			}
			r := book.Read(packinglist.Choices{Answers: row.answers})
			var lines []string
			for _, l := range r.Lines {
				words := fmt.Sprintf("%s %s", l.Designation, l.Listed.Plain()+" "+string(l.Listed.Unit))
				if l.Status != packinglist.Shipped {
					words += " " + l.Status.String()
				}
				lines = append(lines, strings.TrimSpace(words+" "+l.Description))
			}
			if got := strings.Join(lines, "; "); got != row.want && row.bad == "" {
				t.Errorf("got  %s\nwant %s", got, row.want)
			}
			wantAsked(t, r, row.asked, row.bad)
		})
	}
}

// wantAsked fails unless a reading asks those questions and says that of its bad rows.
func wantAsked(t *testing.T, r *packinglist.Reading, questions, problems string) {
	t.Helper()
	var asked, bad []string
	for _, q := range r.Questions {
		asked = append(asked, q.ID)
	}
	for _, b := range r.Bad {
		for _, p := range b.Problems {
			bad = append(bad, p.Message)
		}
	}
	if got := strings.Join(asked, " "); got != questions {
		t.Errorf("asked %q, want %q", got, questions)
	}
	if got := strings.Join(bad, "; "); got != problems {
		t.Errorf("bad: %q, want %q", got, problems)
	}
}
