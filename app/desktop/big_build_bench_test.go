package desktop

import (
	"fmt"
	"testing"
	"time"

	"stowright/app/loop"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// What the plans of a large aircraft list: sub-assemblies, and lines of each.
const (
	bigJobs  = 200
	bigNeeds = 60
)

// planned is indexed, with lists for 200 sub-assemblies of 60 lines each and a supplier of a
// tenth of their items, which are made once and stay in the file.
func planned(b *testing.B) (*session.Session, *loop.Queue) {
	b.Helper()
	s, q := indexed(b)
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		b.Fatal(err)
	}
	if len(subs) >= bigJobs {
		return s, q
	}
	items := designations(b, s, bigJobs*bigNeeds)
	units := map[string]measure.Unit{}
	lists := make([]store.Needs, bigJobs)
	for i := range lists {
		lists[i].SubAssembly = store.SubAssembly{Code: fmt.Sprintf("SA-%d", 1000+i), Name: "Job", Hours: build.Hours(10 + i)}
		for _, item := range items[i*bigNeeds : (i+1)*bigNeeds] {
			known, err := s.Shop.Item(item)
			if err != nil {
				b.Fatal(err)
			}
			units[item] = known.Unit
			lists[i].Requirements = append(lists[i].Requirements, store.Requirement{Called: item, Needed: measure.Of(int64(20+i), known.Unit)})
		}
	}
	if _, _, err := s.Shop.PutNeeds("", lists...); err != nil {
		b.Fatal(err)
	}
	err = s.Shop.Together(func(group *store.Shop) error {
		if _, err := group.PutSupplier(store.Supplier{Name: "Bolt works"}); err != nil {
			return err
		}
		for i := 0; i < len(items); i += 10 {
			if _, err := group.PutSupply(store.Supply{Item: items[i], Supplier: "Bolt works", Pack: 10}, measure.Quantity{}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	q.Drain()
	return s, q
}

// BenchmarkBigBuild is going to Build, to one sub-assembly of it and to Order until all that
// they show is there: once the board is kept, after a count, which every second entry of an
// evening is, and after an entry that changes more than stock, as a fit does.
func BenchmarkBigBuild(b *testing.B) {
	s, q := planned(b)
	d := onDesk(b, s)
	q.Drain()
	keys, err := s.Shop.StockKeys()
	if err != nil {
		b.Fatal(err)
	}
	count := func(i int) error {
		_, err := s.Shop.Count(keys[i*97%len(keys)], measure.Pieces(int64(1+i%400)))
		return err
	}
	name := func(i int) error {
		item, err := s.Shop.Item(keys[i*97%len(keys)].Item)
		if err == nil {
			item.Note = fmt.Sprintf("note %d of %d", i, time.Now().UnixNano())
			_, err = s.Shop.PutItem(item)
		}
		return err
	}
	for _, row := range []struct {
		name   string
		route  routes.Route
		before func(i int) error // nil: nothing
	}{
		{"tiles", routes.Route{Screen: routes.Build}, nil},
		{"tiles after a count", routes.Route{Screen: routes.Build}, count},
		{"tiles after another entry", routes.Route{Screen: routes.Build}, name},
		{"a sub-assembly", routes.Route{Screen: routes.Build, About: "SA-1100"}, nil},
		{"order", routes.Route{Screen: routes.Order}, nil},
		{"order after a count", routes.Route{Screen: routes.Order}, count},
	} {
		b.Run(row.name, func(b *testing.B) {
			var times []time.Duration
			for i := 0; b.Loop(); i++ {
				d.Go(routes.Route{Screen: routes.Handbook})
				q.Drain()
				if row.before != nil {
					if err := row.before(i); err != nil {
						b.Fatal(err)
					}
				}
				q.Drain()
				began := time.Now()
				d.Go(row.route)
				q.Drain()
				times = append(times, time.Since(began))
			}
			spread(b, times)
		})
	}
}

// BenchmarkBigBoard is how all sub-assemblies stand, read from nothing: what the first look
// at Build waits for.
func BenchmarkBigBoard(b *testing.B) {
	s, _ := planned(b)
	for b.Loop() {
		if err := s.Read(func(r *session.Reader) error {
			reading, err := r.Shop.Reading()
			if err != nil {
				return err
			}
			if ready, of := build.NewBoard(reading).Ready(); of < bigJobs {
				return fmt.Errorf("%d of %d", ready, of)
			}
			return nil
		}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBigPull is one tick of a pull list, which is held against what is called.
func BenchmarkBigPull(b *testing.B) {
	s, _ := planned(b)
	needs, err := s.Shop.Requirements("SA-1100")
	if err != nil {
		b.Fatal(err)
	}
	heaps, err := s.Shop.Holdings(needs[0].Item)
	if err != nil || len(heaps) == 0 {
		b.Fatalf("%d heaps, %v", len(heaps), err)
	}
	var times []time.Duration
	for b.Loop() {
		began := time.Now()
		_, err := s.Shop.Pull("SA-1100", store.Transfer{StockKey: heaps[0].StockKey, Quantity: measure.Of(1, heaps[0].Amount.Unit), Reason: "measured"})
		times = append(times, time.Since(began))
		if err == nil {
			_, err = s.Shop.Undo()
		}
		if err != nil {
			b.Fatal(err)
		}
	}
	spread(b, times)
}
