package store_test

import (
	"stowright/store"
	"stowright/store/measure"
)

// lotRows: what is put in is a lot of its own, and of what is poured together nobody has
// counted how many there are. What is kept apart stays as it was counted.
func lotRows() []markRow {
	put := func(meeting store.Meeting) func(world) error {
		return func(w world) error {
			k := w.bolts(store.Good)
			k.Lot = ""
			return second(w.PutIn(k, store.Exact(measure.Pieces(3)), meeting))
		}
	}
	meet := func(meeting store.Meeting, do func(w world, t ...store.Transfer) error) func(world) error {
		return func(w world) error {
			if err := second(w.PutIn(w.in("AN3-5A", "A-02"), store.Exact(measure.Pieces(3)), store.AskMeeting)); err != nil {
				return err
			}
			t := some(w.in("AN3-5A", "A-02"), 0, w.place["S1"])
			t.Meeting = meeting
			return do(w, t)
		}
	}
	move := func(w world, t ...store.Transfer) error { return second(w.Move(t...)) }
	stow := func(w world, t ...store.Transfer) error { return second(w.Stow(t...)) }
	return []markRow{
		{
			"PutIn", "where none is", func(w world) error {
				return second(w.PutIn(w.in("AN3-5A", "A-02"), store.Exact(measure.Pieces(3)), store.AskMeeting))
			},
			[]string{"+ AN3-5A in A-02: 3 ea, counted 20 March by Second"},
			"",
		},
		{
			"PutIn", "to another lot", put(store.AskMeeting), nil,
			"A-01 has another lot of AN3-5A, 24 ea of L-3 (lot L1), and this comes from outside: say whether they are poured together or kept apart.",
		},
		{"PutIn", "to another lot, apart", put(store.LotsApart), []string{"+ AN3-5A in A-01: 3 ea, counted 20 March by Second"}, ""},
		{"PutIn", "to another lot, poured", put(store.PourLots), []string{"- " + boltsLine, "+ AN3-5A in A-01: 27 ea"}, ""},
		{"DescribeLot", "of a heap that was counted", func(w world) error {
			lots, err := w.Lots("AN3-5A")
			if err != nil {
				return err
			}
			return second(w.DescribeLot(lots[0].Number, store.LotFacts{Origin: "kit maker", Maker: "Bolt works"}))
		}, nil, ""},
		{"MarkLot", "of a heap that was counted", func(w world) error {
			return second(w.MarkLot(3, "Q9", store.LotFacts{})) // L-3 are the bolts
		}, []string{
			"- AN3-5A lot L1 (damaged) in A-01: 2 ea, counted 14 March by First", "- AN3-5A lot L1 (set apart) in A-01: 1 ea, counted 14 March by First",
			"- " + boltsLine, "- AN3-5A lot L1 in S1: 5 ea, counted 14 March by First",
			"+ AN3-5A lot Q9 (damaged) in A-01: 2 ea, counted 14 March by First", "+ AN3-5A lot Q9 (set apart) in A-01: 1 ea, counted 14 March by First",
			"+ AN3-5A lot Q9 in A-01: 24 ea, counted 14 March by First", "+ AN3-5A lot Q9 in S1: 5 ea, counted 14 March by First",
		}, ""},
		{"Alert", "on the lot of the nuts", func(w world) error {
			return third(w.Alert(0, "Nuts", store.Issue{Item: "MS21042-3", Printed: []string{"Q7714"}}))
		}, []string{"- " + nutsLine, "+ MS21042-3 lot Q7714 (quarantined) in H104: 20 ea, counted 14 March by First"}, ""},
		{"Move", "what an alert set apart", func(w world) error {
			k, err := w.alerted()
			if err != nil {
				return err
			}
			return second(w.Move(some(k, 5, w.place["A-02"])))
		}, []string{
			"- " + nutsLine, "+ MS21042-3 lot Q7714 (quarantined) in A-02: 5 ea",
			"+ MS21042-3 lot Q7714 (quarantined) in H104: 15 ea, counted 14 March by First",
		}, ""},
		{"Count", "what an alert set apart", func(w world) error {
			k, err := w.alerted()
			if err != nil {
				return err
			}
			return second(w.Count(k, measure.Pieces(19)))
		}, []string{"- " + nutsLine, "+ MS21042-3 lot Q7714 (quarantined) in H104: 19 ea, counted 20 March by Second"}, ""},
		{"Scrap", "what an alert set apart", func(w world) error {
			k, err := w.alerted()
			if err != nil {
				return err
			}
			return second(w.Scrap(some(k, 0, ""), "recalled"))
		}, []string{"- " + nutsLine}, ""},
		{"AnswerAlert", "on the lot of the nuts", func(w world) error {
			k, err := w.alerted()
			if err != nil {
				return err
			}
			if _, _, err := w.Decide(store.Decision{Kind: store.AlertAnswer, Who: "kit maker"}); err != nil {
				return err
			}
			decisions, err := w.Decisions()
			if err != nil {
				return err
			}
			number, _ := store.AlertNumber(k.Condition.Alerts()[0])
			lot, err := w.Heap(k)
			if err != nil {
				return err
			}
			return second(w.AnswerAlert(number, decisions[len(decisions)-1].Name(), lot.Lot))
		}, nil, ""},
		{"AddPaper", "of anything", func(w world) error {
			_, _, err := w.AddPaper(store.Paper{Kind: store.LetterPaper, Kept: "binder 2"})
			return err
		}, nil, ""},
		{"AddPaperFile", "of anything", func(w world) error {
			_, _, err := w.AddPaperFile(store.Paper{Kind: store.LetterPaper}, "letter.jpg", photo300(1))
			return err
		}, nil, ""},
		{"Move", "to another lot, apart", meet(store.LotsApart, move), []string{"+ AN3-5A in S1: 3 ea, counted 20 March by Second"}, ""},
		{"Move", "to another lot, poured", meet(store.PourLots, move), []string{"- " + shelfLine, "+ AN3-5A in S1: 8 ea"}, ""},
		{"Stow", "to another lot, apart", meet(store.LotsApart, stow), []string{"+ AN3-5A in S1: 3 ea, counted 20 March by Second"}, ""},
		{"Stow", "to another lot, poured", meet(store.PourLots, stow), []string{"- " + shelfLine, "+ AN3-5A in S1: 8 ea"}, ""},
	}
}

// alerted has an alert set the nuts apart.
func (w world) alerted() (store.StockKey, error) {
	k := w.heap("MS21042-3", "Q7714", "H104")
	a, _, err := w.Alert(0, "Nuts", store.Issue{Item: "MS21042-3", Printed: []string{"Q7714"}})
	k.Condition = store.Quarantined(a.Name())
	return k, err
}
