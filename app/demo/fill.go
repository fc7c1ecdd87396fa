package demo

import (
	"cmp"
	"fmt"
	"slices"

	"stowright/app/session"
	"stowright/assets/demo"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/packinglist"
)

// Scene is how far the demo shop has come.
type Scene int

// The scenes, each of which holds all that the one before it does.
const (
	Furnished Scene = iota // places, needs and numbers; no packing list
	Arrived                // the list is in, crates C1 and C2 have come
	Unpacking              // all but one bag of bolts and half a bag of nuts is checked off and stowed
	Unpacked               // every line of C1 and C2 is checked off and stowed
)

// mixedInto is the line that has strays in the bag of the first open line: what of it
// lies in its own bag is all that is found while that one is not split.
const mixedInto = 39

// openLines are the lines that a person is left to check off in the Unpacking scene.
const firstOpenLine, lastOpenLine = 40, 47

// Fill brings an empty shop to a scene, and its clock to Today.
// What else there is to furnish, such as Extend, is done before anything comes.
func Fill(shop *store.Shop, clock *Clock, scene Scene, more ...func(*store.Shop) error) error {
	clock.Set(ArrivalDay)
	for _, furnish := range append([]func(*store.Shop) error{Furnish}, more...) {
		if err := furnish(shop); err != nil {
			return err
		}
	}
	if scene >= Arrived {
		if err := unpack(shop, clock, scene); err != nil {
			return err
		}
	}
	clock.Set(Today)
	return nil
}

func unpack(shop *store.Shop, clock *Clock, scene Scene) error {
	ship, err := Import(shop)
	if err != nil {
		return err
	}
	if err := Arrive(shop, ship.ID, "C1", "C2"); err != nil || scene < Unpacking {
		return err
	}
	for _, f := range demo.Findings() {
		open := scene == Unpacking && f.Line >= firstOpenLine && f.Line <= lastOpenLine
		if open {
			continue
		}
		if scene == Unpacking && f.Line == mixedInto {
			if err := ownBag(shop, ship.ID); err != nil {
				return err
			}
			continue
		}
		if err := CheckOff(shop, ship.ID, f.Line); err != nil {
			return err
		}
	}
	if _, err := AddPhotos(shop, ship.ID); err != nil {
		return err
	}
	clock.Set(StowDay)
	_, err = StowAll(shop, ship.ID)
	return err
}

// ownBag checks the line off that has strays in another bag: its own holds what is listed.
func ownBag(shop *store.Shop, shipment string) error {
	l, err := shop.Line(shipment, mixedInto)
	if err == nil {
		_, err = shop.Receive(shipment, mixedInto, store.Finding{Found: l.Listed, Counted: true, Looked: true})
	}
	return err
}

// demoTitle is what the demo calls its aircraft.
const demoTitle = "Type Q"

// Furnish makes the places, the sub-assemblies with what they need, and the new
// numbers of the cover letter.
func Furnish(shop *store.Shop) error {
	if _, err := shop.PutSettings(store.Settings{Title: demoTitle, Hands: demo.Hands()}); err != nil {
		return err
	}
	if err := makePlaces(shop); err != nil {
		return err
	}
	for _, n := range demo.NewNumbers() {
		q := store.Equivalent{Old: n.Old, New: n.New, Source: n.Source, Date: store.DateOf(n.Date)}
		if _, err := shop.PutEquivalent(q); err != nil {
			return err
		}
	}
	return makeNeeds(shop)
}

var placeKinds = map[string]store.PlaceKind{
	"room": store.Room, "cabinet": store.Cabinet, "shelving": store.Rack, "shelf": store.Shelf, "rack": store.Rack,
}

func makePlaces(shop *store.Shop) error {
	ids := map[string]string{"": ""}
	for _, p := range demo.Places() {
		var made store.Place
		var err error
		switch p.Kind {
		case "drawer": // comes with its cabinet
			continue
		case "cabinet":
			prefix := p.Name[len(p.Name)-1:]
			made, _, err = shop.AddCabinet(store.CabinetSpec{Parent: ids[p.Parent], Name: p.Name, Prefix: prefix, Rows: p.Rows, Columns: p.Columns})
		default:
			kind, ok := placeKinds[p.Kind]
			if !ok {
				return fmt.Errorf("demo place %s is of the unknown kind %q", p.Name, p.Kind)
			}
			made, _, err = shop.AddPlace(store.Place{Parent: ids[p.Parent], Kind: kind, Name: p.Name})
		}
		if err != nil {
			return err
		}
		ids[p.Name] = made.ID
	}
	return nil
}

