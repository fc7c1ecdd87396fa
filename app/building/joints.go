package building

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store/build"
)

// ofBolt are the joints whose bolt is called by one of some lines.
func (l benchLine) ofBolt(joints []build.JointCheck) []build.JointCheck {
	return slices.DeleteFunc(jointsAt(joints, l.requirements), func(j build.JointCheck) bool { return j.Bolt != l.item })
}

// jointsAt are the joints that some lines of a list are in.
func jointsAt(joints []build.JointCheck, lines []string) []build.JointCheck {
	var at []build.JointCheck
	for _, j := range joints {
		if slices.ContainsFunc(j.Requirements, func(id string) bool { return slices.Contains(lines, id) }) {
			at = append(at, j)
		}
	}
	return at
}

// jointTone is how far the tables bear a joint out.
func jointTone(v build.JointVerdict) notice.Tone {
	switch v {
	case build.JointFits:
		return notice.OK
	case build.JointDoesNot:
		return notice.Stop
	case build.JointWashers:
		return notice.Warn
	}
	return notice.Quiet
}

// inJoints says of a bolt which joints it is in, and how they stand: "joint hinge: fits".
func inJoints(joints []build.JointCheck) string {
	switch len(joints) {
	case 0:
		return ""
	case 1:
		return fmt.Sprintf("joint %s: %s", joints[0].Joint, joints[0].Verdict)
	}
	count := map[build.JointVerdict]int{}
	var words []string
	for _, j := range joints {
		count[j.Verdict]++
	}
	for _, v := range []struct {
		verdict build.JointVerdict
		words   string
	}{
		{build.JointDoesNot, "not fitting"},
		{build.JointWashers, "with other washers"},
		{build.JointFits, "fitting"},
		{build.JointUnknown, "not to be checked"},
		{build.JointUnlisted, "without a stack"},
	} {
		if n := count[v.verdict]; n > 0 {
			words = append(words, fmt.Sprintf("%d %s", n, v.words))
		}
	}
	return fmt.Sprintf("%d joints: %s", len(joints), strings.Join(words, ", "))
}

// mostDoubted is how many joints in doubt a page names.
const mostDoubted = 3

// doubted names the joints that are to be asked about before anything is drilled: "joint
// hinge, AN3-5A, does not fit"; it is empty for none.
func doubted(joints []build.JointCheck) string {
	var words []string
	more := 0
	for _, j := range joints {
		switch {
		case j.Verdict != build.JointDoesNot && j.Verdict != build.JointWashers:
		case len(words) == mostDoubted:
			more++
		default:
			words = append(words, fmt.Sprintf("joint %s, %s, %s", j.Joint, j.Bolt, j.Verdict))
		}
	}
	if more > 0 {
		words = append(words, fmt.Sprintf("and %d more", more))
	}
	return wording.Sentence(strings.Join(words, "; "))
}

// jointNotices are joints on a card: the verdict of each, and what it rests on.
func jointNotices(joints []build.JointCheck) (verdicts []notice.Notice, rests []string) {
	for _, j := range joints {
		verdicts = append(verdicts, notice.Notice{Tone: jointTone(j.Verdict), Lead: "Joint " + j.Joint + ":", Text: wording.Sentence(j.Sentence)})
		if j.Verdict == build.JointDoesNot {
			continue // its sentence says what it rests on
		}
		for _, f := range j.Findings {
			rests = append(rests, fmt.Sprintf("%s [%s]", f.Text, f.Source))
		}
	}
	if len(joints) > 0 {
		rests = append(rests, "The plans govern: this helps to check them.")
	}
	return verdicts, rests
}

// jointAct says what the bolt of a line goes through.
func jointAct() act {
	return act{"joint", "Joint", "J", false, jointQuestion, jointOperation}
}

// jointQuestion asks what the bolt of a line goes through.
func jointQuestion(m *BenchModel, l benchLine) ask {
	q := ask{Title: "What does the bolt go through, from the head to the nut?", Yes: "Check it", Hint: "Each part with its thickness, washers left out: spar .125, plate .063."}
	if at := jointsAt(m.data.joints, l.requirements); len(at) > 0 {
		var stack []string
		for _, layer := range at[0].Stack {
			stack = append(stack, strings.TrimSpace(layer.Name+" "+layer.Thickness.Printed()))
		}
		q.Text = strings.Join(stack, ", ")
		q.Hint += fmt.Sprintf(" Joint %s is %s; no joint: none.", at[0].Joint, listed(at[0].Requirements))
		return q
	}
	if names := m.proposed(l); len(names) > 0 {
		q.Hint += fmt.Sprintf(" The joint is then %s; others are named first: %s through spar .125, plate .063.", listed(names), strings.Join(names[:1], " "))
	}
	return q
}

// proposed are the lines of the list that may be one joint with a bolt's.
func (m *BenchModel) proposed(l benchLine) []string {
	if len(l.requirements) == 0 {
		return nil
	}
	return m.data.with[l.requirements[0]]
}

// aRequirement is the number of a line of a list.
var aRequirement = regexp.MustCompile(`(?i)\bR-?[0-9]+\b`)

// jointOperation puts a joint together: what is typed is what the bolt goes through,
// before which the lines may be named that are the joint.
func jointOperation(m *BenchModel, l benchLine, text, _ string) (operation.Operation, error) {
	o := operation.PutJoint{For: m.code, Stack: strings.TrimSpace(text)}
	if at := jointsAt(m.data.joints, l.requirements); len(at) > 0 {
		o.Name = at[0].Joint
		if strings.EqualFold(o.Stack, operation.None) {
			return operation.PutJoint{For: m.code, Name: o.Name, None: true}, nil
		}
	} else if o.Of = m.proposed(l); len(o.Of) > 0 {
		o.Name = o.Of[0]
	}
	if lines, stack, named := strings.Cut(text, " through "); named {
		o.Of, o.Stack = aRequirement.FindAllString(strings.ToUpper(lines), -1), strings.TrimSpace(stack)
		if len(o.Of) == 0 {
			return nil, refused("name the lines of the list before through, as in R-31 R-32 through spar .125")
		}
		if o.Name == "" {
			o.Name = o.Of[0]
		}
	}
	switch {
	case o.Name == "":
		return nil, refused("%s is no bolt of the tables: choose the line of the bolt, or name the lines: R-31 R-32 through spar .125", l.item)
	case o.Stack == "":
		return nil, refused("type what the bolt goes through, as in spar .125, plate .063")
	}
	return o, nil
}

// proposals are the lines that may make a joint with each bolt that is in none.
func proposals(r *session.Reader, d benchData) (map[string][]string, error) {
	with := map[string][]string{}
	for _, l := range d.lines {
		for _, id := range l.requirements {
			names, err := r.JointWith(d.sub.Code, id)
			if err != nil {
				return nil, err
			}
			if len(names) > 0 {
				with[id] = names
			}
		}
	}
	return with, nil
}
