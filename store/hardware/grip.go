package hardware

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
)

// Ply is one of the parts that a bolt goes through.
type Ply struct {
	Name      string // may be empty
	Thickness measure.Length
}

// Joint is what a bolt is wanted for.
type Joint struct {
	Layers []Ply  // from the head to the nut
	Series string // of the bolt: "AN3"
	Nut    string // designation; a castle nut asks for a drilled shank; "" for none named
	// NutHeight is measured on the nut; 0 takes the figure of the tables, where
	// there is one.
	NutHeight measure.Length
	// HeadWashers and NutWashers are washers that must be there, as
	// designations; more are added under the nut where the grip asks for them.
	HeadWashers, NutWashers []string
	DrilledHead             bool
	Shop                    []string // designations at hand, preferred
}

// Finding is one thing said about a choice, with the paragraph it rests on.
type Finding struct {
	Text    string
	Source  string
	Checked int
	Bad     bool // it rules the choice out
}

// WasherUse is a washer in the joint.
type WasherUse struct {
	Designation string
	Thickness   measure.Length
	Mark        string // "not cross-checked" or ""
}

// BoltChoice is one dash number held against the joint.
type BoltChoice struct {
	Designation, Title, Mark string
	InShop                   bool
	Fits                     bool
	HeadWashers, NutWashers  []WasherUse
	Grip, Length             measure.Length
	// ThreadInHole is how much thread lies within the layers.
	ThreadInHole measure.Length
	// Spare is how far the nut can still be tightened before it runs out of
	// thread at the shank; below zero the joint stays loose.
	Spare measure.Length
	// Showing is the bolt past the nut; ShowingKnown is false where no height of
	// the nut is known.
	Showing      measure.Length
	ShowingKnown bool
	Findings     []Finding
	Section      Outline // the joint cut along the bolt, in real size
}

// BoltAnswer is the dash numbers around a joint, those that fit first.
type BoltAnswer struct {
	Thickness measure.Length // of the layers together
	Thread    string
	Choices   []BoltChoice
	Cautions  []Finding
}

// Limits of what is asked of the chooser.
const (
	maxLayers  = 20
	maxWashers = 3 // common practice: no more in one stack
)

// ErrNoGrip is returned for a bolt series whose grip no table gives.
var ErrNoGrip = errors.New("no published table gives the grip of this series: measure a bolt, or enter the figures of a printed standard")

// The rules that the chooser goes by.
var (
	ruleGrip    = cite{"AC 43.13-1B par. 7-37", 2}
	ruleShowing = cite{"AC 43.13-1B par. 7-37", 2}
	ruleThreads = cite{"NAVEDTRA 14014 (no more than two threads in the hole)", 1}
	ruleStrict  = cite{"aircraft association hardware sheet (no more than one and a half threads in the hole)", 1}
	ruleWashers = cite{"common practice: no more than three washers in a stack", 2}
	ruleCastle  = cite{"AC 43.13-1B par. 7-40 f", 2}
	ruleSafety  = cite{"AC 43.13-1B par. 7-38", 1}
	rulePrimary = cite{"AC 43.13-1B par. 7-41; TM 1-1500-204-23-6", 2}
)

func finding(text string, from cite) Finding {
	return Finding{Text: text, Source: from.source, Checked: from.checked}
}

func bad(text string, from cite) Finding {
	f := finding(text, from)
	f.Bad = true
	return f
}

// joint is a Joint with its designations looked up.
type joint struct {
	Joint
	s        *series
	stack    measure.Length
	pitch    measure.Length // of the thread
	tpi      int
	nut      *piece
	nutHigh  measure.Length
	nutMark  string
	drilled  bool
	head     []WasherUse
	under    []WasherUse
	thick    *WasherUse // to add under the nut
	thin     *WasherUse
	shopList map[string]bool
}

