package session

import (
	"fmt"

	"stowright/labels"
	"stowright/store"
)

// OfficePaper is the sheet that papers are laid out for.
func (s *Session) OfficePaper() labels.Stock {
	if s.Sheet.PageW == 0 {
		return labels.OfficePaper("")
	}
	return s.Sheet
}

// Lay puts a paper on pages of the office's size. Each says in its foot which entry of the shop
// was the newest, with its hash, unless the paper says so already; `check --paper` answers
// years later whether that entry and all before it are as they were.
func (s *Session) Lay(p labels.Paper) (labels.Document, error) {
	if p.Anchor == nil {
		head, err := s.Shop.Head()
		if err != nil {
			return labels.Document{}, err
		}
		p.Anchor = AnchorOf(head)
	}
	return p.Layout(s.OfficePaper())
}

// AnchorOf is the foot of the pages of a state of the shop, for what is read in one Read
// together with it (Reader.Head).
func AnchorOf(head store.Anchor) *labels.PaperAnchor {
	if head.Entry == 0 {
		return &labels.PaperAnchor{Words: "Printed before the first entry of the shop."}
	}
	return &labels.PaperAnchor{
		Words: fmt.Sprintf("Newest entry %d, of %s %s. Its hash, which covers all before it:", head.Entry, store.DateOf(head.At), head.At.Format("15:04")),
		Hash:  head.Grouped(), Code: head.Code(),
	}
}
