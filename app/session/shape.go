package session

import (
	"cmp"
	"slices"

	"stowright/store"
	"stowright/store/packinglist"
)

// ColumnsBefore are the columns of a file by its sheets, where a list with the very same
// headings was brought in before and a person chose columns of it; as names that list, the
// newest of them. It is nil where there is none.
func ColumnsBefore(shop *store.Shop, book *packinglist.Book) (columns map[string]packinglist.Columns, as string, err error) {
	ships, err := shop.Shipments()
	if err != nil {
		return nil, "", err
	}
	for _, sheet := range book.Sheets {
		for _, ship := range slices.Backward(ships) {
			if ship.Shape == nil {
				continue
			}
			c, fits := packinglist.Shape{Headings: ship.Shape.Headings, Columns: ship.Shape.Columns}.Fit(sheet.Table)
			if !fits {
				continue
			}
			if columns == nil {
				columns = map[string]packinglist.Columns{}
			}
			columns[sheet.Name] = c
			as = cmp.Or(ship.Supplier, ship.Order, ship.File)
			break
		}
	}
	return columns, as, nil
}

// ShapeOf is how a list is written whose columns a person chose; nil where nobody did.
func ShapeOf(sheets []packinglist.SheetReading) *store.ListShape {
	for _, s := range sheets {
		if shape, ok := packinglist.ShapeOf(s.Table, s.Columns); ok {
			return &store.ListShape{Headings: shape.Headings, Columns: shape.Columns}
		}
	}
	return nil
}
