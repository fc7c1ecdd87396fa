package unpack

import (
	"reflect"
	"slices"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// delivery is a shipment with its lines as they stand, and what lies in its bags.
type delivery struct {
	catalog  *hardware.Catalog
	ship     store.Shipment
	lines    []store.Line
	next     string // id of the shipment after this one, going round; empty where this is the only one
	today    store.Date
	newest   uint64                         // entry of the journal that this is read after
	reversed store.LineID                   // the first line that it changed, where it undid something or did it again; else 0
	lengths  measure.System                 // in what lengths are read
	titles   map[string]string              // by designation
	bags     map[bagged]store.Amount        // good stock in crates and bags
	apart    map[bagged]bool                // damaged stock and stock set apart there
	photos   map[store.LineID][]store.Photo // of lines
	crates   map[string][]store.Photo       // by name of the crate: as it came
	offers   map[store.LineID]session.Offer // lines that may be what was ordered
	shown    *shown
}

// bagged is an item in a crate or bag.
type bagged struct{ place, item string }

// scope is the lines of all crates, of one crate, or of one bag.
type scope struct{ crate, group string }

func (s scope) holds(l store.Line) bool {
	return (s.crate == "" || s.crate == l.Crate) && (s.group == "" || s.group == l.Group)
}

// load reads the shipment that about names, or else the one that waits.
func load(s *session.Session, about string) (delivery, error) {
	return session.Answer(s, func(r *session.Reader) (delivery, error) {
		d, err := loadIn(r, about)
		if err == nil {
			d.offers, err = r.Offers(d.ship.ID)
		}
		return d, err
	})
}

func loadIn(s *session.Reader, about string) (delivery, error) {
	ships, err := s.Shop.Shipments()
	if err != nil || len(ships) == 0 {
		return delivery{}, err
	}
	var last delivery
	for i := len(ships) - 1; i >= 0; i-- {
		next := ""
		if len(ships) > 1 {
			next = ships[(i+1)%len(ships)].ID
		}
		d, err := loadOne(s, ships[i], next)
		if err != nil {
			return d, err
		}
		if d.is(about) || (about == "" && slices.ContainsFunc(d.lines, d.open)) {
			return d, nil
		}
		if last.ship.ID == "" {
			last = d
		}
	}
	return last, nil
}

// is reports whether about names this shipment or a crate or bag of it.
func (d delivery) is(about string) bool {
	if about == "" {
		return false
	}
	return d.ship.ID == about ||
		slices.ContainsFunc(d.ship.Crates, func(c store.CrateRef) bool { return c.Place == about }) ||
		slices.ContainsFunc(d.lines, func(l store.Line) bool { return l.Place == about })
}

func loadOne(s *session.Reader, ship store.Shipment, next string) (delivery, error) {
	lines, err := s.Shop.Lines(ship.ID)
	if err != nil {
		return delivery{}, err
	}
	d := delivery{catalog: s.Catalog(), lengths: s.Lengths(), ship: ship, lines: lines, next: next, today: s.Shop.Today(), titles: map[string]string{}, bags: map[bagged]store.Amount{}, apart: map[bagged]bool{}}
	if d.newest, d.reversed, err = reversed(s.Shop, ship.ID); err != nil {
		return d, err
	}
	if d.photos, err = s.Shop.PhotosOfLines(ship.ID); err != nil {
		return d, err
	}
	d.crates = map[string][]store.Photo{}
	for _, c := range ship.Crates {
		if d.crates[c.Name], err = s.Shop.Photos(store.OfPlace(c.Place)); err != nil {
			return d, err
		}
	}
	seen := map[string]bool{}
	for _, l := range lines {
		if _, ok := d.titles[l.Designation]; !ok {
			d.titles[l.Designation] = d.title(l)
		}
		if seen[l.Place] {
			continue
		}
		seen[l.Place] = true
		if err := d.addContents(s.Shop, l.Place); err != nil {
			return d, err
		}
	}
	d.workOut()
	return d, nil
}

// reversed is the newest entry of the journal, and the first line of a shipment that it
// changed where it is an undo or a redo: the bag that was split, and not one that was
// given some of it. A line that the entry made is gone, and is not the one.
func reversed(shop *store.Reader, shipment string) (newest uint64, line store.LineID, err error) {
	last, err := shop.Entries(0, 1)
	if err != nil || len(last) == 0 {
		return 0, 0, err
	}
	e := last[0]
	newest = e.Seq
	for e.Undoes != 0 { // a redo undoes an undo
		if e, err = shop.Entry(e.Undoes); err != nil {
			return newest, 0, err
		}
		line = e.FirstLine(shipment)
	}
	return newest, line, nil
}

// addContents takes in what lies in a crate or bag.
func (d *delivery) addContents(shop *store.Reader, place string) error {
	heaps, err := shop.Contents(place)
	if err != nil {
		return err
	}
	for _, h := range heaps {
		key := bagged{place, h.Item}
		if h.Condition != store.Good {
			d.apart[key] = true
			continue
		}
		sum, err := d.bags[key].Add(h.Amount)
		if err != nil {
			return err
		}
		d.bags[key] = sum
	}
	return nil
}

func (d delivery) arrived(l store.Line) bool {
	_, ok := d.ship.Delivery(l.Crate)
	return ok
}

// receivable reports whether findings of a line can be entered.
func (d delivery) receivable(l store.Line) bool { return d.arrived(l) || l.Status == store.BackOrdered }

// partial reports whether pieces from another bag were put to the line, and that it has
// not been checked itself yet.
func partial(l store.Line) bool {
	_, brought := operation.Brought(l)
	return brought
}

// state is how a line stands; one that is not checked itself yet is still to check.
func (d delivery) state(l store.Line) store.State {
	if partial(l) {
		l.Finding = nil
	}
	return l.State(d.arrived(l))
}

// open reports whether a line waits to be checked.
func (d delivery) open(l store.Line) bool { return d.state(l) == store.ToCheck }

// inBag is the good stock of a line's item that still lies in its crate or bag.
func (d delivery) inBag(l store.Line) store.Amount { return d.bags[bagged{l.Place, l.Designation}] }

func (d delivery) toStow(l store.Line) bool {
	return l.Finding != nil && !partial(l) && !d.inBag(l).IsZero()
}

// start is the scope that about names, or the first bag with a line to check.
func (d delivery) start(about string) scope {
	for _, c := range d.ship.Crates {
		if c.Place == about && about != "" {
			return scope{crate: c.Name}
		}
	}
	for _, l := range d.lines {
		if l.Place == about && about != "" {
			return scope{l.Crate, l.Group}
		}
	}
	for _, l := range d.lines {
		if d.open(l) {
			return scope{l.Crate, l.Group}
		}
	}
	return scope{}
}

// numberOf is the number of a line, 0 where there is none.
func (d delivery) numberOf(id store.LineID) int {
	l := d.line(id)
	if l == nil {
		return 0
	}
	return l.Number()
}

// nextOpen is the first line to check after a given one, going round; 0 for none.
func nextOpen(d delivery, lines []store.Line, from store.LineID) store.LineID {
	first, after := store.LineID(0), d.numberOf(from)
	for _, l := range lines {
		if !d.open(l) {
			continue
		}
		if l.Number() > after {
			return l.ID
		}
		if first == 0 {
			first = l.ID
		}
	}
	return first
}

// changedLine is the one line whose finding differs; 0 where none
// or several do.
func changedLine(before, after delivery) store.LineID {
	changed := store.LineID(0)
	for _, l := range after.lines {
		old := before.line(l.ID)
		if old == nil && l.Finding == nil || old != nil && sameFinding(old.Finding, l.Finding) {
			continue
		}
		if changed != 0 {
			return 0
		}
		changed = l.ID
	}
	return changed
}

// putBack is the one checked line of which more lies in its bag than
// before; 0 where there is none, or there are several.
func putBack(before, after delivery) store.LineID {
	back := store.LineID(0)
	for _, l := range after.lines {
		if !after.toStow(l) || after.inBag(l).Micro <= before.inBag(l).Micro {
			continue
		}
		if back != 0 {
			return 0
		}
		back = l.ID
	}
	return back
}

func sameFinding(a, b *store.Finding) bool {
	if a == nil || b == nil {
		return a == b
	}
	return reflect.DeepEqual(a, b)
}
