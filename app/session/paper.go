package session

import "stowright/labels"

// OfficePaper is the sheet that papers are laid out for.
func (s *Session) OfficePaper() labels.Stock {
	if s.Sheet.PageW == 0 {
		return labels.OfficePaper("")
	}
	return s.Sheet
}
