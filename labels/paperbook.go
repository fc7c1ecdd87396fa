package labels

import (
	"strconv"

	"stowright/assets/fonts"
)

// What papers of many pages have besides: a list of contents, and photographs that are large
// enough to be read.

const (
	contentsPage = 14.0  // room for the number of a page in the list of contents
	largeHigh    = 108.0 // of a large photograph at most: two on a page
)

// contentsLine is a line of the list of contents, with the page that it names once that is
// known.
type contentsLine struct {
	heading string
	at, on  int // pages: where the line stands, and what it names
	y       float64
}

// contents keeps room for the list of contents; nil where nothing stands in it.
func (s *paperSheet) contents(p Paper) *[]contentsLine {
	var list []contentsLine
	for _, b := range p.Blocks {
		if b.Chapter {
			list = append(list, contentsLine{heading: b.Heading})
		}
	}
	if len(list) == 0 {
		return nil
	}
	s.y += paperGap
	s.text(fonts.TextBold, paperHeading, paperMargin, s.width(), "Contents")
	s.y += 1
	for i := range list {
		if !s.room(paperLine + 1) {
			s.page()
		}
		s.y += paperLine + 1
		list[i].at, list[i].y = len(s.pages)-1, s.y
	}
	return &list
}

// chapter begins a page for a block that is a chapter.
func (s *paperSheet) chapter(b Block, contents *[]contentsLine) {
	if !b.Chapter {
		return
	}
	s.page()
	for i := range *contents {
		if l := &(*contents)[i]; l.on == 0 {
			l.on = len(s.pages)
			return
		}
	}
}

// fillContents writes the list of contents, now that the pages are known.
func (s *paperSheet) fillContents(contents *[]contentsLine) {
	if contents == nil {
		return
	}
	set := func(l contentsLine, x float64, text string) {
		s.pages[l.at].Items = append(s.pages[l.at].Items, Text{
			X: x, Y: l.y, Size: paperText, Width: s.set.width(fonts.TextRegular, paperText, text), Face: fonts.TextRegular, Text: text,
		})
	}
	for _, l := range *contents {
		clean, _, _ := s.set.clean(fonts.TextRegular, l.heading)
		short, _ := s.set.shorten(fonts.TextRegular, paperText, clean, s.width()-contentsPage)
		if short != "" {
			set(l, paperMargin, short)
		}
		page := strconv.Itoa(l.on)
		set(l, s.stock.PageW-paperMargin-s.set.width(fonts.TextRegular, paperText, page), page)
	}
}

// large adds a photograph of the width of the page, with all that is written under it.
func (s *paperSheet) large(p PaperPicture) {
	w := min(s.width(), largeHigh*float64(p.W)/float64(p.H))
	h := w * float64(p.H) / float64(p.W)
	var lines []string
	for _, text := range p.Lines {
		clean, _, _ := s.set.clean(fonts.TextRegular, text)
		wrapped, _ := s.set.wrap(fonts.TextRegular, paperSmall, clean, s.width(), mostLines)
		lines = append(lines, wrapped...)
	}
	if !s.room(h + 2 + float64(min(len(lines), mostLines))*paperSmall*1.35) {
		s.page()
	}
	s.add(Image{Rect: Rect{paperMargin, s.y + 2, w, h}, JPEG: p.JPEG, Name: p.Name, Read: p.Read})
	s.y += h + 2
	for _, l := range lines {
		if !s.room(paperSmall * 1.35) {
			s.page()
		}
		s.y += paperSmall * 1.35
		s.line(fonts.TextRegular, paperSmall, paperMargin, s.y, l)
	}
	s.y += paperGap
}
