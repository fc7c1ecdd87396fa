package packinglist

import (
	"slices"
	"strings"
)

// headings are the whole headings that name a field, as words makes them
// (common practice of packing lists, order forms and parts lists).
var headings = map[string]Field{
	"line": LineNumber, "line no": LineNumber, "line #": LineNumber, "line number": LineNumber, "ln": LineNumber,
	"# line": LineNumber, "pos": LineNumber, "position": LineNumber, "row": LineNumber, "seq": LineNumber,

	"crate": Crate, "crate no": Crate, "crate #": Crate, "crate number": Crate, "box": Crate, "box no": Crate,
	"box #": Crate, "box number": Crate, "carton": Crate, "carton no": Crate, "carton #": Crate, "case": Crate, "case no": Crate, "package": Crate,
	"container": Crate, "packed in": Crate,

	"group": Group, "bag": Group, "bag no": Group, "bag #": Group, "bag number": Group, "sub kit": Group, "subkit": Group,
	"kit": Group, "kit no": Group, "bundle": Group, "assembly": Group, "section": Group, "bag kit": Group,

	"part number": Designation, "part no": Designation, "part #": Designation, "part num": Designation, "partno": Designation,
	"partnumber": Designation, "part": Designation, "pn": Designation, "p n": Designation, "designation": Designation,
	"item code": Designation, "part code": Designation, "stock no": Designation, "stock number": Designation,
	"sku": Designation, "catalog no": Designation, "catalogue number": Designation,

	"description": Description, "desc": Description, "descr": Description, "part description": Description, "item description": Description,
	"name": Description, "part name": Description, "nomenclature": Description, "title": Description, "details": Description,

	"quantity": Quantity, "qty": Quantity, "quant": Quantity, "qnty": Quantity, "listed": Quantity, "qty listed": Quantity, "quantity listed": Quantity,
	"qty shipped": Quantity, "quantity shipped": Quantity, "shipped qty": Quantity, "ship qty": Quantity, "qty packed": Quantity,
	"packed": Quantity, "pieces": Quantity, "pcs": Quantity, "count": Quantity, "number of": Quantity, "amount": Quantity, "no off": Quantity,

	"unit": Unit, "units": Unit, "uom": Unit, "um": Unit, "u m": Unit, "unit of measure": Unit, "measure": Unit, "qty unit": Unit,

	"status": StatusField, "stat": StatusField, "state": StatusField, "shipped": StatusField, "ship status": StatusField, "shipping status": StatusField,
	"line status": StatusField, "availability": StatusField, "sbn": StatusField,

	"lot": Lot, "lot no": Lot, "lot #": Lot, "lot number": Lot, "batch": Lot, "batch no": Lot, "batch #": Lot, "batch number": Lot,
	"lot batch": Lot, "heat lot": Lot,

	"qty back ordered": Owed, "qty backordered": Owed, "qty back order": Owed, "qty backorder": Owed, "qty bo": Owed, "qty owed": Owed,
	"back ordered qty": Owed, "backordered qty": Owed, "back order qty": Owed, "backorder qty": Owed, "bo qty": Owed,
	"quantity back ordered": Owed, "quantity backordered": Owed,
}

// headingWords name a field when they are one word of a longer heading, tried in
// this order: "Qty in box" is a quantity and "Part name" no part number.
var headingWords = []struct {
	word  string
	field Field
}{
	{"qty", Quantity},
	{"quantity", Quantity},
	{"description", Description},
	{"desc", Description},
	{"lot", Lot},
	{"batch", Lot},
	{"status", StatusField},
	{"uom", Unit},
	{"unit", Unit},
	{"name", Description},
	{"pn", Designation},
	{"part", Designation},
	{"crate", Crate},
	{"carton", Crate},
	{"box", Crate},
	{"bag", Group},
	{"group", Group},
	{"kit", Group},
	{"line", LineNumber},
}

// strange are words of headings that look like a field and are another thing:
// prices and weights of a unit, numbers of other lists, what is still owed.
var strange = []string{
	"price", "cost", "total", "ext", "weight", "back", "backorder", "backordered", "bo", "owed", "found", "checked", "received", "counted",
	"old", "supersedes", "replaces", "alternate", "drawing", "page", "date", "order", "po", "customer",
}

// recognise says which field a heading names and how surely. What stands below
// helps: "Item", "No." and "#" head line numbers or part numbers, "Shipped" a
// quantity or a status.
func recognise(heading string, below contents) (Field, Confidence, bool) {
	const longest = 40 // a longer cell is a sentence of a title, no heading
	if heading == "" || len(heading) > longest {
		return 0, Unknown, false
	}
	w := words(heading)
	switch w {
	case "item", "item no", "item #", "item number", "no", "#", "number":
		if below.counts() {
			return LineNumber, Likely, true
		}
		return Designation, Likely, true
	case "shipped":
		if below.figures() {
			return Quantity, Certain, true
		}
		return StatusField, Certain, true
	case "back ordered", "backordered", "back order", "backorder", "bo", "owed":
		return Owed, Certain, true
	case "qty ordered", "quantity ordered", "ordered", "order qty":
		return Quantity, Likely, true
	}
	if f, ok := headings[w]; ok {
		return f, Certain, true
	}
	if priceHeading(w) {
		return Price, Certain, true
	}
	split := strings.Fields(w)
	for _, s := range strange {
		if slices.Contains(split, s) {
			return 0, Unknown, false
		}
	}
	for _, h := range headingWords {
		if slices.Contains(split, h.word) {
			return h.field, Likely, true
		}
	}
	return 0, Unknown, false
}

// headingVocabulary is every word that headings are made of.
var headingVocabulary = func() map[string]bool {
	all := map[string]bool{"item": true, "ordered": true, "number": true, "of": true}
	for h := range headings {
		for _, w := range strings.Fields(h) {
			all[w] = true
		}
	}
	for _, w := range strange {
		all[w] = true
	}
	return all
}()
