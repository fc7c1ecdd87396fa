package scan

import (
	"cmp"
	"math"
	"slices"
)

// decoder decodes soft modules to a tag. The binary image of the Reed-Solomon code is
// decoded by ordered statistics: the most reliable bits that determine all others are
// taken as read, then with one or two of them inverted, and the tag whose codewords
// correlate best with the soft values is chosen. It corrects more than the eight wrong
// codewords of algebraic decoding, since it uses the reliability of each module and
// the form of a tag.
// Source: Fossorier and Lin, Soft-decision decoding of linear block codes based
// on ordered statistics (IEEE Transactions on Information Theory, 1995).
type decoder struct {
	value  [symbolBits]float32 // of each bit: positive for 1
	order  [symbolBits]uint8   // bits from the most to the least reliable
	score  [symbolWords][256]float32
	basis  [freeCount]bits208 // each alone has a 1 at its pivot
	pivot  [freeCount]uint8
	all    float64 // sum of the magnitudes of all values
	square float64 // sum of their squares
}

// decoded is the best tag that a decoder found.
type decoded struct {
	text  [TagLength]byte
	bits  bits208
	score float32 // sum of the values that agree less those that do not
	// deviations is by how many standard deviations the bits outside the basis agree
	// better than random ones.
	deviations float64
	// agreement is score as a part of its largest possible value.
	agreement float64
	wrong     int // codewords that were read wrong
	ok        bool
}

// load takes the soft modules, with the mask undone, in the order of the
// codewords.
func (d *decoder) load(t *tables, s *soft, mask int) {
	d.all, d.square = 0, 0
	for i, c := range t.data {
		v := float32(s.of(c))
		if t.masks[mask].has(i) {
			v = -v
		}
		d.value[i] = v
		d.all += math.Abs(float64(v))
		d.square += float64(v * v)
	}
	for w := range symbolWords {
		table, values := &d.score[w], d.value[8*w:8*w+8]
		table[0] = 0
		for _, v := range values {
			table[0] -= v
		}
		for bit := range 8 {
			twice := 2 * values[7-bit]
			for i := range 1 << bit {
				table[1<<bit+i] = table[i] + twice
			}
		}
	}
}

// correlate is the sum over all bits of the value where the bit is 1 and of its
// opposite where it is 0.
func (d *decoder) correlate(b *bits208) float32 {
	sum := float32(0)
	for i, v := range b {
		t := d.score[8*i : min(8*i+8, symbolWords)]
		for w := range t {
			sum += t[w][byte(v>>(56-8*w))]
		}
	}
	return sum
}

// reduce finds the most reliable independent bits, which determine all others, and
// brings the generators into reduced form for them (Gaussian elimination).
func (d *decoder) reduce(code *tagCode) {
	for i := range d.order {
		d.order[i] = uint8(i)
	}
	slices.SortFunc(d.order[:], func(a, b uint8) int {
		return cmp.Compare(abs32(d.value[b]), abs32(d.value[a]))
	})
	d.basis = code.free
	rank := 0
	for _, bit := range d.order {
		row := rank
		for row < freeCount && !d.basis[row].has(int(bit)) {
			row++
		}
		if row == freeCount {
			continue
		}
		d.basis[rank], d.basis[row] = d.basis[row], d.basis[rank]
		for i := range d.basis {
			if i != rank && d.basis[i].has(int(bit)) {
				d.basis[i].add(&d.basis[rank])
			}
		}
		d.pivot[rank] = bit
		rank++
		if rank == freeCount {
			return
		}
	}
}

func abs32(v float32) float32 { return max(v, -v) }

// decode finds the best tag with at most one bit of the basis inverted, and with two if
// that is not certain enough.
func (d *decoder) decode(code *tagCode) decoded {
	d.reduce(code)
	var best decoded
	best.score = float32(leastAgreement * d.all) // less would not be accepted
	for k := range code.base {
		d.turnOver(d.nearest(code, k), &best, false)
	}
	d.judge(&best)
	if best.deviations > sureDeviations {
		return best
	}
	for k := range code.base {
		d.turnOver(d.nearest(code, k), &best, true)
	}
	d.judge(&best)
	return best
}

// nearest is the symbol of a kind whose basis bits are as they were read.
func (d *decoder) nearest(code *tagCode, kind int) bits208 {
	b := code.base[kind]
	for i, bit := range d.pivot {
		if b.has(int(bit)) != (d.value[bit] > 0) {
			b.add(&d.basis[i])
		}
	}
	return b
}

// turnOver considers a symbol with none and with each one of the basis bits inverted,
// or with each two of them.
func (d *decoder) turnOver(start bits208, best *decoded, two bool) {
	if !two {
		d.consider(&start, best)
	}
	for i := range d.basis {
		one := start
		one.add(&d.basis[i])
		if !two {
			d.consider(&one, best)
			continue
		}
		for j := range i {
			both := one
			both.add(&d.basis[j])
			d.consider(&both, best)
		}
	}
}

// consider takes a symbol if it is a tag and agrees better than the best so far.
func (d *decoder) consider(b *bits208, best *decoded) {
	score := d.correlate(b)
	if score <= best.score {
		return
	}
	var text [TagLength]byte
	if decodeTag(b, &text) {
		best.text, best.bits, best.score, best.ok = text, *b, score, true
	}
}

// judge computes by how much the best tag agrees better than chance.
func (d *decoder) judge(best *decoded) {
	if !best.ok || d.all == 0 {
		return
	}
	rest, power := float64(best.score), d.square
	for _, bit := range d.pivot {
		v := float64(d.value[bit])
		if best.bits.has(int(bit)) {
			rest -= v
		} else {
			rest += v
		}
		power -= v * v
	}
	best.wrong = 0
	for w := range symbolWords {
		for i, v := range d.value[8*w : 8*w+8] {
			if best.bits.has(8*w+i) != (v > 0) {
				best.wrong++
				break
			}
		}
	}
	best.agreement = float64(best.score) / d.all
	best.deviations = rest / math.Sqrt(power+1e-9)
}
