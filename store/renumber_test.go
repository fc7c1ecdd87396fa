package store_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// TestWhichLineIsWhich has lists with the same part on several lines: what is sure, what is
// asked, and what an answer makes of it.
func TestWhichLineIsWhich(t *testing.T) {
	was := func(number int, group string, n, found int64) store.Line {
		l := store.Line{ID: store.LineID(number), Crate: "C1", Group: group, Place: "p" + group, Designation: "AN3-5A", Title: "Bolt", Listed: measure.Pieces(n), Status: store.Shipped}
		if found >= 0 {
			l.Finding = &store.Finding{Found: measure.Pieces(found), Counted: true}
		}
		return l
	}
	now := func(number int, group string, n int64) store.NewLine {
		return store.NewLine{Number: number, Crate: "C1", Group: group, Designation: "AN3-5A", Title: "Bolt", Listed: measure.Pieces(n), Status: store.Shipped}
	}
	nut := func(number int) store.Line {
		return store.Line{ID: store.LineID(number), Crate: "C1", Designation: "AN310-3", Title: "Nut", Listed: measure.Pieces(4), Status: store.Shipped}
	}
	newNut := func(number int) store.NewLine {
		return store.NewLine{Number: number, Crate: "C1", Designation: "AN310-3", Title: "Nut", Listed: measure.Pieces(4), Status: store.Shipped}
	}
	const unchecked = -1
	noted := was(1, "H1", 12, unchecked)
	noted.LookIn = "in the fin"
	left := was(1, "H1", 12, unchecked)
	left.Unchecked = "given away"
	extra := was(9, "H9", 0, 4)
	extra.Extra = true
	type told = map[store.LineID]int
	for _, row := range []struct {
		name         string
		was          []store.Line
		now          []store.NewLine
		told         told
		photographed store.LineID
		asked        string // was: could be
		after        string
	}{
		{name: "shifted, told by their bags", was: []store.Line{was(1, "H1", 12, 12), was(2, "H2", 12, 3)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H2", 12)}, after: "2=1 found 12 ea, 3=2 found 3 ea"},
		{name: "the old number of one is on the other", was: []store.Line{was(1, "H1", 12, 12), was(2, "H2", 4, 3)}, now: []store.NewLine{now(1, "H2", 4), now(2, "H1", 12)}, after: "1=2 found 3 ea, 2=1 found 12 ea"},
		{name: "told by how many", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 4, 3)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H1", 4)}, after: "2=1 found 12 ea, 3=2 found 3 ea"},
		{name: "moved to other bags, told by how many", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 4, 3)}, now: []store.NewLine{now(2, "H2", 4), now(1, "H3", 12)}, after: "1=1 found 12 ea, 2=2 found 3 ea"},
		{name: "two alike, nothing shifted", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 12, 3)}, now: []store.NewLine{now(1, "H1", 12), now(2, "H1", 12)}, after: "1=1 found 12 ea, 2=2 found 3 ea"},
		{name: "two alike, shifted", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H1", 12)}, asked: "1: 2 3", after: ""},
		{name: "and told", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H1", 12)}, told: told{1: 3}, after: "2=2, 3=1 found 12 ea"},
		{name: "and told that it is gone", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(1, "H1", 12)}, told: told{1: 0}, after: "1=2, 3=1 off found 12 ea"},
		{name: "two alike that nothing hangs on", was: []store.Line{was(1, "H1", 12, unchecked), was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H1", 12)}, after: "2=1, 3=2"},
		{name: "two alike of which one is noted", was: []store.Line{noted, was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H1", 12)}, asked: "1: 2 3", after: ""},
		{name: "two alike of which one is never checked", was: []store.Line{left, was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H1", 12)}, asked: "1: 2 3", after: ""},
		{name: "two alike of which one is photographed", was: []store.Line{was(1, "H1", 12, unchecked), was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(2, "H1", 12), now(3, "H1", 12)}, photographed: 2, asked: "2: 2 3", after: ""},
		{name: "one of two alike is gone", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 12, 3)}, now: []store.NewLine{now(1, "H1", 12)}, asked: "1: 1; 2: 1", after: ""},
		{name: "one of two alike is gone, nothing hangs on them", was: []store.Line{was(1, "H1", 12, unchecked), was(2, "H1", 12, unchecked)}, now: []store.NewLine{now(2, "H1", 12)}, after: "1=1 off, 2=2"},
		{name: "split over two bags", was: []store.Line{was(1, "H1", 12, 12)}, now: []store.NewLine{now(1, "H2", 8), now(2, "H3", 4)}, asked: "1: 1 2", after: ""},
		{name: "less in its bag, and as many elsewhere", was: []store.Line{was(1, "H1", 12, 12)}, now: []store.NewLine{now(1, "H1", 8), now(2, "H3", 12)}, asked: "1: 1 2", after: ""},
		{name: "as many as another had, in its bag", was: []store.Line{was(1, "H1", 12, 12), was(2, "H2", 8, 3)}, now: []store.NewLine{now(1, "H1", 8)}, asked: "1: 1; 2: 1", after: ""},
		{name: "less in its bag, nothing hangs on it", was: []store.Line{was(1, "H1", 12, unchecked)}, now: []store.NewLine{now(1, "H3", 12), now(2, "H1", 8)}, after: "1=2, 2=1"},
		{name: "less in its bag, and others elsewhere", was: []store.Line{was(1, "H1", 12, 12)}, now: []store.NewLine{now(1, "H1", 8), now(2, "H3", 5)}, after: "1=1 found 12 ea, 2=2"},
		{name: "all is different, and no number shifted", was: []store.Line{was(1, "H1", 12, 12), was(2, "H2", 4, 3)}, now: []store.NewLine{now(1, "H5", 7), now(2, "H6", 8)}, after: "1=1 found 12 ea, 2=2 found 3 ea"},
		{name: "all is different, and numbers shifted", was: []store.Line{was(1, "H1", 12, 12), was(2, "H2", 4, 3), nut(3)}, now: []store.NewLine{now(1, "H5", 7), now(2, "H6", 8), newNut(5)}, asked: "1: 1 2; 2: 1 2", after: "5=3"},
		{name: "what is left is not what was left", was: []store.Line{was(1, "H1", 12, 12), was(2, "H2", 4, 3)}, now: []store.NewLine{now(1, "H1", 12), now(3, "H3", 6)}, asked: "2: 3", after: "1=1 found 12 ea"},
		{name: "what was found on no list is one of two", was: []store.Line{extra}, now: []store.NewLine{now(1, "H1", 4), now(2, "H2", 4)}, asked: "9: 1 2", after: ""},
		{name: "what was found on no list is that of its bag", was: []store.Line{extra}, now: []store.NewLine{now(1, "H1", 4), now(2, "H9", 5)}, after: "1=1, 2=9 found 4 ea"},
		{name: "found by another unit", was: []store.Line{was(1, "H1", 12, 12), was(2, "H1", 9, unchecked)}, now: []store.NewLine{{Number: 1, Crate: "C1", Group: "H1", Designation: "AN3-5A", Listed: measure.Of(1, measure.Pound)}}, after: "1=2, 3=1 off found 12 ea"},
	} {
		t.Run(row.name, func(t *testing.T) {
			old := store.OldLines{Lines: row.was, Photographed: map[store.LineID]bool{row.photographed: true}}
			r, err := store.ReviseList(old, row.now, row.told)
			if err != nil {
				t.Fatal(err)
			}
			var asked, after []string
			waiting := map[store.LineID]bool{}
			for _, q := range r.Asked {
				words := fmt.Sprintf("%d:", q.Was.Number())
				for _, b := range q.Could {
					words += fmt.Sprint(" ", b.Number)
				}
				asked = append(asked, words)
				waiting[q.Was.ID] = true
			}
			for _, l := range r.After {
				if waiting[l.ID] || len(r.Asked) > 0 && l.Extra {
					continue
				}
				words := fmt.Sprintf("%d=%d", l.Number(), l.ID)
				if l.Extra {
					words += " off"
				}
				if l.Finding != nil {
					words += " found " + l.Finding.Found.String()
				}
				after = append(after, words)
			}
			if got := strings.Join(asked, "; "); got != row.asked {
				t.Errorf("asked %q, want %q", got, row.asked)
			}
			if got := strings.Join(after, ", "); got != row.after {
				t.Errorf("after: %q, want %q", got, row.after)
			}
		})
	}
}

// An answer that fits no line is refused, and so is a list with a question open.
func TestToldLines(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	w.receive(1, found(24))
	list := smallList()
	list.Revises, list.Fingerprint = w.ship, "second"
	list.Lines[0].Listed, list.Lines[0].Group = measure.Pieces(12), "H201"
	other := list.Lines[0]
	other.Number, other.Group = 8, "H202"
	list.Lines = append(list.Lines, other)
	for _, row := range []struct {
		name     string
		told     map[store.LineID]int
		kind     store.Kind
		sentence string
	}{
		{"nothing", nil, store.Conflict, "Line 1, AN3-5A, 24 ea in bag H103 of crate C1: it may be line 1 (12 ea in bag H201 of crate C1) or line 8 (12 ea in bag H202 of crate C1) of the new list, or be on it no more. Say which."},
		{"no such line of the new list", map[store.LineID]int{1: 30}, store.Invalid, "The new list has no line 30: say which of its lines line 1 is."},
		{"one line for two", map[store.LineID]int{1: 8, 2: 8}, store.Invalid, "Line 8 of the new list cannot be two lines: say which one it is."},
		{"no such line", map[store.LineID]int{1: 8, 40: 1}, store.NotFound, "The packing list has no line 40: see its lines."},
		{"another unit", map[store.LineID]int{1: 3}, store.Conflict, "Line 1 was found by ea, and line 3 of the new list is in lb: nothing is converted."},
	} {
		list.Told = row.told
		_, _, err := w.Import(list)
		t.Run(row.name, func(t *testing.T) { wantRefusal(t, err, row.kind, row.sentence) })
	}
	list.Told = map[store.LineID]int{1: 8}
	w.must(third(w.Import(list)))
	if l, err := w.LineNumbered(w.ship, 8); err != nil || l.ID != 1 || l.Finding == nil {
		t.Errorf("line 8 is %+v, %v", l, err)
	}
}

// hung is a list of which each line has an identity of its own, which all that hangs on it
// names.
type hung struct {
	world
	r    *rand.Rand
	next int // identity
	now  []identified
	gone map[string]bool // parts of which a line was taken out
	told int             // questions that were answered
}

// identified is a line of the list as it is now.
type identified struct {
	store.NewLine
	who string // its identity
}

// TestRenumberedListsKeepWhatHangs renumbers a list at random over what was found, claimed,
// noted and photographed: all of it stays with its line, whatever number that has, nothing is
// guessed, and an undo gives back exactly what was there.
func TestRenumberedListsKeepWhatHangs(t *testing.T) {
	t.Parallel()
	for seed := range uint64(4) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			h := hung{world: newWorld(t), r: rand.New(rand.NewPCG(7, seed)), gone: map[string]bool{}}
			for n := range 14 {
				h.now = append(h.now, h.line(n+1))
			}
			ship, _, err := h.Import(h.list("first", ""))
			h.must(err)
			h.ship = ship.ID
			h.must(second(h.Arrive(h.ship, store.Delivery{Crates: []string{"C1"}, Arrived: storetestDay})))
			for round := range 12 {
				h.hang()
				before := h.all()
				h.renumber()
				list := h.list(fmt.Sprint("round ", round), h.ship)
				list.Told = h.answers(ship, list)
				h.must(third(h.Import(list)))
				h.agrees()
				after := h.all()
				h.must(second(h.Undo()))
				if diff := cmp.Diff(before, h.all()); diff != "" {
					t.Fatalf("round %d, undone, it is otherwise:\n%s", round, diff)
				}
				h.must(second(h.Redo()))
				if diff := cmp.Diff(after, h.all()); diff != "" {
					t.Fatalf("round %d, done again, it is otherwise:\n%s", round, diff)
				}
			}
			if h.told == 0 {
				t.Error("nothing was asked")
			}
		})
	}
}