// ChooseBolt holds the dash numbers of a series against a joint: which grip
// fits, with which washers, how much thread stays in the hole and how much
// shows past the nut. Those that fit come first, the ones in the shop before.
func (c *Catalog) ChooseBolt(want Joint) (BoltAnswer, error) {
	j, err := c.joint(want)
	if err != nil {
		return BoltAnswer{}, err
	}
	answer := BoltAnswer{Thickness: j.stack, Thread: j.s.size, Cautions: j.cautions()}
	known := false
	for _, dash := range j.s.nums[0].list {
		p := piece{s: j.s, nums: [2]*code{dash}}
		known = known || p.figure(Grip) != 0 && p.bodyLength() != 0
		if j.worthALook(&p) {
			answer.Choices = append(answer.Choices, j.choose(p))
		}
	}
	if !known {
		return BoltAnswer{}, fmt.Errorf("%s: %w", j.s.name, ErrNoGrip)
	}
	slices.SortStableFunc(answer.Choices, func(a, b BoltChoice) int { return a.rank() - b.rank() })
	return answer, nil
}

// rank puts fitting choices first, then those at hand, fewer washers, less
// thread in the hole.
func (b *BoltChoice) rank() int {
	r := int(b.ThreadInHole/thou) + 1000*(len(b.HeadWashers)+len(b.NutWashers))
	if !b.InShop {
		r += 100_000
	}
	if !b.Fits {
		r += 1_000_000
	}
	return r
}

// bodyLength is the length of a bolt: as the table gives it, or grip and
// thread together where it gives those.
func (p *piece) bodyLength() measure.Length {
	if l := p.figure(LengthField); l != 0 {
		return l
	}
	if g, t := p.figure(Grip), p.figure(ThreadLength); g != 0 && t != 0 {
		return g + t
	}
	return 0
}

// worthALook leaves out the grips that are far from the stack.
func (j *joint) worthALook(p *piece) bool {
	g := p.figure(Grip)
	return g != 0 && p.bodyLength() != 0 && g >= j.stack-3*measure.Inch/16 && g <= j.stack+5*measure.Inch/16
}

func (c *Catalog) joint(want Joint) (*joint, error) {
	j := &joint{Joint: want, shopList: map[string]bool{}}
	if len(want.Layers) == 0 || len(want.Layers) > maxLayers {
		return nil, fmt.Errorf("%d layers: give the thickness of 1 to %d parts that the bolt goes through", len(want.Layers), maxLayers)
	}
	for i, l := range want.Layers {
		if l.Thickness <= 0 || l.Thickness > 12*measure.Inch {
			return nil, fmt.Errorf("layer %d: thickness %s is not between 0 and 12 in", i+1, l.Thickness)
		}
		j.stack += l.Thickness
	}
	name := strings.ToUpper(strings.ReplaceAll(strings.TrimSpace(want.Series), " ", ""))
	j.s = c.series[name]
	if j.s == nil || j.s.kind != Bolt || j.s.nums[1] != nil {
		return nil, fmt.Errorf("series %q is not a bolt series of the tables, such as AN3 or NAS6204", want.Series)
	}
	_, j.tpi = pitch(j.s.size)
	if j.tpi == 0 {
		return nil, fmt.Errorf("series %s has no thread in the tables", name)
	}
	j.pitch = measure.Inch / measure.Length(j.tpi)
	for _, d := range want.Shop {
		if canonical, ok := c.Canonical(d); ok {
			j.shopList[canonical] = true
		}
	}
	if err := c.jointNut(j); err != nil {
		return nil, err
	}
	return j, c.jointWashers(j)
}

