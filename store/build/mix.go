package build

import (
	"fmt"
	"maps"
	"slices"
)

// Span is a number that lies between two, both included. Numbers are in any one unit.
type Span struct{ Low, High int64 }

// Exactly is a span of one number.
func Exactly(n int64) Span { return Span{n, n} }

// String is "10", or "0 to 10".
func (s Span) String() string {
	if s.Low == s.High {
		return fmt.Sprint(s.Low)
	}
	return fmt.Sprintf("%d to %d", s.Low, s.High)
}

// Mix is how much of each lot lies in one heap, as far as anybody can know after lots
// were poured together: no piece says which lot it is of.
type Mix struct {
	Total Span
	Lots  map[string]Span
}

// Plain is a heap of one lot.
func Plain(lot string, n Span) Mix { return Mix{Total: n, Lots: map[string]Span{lot: n}} }

// Pour is two heaps poured together.
func Pour(a, b Mix) Mix {
	out := Mix{Total: Span{a.Total.Low + b.Total.Low, a.Total.High + b.Total.High}, Lots: maps.Clone(a.Lots)}
	if out.Lots == nil {
		out.Lots = map[string]Span{}
	}
	for lot, s := range b.Lots {
		was := out.Lots[lot]
		out.Lots[lot] = Span{was.Low + s.Low, was.High + s.High}
	}
	return out.tight()
}

// Take takes n out of a heap and says what may be in each part: of a lot with lo to hi
// in a heap of T there are max(0, n-T+lo) to min(n, hi) among those taken, and
// max(0, lo-n) to min(hi, T-n) are left.
func (m Mix) Take(n int64) (taken, rest Mix) {
	taken = Mix{Total: Exactly(n), Lots: map[string]Span{}}
	rest = Mix{Total: Span{max(0, m.Total.Low-n), max(0, m.Total.High-n)}, Lots: map[string]Span{}}
	for lot, s := range m.Lots {
		taken.Lots[lot] = Span{max(0, n-m.Total.High+s.Low), min(n, s.High)}
		rest.Lots[lot] = Span{max(0, s.Low-n), min(s.High, max(0, m.Total.High-n))}
	}
	return taken.tight(), rest.tight()
}

// tight narrows each lot by what the others leave: the lots make up the whole heap.
func (m Mix) tight() Mix {
	var low, high int64
	for _, s := range m.Lots {
		low, high = low+s.Low, high+s.High
	}
	for _, lot := range slices.Sorted(maps.Keys(m.Lots)) {
		s := m.Lots[lot]
		narrow := Span{max(s.Low, m.Total.Low-(high-s.High)), min(s.High, m.Total.High-(low-s.Low))}
		low, high = low+narrow.Low-s.Low, high+narrow.High-s.High
		m.Lots[lot] = narrow
		if narrow == (Span{}) {
			delete(m.Lots, lot)
		}
	}
	return m
}
