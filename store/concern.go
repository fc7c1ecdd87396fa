package store

// Part is one of the parts of what is known of building that are read by themselves.
type Part int

// The parts. Of concerns the name says of which thing where the part is read for one alone.
const (
	_           Part = iota
	StockPart        // where an item lies, how much of it and of which lots
	ListPart         // what a sub-assembly needs, and what is fitted in it
	SubsPart         // the sub-assemblies themselves, and their order
	RulesPart        // decisions, recorded numbers, aircraft
	PlacesPart       // where places are, and what they are called
	AwaitedPart      // packing lists and orders
	SupplyPart       // how things are bought
	ItemPart         // what is known of an item
	FiguresPart      // the shop's own figures, which are in the names of items
	WastePart        // what was used up
	lastPart    = WastePart
)

// Concern is a part of what is known of building that an entry may have changed.
type Concern struct {
	Part Part
	Of   string // item or code of a sub-assembly; "" where Part is read in whole
}

// Concerns are what an entry may have changed of what is known of building, each once:
// nothing else did.
func (e Entry) Concerns() []Concern {
	return eachTouched(e, func(t touched) Concern { return t.building })
}

// concerning is for tables whose records are nothing but a part of what is known of building.
func concerning(part Part) func(Change) (touched, error) {
	return func(Change) (touched, error) { return touched{building: Concern{Part: part}}, nil }
}