// jointNut looks the nut up and its height.
func (c *Catalog) jointNut(j *joint) error {
	j.nutHigh = j.NutHeight
	if j.Nut == "" {
		return nil
	}
	p, no := c.parse(j.Nut)
	if no != nil {
		return errors.New("nut: " + no.problem)
	}
	if p.s == nil || p.s.kind != Nut && p.s.kind != PlateNut {
		return fmt.Errorf("nut %q is not a nut of the tables", j.Nut)
	}
	if f := p.fact(Thread); f != nil && threadKey(f.Text) != threadKey(j.s.size) {
		return fmt.Errorf("nut %s has thread %s, the bolt %s", p.canonical(), f.Text, j.s.size)
	}
	j.nut, j.drilled = &p, p.s.look == "castle nut"
	if f := p.fact(Height); f != nil && j.nutHigh == 0 {
		j.nutHigh, j.nutMark = f.Length, f.Mark()
	}
	return nil
}

// jointWashers looks the washers up, and a thick and a thin one to add.
func (c *Catalog) jointWashers(j *joint) error {
	var err error
	if j.head, err = c.washerUses(j, j.HeadWashers); err != nil {
		return err
	}
	if j.under, err = c.washerUses(j, j.NutWashers); err != nil {
		return err
	}
	if len(j.head)+len(j.under) > maxWashers {
		return fmt.Errorf("%d washers: %s", len(j.head)+len(j.under), ruleWashers.source)
	}
	for _, dash := range c.series["AN960"].nums[0].list {
		p := piece{s: c.series["AN960"], nums: [2]*code{dash}}
		if !j.goesThrough(&p) {
			continue
		}
		use, err := c.washerUses(j, []string{c.preferred(&p, j.shopList)})
		if err != nil {
			return err
		}
		if strings.HasSuffix(dash.text, "L") {
			j.thin = &use[0]
		} else {
			j.thick = &use[0]
		}
	}
	return nil
}

// preferred is the number by which a washer is at hand: the old one if only
// that is in the shop, else the newer.
func (c *Catalog) preferred(p *piece, shop map[string]bool) string {
	old := p.canonical()
	if next := p.successor(); next != nil && !shop[old] {
		return next.Designation
	}
	return old
}

// goesThrough says that the bolt goes through the washer.
func (j *joint) goesThrough(p *piece) bool {
	f := p.fact(Fits)
	size, _ := pitch(j.s.size)
	if len(size) <= 2 && size != "1" {
		size = "No. " + size
	}
	return f != nil && f.Text == size+" bolt"
}

func (c *Catalog) washerUses(j *joint, designations []string) ([]WasherUse, error) {
	var out []WasherUse
	for _, d := range designations {
		p, no := c.parse(d)
		if no != nil {
			return nil, errors.New("washer: " + no.problem)
		}
		if p.s == nil || p.s.kind != Washer || p.figure(Thickness) == 0 {
			return nil, fmt.Errorf("washer %q is not a washer of known thickness", d)
		}
		if !j.goesThrough(&p) {
			return nil, fmt.Errorf("washer %s is for a %s, not for %s", p.canonical(), p.fact(Fits).Text, j.s.name)
		}
		out = append(out, WasherUse{p.canonical(), p.figure(Thickness), p.fact(Thickness).Mark()})
	}
	return out, nil
}

// cautions are what holds for every bolt of the joint.
func (j *joint) cautions() []Finding {
	out := []Finding{
		{Text: "plans and the kit maker's instructions govern; this helps to check them"},
		finding("lock or safety every bolt and nut except self-locking nuts; never use a cotter pin or safety wire twice", ruleSafety),
	}
	if j.drilled {
		out = append(out, finding("castle nut: start at the minimum torque plus drag; if hole and slot do not meet by the maximum, change washer or nut", ruleCastle))
		out = append(out, Finding{Text: "where the cotter-pin hole of an AN bolt lies from its end is in no published source seen: check it on the bolt"})
	}
	if j.s.name == "AN3" {
		out = append(out, finding("aluminium bolts under 1/4 in are not for primary structure", rulePrimary))
	}
	if !j.s.nums[0].closed && strings.HasPrefix(j.s.name, "NAS") {
		out = append(out, Finding{Text: "thread length of the sheet is for reference: measure the bolt where it matters", Source: j.s.src.source, Checked: 1})
	}
	return out
}
