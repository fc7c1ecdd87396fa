package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// rivetCommand chooses solid rivets for a thickness.
type rivetCommand struct {
	Stack    *lengthFlag  `help:"Thickness of all sheets together; the thickest is taken as half of it." placeholder:".064"`
	Sheet    []lengthFlag `help:"Thickness of one sheet; repeat it for each." sep:"none" placeholder:".032"`
	Diameter *lengthFlag  `help:"Diameter that the plans give, instead of the rule's." placeholder:"1/8"`
	Material string       `help:"Letters of the material." default:"AD" placeholder:"AD"`
	Flush    bool         `help:"Flush rivets only."`
	Dome     bool         `help:"Protruding heads only."`
}

type rivetJSON struct {
	Designation  string      `json:"designation"`
	Title        string      `json:"title"`
	Mark         string      `json:"mark"`
	InShop       bool        `json:"in_shop"`
	Flush        bool        `json:"flush"`
	ByRule       bool        `json:"by_rule"`
	Diameter     string      `json:"diameter"`
	Length       string      `json:"length"`
	Wanted       string      `json:"wanted"`
	EdgeDistance string      `json:"edge_distance"`
	HeadWide     string      `json:"shop_head_width"`
	HeadHigh     string      `json:"shop_head_height"`
	Drill        string      `json:"drill"`
	Findings     []citedJSON `json:"findings"`
}

type rivetAnswer struct {
	Thickness string      `json:"thickness"`
	Thickest  string      `json:"thickest"`
	ByRule    string      `json:"diameter_by_rule"`
	Rivets    []rivetJSON `json:"rivets"`
	Cautions  []citedJSON `json:"cautions"`
	found     hardware.RivetAnswer
}

// Run prints the rivet of the rule and its neighbours.
func (c *rivetCommand) Run(p *program) error {
	if c.Flush && c.Dome {
		return &usageError{fmt.Errorf("give --flush or --dome, not both")}
	}
	sheets, err := plies(c.Stack, c.Sheet, "sheet")
	if err != nil {
		return err
	}
	k, err := p.know()
	if err != nil {
		return err
	}
	seam := hardware.Seam{Layers: sheets, Material: strings.ToUpper(c.Material), Shop: k.atHand}
	if c.Stack != nil {
		half := sheets[0].Thickness / 2
		seam.Layers = []hardware.Ply{{Thickness: half}, {Thickness: sheets[0].Thickness - half}}
	}
	if c.Diameter != nil {
		seam.Diameter = measure.Length(*c.Diameter)
	}
	found, err := k.ChooseRivet(seam)
	if err != nil {
		return &usageError{err}
	}
	if c.Stack != nil {
		found.Cautions = append(found.Cautions, hardware.Finding{Text: "the stack is taken as two sheets of the same thickness: give each one as --sheet where they differ"})
	}
	found.Choices = slices.DeleteFunc(found.Choices, func(r hardware.RivetChoice) bool { return c.Flush && !r.Flush || c.Dome && r.Flush })
	answer := riveted(found)
	return p.emit(answer, answer.print)
}

func riveted(found hardware.RivetAnswer) rivetAnswer {
	a := rivetAnswer{
		Thickness: found.Thickness.Decimal(), Thickest: found.Thickest.Decimal(), ByRule: found.ByRule.Decimal(),
		Rivets: []rivetJSON{}, Cautions: cited(found.Cautions), found: found,
	}
	for _, r := range found.Choices {
		a.Rivets = append(a.Rivets, rivetJSON{
			Designation: r.Designation, Title: r.Title, Mark: r.Mark, InShop: r.InShop, Flush: r.Flush, ByRule: r.ByRule,
			Diameter: r.Diameter.Decimal(), Length: r.Length.Decimal(), Wanted: r.Wanted.Decimal(), EdgeDistance: r.EdgeDistance.Decimal(),
			HeadWide: r.HeadWide.Decimal(), HeadHigh: r.HeadHigh.Decimal(), Drill: r.Drill, Findings: cited(r.Findings),
		})
	}
	return a
}

func (a rivetAnswer) print(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Rivets for %s, the thickest sheet %s:\n", a.found.Thickness, a.found.Thickest)
	for _, r := range a.found.Choices {
		why := "a size beside the rule"
		if r.ByRule {
			why = "by the rule"
		}
		fmt.Fprintf(&b, "%s  %s\n  %s: diameter %s, length %s\n", marked(r.Designation, r.Mark, r.InShop), r.Title, why, r.Diameter, r.Length)
		if r.Drill != "" {
			fmt.Fprintf(&b, "  usual drill %s\n", r.Drill)
		}
		sentences(&b, "  ", r.Findings)
	}
	b.WriteString("Cautions:\n")
	sentences(&b, "  ", a.found.Cautions)
	b.WriteString(caution + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}
