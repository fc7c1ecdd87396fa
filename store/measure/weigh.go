package measure

import (
	"fmt"
	"math/big"
	"strings"
)

// Counting by weight: a sample of counted pieces gives the weight of one, and the
// net weight of all of them the number. A scale rounds to its step, so that each
// reading may be off by half of one either way; the range of a number is what it
// would be at the worst of them.

// Sample is so many pieces weighed together, without container, on a scale of
// that step.
type Sample struct {
	Pieces int64    `json:"pieces"`
	Net    Quantity `json:"net"`
	Step   Quantity `json:"step"`
}

// Weighing is what a person reads off a scale to count what is in a container.
// All readings are in one unit: nothing is converted.
type Weighing struct {
	Step   Quantity `json:"step"`   // the smallest difference that the scale shows
	Tare   Quantity `json:"tare"`   // the empty container; nothing where the scale was set to nought with it
	Gross  Quantity `json:"gross"`  // the container with the pieces
	Sample Sample   `json:"sample"` // its step may be that of another scale
}

// Weighed is a number found by weight. The true one is from Low to High.
type Weighed struct {
	Pieces, Low, High int64
	Net               Quantity // of all pieces
	Step              Quantity
}

// Reading names one of the figures of a weighing.
type Reading string

// The readings.
const (
	StepReading   Reading = "step"
	TareReading   Reading = "tare"
	GrossReading  Reading = "gross"
	PiecesReading Reading = "sample"
	SampleReading Reading = "sample weight"
)

// WeighError says which reading cannot be, and what to do. Its text is a sentence.
type WeighError struct {
	Reading Reading
	Message string
}

func (e *WeighError) Error() string { return e.Message }

func unweighed(r Reading, format string, args ...any) error {
	return &WeighError{Reading: r, Message: fmt.Sprintf(format, args...)}
}

// maxSample bounds the pieces of a sample.
const maxSample = 1_000_000

// smallest is how many steps of the scale a sample has to weigh at least: then half
// a step is 2 % of it.
const smallest = 25

// nanograms are units of weight in billionths of a gram. The pound of 453.59237 g
// and its sixteenth are exact by definition (international yard and pound agreement
// of 1959; NIST Handbook 44, appendix C).
var nanograms = map[Unit]int64{Gram: 1_000_000_000, Kilogram: 1_000_000_000_000, Ounce: 28_349_523_125, Pound: 453_592_370_000}

// IsWeight says that the unit is one of weight.
func (u Unit) IsWeight() bool { return nanograms[u] != 0 }

// Check refuses a sample that says too little of the weight of one piece.
func (s Sample) Check() error {
	if err := checkStep(s.Step); err != nil {
		return err
	}
	if s.Pieces < 1 || s.Pieces > maxSample {
		return unweighed(PiecesReading, "Say how many pieces are in the sample: count them.")
	}
	if err := checkReading(SampleReading, s.Net, s.Step); err != nil {
		return err
	}
	if s.Net.Micro == 0 {
		return unweighed(SampleReading, "The scale shows nothing for %d pieces: weigh more of them, or use a finer scale.", s.Pieces)
	}
	if s.Step.Micro > s.Net.Micro/smallest {
		return unweighed(PiecesReading, "A sample of %d is too small for this scale: half a step of %s is more than 2 %% of %s. Weigh about %d pieces.",
			s.Pieces, s.Step, s.Net, s.enough())
	}
	return nil
}

// enough is how many pieces make a sample that the scale can weigh: in tens, since
// the little sample does not tell the weight of one well.
func (s Sample) enough() int64 {
	n := new(big.Int).Mul(big.NewInt(smallest*s.Pieces), big.NewInt(s.Step.Micro))
	return 10 * up(n, new(big.Int).Mul(big.NewInt(10), big.NewInt(s.Net.Micro)))
}

// Piece is the weight of one piece of the sample in words: "about 0.081 g".
func (s Sample) Piece() string {
	each := new(big.Rat).SetFrac64(s.Net.Micro, one)
	each.Quo(each, new(big.Rat).SetInt64(s.Pieces))
	return "about " + trimDecimal(each.FloatString(decimals(each))) + " " + string(s.Net.Unit)
}

// decimals are as many as show three figures of a number below one.
func decimals(v *big.Rat) int {
	n := 3
	for ten := big.NewRat(10, 1); n < 9 && v.Cmp(big.NewRat(1, 10)) < 0; n++ {
		v = new(big.Rat).Mul(v, ten)
	}
	return n
}

