package store_test

import (
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// The lines of the marks that are set, which rows take away or leave.
const (
	boltsLine   = "AN3-5A lot L1 in A-01: 24 ea, counted 14 March by First"
	damagedLine = "AN3-5A lot L1 (damaged) in A-01: 2 ea, counted 14 March by First"
	apartLine   = "AN3-5A lot L1 (set apart) in A-01: 1 ea, counted 14 March by First"
	shelfLine   = "AN3-5A lot L1 in S1: 5 ea, counted 14 March by First"
	sampleLine  = "AN3-5A: 10 pieces weigh 51 g, by 0.1 g"
	trayLine    = "AN3-6A lot L2 in SA-10: 4 ea, counted 14 March by First"
	fittedLine  = "AN3-6A lot L2 fitted in SA-10: 2 ea"
	rivetsLine  = "AN426AD3-3.5 lot R1 in H101: 0.3 lb, counted 14 March by First"
	nutsLine    = "MS21042-3 lot Q7714 in H104: 20 ea, counted 14 March by First"
)

// markRows are all ways in which a shop changes.
func markRows() []markRow {
	var rows []markRow
	for _, list := range [][]markRow{
		movingRows(),
		leavingRows(),
		countingRows(),
		receivingRows(),
		recordRows(),
		placeRows(),
		photoRows(),
		lotRows(),
		needRows(),
		benchRows(),
		buyingRows(),
	} {
		rows = append(rows, list...)
	}
	return rows
}

// movingRows: lot and condition go with the stock. A heap that goes whole to where none
// is takes its count along; a heap that another joins is not as it was counted.
func movingRows() []markRow {
	stow := func(w world, t store.Transfer) error { return second(w.Stow(t)) }
	move := func(w world, t store.Transfer) error { return second(w.Move(t)) }
	pull := func(w world, t store.Transfer) error { return second(w.Pull("SA-10", because(t).Transfer)) }
	var rows []markRow
	for _, by := range []struct {
		method string
		do     func(w world, t store.Transfer) error
	}{{"Stow", stow}, {"Move", move}} {
		rows = append(
			rows,
			markRow{
				by.method, "some to where none is", func(w world) error { return by.do(w, some(w.bolts(store.Good), 10, w.place["A-02"])) },
				[]string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: 14 ea, counted 14 March by First", "+ AN3-5A lot L1 in A-02: 10 ea"},
				"",
			},
			markRow{
				by.method, "all to where none is", func(w world) error { return by.do(w, some(w.bolts(store.Good), 0, w.place["A-02"])) },
				[]string{"- " + boltsLine, "+ AN3-5A lot L1 in A-02: 24 ea, counted 14 March by First"},
				"",
			},
			markRow{
				by.method, "some to where some is", func(w world) error { return by.do(w, some(w.bolts(store.Good), 10, w.place["S1"])) },
				[]string{"- " + boltsLine, "- " + shelfLine, "+ AN3-5A lot L1 in A-01: 14 ea, counted 14 March by First", "+ AN3-5A lot L1 in S1: 15 ea"},
				"",
			},
			markRow{
				by.method, "all to where some is", func(w world) error { return by.do(w, some(w.bolts(store.Good), 0, w.place["S1"])) },
				[]string{"- " + boltsLine, "- " + shelfLine, "+ AN3-5A lot L1 in S1: 29 ea"},
				"",
			},
			markRow{
				by.method, "all to where some is that nobody counted", func(w world) error {
					if err := by.do(w, some(w.bolts(store.Good), 4, w.place["A-02"])); err != nil {
						return err
					}
					return by.do(w, some(w.bolts(store.Good), 0, w.place["A-02"]))
				},
				[]string{"- " + boltsLine, "+ AN3-5A lot L1 in A-02: 24 ea"},
				"",
			},
			markRow{
				by.method, "damaged ones and those set apart", func(w world) error {
					if err := by.do(w, some(w.bolts(store.Damaged), 0, w.place["S1"])); err != nil {
						return err
					}
					return by.do(w, some(w.bolts(store.SetApart), 0, w.place["S1"]))
				},
				[]string{
					"- " + damagedLine, "- " + apartLine,
					"+ AN3-5A lot L1 (damaged) in S1: 2 ea, counted 14 March by First", "+ AN3-5A lot L1 (set apart) in S1: 1 ea, counted 14 March by First",
				},
				"",
			},
		)
	}
	return append(
		rows,
		markRow{
			"Pull", "some", func(w world) error { return pull(w, some(w.bolts(store.Good), 10, "")) },
			[]string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: 14 ea, counted 14 March by First", "+ AN3-5A lot L1 in SA-10: 10 ea"},
			"",
		},
		markRow{
			"Pull", "all", func(w world) error { return pull(w, some(w.bolts(store.Good), 0, "")) },
			[]string{"- " + boltsLine, "+ AN3-5A lot L1 in SA-10: 24 ea, counted 14 March by First"},
			"",
		},
		markRow{
			"PullAll", "for one, in two parts", func(w world) error {
				return second(w.PullAll(store.TrayPull{Code: "SA-10", Transfers: []store.Transfer{some(w.bolts(store.Good), 4, ""), some(w.bolts(store.Good), 2, "")}}))
			},
			[]string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: 18 ea, counted 14 March by First", "+ AN3-5A lot L1 in SA-10: 6 ea"},
			"",
		},
		markRow{"PullAll", "one of two refused", func(w world) error {
			return second(w.PullAll(store.TrayPull{Code: "SA-10", Transfers: []store.Transfer{some(w.bolts(store.Good), 1, ""), some(w.bolts(store.Damaged), 1, "")}}))
		}, nil, "AN3-5A there is damaged: it is not pulled for building."},
		markRow{"Pull", "damaged ones", func(w world) error { return pull(w, some(w.bolts(store.Damaged), 1, "")) }, nil, "AN3-5A there is damaged: it is not pulled for building."},
		markRow{"Pull", "those set apart", func(w world) error { return pull(w, some(w.bolts(store.SetApart), 1, "")) }, nil, "AN3-5A there is set apart: it is not pulled for building."},
	)
}

// leavingRows: what is left of a heap is as it was counted, less what went; of a heap
// that is gone there is no count. What comes back joins what nobody counted with it.
func leavingRows() []markRow {
	fit := func(k func(w world) store.StockKey, n int64) func(world) error {
		return func(w world) error { return second(w.Fit("SA-10", because(some(k(w), n, "")))) }
	}
	scrap := func(c store.Condition, n int64) func(world) error {
		return func(w world) error { return second(w.Scrap(some(w.bolts(c), n, ""), "worn")) }
	}
	good := func(w world) store.StockKey { return w.bolts(store.Good) }
	bad := func(w world) store.StockKey { return w.bolts(store.Damaged) }
	apart := func(w world) store.StockKey { return w.bolts(store.SetApart) }
	return []markRow{
		{"Fit", "some", fit(good, 10), []string{"- " + boltsLine, "+ AN3-5A lot L1 fitted in SA-10: 10 ea", "+ AN3-5A lot L1 in A-01: 14 ea, counted 14 March by First"}, ""},
		{"Fit", "all", fit(good, 0), []string{"- " + boltsLine, "+ AN3-5A lot L1 fitted in SA-10: 24 ea"}, ""},
		{"Fit", "damaged ones", fit(bad, 1), nil, "AN3-5A there is damaged: it is not fitted."},
		{"Fit", "those set apart", fit(apart, 1), nil, "AN3-5A there is set apart: it is not fitted."},
		{"SendBack", "some", func(w world) error {
			return second(w.SendBack(some(w.bolts(store.Good), 10, ""), "Bolt works", "wrong finish"))
		}, []string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: 14 ea, counted 14 March by First"}, ""},
		{"SendBack", "all", func(w world) error {
			return second(w.SendBack(some(w.bolts(store.Damaged), 0, ""), "Bolt works", "bent"))
		}, []string{"- " + damagedLine}, ""},
		{"Scrap", "some", scrap(store.Good, 10), []string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: 14 ea, counted 14 March by First"}, ""},
		{"Scrap", "all", scrap(store.Good, 0), []string{"- " + boltsLine}, ""},
		{"Scrap", "damaged ones", scrap(store.Damaged, 0), []string{"- " + damagedLine}, ""},
		{"Scrap", "those set apart", scrap(store.SetApart, 1), []string{"- " + apartLine}, ""},
	}
}

// countingRows: a count is of one heap, and of the day and the hand of its entry. A
// weighing is remembered with the item and its scale with the shop.
func countingRows() []markRow {
	count := func(c store.Condition, n int64) func(world) error {
		return func(w world) error { return second(w.Count(w.bolts(c), measure.Pieces(n))) }
	}
	about := store.Amount{Quantity: measure.Pieces(24), Low: measure.Pieces(23), High: measure.Pieces(25)}
	finer := measure.Weighing{Step: grams(2), Gross: grams(1224), Sample: measure.Sample{Pieces: 20, Net: grams(1020), Step: grams(2)}}
	return []markRow{
		{"Count", "as many", count(store.Good, 24), []string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: 24 ea, counted 20 March by Second"}, ""},
		{"CountBlind", "the first of two, which changes nothing yet", func(w world) error {
			return second(w.CountBlind(w.bolts(store.Good), store.Exact(measure.Pieces(20))))
		}, nil, ""},
		{"CountLineBlind", "another hand, which agrees", func(w world) error {
			return second(w.CountLineBlind(w.ship, 7, store.Exact(measure.Pieces(20)), nil))
		}, []string{"- " + nutsLine, "+ MS21042-3 lot Q7714 in H104: 20 ea, counted 20 March by Second"}, ""},
		{"CountLineBlind", "another hand, which does not", func(w world) error {
			return second(w.CountLineBlind(w.ship, 7, store.Exact(measure.Pieces(19)), nil))
		}, nil, ""},
		{"Count", "none", count(store.Good, 0), []string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: none, counted 20 March by Second"}, ""},
		{"Count", "damaged ones", count(store.Damaged, 3), []string{"- " + damagedLine, "+ AN3-5A lot L1 (damaged) in A-01: 3 ea, counted 20 March by Second"}, ""},
		{
			"WeighSample", "a heap, as a range", func(w world) error { return second(w.Weigh(w.bolts(store.Good), about)) },
			[]string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: about 24 ea (23 to 25), counted 20 March by Second"},
			"",
		},
		{
			"WeighSample", "to another unit, as a range", func(w world) error {
				return second(w.Weigh(w.heap("AN426AD3-3.5", "R1", "H101"), rivets(1680, 1668, 1692)))
			},
			[]string{"- " + rivetsLine, "+ AN426AD3-3.5 lot R1 in H101: about 1,680 ea (1,668 to 1,692), counted 20 March by Second"},
			"",
		},
		{
			"WeighSample", "by another sample and scale", func(w world) error { return second(w.WeighSample(w.bolts(store.Good), finer)) },
			[]string{
				"- " + boltsLine, "- " + sampleLine, "- the scale: 0.1 g",
				"+ AN3-5A lot L1 in A-01: about 24 ea (23 to 25), counted 20 March by Second", "+ AN3-5A: 20 pieces weigh 102 g, by 0.2 g", "+ the scale: 0.2 g",
			},
			"",
		},
	}
}

// receivingRows: a finding is a count of the good pieces of its line where it says so,
// and of no others; what it changes without counting is not as it was counted.
func receivingRows() []markRow {
	receive := func(line int, f store.Finding) func(world) error {
		return func(w world) error { return second(w.Receive(w.ship, store.LineID(line), f)) }
	}
	bag := rivetBag()
	bag.Step, bag.Tare, bag.Gross, bag.Sample.Step = grams(2), grams(244), grams(1604), grams(2)
	bag.Sample = measure.Sample{Pieces: 100, Net: grams(82), Step: grams(2)}
	weighed := "+ AN426AD3-3.5 lot R1 in H101: about 1,659 ea (1,636 to 1,682), counted 20 March by Second"
	twenty := measure.Pieces(20)
	stray := func(n int64) store.Finding {
		return store.Finding{Found: measure.Pieces(12), Counted: true, Came: &store.Came{Designation: "AN3-11A", Quantity: measure.Pieces(n)}}
	}
	return []markRow{
		{"Receive", "as many, counted", receive(7, found(20)), []string{"- " + nutsLine, "+ MS21042-3 lot Q7714 in H104: 20 ea, counted 20 March by Second"}, ""},
		{"Receive", "as many, looked at", receive(7, store.Finding{Found: twenty, Looked: true}), nil, ""},
		{"Receive", "fewer, looked at", receive(7, store.Finding{Found: measure.Pieces(18)}), []string{"- " + nutsLine, "+ MS21042-3 lot Q7714 in H104: 18 ea"}, ""},
		{"Receive", "none, counted", receive(7, found(0)), []string{"- " + nutsLine}, ""},
		{
			"Receive", "of another lot", receive(7, store.Finding{Found: twenty, Counted: true, Lot: "Q7741"}),
			[]string{"- " + nutsLine, "+ MS21042-3 lot Q7741 in H104: 20 ea, counted 20 March by Second"},
			"",
		},
		{
			"Receive", "of another lot, looked at", receive(7, store.Finding{Found: twenty, Lot: "Q7741"}),
			[]string{"- " + nutsLine, "+ MS21042-3 lot Q7741 in H104: 20 ea"},
			"",
		},
		{
			"Receive", "some damaged", receive(7, store.Finding{Found: twenty, Counted: true, Damaged: measure.Pieces(3)}),
			[]string{"- " + nutsLine, "+ MS21042-3 lot Q7714 (damaged) in H104: 3 ea", "+ MS21042-3 lot Q7714 in H104: 17 ea, counted 20 March by Second"},
			"",
		},
		{"Receive", "fewer damaged than were counted", func(w world) error {
			if err := receive(7, store.Finding{Found: twenty, Counted: true, Damaged: measure.Pieces(3)})(w); err != nil {
				return err
			}
			k := w.heap("MS21042-3", "Q7714", "H104")
			k.Condition = store.Damaged
			if err := second(w.Count(k, measure.Pieces(3))); err != nil {
				return err
			}
			return receive(7, store.Finding{Found: twenty, Counted: true, Damaged: measure.Pieces(2)})(w)
		}, []string{"- " + nutsLine, "+ MS21042-3 lot Q7714 (damaged) in H104: 2 ea", "+ MS21042-3 lot Q7714 in H104: 18 ea, counted 20 March by Second"}, ""},
		{"Receive", "fewer strays than were counted", func(w world) error {
			if err := receive(2, stray(4))(w); err != nil {
				return err
			}
			k := w.heap("AN3-11A", "", "H103")
			k.Condition = store.SetApart
			if err := second(w.Count(k, measure.Pieces(4))); err != nil {
				return err
			}
			return receive(2, stray(3))(w)
		}, []string{"+ AN3-11A (set apart) in H103: 3 ea", "+ AN3-6A in H103: 12 ea, counted 20 March by Second"}, ""},
		{"Receive", "by the pound what is kept by the piece, with strays", func(w world) error {
			if err := second(w.Weigh(w.heap("AN426AD3-3.5", "R1", "H101"), rivets(1680, 1668, 1692))); err != nil {
				return err
			}
			found := store.Finding{Found: pounds(250_000), Counted: true, Lot: "R1", Came: &store.Came{Designation: "AN3-11A", Quantity: measure.Pieces(4)}}
			if err := receive(3, found)(w); err != nil {
				return err
			}
			k := w.heap("AN3-11A", "", "H101")
			k.Condition = store.SetApart
			if err := second(w.Count(k, measure.Pieces(4))); err != nil {
				return err
			}
			found.Came = &store.Came{Designation: "AN3-11A", Quantity: measure.Pieces(3)}
			w.clock.Set(w.t, "2026-03-21")
			defer w.clock.Set(w.t, "2026-03-20")
			return receive(3, found)(w)
		}, []string{
			"- " + rivetsLine, "+ AN3-11A (set apart) in H101: 3 ea",
			"+ AN426AD3-3.5 lot R1 in H101: about 1,680 ea (1,668 to 1,692), counted 20 March by Second",
		}, ""},
		{"Receive", "weighed", receive(3, store.Finding{Counted: true, Lot: "R1", Weighing: &bag}), []string{
			"- " + rivetsLine, "- the scale: 0.1 g", weighed, "+ AN426AD3-3.5: 100 pieces weigh 8.2 g, by 0.2 g", "+ the scale: 0.2 g",
		}, ""},
		{"Receive", "weighed, and by the pound again", func(w world) error {
			if err := receive(3, store.Finding{Counted: true, Lot: "R2", Weighing: &bag})(w); err != nil {
				return err
			}
			return receive(3, store.Finding{Found: pounds(300_000), Counted: true})(w)
		}, []string{
			"- " + rivetsLine, "- the scale: 0.1 g",
			"+ AN426AD3-3.5 in H101: 0.3 lb, counted 20 March by Second", "+ AN426AD3-3.5: 100 pieces weigh 8.2 g, by 0.2 g", "+ the scale: 0.2 g",
		}, ""},
		{"ReceiveAll", "a line and an extra", func(w world) error {
			f, g := found(18), found(4)
			return second(w.ReceiveAll([]store.Line{
				{Shipment: w.ship, ID: 7, Finding: &f},
				{Shipment: w.ship, Crate: "C1", Place: w.place["H104"], Designation: "AN3-5A", Lot: "L9", Finding: &g},
			}))
		}, []string{"- " + nutsLine, "+ AN3-5A lot L9 in H104: 4 ea, counted 20 March by Second", "+ MS21042-3 lot Q7714 in H104: 18 ea, counted 20 March by Second"}, ""},
	}
}

// recordRows: what is recorded of items and sub-assemblies, of claims and of the shop
// does nothing to stock. The record of an item has its sample with it, that of the shop
// its scale.
func recordRows() []markRow {
	seven := figures("AN7-10", "printed sheet", measure.Inches(7, 16), measure.Inches(35, 32))
	claimed := func(w world) error {
		if err := second(w.Receive(w.ship, 2, found(10))); err != nil {
			return err
		}
		return second(w.ClaimSent(w.ship, w.Today(), ""))
	}
	short := []string{"+ AN3-6A in H103: 10 ea, counted 20 March by Second"}
	return []markRow{
		{"LookIn", "where to look is of the line, and nothing of the stock", func(w world) error {
			return second(w.LookIn(w.ship, 2, "inside the fin skin"))
		}, nil, ""},
		{"LeaveUnchecked", "nobody says that it came, so that it is no stock", func(w world) error {
			return second(w.LeaveUnchecked(w.ship, 4, "the paper is lost"))
		}, nil, ""},
		{"PutItem", "with its sample", func(w world) error {
			item := w.weighedBolts()
			item.Title, item.Minimum, item.Archived = "Bolt, undrilled", measure.Pieces(50), true
			return second(w.PutItem(item))
		}, nil, ""},
		{"PutItem", "without its sample", func(w world) error {
			item := w.weighedBolts()
			item.Sample = nil
			return second(w.PutItem(item))
		}, []string{"- " + sampleLine}, ""},
		{"PutEquivalent", "of an item", func(w world) error {
			return second(w.PutEquivalent(store.Equivalent{Old: "AN3-5A", New: "AN3-6A", Source: "kit maker's letter"}))
		}, nil, ""},
		{"PutSubAssembly", "that things are fitted in", func(w world) error {
			return second(w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Vertical fin"}))
		}, nil, ""},
		{"PutSettings", "with its scale", func(w world) error {
			return second(w.PutSettings(store.Settings{Title: "Q", Hands: []string{"Third"}, ScaleStep: grams(1)}))
		}, nil, ""},
		{"PutFigures", "of a bolt", func(w world) error { return second(w.PutFigures([]hardware.OwnRow{seven})) }, nil, ""},
		{"DropFigures", "of a bolt", func(w world) error {
			if err := second(w.PutFigures([]hardware.OwnRow{seven})); err != nil {
				return err
			}
			return second(w.DropFigures("AN7-10"))
		}, nil, ""},
		{"ClaimSent", "of a short line", claimed, short, ""},
		{"ClaimGivenUp", "of a short line", func(w world) error {
			if err := second(w.Receive(w.ship, 2, found(10))); err != nil {
				return err
			}
			return second(w.ClaimGivenUp(w.ship, nil, "too little to ask for"))
		}, short, ""},
		{"PriceLine", "of a line, and nothing of the stock", func(w world) error {
			price, err := store.ParseMoney("4.50 USD", "")
			if err != nil {
				return err
			}
			return second(w.PriceLine(w.ship, 2, price, "as typed"))
		}, nil, ""},
		{"ClaimAnswered", "of a short line", func(w world) error {
			if err := claimed(w); err != nil {
				return err
			}
			return second(w.ClaimAnswered(w.ship, nil, store.ClaimAnswer{Reply: store.Credit}))
		}, short, ""},
		{"Undo", "of a count", func(w world) error {
			if err := second(w.Count(w.bolts(store.Good), measure.Pieces(7))); err != nil {
				return err
			}
			return second(w.Undo())
		}, nil, ""},
		{"Redo", "of a count", func(w world) error {
			if err := second(w.Count(w.bolts(store.Good), measure.Pieces(7))); err != nil {
				return err
			}
			if err := second(w.Undo()); err != nil {
				return err
			}
			return second(w.Redo())
		}, []string{"- " + boltsLine, "+ AN3-5A lot L1 in A-01: 7 ea, counted 20 March by Second"}, ""},
	}
}

// placeRows: stock lies where it is, whatever becomes of the place.
func placeRows() []markRow {
	return []markRow{
		{"Import", "a list of what is there", func(w world) error {
			list := smallList()
			list.Fingerprint = "once more"
			_, _, err := w.Import(list)
			return err
		}, nil, ""},
		{"Arrive", "the last crate", func(w world) error {
			return second(w.Arrive(w.ship, store.Delivery{Crates: []string{"C3"}, Arrived: store.Date{Year: 2026, Month: 3, Day: 20}}))
		}, nil, ""},
		{"AddPlace", "a bin", func(w world) error {
			_, _, err := w.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 9"})
			return err
		}, nil, ""},
		{"AddCabinet", "of four drawers", func(w world) error {
			_, _, err := w.AddCabinet(store.CabinetSpec{Name: "Cabinet B", Prefix: "B", Rows: 2, Columns: 2})
			return err
		}, nil, ""},
		{"MovePlace", "with what is in it", func(w world) error { return second(w.MovePlace(w.place["A-01"], w.place["Hangar"])) }, nil, ""},
		{"RenamePlace", "with what is in it", func(w world) error { return second(w.RenamePlace(w.place["A-01"], "A-77")) }, nil, ""},
		{"RetirePlace", "with nothing in it", func(w world) error { return second(w.RetirePlace(w.place["A-04"])) }, nil, ""},
	}
}

// photoRows: a photograph is of an item or a place, and does nothing to it.
func photoRows() []markRow {
	add := func(w world) (store.Photo, error) {
		p, _, err := w.AddPhoto(store.OfItem("AN3-5A"), "", photo300(1))
		return p, err
	}
	return []markRow{
		{"AddPhoto", "of an item", func(w world) error { return second(add(w)) }, nil, ""},
		{"CaptionPhoto", "of an item", func(w world) error {
			p, err := add(w)
			if err != nil {
				return err
			}
			return second(w.CaptionPhoto(p.Number, "the head"))
		}, nil, ""},
		{"RemovePhoto", "of an item", func(w world) error {
			p, err := add(w)
			if err != nil {
				return err
			}
			return second(w.RemovePhoto(p.Number))
		}, nil, ""},
	}
}

// buyingRows: what is ordered is not here yet, and what is said of it does nothing to stock.
func buyingRows() []markRow {
	order := func(w world) error {
		return third(w.Order(store.NewOrder{Order: store.Order{Supplier: "Bolt shop"}, Lines: []store.OrderLine{{Item: "AN3-5A", Quantity: measure.Pieces(10)}}}))
	}
	after := func(do func(w world) error) func(w world) error {
		return func(w world) error {
			if err := order(w); err != nil {
				return err
			}
			orders, err := w.Orders()
			if err != nil {
				return err
			}
			w.last = orders[len(orders)-1].Number
			return do(w)
		}
	}
	return []markRow{
		{"PutSupplier", "with a minimum", func(w world) error { return second(w.PutSupplier(store.Supplier{Name: "Bolt shop"})) }, nil, ""},
		{"PutSupply", "with a minimum to keep", func(w world) error {
			return second(w.PutSupply(store.Supply{Item: "AN3-5A", Supplier: "Bolt shop", Pack: 10}, measure.Pieces(20)))
		}, nil, ""},
		{"Order", "of what is here", order, nil, ""},
		{"Promise", "for a day", after(func(w world) error { return second(w.Promise(w.last, nil, store.Date{Year: 2026, Month: 4, Day: 2})) }), nil, ""},
		{"Match", "with a line that is counted", after(func(w world) error { return second(w.Match(w.ship, 1, store.OrderRef{Order: w.last, Line: 1})) }), nil, ""},
		{"Cancel", "all", after(func(w world) error { return second(w.Cancel(w.last, nil, "not made any more")) }), nil, ""},
	}
}