var storetestDay = store.Date{Year: 2026, Month: 3, Day: 14}

// line draws a line; parts, bags and quantities are few, so that many say the same.
func (h *hung) line(number int) identified {
	h.next++
	part := fmt.Sprint("OQ-", h.next/12, h.r.IntN(3))
	return identified{store.NewLine{
		Number: number, Crate: "C1", Group: []string{"H101", "H102"}[h.r.IntN(2)], Designation: part, Title: "the " + part,
		Listed: measure.Pieces(4 + 4*h.r.Int64N(2)), Status: store.Shipped,
	}, fmt.Sprintf("line-%d.", h.next)}
}

func (h *hung) list(name, revises string) store.NewShipment {
	list := store.NewShipment{Order: "OK-9", File: name + ".csv", Fingerprint: name, Revises: revises}
	for _, l := range h.now {
		list.Lines = append(list.Lines, l.NewLine)
	}
	return list
}

// identity is the line of an identity in the shop.
func (h *hung) identity(number int) string {
	at := slices.IndexFunc(h.now, func(l identified) bool { return l.Number == number })
	if at < 0 {
		return ""
	}
	return h.now[at].who
}

// hang has something come of lines that are on the list, under the name of each.
func (h *hung) hang() {
	h.t.Helper()
	lines, err := h.Lines(h.ship)
	h.must(err)
	for _, l := range lines {
		who := h.identity(l.Number())
		if who == "" || l.Extra {
			continue
		}
		switch h.r.IntN(6) {
		case 0:
			f := found(h.r.Int64N(9))
			f.Note = who
			if f.Found.Sign() > 0 {
				f.Damaged = measure.Pieces(1)
			}
			h.must(second(h.Receive(h.ship, l.ID, f)))
		case 1:
			h.must(second(h.LookIn(h.ship, l.ID, who)))
		case 2:
			h.must(second(h.PriceLine(h.ship, l.ID, money(h.t, "1.00"), who)))
		case 3:
			h.must(third(h.AddPhoto(store.OfLine(h.ship, l.ID), who, phototest.JPEG(8, 6, 1))))
		case 4:
			h.next++
			f := found(2)
			f.Note = fmt.Sprintf("line-%d.", h.next)
			extra := store.Line{Shipment: h.ship, Crate: l.Crate, Group: l.Group, Place: l.Place, Designation: fmt.Sprint("AN", h.next), Finding: &f}
			h.must(second(h.ReceiveAll([]store.Line{extra})))
		}
	}
	if ship, err := h.Shipment(h.ship); err == nil && len(ship.Unsent(lines)) > 0 && h.r.IntN(2) == 0 {
		h.must(second(h.ClaimSent(h.ship, h.Today(), "by mail")))
	}
}

