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
	// HeadWashers and NutWashers are washers that must be there, as designations,
	// or "thick" and "thin" for the plain washers of the bolt; more are added under the nut where the grip asks for them.
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
	// Fits says that nothing speaks against it and all was checked; CannotTell
	// that nothing speaks against it and the thread past the nut could not be.
	Fits, CannotTell        bool
	HeadWashers, NutWashers []WasherUse
	Grip, Length            measure.Length
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
	// Torque is the row of Table 7-1 for the thread, HasTorque false where the
	// table has none or is not for bolts of this series. TorqueCautions go with it.
	Torque         Torque
	HasTorque      bool
	TorqueCautions []Finding
	Cautions       []Finding
}

// Limits of what is asked of the chooser.
const (
	maxLayers  = 20
	maxWashers = 3 // common practice: no more in one stack
	// washerHeight is as high as washers may be together: 1/8, and the few
	// thousandths that two washers of 0.063 are over it.
	washerHeight = measure.Inch/8 + 2*thou
)

// ErrNoGrip is returned for a bolt series whose grip no table gives.
var ErrNoGrip = errors.New("no published table gives the grip of this series: measure a bolt, or enter the figures of a printed standard")

// The rules that the chooser goes by.
var (
	ruleGrip    = cite{"AC 43.13-1B par. 7-37", 2}
	ruleShowing = cite{"AC 43.13-1B par. 7-37", 2}
	rulePlate   = cite{"AC 43.13-1B par. 7-37", 1}
	ruleThreads = cite{"NAVEDTRA 14014 (no more than two threads in the hole)", 1}
	ruleStrict  = cite{"aircraft association hardware sheet (no more than one and a half threads in the hole)", 1}
	ruleWashers = cite{"common practice: no more than three washers in a stack", 2}
	ruleHeight  = cite{"AC 43.13-1B par. 7-37 (wording from memory); published course notes", 1}
	rulePlating = cite{"AC 43.13-1B par. 7-86", 1}
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
	plate    bool // a plate nut: no washer under it
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
	if answer.Torque, answer.HasTorque = c.torqueFor(j.s); answer.HasTorque {
		answer.TorqueCautions = TorqueCautions()
	}
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

// rank puts fitting choices first, then those that cannot be told; among them
// those without thread in the hole, then those at hand, fewer washers, less thread.
func (b *BoltChoice) rank() int {
	r := int(b.ThreadInHole/thou) + 1000*(len(b.HeadWashers)+len(b.NutWashers))
	if !b.InShop {
		r += 100_000
	}
	if b.ThreadInHole > 0 {
		r += 1_000_000
	}
	switch {
	case b.Fits:
	case b.CannotTell:
		r += 10_000_000
	default:
		r += 20_000_000
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

// cautions are what holds for every bolt of the joint.
func (j *joint) cautions() []Finding {
	out := []Finding{
		{Text: "plans and the kit maker's instructions govern; this helps to check them"},
		finding("lock or safety every bolt and nut except self-locking nuts; never use a cotter pin or safety wire twice", ruleSafety),
	}
	if j.plate {
		out = append(out, finding("no washer goes under a plate nut: where no grip is right, shims go under the plate", rulePlate))
	}
	out = append(out, finding("cadmium-plated steel washers under head and nut on aluminium or magnesium", rulePlating))
	if j.drilled {
		out = append(out, finding("castle nut: start at the minimum torque plus drag; if hole and slot do not meet by the maximum, change washer or nut", ruleCastle))
		out = append(out, Finding{Text: "where the cotter-pin hole of an AN bolt lies from its end is in no published source seen: check it on the bolt"})
	}
	if j.s.name == "AN3" {
		out = append(out, finding("aluminium bolts under 1/4 in are not for primary structure", rulePrimary))
	}
	if !j.s.nums[0].eighths && strings.HasPrefix(j.s.name, "NAS") {
		out = append(out, Finding{Text: "thread length of the sheet is for reference: measure the bolt where it matters", Source: j.s.src.source, Checked: 1})
	}
	return out
}
