package scan

import "math"

// Issued are the tags that exist in a shop, prepared for recognition. It is immutable:
// several Readers may share it.
type Issued struct {
	tags  []string
	words []words // the codewords of each, before masking
	least float64 // deviations that the best must reach
}

// Issue prepares the issued tags for recognition. Texts that are not tags, and
// duplicates, are left out.
func Issue(tags []string) *Issued {
	t := theTables()
	seen := make(map[string]bool, len(tags))
	issued := &Issued{}
	for _, tag := range tags {
		if !IsTag(tag) || seen[tag] {
			continue
		}
		seen[tag] = true
		bits := t.encodeTag(tag)
		var w words
		for i := range w {
			w[i] = bits.word(i)
		}
		issued.tags = append(issued.tags, tag)
		issued.words = append(issued.words, w)
	}
	issued.least = leastChance(len(issued.tags))
	return issued
}

// Len is the number of tags.
func (i *Issued) Len() int {
	if i == nil {
		return 0
	}
	return len(i.tags)
}

// Limits of recognition.
const (
	falseChance = 1e-8 // that any of the issued tags fits a symbol that is none of them
	leastLead   = 2.5  // deviations between the best and the second
	// sharedWords is how many codewords at the front all tags of a kind have in common:
	// they do not distinguish one from another.
	sharedWords = 3
)

// leastChance is the least number of standard deviations for the best of n tags, which
// chance exceeds with probability falseChance.
func leastChance(n int) float64 {
	low, high := 0.0, 20.0
	for range 50 {
		middle := (low + high) / 2
		if float64(max(1, n))*math.Erfc(middle/math.Sqrt2)/2 > falseChance {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// likeness is how an issued tag compares with what was read.
type likeness struct {
	tag        int
	deviations float64 // above chance
	lead       float64 // over the second
}

// recognise finds the issued tag that agrees best with what is loaded.
func (d *decoder) recognise(issued *Issued) (likeness, bool) {
	power := 1e-9
	for _, v := range d.value[8*sharedWords:] {
		power += float64(v * v)
	}
	best, second, tag := float32(math.Inf(-1)), float32(math.Inf(-1)), -1
	for i := range issued.words {
		sum := float32(0)
		for w, v := range issued.words[i][sharedWords:] {
			sum += d.score[sharedWords+w][v]
		}
		if sum > best {
			best, second, tag = sum, best, i
		} else if sum > second {
			second = sum
		}
	}
	if tag < 0 {
		return likeness{}, false
	}
	root := math.Sqrt(power)
	l := likeness{tag: tag, deviations: float64(best) / root, lead: float64(best-second) / root}
	return l, l.deviations >= issued.least && l.lead >= leastLead
}