// renumber takes lines out and puts others in, of parts that nothing was taken out of: what
// is taken out and put in again is the same line.
func (h *hung) renumber() {
	out := 0
	h.now = slices.DeleteFunc(h.now, func(l identified) bool {
		if out > 1 || h.r.IntN(5) > 0 {
			return false
		}
		h.gone[l.Designation] = true
		out++
		return true
	})
	for range h.r.IntN(5) {
		if l := h.line(0); !h.gone[l.Designation] {
			h.now = slices.Insert(h.now, h.r.IntN(len(h.now)+1), l)
		}
	}
	number := h.r.IntN(3)
	for i := range h.now {
		number += 1 + h.r.IntN(2)*h.r.IntN(3)
		h.now[i].Number = number
	}
}

// answers are what a person who knows the lines says to what is asked.
func (h *hung) answers(ship store.Shipment, list store.NewShipment) map[store.LineID]int {
	h.t.Helper()
	told := map[store.LineID]int{}
	for {
		of, err := h.Shipment(ship.ID)
		h.must(err)
		list.Told = told
		r, err := h.Revision(of, list)
		h.must(err)
		if len(r.Asked) == 0 {
			return told
		}
		for _, q := range r.Asked {
			told[q.Was.ID] = 0
			for _, b := range q.Could {
				if h.identity(b.Number) == h.whose(q.Was) {
					told[q.Was.ID] = b.Number
				}
			}
			h.told++
		}
	}
}

