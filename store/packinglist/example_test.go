package packinglist_test

import (
	"fmt"

	"stowright/store/packinglist"
)

// A list is opened, its columns are guessed and corrected, and it is read.
func Example() {
	data := []byte("Part number;Qty;UOM;Remark\nAN3-5A;24;ea;B\nAN426AD3-3.5;0,30;lb;\n")
	table, err := packinglist.Open("list.csv", data)
	if err != nil {
		fmt.Println(err)
		return
	}
	columns := packinglist.Guess(table).With(packinglist.StatusField, 4)
	list, problems := packinglist.Read(table, columns)
	for _, p := range problems {
		fmt.Println(p.Error())
	}
	for _, line := range list.Lines {
		fmt.Println(line.Number, line.Designation, line.Listed, line.Status)
	}
	// Output:
	// 1 AN3-5A 24 ea back-ordered
	// 2 AN426AD3-3.5 0.3 lb shipped
}

// Every problem says what is wrong, where, and what to do.
func ExampleProblem() {
	table, err := packinglist.Open("list.csv", []byte("Part number,Qty\nAN3-5A,many\n4-Mar,2\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	_, problems := packinglist.Read(table, packinglist.Guess(table))
	for _, p := range problems {
		fmt.Println(p.Error())
	}
	// Output:
	// list.csv, row 2, column B: the quantity "many" is not a plain number; write it like 24, 0.30 or 1/2
	// list.csv, row 3, column A: "4-Mar" is a date: a spreadsheet turns part numbers such as 3-4 into dates; format the column as text and type the part number again
}
