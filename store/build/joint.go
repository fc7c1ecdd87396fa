package build

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stowright/store/hardware"
)

// JointVerdict is what the tables say of a joint as the plans call it.
type JointVerdict string

// The verdicts. None of them changes a plan: the plans govern.
const (
	JointFits     JointVerdict = "fits"
	JointWashers  JointVerdict = "fits with other washers" // than are called
	JointDoesNot  JointVerdict = "does not fit"
	JointUnknown  JointVerdict = "cannot check"
	JointUnlisted JointVerdict = "no stack" // nobody gave what the bolt goes through
)

// JointCheck is a joint of a sub-assembly held against the tables of grips.
type JointCheck struct {
	Joint        string   // as the requirements name it
	Requirements []string // ids of those that are in it
	Stack        []Layer  // from the head to the nut; nil: nobody gave it
	Bolt         string   // as called
	Verdict      JointVerdict
	// Sentence is a question or a statement, never a correction.
	Sentence string
	// Findings are what was found on the called bolt, each with its paragraph.
	Findings []hardware.Finding
	Fitting  []string // designations around it that fit, with their washers
	Cautions []hardware.Finding
}

// Joints holds every joint of a sub-assembly against the catalog: bolt, nut and washers
// as called, through the stack that was given. Washers are taken as one under the head
// and the others under the nut, where there are several to a bolt.
func Joints(c *hardware.Catalog, sub SubAssembly) []JointCheck {
	var names []string
	groups := map[string][]Requirement{}
	for _, r := range sub.Requirements {
		if r.Joint == "" {
			continue
		}
		if groups[r.Joint] == nil {
			names = append(names, r.Joint)
		}
		groups[r.Joint] = append(groups[r.Joint], r)
	}
	var out []JointCheck
	for _, name := range names {
		check := jointOf(c, groups[name])
		check.Joint = name
		out = append(out, check)
	}
	return out
}

// called is the requirements of a joint by what they are.
type called struct {
	bolt, nut     string
	bolts         int64
	washers       []string // of one bolt
	stack         []Layer
	other         string // why it cannot be checked
	notEvenlyMany string
}

func jointOf(c *hardware.Catalog, group []Requirement) JointCheck {
	k := sortOut(c, group)
	check := JointCheck{Bolt: k.bolt, Stack: k.stack}
	for _, r := range group {
		check.Requirements = append(check.Requirements, r.ID)
	}
	cannot := func(v JointVerdict, format string, args ...any) JointCheck {
		check.Verdict, check.Sentence = v, fmt.Sprintf(format, args...)
		return check
	}
	switch {
	case k.other != "":
		return cannot(JointUnknown, "cannot check: %s", k.other)
	case len(k.stack) == 0:
		return cannot(JointUnlisted, "%s: give the thickness of the parts that it goes through", k.bolt)
	case k.notEvenlyMany != "":
		return cannot(JointUnknown, "cannot check: %s", k.notEvenlyMany)
	}
	want := hardware.Joint{Series: series.FindString(k.bolt), Nut: k.nut, NutWashers: k.washers}
	if len(k.washers) > 1 {
		want.HeadWashers, want.NutWashers = k.washers[:1], k.washers[1:]
	}
	for _, l := range k.stack {
		want.Layers = append(want.Layers, hardware.Ply{Name: l.Name, Thickness: l.Thickness})
	}
	answer, err := c.ChooseBolt(want)
	if err != nil {
		return cannot(JointUnknown, "cannot check: %s", err)
	}
	check.Cautions = answer.Cautions
	check.hold(answer, len(k.washers))
	check.locked(c, k, answer)
	return check
}

// locked asks about a castle nut on a shank without a hole: what the catalog tried has one.
func (check *JointCheck) locked(c *hardware.Catalog, k called, answer hardware.BoltAnswer) {
	if len(answer.Choices) == 0 {
		return
	}
	hole, known := c.Decode(k.bolt).Field(hardware.ShankDrilled)
	wanted, _ := c.Decode(answer.Choices[0].Designation).Field(hardware.ShankDrilled)
	if known && strings.HasPrefix(hole.Text, "no") && strings.HasPrefix(wanted.Text, "yes") {
		check.Verdict = JointDoesNot
		check.Sentence = fmt.Sprintf("%s has no cotter-pin hole, and %s is locked by a pin [%s]: is a drilled shank meant?", k.bolt, k.nut, ruleSafety.source)
	}
}

// JointWith proposes what makes a joint with a requirement of a bolt: the nuts of its
// thread and the washers of its size that are in no joint, the bolt first. For what is no
// bolt there is none. It is a proposal: the plans say what belongs together.
func JointWith(c *hardware.Catalog, sub SubAssembly, id string) []string {
	at := slices.IndexFunc(sub.Requirements, func(r Requirement) bool { return r.ID == id })
	if at < 0 {
		return nil
	}
	bolt := listedPart{result: c.Decode(sub.Requirements[at].Item)}
	if bolt.result.Kind != hardware.Bolt {
		return nil
	}
	names := []string{id}
	for _, r := range sub.Requirements {
		p := listedPart{result: c.Decode(r.Item)}
		switch p.result.Kind {
		case hardware.Nut, hardware.PlateNut:
			if p.thread() == "" || p.thread() != bolt.thread() {
				continue
			}
		case hardware.Washer:
			if size := bolt.washerSize(); size == "" || !p.has(hardware.Fits, size+" bolt") {
				continue
			}
		default:
			continue
		}
		if r.Joint == "" {
			names = append(names, r.ID)
		}
	}
	return names
}

