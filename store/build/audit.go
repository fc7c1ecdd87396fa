package build

import (
	"fmt"
	"math/big"
	"strings"

	"stowright/store/measure"
)

// TrayContent is what should be in a tray: pieces of an item, with what a sample of it weighed.
type TrayContent struct {
	Item   string
	Pieces int64
	Sample *measure.Sample // nil: none was weighed
}

// AuditAnswer is what a weighing of a tray tells.
type AuditAnswer string

// The answers.
const (
	Agrees     AuditAnswer = "agrees"
	ShortBy    AuditAnswer = "short"
	OverBy     AuditAnswer = "over"
	CannotTell AuditAnswer = "cannot tell"
)

// Audit is a tray held against its weight.
type Audit struct {
	Answer AuditAnswer
	// Single are the items of which one piece, more or less, makes the difference.
	Single []string
	// TooLight are the items of which one piece weighs less than the weighing can tell.
	TooLight []string
	Sentence string
}

// WeighTray holds what should be in a tray against its weight: gross and tare as the
// scale showed them, in its steps. Every reading may be half a step off, and so may
// those of the samples; nothing is said that the worst of them would not bear.
func WeighTray(content []TrayContent, gross, tare, step measure.Quantity) (Audit, error) {
	if step.Sign() <= 0 || !step.Unit.IsWeight() {
		return Audit{}, fmt.Errorf("say in which steps the scale shows weight, such as 0.1 g")
	}
	if gross.Unit != step.Unit || tare.Unit != step.Unit && !tare.IsZero() || tare.Sign() < 0 || gross.Micro < tare.Micro {
		return Audit{}, fmt.Errorf("%s with the tray and %s without do not go together: give both in %s, the full tray first", gross, tare, step.Unit)
	}
	w := weighedTray{net: rat(gross.Micro - tare.Micro), off: rat(step.Micro)} // half a step twice
	w.low, w.high = new(big.Rat), new(big.Rat)
	var unknown []string
	for _, c := range content {
		switch {
		case c.Pieces <= 0:
			continue
		case c.Sample == nil || c.Sample.Pieces <= 0 || c.Sample.Net.Unit != step.Unit || c.Sample.Step.Unit != step.Unit:
			unknown = append(unknown, c.Item)
			continue
		}
		w.add(c)
	}
	if len(unknown) > 0 {
		return Audit{Answer: CannotTell, Sentence: "cannot tell: weigh a sample of " + listed(unknown) + " in " + string(step.Unit) + " first"}, nil
	}
	return w.answer(step.Unit), nil
}

// weighedTray is a weighing in millionths of its unit.
type weighedTray struct {
	net, off  *big.Rat // what the scale says, and by how much it may be off either way
	low, high *big.Rat // what the content should weigh
	pieces    []piece
}

// piece is what one piece of an item weighs at least and at most.
type piece struct {
	item      string
	low, high *big.Rat
}

func rat(n int64) *big.Rat { return new(big.Rat).SetInt64(n) }

func (w *weighedTray) add(c TrayContent) {
	each := func(twice int64) *big.Rat { return big.NewRat(twice, 2*c.Sample.Pieces) }
	p := piece{c.Item, each(2*c.Sample.Net.Micro - c.Sample.Step.Micro), each(2*c.Sample.Net.Micro + c.Sample.Step.Micro)}
	w.pieces = append(w.pieces, p)
	w.low.Add(w.low, new(big.Rat).Mul(p.low, rat(c.Pieces)))
	w.high.Add(w.high, new(big.Rat).Mul(p.high, rat(c.Pieces)))
}

func (w *weighedTray) answer(unit measure.Unit) Audit {
	var a Audit
	// How much is missing, at least and at most; below zero: too much is there.
	least := new(big.Rat).Sub(new(big.Rat).Sub(w.low, w.net), w.off)
	most := new(big.Rat).Add(new(big.Rat).Sub(w.high, w.net), w.off)
	width := new(big.Rat).Sub(most, least)
	width.Quo(width, rat(2)) // what the weighing may be off, either way
	for _, p := range w.pieces {
		if p.high.Cmp(width) <= 0 {
			a.TooLight = append(a.TooLight, p.item)
		}
	}
	blind := ""
	if len(a.TooLight) > 0 {
		blind = "; a single " + strings.Join(a.TooLight, " or ") + " is lighter than this weighing can tell"
	}
	middle := new(big.Rat).Quo(new(big.Rat).Add(least, most), rat(2))
	switch {
	case least.Sign() <= 0 && most.Sign() >= 0:
		if len(w.pieces) > 0 && len(a.TooLight) == len(w.pieces) {
			a.Answer, a.Sentence = CannotTell, "cannot tell"+blind
			return a
		}
		a.Answer, a.Sentence = Agrees, "agrees"+blind
		return a
	case least.Sign() > 0:
		a.Answer = ShortBy
		a.single(w.pieces, least, most)
		a.Sentence = a.words("short by about ", "missing", middle, unit)
	default:
		a.Answer = OverBy
		a.single(w.pieces, new(big.Rat).Neg(most), new(big.Rat).Neg(least))
		a.Sentence = a.words("over by about ", "too many", middle.Abs(middle), unit)
	}
	return a
}

// single finds the items of which one piece makes the difference.
func (a *Audit) single(pieces []piece, least, most *big.Rat) {
	for _, p := range pieces {
		if p.low.Cmp(most) <= 0 && p.high.Cmp(least) >= 0 {
			a.Single = append(a.Single, p.item)
		}
	}
}

func (a *Audit) words(by, what string, middle *big.Rat, unit measure.Unit) string {
	figure := new(big.Rat).Quo(middle, rat(1_000_000)).FloatString(2)
	if len(a.Single) > 0 {
		return fmt.Sprintf("%s%s %s: about one %s %s", by, figure, unit, strings.Join(a.Single, " or one "), what)
	}
	return fmt.Sprintf("%s%s %s: no single piece weighs that", by, figure, unit)
}
