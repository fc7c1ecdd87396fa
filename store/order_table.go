package store

import "strconv"

// The names of the tables of buying.
const (
	tableSuppliers  = "suppliers"
	tableSupply     = "supply"
	tableOrders     = "orders"
	tableOrderLines = "order_lines"
)

var supplierTable = table{
	name: tableSuppliers, one: "supplier", since: 6, keys: named, by: replacing,
	forms:   []form{formOf[Supplier]("supplier")},
	valid:   filed(func(u Supplier) string { return u.Name }),
	refers:  namingNothing,
	indexes: []index{},
	touches: concerning(SupplyPart),
	differs: others,
	unmade:  gone,
	sheet:   noSheet("the order list names them with their terms"),
}

var supplyTable = table{
	name: tableSupply, one: "way to buy an item", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Supply]("supply")},
	valid: filed(func(u Supply) string { return u.Item }),
	refers: naming(func(_ string, u Supply) []reference {
		if u.Supplier == "" {
			return nil
		}
		return []reference{{tableSuppliers, u.Supplier}} // the item, the shop may never have had
	}),
	indexes: []index{},
	touches: concerning(SupplyPart),
	differs: others,
	unmade:  gone,
	sheet:   ownSheet("supply.csv", (*Reader).supplyRows),
}

var orderTable = table{
	name: tableOrders, one: "order", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Order]("order")},
	valid: filed(func(o Order) string { return orderKey(o.Number) }),
	refers: naming(func(_ string, o Order) []reference {
		if o.Supplier == "" || o.Undone {
			return nil
		}
		return []reference{{tableSuppliers, o.Supplier}}
	}),
	indexes: []index{},
	touches: concerning(AwaitedPart),
	differs: others,
	unmade:  marked(func(o *Order) { o.Undone = true }), // its number may be on paper already
	sheet:   sheetOf("orders.csv"),
}

var orderLineTable = table{
	name: tableOrderLines, one: "line of an order", since: 6, keys: named, by: replacing,
	forms: []form{formOf[OrderLine]("order_line")},
	valid: filed(func(l OrderLine) string { return l.Ref().key() }),
	refers: naming(func(_ string, l OrderLine) []reference {
		return []reference{{tableOrders, orderKey(l.Order)}, {tableItems, l.Item}}
	}),
	indexes: []index{},
	touches: concerning(AwaitedPart),
	differs: others,
	unmade:  gone,
	sheet:   ownSheet("orders.csv", (*Reader).orderRows),
}

func (r *Reader) supplyRows() ([][]string, error) {
	list, err := r.Supplies()
	rows := [][]string{{"part number", "supplier", "pack", "at least", "price of one", "of", "spare"}}
	for _, u := range list {
		pack, least := "", ""
		if u.Pack > 0 {
			pack = strconv.FormatInt(u.Pack, 10)
		}
		if u.Least.Sign() > 0 {
			least = u.Least.Plain()
		}
		rows = append(rows, []string{u.Item, u.Supplier, pack, least, u.Price.String(), dayText(u.Priced), u.SpareRule()})
	}
	return rows, err
}

func (r *Reader) orderRows() ([][]string, error) {
	list, err := r.Owing()
	rows := [][]string{{"order", "supplier", "ordered", "line", "part number", "quantity", "unit", "price", "promised for", "came", "still owed", "canceled", "reason"}}
	for _, w := range list {
		rows = append(rows, []string{
			orderName(w.Order), w.Supplier, w.Ordered.String(), strconv.Itoa(w.Number), w.Item, w.Quantity.Plain(), string(w.Quantity.Unit),
			w.Price.String(), dayText(w.Promised), w.Came.Plain(), w.Owed.Plain(), dayText(w.Canceled), w.Reason,
		})
	}
	return rows, err
}

// dayText is a day, and nothing where there is none.
func dayText(d Date) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}