// makeNeeds makes the sub-assemblies. What the plans call by an old number is needed
// under the new one, to which the recorded numbers lead.
func makeNeeds(shop *store.Shop) error {
	var subs []store.Needs
	for _, n := range demo.Needs() {
		needed, err := quantity(n.Quantity, n.Unit)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(subs, func(s store.Needs) bool { return s.SubAssembly.Code == n.SubAssembly })
		if i < 0 {
			i = len(subs)
			subs = append(subs, store.Needs{SubAssembly: store.SubAssembly{Code: n.SubAssembly, Name: n.Name}})
		}
		subs[i].Requirements = append(subs[i].Requirements, store.Requirement{Called: session.Canonical(hardware.Standard(), n.Designation), Needed: needed})
	}
	for _, s := range subs {
		if _, err := shop.PutSubAssembly(s.SubAssembly, s.Requirements...); err != nil {
			return err
		}
	}
	return nil
}

// Import brings the demo packing list in.
func Import(shop *store.Shop) (store.Shipment, error) {
	book, err := packinglist.Open(demo.PackingListCSV, demo.PackingList(demo.PackingListCSV))
	if err != nil {
		return store.Shipment{}, err
	}
	list, problems := book.Read(packinglist.Choices{}).List()
	if len(problems) > 0 {
		return store.Shipment{}, &problems[0]
	}
	list.Order = demo.Order
	ship, _, err := shop.Import(session.NewShipment(hardware.Standard(), list, demo.Supplier))
	return ship, err
}

// Arrive records the arrival of crates with the claim days of their paperwork.
func Arrive(shop *store.Shop, shipment string, crates ...string) error {
	var d store.Delivery
	for _, paper := range demo.Deliveries() {
		if slices.Contains(crates, paper.Crate) {
			damage, shortage := paper.DamageDays, paper.ShortageDays
			d.Crates = append(d.Crates, paper.Crate)
			d.Arrived, d.DamageDays, d.ShortageDays = store.DateOf(paper.Arrived), &damage, &shortage
		}
	}
	_, err := shop.Arrive(shipment, d)
	return err
}

// CheckOff enters the day-one finding of a line. A line of which nothing was due
// yet is left as it is.
func CheckOff(shop *store.Shop, shipment string, number int) error {
	l, err := shop.LineNumbered(shipment, number)
	if err != nil || l.Status != store.Shipped {
		return err
	}
	for _, f := range demo.Findings() {
		if f.Line == number {
			finding, err := findingOf(l, f)
			if err != nil {
				return err
			}
			_, err = shop.Receive(shipment, l.ID, finding)
			return err
		}
	}
	return fmt.Errorf("the demo has no finding for line %d", number)
}

func findingOf(l store.Line, f demo.Finding) (store.Finding, error) {
	unit := string(l.Listed.Unit)
	found, err := quantity(f.Found, unit)
	if err != nil {
		return store.Finding{}, err
	}
	finding := store.Finding{Found: found, Counted: true, Looked: true, Lot: f.Lot, Note: f.Note}
	if f.Damaged != "" && f.Damaged != "0" {
		if finding.Damaged, err = quantity(f.Damaged, unit); err != nil {
			return store.Finding{}, err
		}
	}
	if other := cmp.Or(f.WrongRevision, f.AsFound); other != "" {
		q, err := quantity(f.AsFoundQuantity, unit)
		if err != nil {
			return store.Finding{}, err
		}
		finding.Came = &store.Came{Designation: session.Canonical(hardware.Standard(), other), Quantity: q, Revision: f.WrongRevision != ""}
	}
	return finding, nil
}

func quantity(number, unit string) (measure.Quantity, error) {
	u, err := measure.ParseUnit(unit)
	if err != nil {
		return measure.Quantity{}, err
	}
	return measure.ParseQuantity(number, u)
}
