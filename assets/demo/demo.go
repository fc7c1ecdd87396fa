package demo

import (
	"bytes"
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"time"
)

// Names of the packing list files, for messages and for copies on disk.
const (
	PackingListCSV  = "osterhollow-tail-kit.csv"
	PackingListXLSX = "osterhollow-tail-kit.xlsx"
)

// What the papers of the delivery say apart from the list.
const (
	Order    = "OK-20731"
	Kit      = "Osterhollow Type Q tail kit"
	Supplier = "Osterhollow Kitworks"
)

//go:embed *.csv *.xlsx
var files embed.FS

// PackingList is the list of the kit as the file of that name, a fresh copy.
func PackingList(name string) []byte {
	data, err := files.ReadFile(name)
	if err != nil {
		panic(fmt.Sprintf("demo: %v", err))
	}
	return data
}

// Finding is what the builder finds of a line on the first day, bags split.
// Quantities are plain decimals in the unit of the line, empty where none.
type Finding struct {
	Line            int
	Found           string // pieces with the listed number, damaged ones included
	Damaged         string // of those
	WrongRevision   string // number of another revision found in its place
	AsFound         string // number of a part that is not listed, found in its place
	AsFoundQuantity string // how many of WrongRevision or AsFound
	Later           string // what Found comes to in the end, empty where it stays
	Lot             string
	Expires         time.Time // zero for never
	Note            string
}

// Findings returns one finding a line of the list, in its order.
func Findings() []Finding {
	var all []Finding
	for _, r := range table("findings.csv", 10) {
		all = append(all, Finding{
			Line: number(r[0]), Found: r[1], Damaged: r[2], WrongRevision: r[3], AsFound: r[4], AsFoundQuantity: r[5],
			Later: r[6], Lot: r[7], Expires: date(r[8]), Note: r[9],
		})
	}
	return all
}

// Delivery is a crate, the day it arrives, and its claim times in days from then.
type Delivery struct {
	Crate                    string
	Arrived                  time.Time // midnight UTC of that day
	DamageDays, ShortageDays int
}

// Deliveries returns the crates in the order in which they arrive.
func Deliveries() []Delivery {
	var all []Delivery
	for _, r := range table("deliveries.csv", 4) {
		all = append(all, Delivery{Crate: r[0], Arrived: date(r[1]), DamageDays: number(r[2]), ShortageDays: number(r[3])})
	}
	return all
}

// Place is a place and the name of the one it is in. Names are unique.
type Place struct {
	Name          string
	Kind          string // room, cabinet, drawer, shelving, shelf or rack
	Parent        string // empty for the room
	Rows, Columns int    // of a cabinet, else 0
}

// Places returns the places, each after the one it is in.
func Places() []Place {
	var all []Place
	for _, r := range table("places.csv", 5) {
		all = append(all, Place{Name: r[0], Kind: r[1], Parent: r[2], Rows: number(r[3]), Columns: number(r[4])})
	}
	return all
}

// Stowed says in which place the parts of a line go.
type Stowed struct {
	Line        int
	Designation string // as found, which is not always as listed
	Place       string
}

// Stow returns where everything goes, in the order of the list.
func Stow() []Stowed {
	var all []Stowed
	for _, r := range table("stowed.csv", 3) {
		all = append(all, Stowed{Line: number(r[0]), Designation: r[1], Place: r[2]})
	}
	return all
}

// Need is so many of an item for a sub-assembly.
type Need struct {
	SubAssembly, Name string // SA-10, Fin
	Designation       string // as the plans print it
	Quantity, Unit    string
	Joint             string // names the lines that are one joint
	Stack             string // what its bolt goes through, from the head to the nut
}

// Needs returns what the sub-assemblies need, in the order of the plans.
func Needs() []Need {
	var all []Need
	for _, r := range table("needs.csv", 5) {
		all = append(all, Need{SubAssembly: r[0], Name: r[1], Designation: r[2], Quantity: r[3], Unit: r[4]})
	}
	return all
}

// Work is a sub-assembly with the hours that are planned for it and, where the part number
// is not empty, one more thing that it needs. Quantity is as the plans print it.
type Work struct {
	SubAssembly, Name string
	Hours             int
	Designation       string
	Quantity, Unit    string
	Joint             string // names the lines that are one joint
	Stack             string // what its bolt goes through, from the head to the nut
}

// Building returns what the building stories add to Needs, in the builder's order.
func Building() []Work {
	var all []Work
	for _, r := range table("building.csv", 8) {
		all = append(all, Work{SubAssembly: r[0], Name: r[1], Hours: number(r[2]), Designation: r[3], Quantity: r[4], Unit: r[5], Joint: r[6], Stack: r[7]})
	}
	return all
}

// NewNumber says that the kit maker sends New where the plans say Old. It does
// not say that Old may stand in for New.
type NewNumber struct {
	Old, New string
	Source   string
	Date     time.Time // midnight UTC
}

// NewNumbers returns the renumbered parts.
func NewNumbers() []NewNumber {
	var all []NewNumber
	for _, r := range table("numbers.csv", 4) {
		all = append(all, NewNumber{Old: r[0], New: r[1], Source: r[2], Date: date(r[3])})
	}
	return all
}

// Hands returns the names of those who work in the shop.
func Hands() []string {
	var all []string
	for _, r := range table("hands.csv", 1) {
		all = append(all, r[0])
	}
	return all
}

// table returns the rows below the headings. The files are part of the program,
// so a fault in one is a fault of the program and panics; the tests read them all.
func table(name string, columns int) [][]string {
	r := csv.NewReader(bytes.NewReader(PackingList(name)))
	r.FieldsPerRecord = columns
	rows, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("demo: %s: %v", name, err))
	}
	return rows[1:]
}

// number reads a whole number, 0 for nothing.
func number(s string) int {
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	if err != nil {
		panic(fmt.Sprintf("demo: %v", err))
	}
	return n
}

// date reads a day as midnight UTC, the zero time for nothing.
func date(s string) time.Time {
	if s == "" {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(fmt.Sprintf("demo: %v", err))
	}
	return t
}
