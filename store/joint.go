package store

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/phrase"
)

// mostLayers is how many parts a bolt may go through.
const mostLayers = 20

// PutJoint says which requirements of a sub-assembly are one joint, and what its bolt goes
// through, from the head to the nut: without names the joint is none any more, and those
// that were in it are left out of it. What the plans call stays as it is. It fails as
// Invalid where names and stack do not go together, and as Conflict where one of them is
// in another joint.
func (s *Shop) PutJoint(code, joint string, names []string, stack []Layer) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		sub, err := w.openSubAssembly(code)
		if err != nil {
			return "", err
		}
		if joint, err = cleanName("The name of the joint", joint); err != nil {
			return "", err
		}
		switch {
		case len(names) == 0 && len(stack) > 0:
			return "", fail(Invalid, joint, "The joint %s has parts to go through, and no line: name its bolt, as in R-31.", phrase.Quote(joint))
		case len(stack) > mostLayers:
			return "", fail(Invalid, joint, "The joint %s goes through more than %d parts: type those of one bolt.", phrase.Quote(joint), mostLayers)
		case len(names) > 0 && len(stack) == 0:
			return "", fail(Invalid, joint, "The joint %s goes through nothing: type how thick each part is.", phrase.Quote(joint))
		}
		left, err := w.leaveJoint(sub, joint)
		if err != nil {
			return "", err
		}
		if len(names) == 0 {
			if left == 0 {
				return "", fail(NotFound, joint, "There is no joint %s in %s: see which ones there are.", phrase.Quote(joint), sub.Code)
			}
			return fmt.Sprintf("%s: the joint %s is none any more", sub.Code, joint), nil
		}
		joined, err := w.join(sub, joint, names, stack)
		if err != nil {
			return "", err
		}
		return fmt.Sprintf("%s: %s are the joint %s, through %s", sub.Code, phrase.List(joined), joint, stackWords(stack)), nil
	})
}

// leaveJoint takes all requirements out of a joint, and says how many there were.
func (w *writer) leaveJoint(sub SubAssembly, joint string) (left int, err error) {
	listed, err := requirementsOf(w.ledger.tx, sub.Code)
	if err != nil {
		return 0, err
	}
	for _, r := range listed {
		if !strings.EqualFold(r.Joint, joint) || !r.InForce() {
			continue
		}
		left++
		r.Joint, r.Stack = "", nil
		if err := w.put(tableRequirements, r.key(), r); err != nil {
			return left, err
		}
	}
	return left, nil
}

// join puts requirements into a joint, and returns their names.
func (w *writer) join(sub SubAssembly, joint string, names []string, stack []Layer) ([]string, error) {
	var joined []string
	for i, name := range names {
		r, of, err := w.standing(name)
		switch {
		case err != nil:
			return nil, err
		case of.Code != sub.Code:
			return nil, fail(Invalid, r.Name(), "%s is of %s: a joint is of one sub-assembly.", r.Name(), of.Code)
		case slices.Contains(joined, r.Name()):
			return nil, fail(Invalid, r.Name(), "%s is named twice: name it once.", r.Name())
		case r.Joint != "":
			return nil, fail(Conflict, r.Name(), "%s is in the joint %s already: take it out of that one first.", r.Name(), r.Joint)
		}
		r.Joint, r.Stack = joint, nil
		if i == 0 {
			r.Stack = stack
		}
		if err := r.clean(); err != nil {
			return nil, err
		}
		if err := w.put(tableRequirements, r.key(), r); err != nil {
			return nil, err
		}
		joined = append(joined, r.Name())
	}
	return joined, nil
}

func stackWords(stack []Layer) string {
	var words []string
	for _, l := range stack {
		words = append(words, strings.TrimSpace(l.Name+" "+l.Thickness.String()))
	}
	return phrase.List(words)
}
