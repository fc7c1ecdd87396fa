// Package stationery holds the sizes of what labels are printed on as a file embedded in the
// program: one row a kind of sheet or roll, all lengths in millimetres, with where its size
// is from ("source") and how many published sources were seen to agree ("checked"; 0 is as
// sold, from memory: a test print is held against the sheet). It only holds the bytes;
// package labels reads them.
package stationery

import _ "embed"

//go:embed stocks.csv
var stocks string

// Stocks is the table, as CSV with a header.
func Stocks() string { return stocks }