// whose is the identity that a line has by what hangs on it, "" where nothing does.
func (h *hung) whose(l store.Line) string {
	h.t.Helper()
	names := map[string]bool{}
	if l.Finding != nil {
		names[l.Finding.Note] = true
	}
	for _, name := range []string{l.LookIn, l.Priced} {
		if name != "" {
			names[name] = true
		}
	}
	photos, err := h.Photos(store.OfLine(h.ship, l.ID))
	h.must(err)
	for _, p := range photos {
		names[p.Caption] = true
	}
	if len(names) > 1 {
		h.t.Fatalf("on line %d hangs what is of several: %v", l.Number(), names)
	}
	for name := range names {
		return name
	}
	return ""
}

// agrees holds what hangs on the lines against who they are.
func (h *hung) agrees() {
	h.t.Helper()
	listed := 0
	lines, err := h.Lines(h.ship)
	h.must(err)
	byID := map[store.LineID]store.Line{}
	for _, l := range lines {
		byID[l.ID] = l
		who, is := h.identity(l.Number()), h.whose(l)
		if l.Extra && who != "" {
			h.t.Errorf("line %d is on no list, and the list has that number", l.Number())
		}
		if !l.Extra {
			listed++
			if is != "" && is != who {
				h.t.Errorf("line %d is %s, and what is of %s hangs on it", l.Number(), who, is)
			}
		}
		if l.Extra && slices.ContainsFunc(h.now, func(n identified) bool { return is != "" && n.who == is }) {
			h.t.Errorf("line %d is off the list, and %s is on it", l.Number(), is)
		}
		numbered, err := h.LineNumbered(h.ship, l.Number())
		h.must(err)
		if diff := cmp.Diff(l, numbered); diff != "" {
			h.t.Errorf("line %d by its number:\n%s", l.Number(), diff)
		}
		if l.Finding != nil && l.Finding.LotName != "" {
			lot, err := h.Lot(l.Designation, l.Finding.LotName)
			h.must(err)
			if lot.Receipt.Line != l.ID || lot.Receipt.Number() != l.Number() {
				h.t.Errorf("lot %s came by line %d, and says %d (filed under %d)", lot.Name(), l.Number(), lot.Receipt.Number(), lot.Receipt.Line)
			}
		}
	}
	if of, err := h.LinesOf([]string{h.ship}); err != nil || !cmp.Equal(lines, of[0]) {
		h.t.Errorf("read with others, the lines are otherwise: %v\n%s", err, cmp.Diff(lines, of[0]))
	}
	if listed != len(h.now) {
		h.t.Errorf("%d lines are on the list, want %d", listed, len(h.now))
	}
	ship, err := h.Shipment(h.ship)
	h.must(err)
	for _, claim := range ship.Claims {
		for _, c := range claim.Lines {
			if who := h.whose(byID[c.Line]); !strings.Contains(c.Words, "line-") || strings.HasSuffix(c.Words, who) {
				continue
			}
			h.t.Errorf("the claim of line %d says %q, and that is %s", byID[c.Line].Number(), c.Words, h.whose(byID[c.Line]))
		}
	}
}

// all is all that a shop has of lists, in the words of its records.
func (h *hung) all() []any {
	h.t.Helper()
	lines, err := h.Lines(h.ship)
	h.must(err)
	ship, err := h.Shipment(h.ship)
	h.must(err)
	photos, err := h.PhotosOfLines(h.ship)
	h.must(err)
	lots, err := h.Lots("")
	h.must(err)
	return []any{lines, ship, photos, lots, h.stock()}
}