// Count works the number out. The error is a *WeighError.
func (w Weighing) Count() (Weighed, error) {
	if err := w.check(); err != nil {
		return Weighed{}, err
	}
	net := w.Gross.Micro - w.Tare.Micro
	s := w.Sample
	// Gross and tare are each off by half a step at most: a whole one together. All is
	// in halves of a millionth, so that half a step is a whole number too.
	pieces, twice := big.NewInt(s.Pieces), func(micro int64) *big.Int { return big.NewInt(2 * micro) }
	times := func(a *big.Int) *big.Int { return new(big.Int).Mul(pieces, a) }
	least, most := twice(max(0, net-w.Step.Micro)), twice(net+w.Step.Micro)
	light := big.NewInt(2*s.Net.Micro - s.Step.Micro)
	heavy := big.NewInt(2*s.Net.Micro + s.Step.Micro)
	n := times(twice(net))
	n.Add(n, big.NewInt(s.Net.Micro)) // so that rounding down rounds to the nearest
	out := Weighed{
		Pieces: n.Quo(n, twice(s.Net.Micro)).Int64(), Low: new(big.Int).Quo(times(least), heavy).Int64(), High: up(times(most), light),
		Net: Quantity{Micro: net, Unit: w.Step.Unit}, Step: w.Step,
	}
	if out.High > MaxQuantity {
		return Weighed{}, unweighed(SampleReading, "That would be over %s pieces: see the sample and its weight again.", Pieces(MaxQuantity).Number())
	}
	return out, nil
}

func (w Weighing) check() error {
	if err := checkStep(w.Step); err != nil {
		return err
	}
	if err := checkReading(TareReading, w.Tare, w.Step); err != nil {
		return err
	}
	if err := checkReading(GrossReading, w.Gross, w.Step); err != nil {
		return err
	}
	if w.Gross.Micro <= w.Tare.Micro {
		return unweighed(GrossReading, "%s with the pieces is no more than %s without: weigh the full container again.", w.Gross, w.Tare)
	}
	if err := w.Sample.Check(); err != nil {
		return err
	}
	if w.Sample.Net.Unit != w.Step.Unit {
		return unweighed(SampleReading, "The sample was weighed in %s and this scale shows %s: weigh a sample on this scale.", w.Sample.Net.Unit, w.Step.Unit)
	}
	return nil
}

func checkStep(step Quantity) error {
	if step.Micro <= 0 || step.Micro > MaxQuantity*one {
		return unweighed(StepReading, "Say in which steps the scale shows weight, such as 0.1.")
	}
	if !step.Unit.IsWeight() {
		return unweighed(StepReading, "A scale shows g, oz, lb or kg, not %q: say which one.", clip(string(step.Unit)))
	}
	return nil
}

// checkReading refuses what a scale of that step cannot show.
func checkReading(r Reading, q, step Quantity) error {
	switch {
	case q.Micro < 0 || q.Micro > MaxQuantity*one:
		return unweighed(r, "%s is not a weight: type what the scale shows.", q)
	case q.Unit != step.Unit && q.Micro != 0:
		return unweighed(r, "%s is in another unit than the steps of the scale (%s): give all in one.", q, step)
	case q.Micro%step.Micro != 0:
		return unweighed(r, "A scale with steps of %s does not show %s: type what it shows, or correct its step.", step, q)
	}
	return nil
}

// up is a/b rounded up.
func up(a, b *big.Int) int64 {
	q, rest := new(big.Int).QuoRem(a, b, new(big.Int))
	if rest.Sign() > 0 {
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}

// Convert is a weight in another unit, to the nearest of so many decimals. Whoever
// shows it shows what it was, too: nothing is converted silently.
func Convert(q Quantity, to Unit, decimals int) (Quantity, error) {
	from, into := nanograms[q.Unit], nanograms[to]
	if from == 0 || into == 0 {
		return Quantity{}, fmt.Errorf("%s in %s: %w", q, to, ErrUnits)
	}
	v := new(big.Rat).SetFrac64(q.Micro, one)
	v.Mul(v, new(big.Rat).SetFrac64(from, into))
	return ParseQuantity(v.FloatString(min(decimals, 6)), to)
}

// Agrees says whether a listed weight lies within what the scale may have been off
// by: half a step with the container full, and half a step with it empty.
func (w Weighed) Agrees(listed Quantity) (bool, error) {
	from, into := nanograms[listed.Unit], nanograms[w.Net.Unit]
	if from == 0 || into == 0 {
		return false, fmt.Errorf("%s and %s: %w", listed, w.Net, ErrUnits)
	}
	scaled := func(micro, unit int64) *big.Int { return new(big.Int).Mul(big.NewInt(micro), big.NewInt(unit)) }
	want := scaled(listed.Micro, from)
	return want.Cmp(scaled(w.Net.Micro-w.Step.Micro, into)) >= 0 && want.Cmp(scaled(w.Net.Micro+w.Step.Micro, into)) <= 0, nil
}

// places are the decimals of a quantity.
func (q Quantity) places() int {
	_, frac, _ := strings.Cut(q.Plain(), ".")
	return len(frac)
}

// Beside holds the net weight beside one that was expected, in words.
func (w Weighed) Beside(listed Quantity) (string, error) {
	agrees, err := w.Agrees(listed)
	if err != nil {
		return "", err
	}
	shown, err := Convert(listed, w.Net.Unit, w.Step.places()+1)
	if err != nil {
		return "", err
	}
	words := fmt.Sprintf("%s were expected", listed)
	if listed.Unit != w.Net.Unit {
		words += fmt.Sprintf(", which is %s", shown)
	}
	if agrees {
		return words + ": the scale agrees", nil
	}
	off, err := w.Net.Sub(shown)
	if err != nil {
		return "", err
	}
	if off.Sign() < 0 {
		return fmt.Sprintf("%s: %s more than weighed", words, off.Neg()), nil
	}
	return fmt.Sprintf("%s: %s less than weighed", words, off), nil
}
