package packinglist_test

import (
	"fmt"

	"stowright/store/packinglist"
)

// A list is opened, read with what a person settled, and taken when nothing is open.
func Example() {
	book, err := packinglist.Open("list.csv", []byte("Part number;Qty;Unit\nAN3-5A;24;ea\nAN426AD3-3.5;1.250;lb\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	reading := book.Read(packinglist.Choices{})
	for _, q := range reading.Open() {
		fmt.Println(q.ID+":", q.Text)
	}
	settled := book.Read(packinglist.Choices{Answers: map[string]string{"decimal-mark": "point"}})
	list, problems := settled.List()
	for _, line := range list.Lines {
		fmt.Println(line.Number, line.Designation, line.Listed)
	}
	fmt.Println(len(problems), "problems")
	// Output:
	// decimal-mark: which mark parts the decimals in "1.250"?
	// 1 AN3-5A 24 ea
	// 2 AN426AD3-3.5 1.25 lb
	// 0 problems
}

// Rows that cannot be read come back beside those that can.
func ExampleReading() {
	book, err := packinglist.Open("list.csv", []byte("Part number,Qty\nAN3-5A,many\nAN3-6A,2\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	reading := book.Read(packinglist.Choices{})
	fmt.Println(len(reading.Lines), "line;", reading.Bad[0].Problems[0].Error())
	mended := book.Read(packinglist.Choices{Cells: map[packinglist.Place]string{{Row: 2, Column: 2}: "24"}})
	fmt.Println(len(mended.Lines), "lines,", len(mended.Bad), "bad rows")
	// Output:
	// 1 line; list.csv, row 2, column B: the quantity "many" is not a plain number; write it like 24, or with its unit where it is weighed or measured
	// 2 lines, 0 bad rows
}
