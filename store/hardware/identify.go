package hardware

import (
	"errors"
	"fmt"
	"slices"

	"stowright/store/measure"
)

// Answer is what was seen of a feature; the zero value is not looked at.
type Answer int

// The answers.
const (
	NotLooked Answer = iota
	Yes
	No
)

// Readings is what was measured and seen of a loose piece. What is left at its
// zero value was not measured.
type Readings struct {
	Kind Kind

	Diameter    measure.Length // of the shank or the thread
	Inside      measure.Length
	Outside     measure.Length
	Grip        measure.Length
	Length      measure.Length
	AcrossFlats measure.Length
	Thickness   measure.Length

	ThreadsPerInch int
	ThreadSize     measure.Length // its diameter, where a size was given: 10-32
	ThreadPitch    measure.Length // read off a pitch gauge instead

	Head    string // part of a head style: "hex", "countersunk"
	Marking string // part of a head marking: "dimple", "triangle"

	Magnetic     Answer
	ShankDrilled Answer
	HeadDrilled  Answer
}

// readingError is how far a caliper reading may be off by itself (common
// practice for a shop caliper).
const readingError = 2 * measure.Inch / 1000

// Tolerances counts how many tolerances a reading lies outside its published
// band, in tenths, so that it is exact: 15 is one and a half.
type Tolerances int

func (t Tolerances) String() string { return fmt.Sprintf("%d.%d", t/10, t%10) }

// fit is how far out a reading may be and still be taken for a fit.
const fit Tolerances = 10

// Judged is one reading held against a candidate.
type Judged struct {
	Name string
	Away Tolerances // 0 inside the band
	Text string     // "length 0.656: within 21/32 (0.65625)"
	// Unknown says that no published figure was there to compare with.
	Unknown bool

	blank bool // there was no figure to compare with
}

// Candidate is a piece that the readings may be of.
type Candidate struct {
	Designation string
	Also        []string // other numbers of the same piece
	Title       string
	Mark        string // "not cross-checked" or ""
	Judged      []Judged
	Away        Tolerances // of the worst reading
	Fits        bool
	// Incomplete says that some reading had no published figure to be held
	// against, so that the piece is not excluded rather than shown to fit.
	Incomplete bool
	InShop     bool
	// RuledOut is the reading that speaks against it, "" for one that fits.
	RuledOut string

	total Tolerances
	order int
	piece piece
	blank bool // with no figure of it could anything be compared
}

// Identification is the answer: what fits first, then the look-alikes of the
// first that the readings rule out.
type Identification struct {
	Candidates []Candidate
	// NotExcluded says which pieces fit only because figures of theirs are
	// unknown; "" for none.
	NotExcluded string
	// CannotTell says in a sentence that the readings leave more than one piece
	// open, or none, and what would decide; "" when one is left.
	CannotTell string
	// LookAlikes of the first candidate and how to tell them apart by hand.
	LookAlikes []LookAlike
}

// ErrNoReadings is returned when nothing was measured and nothing said of the head.
var ErrNoReadings = errors.New("measure at least a diameter, a length or a thread, or say how the head looks")

// How many fitting candidates are listed, and how many of those that fit only
// for want of a figure.
const (
	maxShown = 12
	maxOpen  = 3
)

// Identify ranks the pieces that the readings may be of. Among those that fit,
// the designations of shop come first; nothing is hidden for not being there.
func (c *Catalog) Identify(r Readings, shop []string) (Identification, error) {
	asked, err := r.asked()
	if err != nil {
		return Identification{}, err
	}
	var list []Candidate
	for _, text := range shop {
		if p, no := c.parse(text); no == nil && p.s != nil && !p.s.free && (r.Kind == "" || r.Kind == p.s.kind) {
			k := judge(p, &r, asked)
			k.InShop = true
			list = append(list, k)
		}
	}
	near, more := c.nearest(&r, asked)
	for _, e := range near {
		list = append(list, e.candidates(&r, asked)...)
	}
	list = merge(list)
	slices.SortStableFunc(list, better)
	return c.answer(list, &r, asked, more), nil
}

// better orders candidates: fitting, in the shop, then by tolerances. Those with which
// nothing could be compared come behind near misses, which say more.
func better(a, b Candidate) int {
	flag := func(x, y bool) int {
		switch {
		case x == y:
			return 0
		case x:
			return -1
		}
		return 1
	}
	if d := flag(a.Fits && !a.blank, b.Fits && !b.blank); d != 0 {
		return d
	}
	if d := flag(a.InShop, b.InShop); d != 0 && a.Fits {
		return d
	}
	if d := flag(b.blank, a.blank); d != 0 {
		return d
	}
	if d := flag(b.Incomplete, a.Incomplete); d != 0 {
		return d
	}
	if a.Away != b.Away {
		return int(a.Away - b.Away)
	}
	if a.total != b.total {
		return int(a.total - b.total)
	}
	return a.order - b.order
}

// merge drops what is listed twice and puts an old number and its successor
// into one candidate. The shop's own stand in front of the list.
func merge(list []Candidate) []Candidate {
	at, gone := places(list)
	for i := range list {
		next := list[i].piece.successor()
		if gone[i] || next == nil {
			continue
		}
		k, ok := newer(list, at, next.Designation)
		if !ok || k == i || gone[k] {
			continue
		}
		keep, drop := i, k
		if list[k].InShop && !list[i].InShop {
			keep, drop = k, i
		}
		list[keep].InShop = list[keep].InShop || list[drop].InShop
		list[keep].Also = append(append(list[keep].Also, list[drop].Designation), list[drop].Also...)
		gone[drop] = true
	}
	out := list[:0]
	for i := range list {
		if !gone[i] {
			out = append(out, list[i])
		}
	}
	return out
}

// withoutFinish writes the designation without its finish letter.
func (p piece) withoutFinish() string {
	for i := range p.s.slots {
		for k := range p.s.slots[i].choices {
			if ch := &p.s.slots[i].choices[k]; ch.name == "finish" {
				p.let[i][k] = ch.absent
			}
		}
	}
	return p.canonical()
}

// places notes where each designation stands, and which ones are there twice.
func places(list []Candidate) (at map[string]int, twice []bool) {
	at, twice = make(map[string]int, len(list)), make([]bool, len(list))
	for i := range list {
		if _, known := at[list[i].Designation]; known {
			twice[i] = true
			continue
		}
		at[list[i].Designation] = i
		if bare := list[i].piece.withoutFinish(); list[i].InShop {
			at[bare] = i // a finish cannot be measured
		}
	}
	return at, twice
}

// newer finds the successor in the list. A finish letter at its end cannot be
// measured, so the list may hold it without.
func newer(list []Candidate, at map[string]int, designation string) (int, bool) {
	if k, ok := at[designation]; ok {
		return k, true
	}
	k, ok := at[designation[:max(len(designation)-1, 0)]]
	if ok && !list[k].InShop {
		list[k].Designation = designation
	}
	return k, ok
}
