package packinglist_test

import (
	"fmt"
	"strings"
	"testing"

	"stowright/store/packinglist"
)

// Where a line is follows from its cells, from a blank one below another, and from rows that
// name what holds the lines below. A line is "part in crate / group"; what was asked stands
// behind it by its id.
func TestWhereLinesAre(t *testing.T) {
	long := strings.Repeat("x", 90)
	for _, row := range []struct {
		name, text string
		answers    map[string]string
		want       string
		asked      string
		bad        string
	}{
		{name: "by cells", text: "Crate,Bag,Part,Qty\nC1,H1,OQ-1,2\nC1,H2,OQ-2,2\n", want: "OQ-1 in C1 / H1; OQ-2 in C1 / H2"},
		{name: "a column that names alone goes on without a question", text: "Crate,Bag,Part,Qty\nC1,,,\n,H1,OQ-1,2\n,H2,OQ-2,2\nC2,,,\n,H3,OQ-3,2\n", want: "OQ-1 in C1 / H1; OQ-2 in C1 / H2; OQ-3 in C2 / H3"},
		{name: "a blank cell below one is asked", text: "Bag,Part,Qty\nH1,OQ-1,2\n,OQ-2,2\n", asked: "group-blank", want: "OQ-1 in H1; OQ-2 in H1"},
		{name: "and answered", text: "Bag,Part,Qty\nH1,OQ-1,2\n,OQ-2,2\n", answers: map[string]string{"group-blank": "none"}, asked: "group-blank", want: "OQ-1 in H1; OQ-2 in "},
		{name: "of a crate too", text: "Crate,Part,Qty\nC1,OQ-1,2\n,OQ-2,2\n", answers: map[string]string{"crate-blank": "none"}, asked: "crate-blank", want: "OQ-1 in C1 / ; OQ-2 in "},
		{name: "none above it is none", text: "Bag,Part,Qty\n,OQ-1,2\nH1,OQ-2,2\n", want: "OQ-1 in ; OQ-2 in H1"},
		{name: "where a column repeats itself, blank is none", text: "Bag,Part,Qty\nH1,OQ-1,2\nH1,OQ-2,2\n,OQ-3,2\n", want: "OQ-1 in H1; OQ-2 in H1; OQ-3 in "},
		{name: "over words it does not repeat itself", text: "Bag,Part,Description,Qty\nH1,OQ-1,Rib,2\n,,see the drawing,\nH1,OQ-2,Rib,2\n,OQ-3,Rib,2\n", answers: map[string]string{"word-rows": "remark"}, asked: "group-blank", want: "OQ-1 in H1; OQ-2 in H1; OQ-3 in H1"},
		{name: "a bag named beside words is asked about", text: "Bag,Part,Description,Qty\nH1,,see below,\nH1,OQ-1,Rib,2\n,OQ-2,Rib,2\n", answers: map[string]string{"word-rows": "remark"}, asked: "group-blank", want: "OQ-1 in H1; OQ-2 in H1"},
		{name: "two blank ones are no repetition", text: "Bag,Part,Qty\n,OQ-1,2\n,OQ-2,2\nH1,OQ-3,2\n,OQ-4,2\n", asked: "group-blank", want: "OQ-1 in ; OQ-2 in ; OQ-3 in H1; OQ-4 in H1"},
		{name: "another crate empties the bag", text: "Crate,Bag,Part,Qty\nC1,H1,OQ-1,2\n,,OQ-2,2\nC2,,OQ-3,2\n", answers: map[string]string{"crate-blank": "above", "group-blank": "above"}, asked: "crate-blank group-blank", want: "OQ-1 in C1 / H1; OQ-2 in C1 / H1; OQ-3 in C2 / "},
		{name: "the same crate again does not", text: "Crate,Bag,Part,Qty\nC1,H1,OQ-1,2\nC1,,OQ-2,2\n", answers: map[string]string{"group-blank": "above"}, asked: "group-blank", want: "OQ-1 in C1 / H1; OQ-2 in C1 / H1"},
		{name: "another bag leaves the crate", text: "Crate,Bag,Part,Qty\nC1,H1,OQ-1,2\n,H2,OQ-2,2\n", answers: map[string]string{"crate-blank": "above"}, asked: "crate-blank", want: "OQ-1 in C1 / H1; OQ-2 in C1 / H2"},
		{name: "rows that name a crate, a kit, a bag", text: "Part,Qty\nCrate C1,\nKit SK10,\nOQ-1,2\nBag H1,\nOQ-2,2\nKit SK20,\nOQ-3,2\nCrate C2,\nOQ-4,2\n", want: "OQ-1 in C1 / SK10; OQ-2 in C1 / SK10 / H1; OQ-3 in C1 / SK20; OQ-4 in C2 / "},
		{name: "a number alone keeps its word", text: "Part,Qty\nBOX 3,\nOQ-1,2\nBag #: 7,\nOQ-2,2\n", want: "OQ-1 in Box 3 / ; OQ-2 in Box 3 / Bag 7"},
		{name: "one letter is a name, a word is none", text: "Part,Qty\nCrate B,\nOQ-1,2\nBag Contents,\nOQ-2,2\n", want: "OQ-1 in B / ; OQ-2 in B / "},
		{name: "a row names a bag where a column names crates", text: "Crate,Part,Qty\nC1,OQ-1,2\n,Bag H1,\nC1,OQ-2,2\n", want: "OQ-1 in C1 / ; OQ-2 in C1 / H1"},
		{name: "and none where a column names bags", text: "Bag,Part,Qty\nH1,OQ-1,2\n,Bag H9,\nH2,OQ-2,2\n", want: "OQ-1 in H1; OQ-2 in H2"},
		{name: "plain words are asked", text: "Part,Qty\nTail feathers,\nOQ-1,2\n", answers: map[string]string{"word-rows": "group"}, asked: "word-rows", want: "OQ-1 in Tail feathers"},
		{name: "and may be remarks", text: "Part,Qty\nTail feathers,\nOQ-1,2\n", answers: map[string]string{"word-rows": "remark"}, asked: "word-rows", want: "OQ-1 in "},
		{name: "words below the last line are none", text: "Part,Qty\nOQ-1,2\nthank you,\n", want: "OQ-1 in "},
		{name: "words above words are none", text: "Part,Qty\nOQ-1,2\nplease count,\nand tell us,\nOQ-2,2\n", answers: map[string]string{"word-rows": "remark"}, asked: "word-rows", want: "OQ-1 in ; OQ-2 in "},
		{name: "words above a total are none", text: "Part,Qty\nOQ-1,2\nthat is all,\nTotal,2\n", want: "OQ-1 in "},
		{name: "words that go on too long are none", text: "Part,Qty\n" + long + " y,\nOQ-1,2\n", want: "OQ-1 in "},
		{name: "a crate that goes on too long", text: "Crate,Part,Qty\n" + long + ",OQ-1,2\n", bad: "the crate is longer than 64 characters; shorten it"},
		{name: "a group that goes on too long", text: "Bag,Part,Qty\n" + long + ",OQ-1,2\n", bad: "the group is longer than 64 characters; shorten it"},
	} {
		t.Run(row.name, func(t *testing.T) {
			book, err := packinglist.Open("list.csv", []byte(row.text))
			if err != nil {
				t.Fatal(err)
			}
			r := book.Read(packinglist.Choices{Answers: row.answers})
			var lines []string
			for _, l := range r.Lines {
				at := l.Group
				if l.Crate != "" {
					at = l.Crate + " / " + l.Group
				}
				lines = append(lines, fmt.Sprintf("%s in %s", l.Designation, at))
			}
			if got := strings.Join(lines, "; "); got != row.want && row.bad == "" {
				t.Errorf("got  %s\nwant %s", got, row.want)
			}
			wantAsked(t, r, row.asked, row.bad)
		})
	}
}

