package session

import (
	"slices"
	"strings"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// Lengths is in what unit lengths are typed and read now: inches, unless somebody asked for
// millimetres. It is safe to use from several goroutines.
func (s *Session) Lengths() measure.System { return measure.System(s.lengths.Load()) }

// Lengths is in what unit lengths are read now.
func (s *Reader) Lengths() measure.System { return s.session.Lengths() }

// SetLengths has lengths typed and read in a unit from now on.
func (s *Session) SetLengths(in measure.System) { s.lengths.Store(int64(in)) }

// SwitchLengths changes between inches and millimetres, and tells OnLengths.
func (s *Session) SwitchLengths() {
	in := measure.InMillimetres
	if s.Lengths() == in {
		in = measure.InInches
	}
	s.SetLengths(in)
	if s.OnLengths != nil {
		s.OnLengths(in)
	}
}

// ConvertedTitle is as Converted of those lengths alone that the short title of a piece names.
func (s *Session) ConvertedTitle(piece hardware.Result) string {
	if s.Lengths() != measure.InMillimetres {
		return ""
	}
	var all []string
	for _, f := range piece.Fields {
		text, ok := f.Length.Fraction()
		if !ok {
			text = f.Length.Printed()
		}
		if f.Length > 0 && !f.Unknown && slices.Contains(strings.FieldsFunc(piece.Short, func(r rune) bool { return r == ' ' || r == ',' }), text) {
			all = append(all, strings.ReplaceAll(f.Name, "_", " ")+" "+f.Length.Metric())
		}
	}
	if len(all) == 0 {
		return ""
	}
	return "converted: " + strings.Join(all, ", ")
}

// Converted are the published lengths of a piece in millimetres, where those are read:
// "converted: diameter 4.826 mm; length 50.8 mm". The published figures stand beside it as they
// are; in inches it is empty.
func (s *Session) Converted(piece hardware.Result) string {
	if s.Lengths() != measure.InMillimetres {
		return ""
	}
	var all []string
	for _, f := range piece.Fields {
		if metric := f.Metric(); metric != "" {
			all = append(all, strings.ReplaceAll(f.Name, "_", " ")+" "+metric)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return "converted: " + strings.Join(all, "; ")
}
