package packinglist_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stowright/store/packinglist"
)

// open opens lines of text as a CSV file.
func open(t testing.TB, lines ...string) *packinglist.Table {
	t.Helper()
	table, err := openTable("list.csv", []byte(strings.Join(lines, "\n")+"\n"))
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// shown writes columns as "part number=3 certain; ...", in the order of the fields.
func shown(c packinglist.Columns) string {
	var parts []string
	for _, f := range packinglist.Fields() {
		if n := c.Column(f); n > 0 {
			parts = append(parts, fmt.Sprintf("%s=%s %s", f, packinglist.ColumnName(n), c.Confidence(f)))
		}
	}
	return strings.Join(parts, "; ")
}

// TestGuess takes headings as packing lists, order forms and parts lists have
// them (common practice).
func TestGuess(t *testing.T) {
	for _, c := range []struct {
		name    string
		lines   []string
		heading int
		want    string
	}{
		{
			"in full",
			[]string{"Line number,Crate number,Group,Part number,Description,Quantity,Unit of measure,Status,Lot number"},
			1,
			"line=A certain; crate=B certain; group=C certain; part number=D certain; description=E certain; quantity=F certain; unit=G certain; status=H certain; lot=I certain",
		},
		{"short", []string{"P/N,Desc.,Qty,U/M"}, 1, "part number=A certain; description=B certain; quantity=C certain; unit=D certain"},
		{"capitals and marks", []string{"PART #,QTY.,UOM,LOT #,BAG #"}, 1, "group=E certain; part number=A certain; quantity=B certain; unit=C certain; lot=D certain"},
		{"underscores", []string{"part_number,qty_shipped"}, 1, "part number=A certain; quantity=B certain"},
		{"words about", []string{"Kit maker part,Qty in this box,Part name"}, 1, "part number=A likely; description=C certain; quantity=B likely"},
		{
			"below titles",
			[]string{"Osterhollow Kitworks", ",,", "Packing list for the tail kit", "Part no,Qty"},
			4, "part number=A certain; quantity=B certain",
		},
		{"item heads line numbers", []string{"Item,Part,Qty", "1,OQ-1,1", "2,OQ-2,1"}, 1, "line=A likely; part number=B certain; quantity=C certain"},
		{"item heads part numbers", []string{"Item,Qty", "OQ-1,1", "OQ-2,1"}, 1, "part number=A likely; quantity=B certain"},
		{"shipped heads quantities", []string{"Part,Shipped", "OQ-1,1", "OQ-2,4"}, 1, "part number=A certain; quantity=B certain"},
		{"shipped heads statuses", []string{"Part,Qty,Shipped", "OQ-1,1,yes", "OQ-2,4,"}, 1, "part number=A certain; quantity=B certain; status=C certain"},
		{"ordered is the second choice", []string{"Part,Qty ordered,Qty shipped", "OQ-1,1,1"}, 1, "part number=A certain; quantity=C certain"},
		{"ordered alone", []string{"Part,Qty ordered", "OQ-1,1"}, 1, "part number=A certain; quantity=B likely"},
		{
			"what only looks alike",
			[]string{"Part number,Qty,Unit price,Unit weight,Old part number,Total qty,Box total"},
			1, "part number=A certain; quantity=B certain; unit price=C certain",
		},
		{"a price that may be that of the line", []string{"Part,Qty,Price,Price USD,Ext price"}, 1, "part number=A certain; quantity=B certain"},
		{"the first of two alike", []string{"Part,Qty,Qty"}, 1, "part number=A certain; quantity=B certain"},
		{
			"what is owed beside what was sent",
			[]string{"Part,Ordered,Shipped,B/O", "OQ-1,4,2,2"},
			1, "part number=A certain; quantity=C certain; back-ordered=D certain",
		},
		{"owed beside ordered alone", []string{"Part,Qty ordered,Qty B/O", "OQ-1,4,2"}, 1, "part number=A certain; back-ordered=C certain"},
		{"owed, in words", []string{"Part,Qty,Backordered", "OQ-1,4,yes"}, 1, "part number=A certain; quantity=B certain; back-ordered=C certain"},
		{"no headings", []string{"1,C1,OQ-1,2", "2,C1,OQ-2,4"}, 0, ""},
		{"one heading is none", []string{"Crate,C1", "OQ-1,2"}, 0, ""},
		{"a sentence is no heading", []string{"Please check every part number against the quantity printed,and the description"}, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := packinglist.Guess(open(t, c.lines...))
			if got.Heading != c.heading || shown(got) != c.want {
				t.Errorf("headings %q\n got row %d: %s\nwant row %d: %s", c.lines, got.Heading, shown(got), c.heading, c.want)
			}
		})
	}
}

