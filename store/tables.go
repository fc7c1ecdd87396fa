package store

import (
	"fmt"
	"strings"

	"stowright/store/hardware"
)

// The names of the tables. Each is a bucket of the file.
const (
	tableItems         = "items"
	tablePlaces        = "places"
	tableStock         = "stock"
	tableShipments     = "shipments"
	tableLines         = "lines"
	tableTags          = "tags"
	tableEquivalents   = "equivalents"
	tableSubAssemblies = "sub_assemblies"
	tableCounted       = "counted"
	tableSettings      = "settings"
	tableFitted        = "fitted"
	tablePhotos        = "photos"
	tableRequirements  = "requirements"
	tableFits          = "fits"
	tableScrapped      = "scrapped"
	tableDecisions     = "decisions"
	tableNotes         = "notes"
	tableAircraft      = "aircraft"
	tablePlanChanges   = "plan_changes"
)

// The indexes of the tables.
const (
	indexByPlace  = "by_place" // place, item, lot, condition -> nothing: stock by its place
	indexChildren = "children" // parent, id -> nothing: places by their parent
)

// tables are the tables of a shop, in the order in which an export writes them; a new
// one comes last, so that exports stay what they were.
var tables = []table{
	itemTable, placeTable, stockTable, shipmentTable, lineTable, tagTable,
	equivalentTable, subAssemblyTable, countedTable, settingsTable, fittedTable, photoTable,
	requirementTable, fitTable, scrappedTable, decisionTable, noteTable, aircraftTable, planChangeTable,
	supplierTable, supplyTable, orderTable, orderLineTable,
	lotTable, goneTable, paperTable, alertTable,
	positionTable, componentTable, dueTable,
}

var itemTable = table{
	name: tableItems, one: "item", since: 1, keys: named, by: replacing,
	forms:   []form{formOf[Item]("item")},
	valid:   filed(func(i Item) string { return i.Designation }),
	refers:  namingNothing,
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		return touched{item: c.Key, building: Concern{ItemPart, c.Key}}, nil
	},
	differs: func(d *Difference) *int { return &d.Items },
	unmade:  gone,
	sheet:   ownSheet("items.csv", (*Reader).itemRows),
}

var placeTable = table{
	name: tablePlaces, one: "place", since: 1, keys: drawn, by: replacing,
	forms: []form{formOf[Place]("place")},
	valid: filed(func(p Place) string { return p.ID }),
	refers: naming(func(_ string, p Place) []reference {
		refs := []reference{{tableTags, string(p.Tag)}}
		if p.Parent != "" {
			refs = append(refs, reference{tablePlaces, p.Parent})
		}
		return refs
	}),
	indexes: []index{{name: indexChildren, since: 1, key: func(key string, body []byte) (string, error) {
		p, err := decode[Place](body)
		return p.Parent + keySeparator + key, err
	}}},
	touches: func(c Change) (touched, error) {
		return touched{place: c.Key, building: Concern{Part: PlacesPart}}, nil
	},
	differs: func(d *Difference) *int { return &d.Places },
	unmade:  gone,
	sheet:   ownSheet("places.csv", (*Reader).placeRows),
}

var stockTable = table{
	name: tableStock, one: "heap of stock", since: 1, keys: named, by: adding,
	forms:  []form{formOf[Amount]("amount")},
	valid:  validHeap,
	refers: heapReferences,
	indexes: []index{{name: indexByPlace, since: 1, fixed: true, key: func(key string, _ []byte) (string, error) {
		k, err := parseStockKey(key)
		return k.Place + keySeparator + key, err
	}}},
	touches: func(c Change) (touched, error) {
		k, err := parseStockKey(c.Key)
		return touched{item: k.Item, building: Concern{StockPart, k.Item}}, err
	},
	differs: uncounted, // they are listed one by one
	unmade:  gone,
	sheet:   ownSheet("stock.csv", (*Reader).stockRows),
}

var shipmentTable = table{
	name: tableShipments, one: "packing list", since: 1, keys: drawn, by: replacing,
	forms: []form{formOf[Shipment]("shipment")},
	valid: filed(func(s Shipment) string { return s.ID }),
	refers: naming(func(_ string, s Shipment) []reference {
		var refs []reference
		for _, c := range s.Crates {
			refs = append(refs, reference{tablePlaces, c.Place})
		}
		return refs
	}),
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		return touched{shipment: c.Key, building: Concern{Part: AwaitedPart}}, nil
	},
	differs: others,
	unmade:  gone,
	sheet:   sheetOf("packing-lists.csv"),
}