// A cell over several rows is of each of them, without a question; a blank one below it is
// asked about as any other.
func TestMergedBags(t *testing.T) {
	row := func(cells ...string) string {
		words := "<row>"
		for _, c := range cells {
			words += `<c t="str"><v>` + c + `</v></c>`
		}
		return words + "</row>"
	}
	data := parts(t, "<worksheet><sheetData>"+row("Bag", "Part", "Description", "Qty")+row("H1", "OQ-1", "Rib", "2")+row("", "OQ-2", "Spar", "2")+row("", "OQ-3", "Skin", "2")+
		`</sheetData><mergeCells><mergeCell ref="A2:A3"/></mergeCells></worksheet>`, "<sst/>")
	book, err := packinglist.Open("list.xlsx", data)
	if err != nil {
		t.Fatal(err)
	}
	for answer, want := range map[string]string{"none": "OQ-1 H1; OQ-2 H1; OQ-3 ", "above": "OQ-1 H1; OQ-2 H1; OQ-3 H1"} {
		var lines []string
		r := book.Read(packinglist.Choices{Answers: map[string]string{"group-blank": answer}})
		for _, l := range r.Lines {
			lines = append(lines, l.Designation+" "+l.Group)
		}
		if got := strings.Join(lines, "; "); got != want || len(r.Questions) != 1 || len(r.Questions[0].Places) != 1 {
			t.Errorf("answered %s: got %s, want %s; asked %+v", answer, got, want, r.Questions)
		}
	}
}
