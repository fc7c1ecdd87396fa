package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// gripCommand chooses a bolt for a stack.
type gripCommand struct {
	Stack       *lengthFlag  `help:"Thickness that the bolt goes through, washers not counted." placeholder:".312"`
	Layer       []lengthFlag `help:"Thickness of one part, from the head to the nut; repeat it for each." sep:"none" placeholder:".125"`
	Bolt        string       `help:"Series of the bolt." default:"AN3" placeholder:"AN3"`
	Nut         string       `help:"The nut, as a designation; a castle nut asks for a drilled shank." placeholder:"AN365-1032"`
	NutHeight   *lengthFlag  `help:"Height of the nut, measured, where the tables have none." placeholder:".250"`
	Washer      []string     `help:"A washer under the nut: thick, thin, or a designation; repeat it." placeholder:"thick"`
	HeadWasher  []string     `help:"A washer under the head: thick, thin, or a designation; repeat it." placeholder:"thin"`
	HeadDrilled bool         `help:"The head is to be drilled for lockwire."`
	All         bool         `help:"Those that do not fit as well, with the reason."`
}

type washerJSON struct {
	Designation string `json:"designation"`
	Thickness   string `json:"thickness"`
	Mark        string `json:"mark"`
}

type boltJSON struct {
	Designation  string       `json:"designation"`
	Title        string       `json:"title"`
	Mark         string       `json:"mark"`
	InShop       bool         `json:"in_shop"`
	Fits         bool         `json:"fits"`
	CannotTell   bool         `json:"cannot_tell"` // nothing speaks against it, the thread past the nut is not known
	Grip         string       `json:"grip"`
	Length       string       `json:"length"`
	HeadWashers  []washerJSON `json:"head_washers"`
	NutWashers   []washerJSON `json:"nut_washers"`
	ThreadInHole string       `json:"thread_in_hole"`
	Spare        string       `json:"spare"`
	Showing      string       `json:"showing"` // "" where the height of the nut is not known
	Findings     []citedJSON  `json:"findings"`
}

type gripAnswer struct {
	Thickness string      `json:"thickness"`
	Thread    string      `json:"thread"`
	Bolts     []boltJSON  `json:"bolts"`
	Torque    *torqueJSON `json:"torque"` // null where Table 7-1 has none
	Cautions  []citedJSON `json:"cautions"`
	found     hardware.BoltAnswer
}

// torqueJSON is the row of Table 7-1, in inch-pounds, with what must be said of it.
type torqueJSON struct {
	Tension    string      `json:"tension_nut"`
	Shear      string      `json:"shear_nut"`
	MaxTension string      `json:"most_tension_nut"`
	MaxShear   string      `json:"most_shear_nut"`
	Source     string      `json:"source"`
	Checked    int         `json:"checked"`
	Cautions   []citedJSON `json:"cautions"`
}

// Run prints the dash numbers that fit, those of the shop first. The answer is no
// where none does.
func (c *gripCommand) Run(p *program) error {
	parts, err := plies(c.Stack, c.Layer, "layer")
	if err != nil {
		return err
	}
	k, err := p.know()
	if err != nil {
		return err
	}
	joint := hardware.Joint{
		Layers: parts, Series: c.Bolt, Nut: c.Nut, NutWashers: c.Washer, HeadWashers: c.HeadWasher, DrilledHead: c.HeadDrilled, Shop: k.atHand,
	}
	if c.NutHeight != nil {
		joint.NutHeight = measure.Length(*c.NutHeight)
	}
	found, err := k.ChooseBolt(joint)
	if errors.Is(err, hardware.ErrNoGrip) {
		return &noError{err.Error(), ""}
	}
	if err != nil {
		return &usageError{err}
	}
	any := slices.ContainsFunc(found.Choices, func(b hardware.BoltChoice) bool { return b.Fits || b.CannotTell })
	if any && !c.All {
		found.Choices = slices.DeleteFunc(found.Choices, func(b hardware.BoltChoice) bool { return !b.Fits && !b.CannotTell })
	}
	answer := gripped(found)
	if err := p.emit(answer, answer.print); err != nil {
		return err
	}
	if !any {
		return &noError{fmt.Sprintf("no %s bolt of the tables fits a stack of %s with these washers: change them, or ask the kit maker.", c.Bolt, found.Thickness), ""}
	}
	return nil
}

func gripped(found hardware.BoltAnswer) gripAnswer {
	a := gripAnswer{Thickness: found.Thickness.Decimal(), Thread: found.Thread, Bolts: []boltJSON{}, Cautions: cited(found.Cautions), found: found}
	if t := found.Torque; found.HasTorque {
		a.Torque = &torqueJSON{t.Tension.String(), t.Shear.String(), t.MaxTension.String(), t.MaxShear.String(), t.Source, t.Checked, cited(found.TorqueCautions)}
	}
	for _, b := range found.Choices {
		j := boltJSON{
			Designation: b.Designation, Title: b.Title, Mark: b.Mark, InShop: b.InShop, Fits: b.Fits, CannotTell: b.CannotTell,
			Grip: b.Grip.Decimal(), Length: b.Length.Decimal(), HeadWashers: washersJSON(b.HeadWashers), NutWashers: washersJSON(b.NutWashers),
			ThreadInHole: b.ThreadInHole.Decimal(), Spare: b.Spare.Decimal(), Findings: cited(b.Findings),
		}
		if b.ShowingKnown {
			j.Showing = b.Showing.Decimal()
		}
		a.Bolts = append(a.Bolts, j)
	}
	return a
}

func washersJSON(washers []hardware.WasherUse) []washerJSON {
	out := make([]washerJSON, 0, len(washers))
	for _, w := range washers {
		out = append(out, washerJSON{w.Designation, w.Thickness.Decimal(), w.Mark})
	}
	return out
}

func (a gripAnswer) print(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Bolts for a stack of %s, thread %s:\n", a.found.Thickness, a.found.Thread)
	for _, k := range a.found.Choices {
		verdict := "fits"
		switch {
		case k.CannotTell:
			verdict = "cannot tell"
		case !k.Fits:
			verdict = "does not fit"
		}
		fmt.Fprintf(&b, "%s  %s\n  %s: grip %s, length %s, %s\n", marked(k.Designation, k.Mark, k.InShop), k.Title, verdict, k.Grip, k.Length, k.Washers())
		sentences(&b, "  ", k.Findings)
	}
	if t := a.Torque; t != nil {
		fmt.Fprintf(&b, "Torque: tension nut %s, most allowable %s; shear nut %s, most allowable %s %s\n", t.Tension, t.MaxTension, t.Shear, t.MaxShear, sourceWords(t.Source, t.Checked))
		sentences(&b, "  ", a.found.TorqueCautions)
	}
	b.WriteString("Cautions:\n")
	sentences(&b, "  ", a.found.Cautions)
	b.WriteString(caution + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}