var lineTable = table{
	name: tableLines, one: "line of a packing list", since: 1, keys: named, by: replacing,
	forms: []form{formOf[Line]("line")},
	valid: filed(func(l Line) string { return lineKey(l.Shipment, l.ID) }),
	refers: naming(func(_ string, l Line) []reference {
		refs := []reference{{tableItems, l.Designation}, {tablePlaces, l.Place}, {tableShipments, l.Shipment}}
		if l.Match != nil {
			for _, ref := range l.Match.Lines {
				refs = append(refs, reference{tableOrderLines, ref.key()})
			}
		}
		return refs
	}),
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		id, _, _ := strings.Cut(c.Key, keySeparator)
		return touched{shipment: id, building: Concern{Part: AwaitedPart}}, nil
	},
	differs: func(d *Difference) *int { return &d.Lines },
	unmade:  gone,
	sheet:   ownSheet("packing-lists.csv", (*Reader).lineRows),
}

var tagTable = table{
	name: tableTags, one: "tag", since: 1, keys: named, by: replacing,
	forms: []form{formOf[tagRecord]("tag")},
	valid: func(key string, body []byte) error {
		if _, problem := ParseTag(key); problem != "" {
			return fmt.Errorf("tag %q is %s", key, problem)
		}
		_, err := understood[tagRecord](body)
		return err
	},
	refers: naming(func(_ string, t tagRecord) []reference {
		if t.Retired {
			return nil // it outlives what it named
		}
		return []reference{{tablePlaces, t.Place}}
	}),
	indexes: []index{},
	touches: touchingNothing, // the place is
	differs: uncounted,       // the place is
	unmade: func(body []byte) ([]byte, error) { // its label may be on a drawer already
		t, err := decode[tagRecord](body)
		if err != nil {
			return nil, err
		}
		t.Retired = true
		return encode(t)
	},
	sheet: sheetOf("places.csv"),
}

var equivalentTable = table{
	name: tableEquivalents, one: "equivalent number", since: 1, keys: named, by: replacing,
	forms:   []form{formOf[Equivalent]("equivalent")},
	valid:   filed(Equivalent.key),
	refers:  namingNothing, // the shop need not have either
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		_, item, ok := strings.Cut(c.Key, keySeparator)
		if !ok {
			return touched{}, fmt.Errorf("the key %q does not name two numbers", c.Key)
		}
		return touched{item: item, building: Concern{Part: RulesPart}}, nil
	},
	differs: others,
	unmade:  gone,
	sheet:   noSheet("what replaces what is asked of the item, which says by which source"),
}

var countedTable = table{
	name: tableCounted, one: "count", since: 1, keys: named, by: replacing,
	forms: []form{formOf[Counted]("counted")},
	valid: func(key string, body []byte) error {
		if _, err := understood[Counted](body); err != nil {
			return err
		}
		return validHeap(key, body)
	},
	refers:  heapReferences,
	indexes: []index{},
	touches: touchingNothing, // where a count changes stock, the stock is
	differs: uncounted,       // the stock is listed
	unmade:  gone,
	sheet:   noSheet("the journal says who counted, and when"),
}

var settingsTable = table{
	name: tableSettings, one: "setting", since: 1, keys: named, by: replacing,
	forms: []form{formOf[Settings]("settings"), formOf[hardware.OwnRow]("figures")},
	valid: func(key string, body []byte) error {
		if strings.HasPrefix(key, figurePrefix) {
			return filed(func(r hardware.OwnRow) string { return figurePrefix + r.Designation })(key, body)
		}
		return filed(func(Settings) string { return settingsKey })(key, body)
	},
	refers:  namingNothing,
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		number, ok := strings.CutPrefix(c.Key, figurePrefix)
		if !ok {
			return touched{}, nil
		}
		return touched{figures: number, building: Concern{Part: FiguresPart}}, nil
	},
	differs: others,
	unmade:  gone,
	sheet:   noSheet("own figures are written by the handbook, with their sources"),
}

var photoTable = table{
	name: tablePhotos, one: "photograph", since: 3, keys: named, by: replacing,
	forms: []form{formOf[Photo]("photo")},
	valid: filed(Photo.key),
	refers: func(_ string, body []byte) ([]reference, error) {
		p, err := decode[Photo](body)
		if err == nil && !p.Of.single() {
			err = fmt.Errorf("it is not of one line, one place, one item or one position")
		}
		if err != nil {
			return nil, err
		}
		return []reference{p.Of.reference()}, nil
	},
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		body := c.After
		if body == nil {
			body = c.Before
		}
		p, err := decode[Photo](body)
		return touched{photos: p.Of}, err
	},
	differs: func(d *Difference) *int { return &d.Photos },
	unmade:  gone, // its picture stays
	sheet:   ownSheet("photographs.csv", (*Reader).photoRows),
}

func validHeap(key string, _ []byte) error {
	_, err := parseStockKey(key)
	return err
}

func heapReferences(key string, _ []byte) ([]reference, error) {
	k, err := parseStockKey(key)
	refs := append([]reference{{tableItems, k.Item}, {tablePlaces, k.Place}}, lotReference(k.Lot)...)
	for _, name := range k.Condition.Alerts() {
		number, _ := AlertNumber(name)
		refs = append(refs, reference{tableAlerts, numberKey(number)})
	}
	return refs, err
}