// series is the beginning of a bolt's designation that names its series: "AN3" of
// AN3H-5A, "NAS6203".
var series = regexp.MustCompile(`^(AN|NAS|MS)[0-9]+`)

// dash is the number behind it: "5" of AN3H-5A.
var dash = regexp.MustCompile(`-([0-9]+)`)

// through takes what a line says that the bolt goes through; nil says nothing.
func (k *called) through(stack []Layer) {
	switch {
	case stack == nil:
	case k.stack == nil:
		k.stack = stack
	case !slices.Equal(k.stack, stack):
		k.other = "two lines say differently what the bolt goes through"
	}
}

// sortOut finds bolt, nut, washers and stack of a joint.
func sortOut(c *hardware.Catalog, group []Requirement) called {
	var k called
	var nuts int64
	washers := map[string]int64{}
	var order []string
	for _, r := range group {
		k.through(r.Stack)
		n := r.Needed.Micro / 1_000_000
		switch piece := c.Decode(r.Item); piece.Kind {
		case hardware.Bolt:
			if k.bolt != "" && k.bolt != r.Item {
				k.other = fmt.Sprintf("two bolts are called, %s and %s", k.bolt, r.Item)
			}
			k.bolt, k.bolts = r.Item, k.bolts+n
		case hardware.Nut, hardware.PlateNut:
			if k.nut != "" && k.nut != r.Item {
				k.other = fmt.Sprintf("two nuts are called, %s and %s", k.nut, r.Item)
			}
			k.nut, nuts = r.Item, nuts+n
		case hardware.Washer:
			if washers[r.Item] == 0 {
				order = append(order, r.Item)
			}
			washers[r.Item] += n
		}
	}
	if k.bolt == "" || k.bolts <= 0 {
		k.other = "no bolt of the tables is called"
		return k
	}
	for _, item := range order {
		if washers[item]%k.bolts != 0 {
			k.notEvenlyMany = fmt.Sprintf("%d %s for %d bolts are not the same number for each", washers[item], item, k.bolts)
			return k
		}
		for range min(washers[item]/k.bolts, mostWashers+1) {
			k.washers = append(k.washers, item)
		}
	}
	if len(k.washers) > mostWashers {
		k.notEvenlyMany = fmt.Sprintf("%d washers and more at a bolt; %s: no more than %d in a stack", len(k.washers), ruleMost.source, mostWashers)
	}
	return k
}

// hold finds the called bolt among those that the catalog tried.
func (check *JointCheck) hold(answer hardware.BoltAnswer, washers int) {
	number := dash.FindString(check.Bolt)
	i := slices.IndexFunc(answer.Choices, func(b hardware.BoltChoice) bool { return dash.FindString(b.Designation) == number })
	for k, b := range answer.Choices {
		if b.Fits && k != i {
			check.Fitting = append(check.Fitting, b.Designation+", "+b.Washers())
		}
	}
	if i < 0 {
		check.Verdict = JointDoesNot
		check.Sentence = fmt.Sprintf("the grip of %s is far from a stack of %s: is that meant?", check.Bolt, answer.Thickness)
		return
	}
	b := answer.Choices[i]
	check.Findings = b.Findings
	if b.CannotTell {
		check.Verdict = JointUnknown
		check.Sentence = "cannot check: " + unknown(b.Findings)
		return
	}
	more := len(b.HeadWashers) + len(b.NutWashers) - washers
	switch {
	case b.Fits && more == 0:
		check.Verdict = JointFits
		check.Sentence = fmt.Sprintf("%s fits a stack of %s with %s", check.Bolt, answer.Thickness, b.Washers())
	case b.Fits:
		check.Verdict = JointWashers
		check.Sentence = fmt.Sprintf("%s fits a stack of %s with %s: %d more than called; is that meant?", check.Bolt, answer.Thickness, b.Washers(), more)
	default:
		check.Verdict = JointDoesNot
		check.Sentence = fmt.Sprintf("%s in a stack of %s: %s; is that meant?", check.Bolt, answer.Thickness, strings.Join(bad(b.Findings), "; "))
	}
}

// unknown is the finding that says what is not known.
func unknown(findings []hardware.Finding) string {
	for _, f := range findings {
		if strings.Contains(f.Text, ": unknown") {
			return f.Text + " [" + f.Source + "]"
		}
	}
	return "not all figures are in the tables"
}

// bad are the findings that rule a choice out, with what they rest on.
func bad(findings []hardware.Finding) []string {
	var out []string
	for _, f := range findings {
		if f.Bad {
			out = append(out, f.Text+" ["+f.Source+"]")
		}
	}
	return out
}
