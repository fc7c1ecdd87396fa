package labels

import "stowright/assets/fonts"

// PaperAnchor says in the foot of each page which state of the data the paper shows, so that
// years later it can be held against it: the words, the hash under them in groups, and the
// code of both at the right.
type PaperAnchor struct {
	Words string
	Hash  string // in groups; empty for none
	Code  string // empty for none
}

const (
	anchorModule = 0.4  // of the code, in millimetres: see MinModule
	anchorHigh   = 5.4  // how much higher the foot is than one line
	anchorCodeAt = 10.0 // from the lower edge of the code to that of the page
	anchorLine   = 3.8

	// longestAnchor is what fits version 4 at level M, in large letters.
	longestAnchor = 90
)

// anchor adds what stands above the numbers of the pages.
func (s *paperSheet) anchor(a PaperAnchor) error {
	var code []Item
	width := s.width()
	if a.Code != "" {
		runs, side, err := textCode(a.Code, longestAnchor)
		if err != nil {
			return err
		}
		wide := float64(side) * anchorModule
		code = append(code, Code{X: s.stock.PageW - paperMargin - wide, Y: s.stock.PageH - anchorCodeAt - wide, Module: anchorModule, Size: side, Runs: runs, Text: a.Code})
		width -= wide + QuietModules*anchorModule
	}
	base := s.stock.PageH - paperMargin + paperLine
	words, _, _ := s.set.clean(fonts.TextRegular, a.Words)
	words, _ = s.set.shorten(fonts.TextRegular, paperSmall, words, width)
	hash := paperSmall // smaller where the paper is narrow
	if long := s.set.width(fonts.MonoMedium, hash, a.Hash); long > width {
		hash *= width / long
	}
	items := append(code,
		Text{X: paperMargin, Y: base - 2*anchorLine, Size: paperSmall, Width: s.set.width(fonts.TextRegular, paperSmall, words), Face: fonts.TextRegular, Ink: Quiet, Text: words},
		Text{X: paperMargin, Y: base - anchorLine, Size: hash, Width: s.set.width(fonts.MonoMedium, hash, a.Hash), Face: fonts.MonoMedium, Ink: Quiet, Text: a.Hash})
	for i := range s.pages {
		s.pages[i].Items = append(s.pages[i].Items, items...)
	}
	return nil
}
