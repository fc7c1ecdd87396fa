package store

import "strings"

// scrappedFor stands between how much was scrapped and why, in the words of an entry.
const scrappedFor = " scrapped, "

// Scrapped is what an entry took out of the shop for good, and why. An undo has what it
// brings back with less than nothing, a redo as its original; other entries scrap nothing.
func (e Entry) Scrapped() (taken []Holding, reason string) {
	if e.Verb != VerbScrap && e.Verb != VerbUndo && e.Verb != VerbRedo {
		return nil, ""
	}
	_, reason, scraps := strings.Cut(e.Text, scrappedFor) // undo and redo say what they undo
	if !scraps {
		return nil, ""
	}
	for _, c := range e.Changes {
		if c.Table != tableStock || c.Delta == nil {
			continue
		}
		if k, err := parseStockKey(c.Key); err == nil {
			taken = append(taken, Holding{StockKey: k, Amount: c.Delta.Neg()})
		}
	}
	return taken, reason
}
