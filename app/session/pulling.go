package session

import (
	"slices"
	"strings"
	"unicode"

	"stowright/store"
	"stowright/store/build"
)

// PullList is what is to be pulled for sub-assemblies, by their codes in any case, in one
// walk. An error that is NotFound names a code that there is none of.
func (s *Reader) PullList(codes ...string) (list build.PullList, err error) {
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return list, err
	}
	var exact []string
	for _, code := range codes {
		sub, err := SubAssemblyNamed(subs, code)
		if err != nil {
			return list, err
		}
		if !slices.Contains(exact, sub.Code) {
			exact = append(exact, sub.Code)
		}
	}
	var failed error // what Beside could not read
	err = s.board(func(k *kept) error {
		list, err = k.board.Pull(func(place, item string) []build.Neighbour {
			near, err := s.Beside(item, place)
			if err != nil {
				failed = err
			}
			return near
		}, exact...)
		return err
	})
	if err == nil {
		err = failed
	}
	return list, err
}

// SubAssemblyNamed is the sub-assembly with a code, in any case.
func SubAssemblyNamed(subs []store.SubAssembly, code string) (store.SubAssembly, error) {
	code = strings.TrimSpace(code)
	for _, sub := range subs {
		if strings.EqualFold(sub.Code, code) {
			return sub, nil
		}
	}
	return store.SubAssembly{}, named(store.NotFound, code, "There is no sub-assembly %q in this shop: see how its code is spelled.", code)
}

// RequirementNamed is the requirement with a name such as R-31, in any case.
func RequirementNamed(all []store.Requirement, name string) (store.Requirement, error) {
	name = strings.TrimSpace(name)
	for _, r := range all {
		if strings.EqualFold(r.Name(), name) {
			return r, nil
		}
	}
	return store.Requirement{}, named(store.NotFound, name, "There is no requirement %q in this shop: see the list of its sub-assembly.", name)
}

// Beside are the look-alikes of an item in a place itself and in the drawers beside
// it: left and right of it, above and below.
func (s *Reader) Beside(item, id string) ([]build.Neighbour, error) {
	if !s.Catalog().Decode(item).Known {
		return nil, nil
	}
	place, err := s.Shop.Place(id)
	if err != nil {
		return nil, err
	}
	places := []store.Place{place}
	if place.Row > 0 && place.Column > 0 {
		drawers, err := s.Shop.Children(place.Parent)
		if err != nil {
			return nil, err
		}
		for _, d := range drawers {
			if d.ID != id && d.Row > 0 && abs(d.Row-place.Row)+abs(d.Column-place.Column) == 1 {
				places = append(places, d)
			}
		}
	}
	var near []build.Neighbour
	for _, p := range places {
		there, err := s.alikeIn(p, item)
		if err != nil {
			return nil, err
		}
		near = append(near, there...)
	}
	return near, nil
}

// alikeIn are the things in a place that an item is easily taken for.
func (s *Reader) alikeIn(p store.Place, item string) ([]build.Neighbour, error) {
	contents, err := s.Shop.Contents(p.ID)
	if err != nil {
		return nil, err
	}
	var near []build.Neighbour
	for _, other := range itemsOf(contents) {
		if difference, alike := s.Catalog().Alike(item, other); alike && other != item {
			near = append(near, neighbour(p, item, other, difference))
		}
	}
	return near, nil
}

func neighbour(p store.Place, item, other, difference string) build.Neighbour {
	return build.Neighbour{Place: p.Name, Item: other, Short: shortNumber(item, other), Difference: shortDifference(difference)}
}

// Scanned is what a drawer that was scanned at a stop has to do with it: empty where it
// is the right one, or how it is wrong: "wrong drawer: F0332P thin; yours is one to the
// left".
func (s *Reader) Scanned(stop build.Stop, scanned store.Place) (string, error) {
	contents, err := s.Shop.Contents(scanned.ID)
	if err != nil {
		return "", err
	}
	var there []build.Neighbour
	for _, other := range itemsOf(contents) {
		difference, _ := s.Catalog().Alike(stop.Item, other)
		there = append(there, neighbour(scanned, stop.Item, other, difference))
	}
	var at build.Place
	err = s.board(func(k *kept) error {
		at = k.plan.Of.Places[scanned.ID]
		return nil
	})
	if at.ID == "" {
		at = build.Place{ID: scanned.ID, Name: scanned.Name, Room: -1}
	}
	return build.WrongDrawer(stop, at, there), err
}

// shortNumber is a number as it is said beside another one of the same document: F0332P
// for NAS1149F0332P beside NAS1149F0363P. It is empty where nothing shorter says it.
func shortNumber(beside, number string) string {
	document := documentOf(number)
	rest := strings.TrimPrefix(number, document)
	const least = 4 // what is shorter is no name by itself
	if document == "" || document != documentOf(beside) || len(rest) < least || !unicode.IsLetter(rune(rest[0])) {
		return ""
	}
	return rest
}

// documentOf is the letters and the digits that a part number begins with: NAS1149.
func documentOf(number string) string {
	letters := strings.IndexFunc(number, unicode.IsDigit)
	if letters < 1 {
		return ""
	}
	digits := strings.IndexFunc(number[letters:], func(r rune) bool { return !unicode.IsDigit(r) })
	if digits < 0 {
		return ""
	}
	return number[:letters+digits]
}

// shortDifference is how a look-alike differs in a word or two, as it stands beside a
// line: "thin" for "thinner: 0.032, not 0.063".
func shortDifference(difference string) string {
	words, _, _ := strings.Cut(difference, ":")
	words, _, _ = strings.Cut(words, ", not ")
	switch words {
	case "thinner":
		return "thin"
	case "thicker":
		return "thick"
	}
	return words
}

// Doubts are the questions about the list of a sub-assembly.
func (s *Reader) Doubts(code string) (doubts []build.Doubt, err error) {
	err = s.listed(code, func(sub build.SubAssembly) { doubts = build.Doubts(s.Catalog(), sub) })
	return doubts, err
}

// Joints hold the joints of a sub-assembly against the tables of grips.
func (s *Reader) Joints(code string) (checks []build.JointCheck, err error) {
	err = s.listed(code, func(sub build.SubAssembly) { checks = build.Joints(s.Catalog(), sub) })
	return checks, err
}

// JointWith proposes which requirements make a joint with that of a bolt; see
// [build.JointWith].
func (s *Reader) JointWith(code, requirement string) (names []string, err error) {
	err = s.listed(code, func(sub build.SubAssembly) { names = build.JointWith(s.Catalog(), sub, requirement) })
	return names, err
}

// listed calls do with a sub-assembly as the rules of building see it, where there is one
// of that code.
func (s *Reader) listed(code string, do func(sub build.SubAssembly)) error {
	return s.board(func(k *kept) error {
		for _, sub := range k.plan.Of.SubAssemblies {
			if sub.Code == code {
				do(sub)
			}
		}
		return nil
	})
}

// CalledBy says why what a stop holds is taken for what the plans call: "Osterhollow cover
// letter, 10 March 2026". It is empty where the plans call it by its own number.
func CalledBy(s build.Stop) string {
	var words []string
	for _, row := range s.Via {
		source := row.Source
		if !row.Date.IsZero() {
			source += ", " + row.Date.String()
		}
		words = append(words, source)
	}
	if s.Decision != "" {
		words = append(words, s.Decision)
	}
	return strings.Join(words, "; ")
}
