package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store/build"
)

// jointCommand holds the joints of a sub-assembly against the tables of grips, or says
// what makes one.
type jointCommand struct {
	Code  string   `arg:"" help:"The sub-assembly, by its code."`
	Name  string   `arg:"" optional:"" help:"The joint, by its name; a new name makes one."`
	Of    []string `help:"The lines of its list that are the joint: bolt, nut and washers." placeholder:"R-31,R-32"`
	Stack string   `help:"What the bolt goes through, from the head to the nut, washers not counted." placeholder:"'spar .125, plate .063'" xor:"do"`
	None  bool     `help:"It is a joint no more." xor:"do"`
}

// jointJSON is a joint in the JSON answer.
type jointJSON struct {
	Joint        string             `json:"joint"`
	Requirements []string           `json:"requirements"`
	Stack        []layerJSON        `json:"stack"`
	Bolt         string             `json:"bolt"`
	Verdict      build.JointVerdict `json:"verdict"`
	Sentence     string             `json:"sentence"`
	Findings     []citedJSON        `json:"findings"`
	Fitting      []string           `json:"fitting"`
	Cautions     []citedJSON        `json:"cautions"`
}

type layerJSON struct {
	Name      string `json:"name,omitempty"`
	Thickness string `json:"thickness"`
}

type jointAnswer struct {
	SubAssembly string      `json:"sub_assembly"`
	Joints      []jointJSON `json:"joints"`
	checks      []build.JointCheck
}

// Run says what makes the joint, or shows what the tables say of the joints. The answer is
// no where a bolt does not fit.
func (c *jointCommand) Run(p *program) error {
	if len(c.Of) > 0 || c.Stack != "" || c.None {
		return p.do(operation.PutJoint{For: c.Code, Name: c.Name, Of: c.Of, Stack: c.Stack, None: c.None})
	}
	return p.withSession(func(s *session.Session) error {
		answer, err := session.Answer(s, func(r *session.Reader) (a jointAnswer, err error) {
			subs, err := r.Shop.SubAssemblies()
			if err != nil {
				return a, err
			}
			sub, err := session.SubAssemblyNamed(subs, c.Code)
			if err != nil {
				return a, err
			}
			a.SubAssembly = sub.Code
			a.checks, err = r.Joints(sub.Code)
			if c.Name != "" {
				a.checks = slices.DeleteFunc(a.checks, func(x build.JointCheck) bool { return !strings.EqualFold(c.Name, x.Joint) })
			}
			a.Joints = jointsOf(a.checks)
			return a, err
		})
		if err != nil {
			return err
		}
		if c.Name != "" && len(answer.Joints) == 0 {
			return &noError{fmt.Sprintf("There is no joint %q in %s.", c.Name, answer.SubAssembly), c.Name}
		}
		if err := p.emit(answer, answer.print); err != nil {
			return err
		}
		for _, j := range answer.Joints {
			if j.Verdict == build.JointDoesNot {
				return &noError{wording.Sentence(answer.SubAssembly + ", " + j.Joint + ": " + j.Sentence), j.Joint}
			}
		}
		return nil
	})
}

func jointsOf(checks []build.JointCheck) []jointJSON {
	joints := []jointJSON{}
	for _, x := range checks {
		j := jointJSON{
			Joint: x.Joint, Requirements: x.Requirements, Stack: []layerJSON{}, Bolt: x.Bolt, Verdict: x.Verdict, Sentence: x.Sentence,
			Findings: cited(x.Findings), Fitting: append([]string{}, x.Fitting...), Cautions: cited(x.Cautions),
		}
		for _, l := range x.Stack {
			j.Stack = append(j.Stack, layerJSON{l.Name, l.Thickness.String()})
		}
		joints = append(joints, j)
	}
	return joints
}

func (a jointAnswer) print(w io.Writer) error {
	var b strings.Builder
	if len(a.Joints) == 0 {
		fmt.Fprintf(&b, "No line of %s is in a joint: stowright joint %s NAME --of R-31,R-32 --stack '.125, .063' makes one.\n", a.SubAssembly, a.SubAssembly)
	}
	for _, x := range a.checks {
		fmt.Fprintf(&b, "%s\n", jointWords(x))
		sentences(&b, "    ", x.Findings)
		for _, other := range x.Fitting {
			fmt.Fprintf(&b, "    the tables have %s\n", other)
		}
		sentences(&b, "    careful: ", x.Cautions)
	}
	if len(a.checks) > 0 {
		b.WriteString(caution + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// jointWords are a joint with its lines, and what the tables say of it.
func jointWords(x build.JointCheck) string {
	return fmt.Sprintf("joint %s (%s): %s", x.Joint, strings.Join(x.Requirements, ", "), x.Sentence)
}
