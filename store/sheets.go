package store

import (
	"cmp"
	"strconv"
	"time"
)

// Sheet is a table for people: a file of rows that are opened in a spreadsheet.
type Sheet struct {
	File string                              // its name, with the extension: "stock.csv"
	Rows func(r *Reader) ([][]string, error) // the heading first, cells in plain text
}

// Sheets are the tables for people: those that tables of the shop have, in their order,
// and the journal.
func Sheets() []Sheet {
	var list []Sheet
	for _, t := range tables {
		if t.sheet.rows != nil {
			list = append(list, Sheet{File: t.sheet.file, Rows: t.sheet.rows})
		}
	}
	return append(list, Sheet{File: "journal.csv", Rows: (*Reader).journalRows})
}

// figures are the cells of an amount: the figure, and the range of an estimate.
func figures(a Amount) []string {
	if !a.Estimate() {
		return []string{a.Plain(), "", ""}
	}
	low := a.Low
	low.Micro = max(0, low.Micro)
	return []string{a.Plain(), low.Plain(), a.High.Plain()}
}

func (r *Reader) itemRows() ([][]string, error) {
	items, err := r.Items()
	rows := [][]string{{"part number", "description", "unit", "minimum", "note"}}
	for _, i := range items {
		minimum := ""
		if !i.Minimum.IsZero() {
			minimum = i.Minimum.Plain()
		}
		rows = append(rows, []string{i.Designation, i.Title, string(i.Unit), minimum, i.Note})
	}
	return rows, err
}

func (r *Reader) stockRows() ([][]string, error) {
	heaps, err := r.Stock()
	if err != nil {
		return nil, err
	}
	rows := [][]string{{"part number", "place", "lot", "condition", "quantity", "at least", "at most", "unit"}}
	for _, h := range heaps {
		path, err := r.Path(h.Place)
		if err != nil {
			return nil, err
		}
		lot, err := r.Lot(h.Item, h.Lot)
		if err != nil {
			return nil, err
		}
		row := append([]string{h.Item, PathText(path), lot.cell(), string(h.Condition)}, figures(h.Amount)...)
		rows = append(rows, append(row, string(h.Amount.Unit)))
	}
	return rows, nil
}

func (r *Reader) placeRows() ([][]string, error) {
	places, err := r.Places()
	if err != nil {
		return nil, err
	}
	rows := [][]string{{"place", "kind", "tag", "out of use"}}
	for _, p := range places {
		path, err := r.Path(p.ID)
		if err != nil {
			return nil, err
		}
		retired := ""
		if p.Retired {
			retired = "out of use"
		}
		rows = append(rows, []string{PathText(path), string(p.Kind), string(p.Tag), retired})
	}
	return rows, nil
}

func (r *Reader) lineRows() ([][]string, error) {
	ships, err := r.Shipments()
	if err != nil {
		return nil, err
	}
	rows := [][]string{{"order", "supplier", "line", "crate", "group", "part number", "description", "listed", "found", "damaged", "unit", "state", "note"}}
	for _, ship := range ships {
		lines, err := r.Lines(ship.ID)
		if err != nil {
			return nil, err
		}
		for _, l := range lines {
			_, arrived := ship.Delivery(l.Crate)
			found, damaged, note := "", "", l.Unchecked
			if f := l.Finding; f != nil {
				found, damaged, note = f.Found.Plain(), f.Damaged.Plain(), f.Note
			}
			rows = append(rows, []string{
				ship.Order, ship.Supplier, strconv.Itoa(l.Number()), l.Crate, l.Group, l.Designation, l.Title,
				l.Listed.Plain(), found, damaged, string(l.Listed.Unit), string(l.State(arrived)), note,
			})
		}
	}
	return rows, nil
}

func (r *Reader) photoRows() ([][]string, error) {
	photos, err := r.AllPhotos()
	if err != nil {
		return nil, err
	}
	rows := [][]string{{"photograph", "of", "what is on it", "when", "who", "width", "height"}}
	for _, p := range photos {
		of, err := r.SubjectText(p.Of)
		if err != nil {
			return nil, err
		}
		rows = append(rows, []string{p.Name(), of, p.Caption, p.At.Format(time.RFC3339), p.Hand, strconv.Itoa(p.Width), strconv.Itoa(p.Height)})
	}
	return rows, nil
}

func (r *Reader) journalRows() ([][]string, error) {
	rows := [][]string{{"entry", "when", "who", "what", "text"}}
	last, err := r.Entries(0, 1)
	if err != nil || len(last) == 0 {
		return rows, err
	}
	for seq := uint64(1); seq <= last[0].Seq; seq++ {
		e, err := r.Entry(seq)
		if err != nil {
			return nil, err
		}
		rows = append(rows, []string{strconv.FormatUint(e.Seq, 10), e.At.Format(time.RFC3339), e.Hand, string(e.Verb), e.Text})
	}
	return rows, nil
}

// day is a date as a spreadsheet takes it; nothing for no day.
func day(d Date) string {
	text, _ := d.MarshalText() // never fails
	return string(text)
}

// cell is a lot in a table of stock: as it is printed, else by its number.
func (l Lot) cell() string { return cmp.Or(l.Printed, l.Name()) }

func (r *Reader) lotRows() ([][]string, error) {
	lots, err := r.Lots("")
	if err != nil {
		return nil, err
	}
	left, err := r.Gone("")
	if err != nil {
		return nil, err
	}
	went := map[string]Amount{}
	for _, g := range left {
		sum, err := went[g.Lot+keySeparator+g.How].Add(g.Amount)
		if err != nil {
			return nil, err
		}
		went[g.Lot+keySeparator+g.How] = sum
	}
	rows := [][]string{{"lot", "part number", "printed", "order", "line", "kind", "day", "quantity", "at least", "at most", "unit", "scrapped", "sent back"}}
	for _, l := range lots {
		var order, line string
		if l.Receipt != nil {
			order, line = l.Receipt.Order, strconv.Itoa(l.Receipt.Number())
		}
		row := append([]string{l.Name(), l.Item, l.Printed, order, line, string(l.Kind), day(l.Date)}, figures(l.Came)...)
		row = append(row, string(l.Came.Unit))
		for _, how := range []string{goneScrapped, goneBack} {
			cell := ""
			if a, ok := went[l.Name()+keySeparator+how]; ok {
				cell = a.Plain()
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	return rows, nil
}
