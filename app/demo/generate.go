package demo

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"

	"stowright/assets/demo"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/search/searchtest"
)

// What a generated shop has to each item.
const (
	itemsPerPlace  = 20
	entriesPerItem = 10
	listLines      = 5_000 // lines of one of its packing lists, at most
	// together is how many entries are in one transaction: nobody waits for a single
	// one. More would leave more pages free than a person's work ever does, and every
	// later change writes the list of those.
	together = 250
)

// Generate fills an empty shop with items of invented designations, drawn from a
// seed: one place for every twenty items, and ten entries of the journal for each.
// All but the last of its packing lists are checked off and stowed, and its drawers
// are counted and moved again and again. Progress is called with how many entries of how
// many are made; it may be nil.
func Generate(ctx context.Context, shop *store.Shop, items int, progress func(done, total int)) error {
	g := &generated{
		shop: shop, items: items, total: items * entriesPerItem, progress: progress,
		random: rand.New(rand.NewPCG(uint64(items), 1)),
	}
	if g.progress == nil {
		g.progress = func(int, int) {}
	}
	for _, step := range []func(context.Context) error{g.furnish, g.bringIn, g.checkOff, g.work} {
		if err := step(ctx); err != nil {
			return err
		}
	}
	return nil
}

// generated is a shop in the making.
type generated struct {
	shop     *store.Shop
	random   *rand.Rand
	items    int
	total    int // entries to be made
	done     int // entries that are
	progress func(done, total int)

	drawers []string // ids
	ships   []store.Shipment
	heaps   []store.StockKey // where each item lies
}

// do has a verb done for each number up to n, many in one transaction.
func (g *generated) do(ctx context.Context, n int, verb func(shop *store.Shop, i int) error) error {
	for from := 0; from < n; from += together {
		if err := ctx.Err(); err != nil {
			return err
		}
		to := min(n, from+together)
		err := g.shop.Together(func(shop *store.Shop) error {
			for i := from; i < to; i++ {
				if err := verb(shop, i); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
		last, err := g.shop.Entries(0, 1)
		if err != nil || len(last) == 0 {
			return err
		}
		g.done = int(last[0].Seq)
		g.progress(g.done, g.total)
	}
	return nil
}

// drawerRows and drawerColumns are those of its cabinets.
const drawerRows, drawerColumns = 8, 5

// generatedRooms are the first places of a generated shop.
var generatedRooms = []string{"Garage", "Hangar", "Loft"}

// furnish makes cabinets in a few rooms.
func (g *generated) furnish(ctx context.Context) error {
	cabinets := max(1, g.items/itemsPerPlace/(drawerRows*drawerColumns+1))
	rooms := generatedRooms
	ids := make([]string, len(rooms))
	return g.do(ctx, len(rooms)+cabinets, func(shop *store.Shop, i int) error {
		if i < len(rooms) {
			room, _, err := shop.AddPlace(store.Place{Kind: store.Room, Name: rooms[i]})
			ids[i] = room.ID
			return err
		}
		prefix := fmt.Sprintf("%c%d", 'A'+rune(i%26), 1+i/26)
		cabinet, _, err := shop.AddCabinet(store.CabinetSpec{
			Parent: ids[i%len(ids)], Name: "Cabinet " + prefix, Prefix: prefix, Rows: drawerRows, Columns: drawerColumns,
		})
		if err != nil {
			return err
		}
		drawers, err := shop.Children(cabinet.ID)
		for _, d := range drawers {
			g.drawers = append(g.drawers, d.ID)
		}
		return err
	})
}

// bringIn brings packing lists of all items in, each of one crate that came.
func (g *generated) bringIn(ctx context.Context) error {
	docs := searchtest.New(g.items, 1).Docs
	lists := (len(docs) + listLines - 1) / listLines
	return g.do(ctx, lists, func(shop *store.Shop, i int) error {
		crate := fmt.Sprintf("C%d", i+1)
		list := store.NewShipment{Order: fmt.Sprintf("%04d", i+1), Supplier: demo.Supplier, File: fmt.Sprintf("list-%d.csv", i+1), Fingerprint: fmt.Sprint(i + 1)}
		for n, d := range docs[i*listLines : min(len(docs), (i+1)*listLines)] {
			title := []rune(d.Words)
			list.Lines = append(list.Lines, store.NewLine{
				Number: n + 1, Crate: crate, Group: fmt.Sprintf("%s-%d", crate, n*bagsPerCrate/listLines+1), Designation: d.Name,
				Title: strings.TrimSpace(string(title[:min(len(title), store.MaxName)])), Listed: measure.Pieces(g.some()), Status: store.Shipped,
			})
		}
		ship, _, err := shop.Import(list)
		if err != nil {
			return err
		}
		g.ships = append(g.ships, ship)
		days := 15
		_, err = shop.Arrive(ship.ID, store.Delivery{Crates: []string{crate}, Arrived: shop.Today(), DamageDays: &days, ShortageDays: &days})
		return err
	})
}

// bagsPerCrate is how many bags the crates of its packing lists hold.
const bagsPerCrate = 20

// some is a likely number of pieces.
func (g *generated) some() int64 { return 1 + g.random.Int64N(400) }

func (g *generated) drawer() string { return g.drawers[g.random.IntN(len(g.drawers))] }

// checkOff checks all packing lists but the last off, or the only one, and stows what they hold.
func (g *generated) checkOff(ctx context.Context) error {
	for _, ship := range g.ships[:max(1, len(g.ships)-1)] {
		lines, err := g.shop.Lines(ship.ID)
		if err != nil {
			return err
		}
		err = g.do(ctx, len(lines), func(shop *store.Shop, i int) error {
			l := lines[i]
			if _, err := shop.Receive(ship.ID, l.ID, store.Finding{Found: l.Listed, Counted: true, Looked: true}); err != nil {
				return err
			}
			from := store.StockKey{Item: l.Designation, Place: l.Place}
			to := store.StockKey{Item: l.Designation, Place: g.drawer()}
			g.heaps = append(g.heaps, to)
			_, err := shop.Stow(store.Transfer{StockKey: from, To: to.Place})
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// moveEvery is how many entries of the later work lie between two moves; the others
// are counts.
const moveEvery = 8

// work counts and moves what lies in the drawers until the journal is long enough.
func (g *generated) work(ctx context.Context) error {
	return g.do(ctx, max(0, g.total-g.done), func(shop *store.Shop, i int) error {
		heap := &g.heaps[g.random.IntN(len(g.heaps))]
		if i%moveEvery > 0 {
			_, err := shop.Count(*heap, measure.Pieces(g.some()))
			return err
		}
		to := g.drawer()
		if to == heap.Place {
			to = g.drawers[(1+i)%len(g.drawers)]
		}
		if to == heap.Place {
			return nil
		}
		_, err := shop.Move(store.Transfer{StockKey: *heap, To: to})
		heap.Place = to
		return err
	})
}
