package operation

import (
	"context"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// Found puts back what was lost.
type Found struct {
	Name    string        // under which it is looked for: "X-5"; or the part number, where it is lost once
	From    string        // code of the sub-assembly, where it is told by its part number; "": any
	Amount  string        // "": all of it
	To      string        // place; "": where its like was pulled from
	Meeting store.Meeting // where another lot of the item lies
}

// Do puts back.
func (o Found) Do(_ context.Context, s *session.Session) (Result, error) {
	lost, err := o.lookedFor(s)
	if err != nil {
		return Result{}, err
	}
	var q measure.Quantity
	if strings.TrimSpace(o.Amount) != "" {
		if q, err = s.ParseAmount(o.Amount, lost.Amount.Unit); err != nil {
			return Result{}, err
		}
	}
	to, err := home(s, o.To, store.StockKey{Item: lost.Item, Lot: lost.Lot, Place: lost.Place})
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Found(lost.Name(), q, to.ID, o.Meeting))
}

func (o Found) lookedFor(s *session.Session) (store.Scrapped, error) {
	code := ""
	if o.From != "" {
		sub, err := subAssembly(s, o.From)
		if err != nil {
			return store.Scrapped{}, err
		}
		code = sub.Code
	}
	all, err := s.Shop.LookedFor(code)
	if err != nil {
		return store.Scrapped{}, err
	}
	name, item := strings.TrimSpace(o.Name), spelled(s, o.Name)
	var lost []store.Scrapped
	for _, l := range all {
		if strings.EqualFold(l.Name(), name) || l.Item == item {
			lost = append(lost, l)
		}
	}
	switch len(lost) {
	case 0:
		return store.Scrapped{}, missing(name, "Nothing is looked for under %s: see what is.", name)
	case 1:
		return lost[0], nil
	}
	return store.Scrapped{}, invalid("%s is looked for in several places: say which, as %s.", name, lost[0].Name())
}

// Close closes a sub-assembly. It is refused while something is open that has no answer.
type Close struct {
	For string // code of the sub-assembly
	// Answers are reasons for what stays open, by [build.Open.Key]; Unnoted is one for
	// everything that nobody noted: photographs, torque, a second pair of eyes.
	Answers map[string]string
	Unnoted string
}

// Do closes.
func (o Close) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return Result{}, err
	}
	answers := maps.Clone(o.Answers)
	if o.Unnoted != "" {
		open, _, err := s.Shop.Closing(sub.Code, o.Answers)
		if err != nil {
			return Result{}, err
		}
		if answers == nil {
			answers = map[string]string{}
		}
		for _, x := range open {
			if x.Answer == "" && x.Unnoted() {
				answers[x.Key] = o.Unnoted
			}
		}
	}
	return did(s.Shop.CloseSubAssembly(sub.Code, answers))
}

// Reopen has a closed sub-assembly be worked on again.
type Reopen struct {
	For    string // code of the sub-assembly
	Reason string // is kept with the entry
}

// Do reopens.
func (o Reopen) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.ReopenSubAssembly(sub.Code, o.Reason))
}

// Decide records what somebody allowed.
type Decide struct {
	Decision store.Decision
	// For and Called name the requirement where Decision does not: the sub-assembly by its
	// code, and the number that it calls.
	For, Called string
	// Document is a paper that says so: one of the shop, as PA-3, or the path of a file, which
	// becomes one, a letter; "" for none.
	Document string
}

// Do records it.
func (o Decide) Do(_ context.Context, s *session.Session) (Result, error) {
	d := o.Decision
	if d.Item != "" {
		d.Item = spelled(s, d.Item)
	}
	d.Extra = slices.Clone(d.Extra)
	for i := range d.Extra {
		if d.Extra[i].Called != "" {
			d.Extra[i].Called = spelled(s, d.Extra[i].Called)
		}
	}
	var err error
	if o.For != "" {
		name, err := requirementCalled(s, o.For, o.Called)
		if err != nil {
			return Result{}, err
		}
		d.Requirements = append(d.Requirements, name)
	}
	if d.Lots, err = lotNames(s, d.Lots); err != nil {
		return Result{}, err
	}
	letter, data, err := o.letter(&d)
	if err != nil {
		return Result{}, err
	}
	var e store.Entry
	err = s.Shop.Together(func(group *store.Shop) error {
		if letter != nil {
			p, _, err := group.AddPaperFile(*letter, filepath.Base(strings.TrimSpace(o.Document)), data)
			if err != nil {
				return err
			}
			d.Papers = append(d.Papers, p.Name())
		}
		_, e, err = group.Decide(d)
		return err
	})
	return did(e, err)
}

// lotNames are the lots that texts name, as the keys of heaps have them: a decision on any
// other text would hold for nothing.
func lotNames(s *session.Session, texts []string) ([]string, error) {
	var names []string
	for _, text := range texts {
		lot, err := LotNamed(s, text, "")
		if store.KindOf(err) == store.NotFound && olderLot(s, text) {
			lot, err = store.Lot{Printed: text}, nil
		}
		if err != nil {
			return nil, err
		}
		names = append(names, lot.StockLot())
	}
	return names, nil
}

// olderLot reports whether a heap of an older shop lies under what is printed on it.
func olderLot(s *session.Session, printed string) bool {
	keys, err := s.Shop.StockKeys()
	return err == nil && slices.ContainsFunc(keys, func(k store.StockKey) bool { return k.Lot == printed && printed != "" })
}

// letter is the paper that the document becomes, with its file; nil where it is one of the
// shop, which then is named by the decision, or there is none.
func (o Decide) letter(d *store.Decision) (*store.Paper, []byte, error) {
	document := strings.TrimSpace(o.Document)
	d.Papers = slices.Clone(d.Papers)
	switch {
	case document == "":
		return nil, nil, nil
	case IsPaperName(document):
		d.Papers = append(d.Papers, document)
		return nil, nil, nil
	}
	data, err := readPaper(document)
	if err != nil {
		return nil, nil, err
	}
	return &store.Paper{Kind: store.LetterPaper, Title: d.Paper, Issuer: d.Who}, data, nil
}

// IsPaperName reports whether a text is the name of a paper, such as PA-3, and no path.
func IsPaperName(text string) bool {
	_, ok := store.PaperNumber(text)
	return ok && strings.HasPrefix(strings.ToUpper(strings.TrimSpace(text)), "PA-")
}

// MarkSingleUse says of an item that it is used once: what came out of an aircraft is
// scrapped, or says so no more.
type MarkSingleUse struct {
	Item string
	Not  bool
}

// Do marks it.
func (o MarkSingleUse) Do(_ context.Context, s *session.Session) (Result, error) {
	item, err := s.Shop.Item(spelled(s, o.Item))
	if err != nil {
		return Result{}, err
	}
	if source, once := hardware.SingleUse(item.Designation); once && o.Not {
		return Result{}, invalid("%s is used once by %s, whatever is marked here: nothing is changed.", item.Designation, source)
	}
	if item.SingleUse == !o.Not {
		return Result{}, invalid("%s is marked so already.", item.Designation)
	}
	item.SingleUse = !o.Not
	return did(s.Shop.PutItem(item))
}
