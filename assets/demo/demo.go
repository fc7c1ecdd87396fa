package demo

import _ "embed"

// PackingListCSV is the packing list of the kit as a CSV file: a row of
// headings and 60 lines. The caller must not change it.
//
//go:embed osterhollow-tail-kit.csv
var PackingListCSV []byte