func TestColumnsAreCorrected(t *testing.T) {
	guessed := packinglist.Guess(open(t, "Old number,Part,Qty,Box"))
	for _, c := range []struct {
		name string
		got  packinglist.Columns
		want string
	}{
		{"moved to a free column", guessed.With(packinglist.Designation, 1), "crate=D certain; part number=A certain; quantity=C certain"},
		{"moved onto another", guessed.With(packinglist.Group, 4), "group=D certain; part number=B certain; quantity=C certain"},
		{"taken away", guessed.With(packinglist.Crate, 0), "part number=B certain; quantity=C certain"},
		{"set to where it is", guessed.With(packinglist.Crate, 4), shown(guessed)},
		{"no such column", guessed.With(packinglist.Crate, -3), "part number=B certain; quantity=C certain"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if shown(c.got) != c.want || c.got.Heading != 1 {
				t.Errorf("got %s, want %s", shown(c.got), c.want)
			}
		})
	}
	if f, ok := (packinglist.Columns{}).With(packinglist.LineNumber, 2).Field(2); !ok || f != packinglist.LineNumber {
		t.Errorf("the column of line numbers holds %v, %v", f, ok)
	}
	if f, ok := guessed.Field(4); !ok || f != packinglist.Crate {
		t.Errorf("column 4: got %v, %v; want crate", f, ok)
	}
	for _, n := range []int{0, 1, 99} {
		if f, ok := guessed.Field(n); ok {
			t.Errorf("column %d: got %v, want none", n, f)
		}
	}
	if missing := guessed.With(packinglist.Quantity, 0).Missing(); len(missing) != 1 || missing[0] != packinglist.Quantity {
		t.Errorf("missing: got %v, want the quantity", missing)
	}
}

func TestColumnName(t *testing.T) {
	for n, want := range map[int]string{-1: "", 0: "", 1: "A", 26: "Z", 27: "AA", 52: "AZ", 64: "BL", 702: "ZZ", 703: "AAA", 16384: "XFD"} {
		if got := packinglist.ColumnName(n); got != want {
			t.Errorf("ColumnName(%d): got %q, want %q", n, got, want)
		}
	}
}

// Columns of groups lie in each other: giving one of the inner ones to another field takes
// that one away, and giving groups a column of their own takes all.
func TestInnerGroupsAreCorrected(t *testing.T) {
	guessed := packinglist.Guess(open(t, "Crate,Sub-kit,Bag,Part,Qty,Lot", "C1,SK10,H1,OQ-1,2,Q1", "C1,SK10,H2,OQ-2,2,Q1"))
	groups := func(c packinglist.Columns) (columns []int) {
		for n := 1; n <= 6; n++ {
			if f, ok := c.Field(n); ok && f == packinglist.Group {
				columns = append(columns, n)
			}
		}
		return columns
	}
	for _, row := range []struct {
		name string
		got  packinglist.Columns
		want []int
	}{
		{"as guessed", guessed, []int{2, 3}},
		{"the inner one is given away", guessed.With(packinglist.Description, 3), []int{2}},
		{"the outer one is given away", guessed.With(packinglist.Description, 2), []int{3}},
		{"groups have one column", guessed.With(packinglist.Group, 3), []int{3}},
		{"groups have none", guessed.With(packinglist.Group, 0), nil},
		{"another field moves", guessed.With(packinglist.Lot, 0), []int{2, 3}},
	} {
		if got := groups(row.got); !slices.Equal(got, row.want) {
			t.Errorf("%s: groups in %v, want %v", row.name, got, row.want)
		}
	}
}
