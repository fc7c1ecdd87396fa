package operation

import (
	"context"
	"fmt"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/packinglist"
)

// ReviseNeeds brings a revised list or a bulletin in, as a dated set of changes of what is
// listed. A list whose rows say what they do (adds, drops, replaces) changes those lines
// alone; any other is the whole list of each sub-assembly that it names, and what it
// leaves out is dropped. Nothing that is fitted is altered by it, and a line of which only
// the revision letter differs stays as it is.
type ReviseNeeds struct {
	List  NeedList
	Title string // what changes the plans: "Bulletin 4"
	Paper string // where it is kept, or what it came with; "" is not said
	On    string // its day; "": today
}

// Revision is what a revised list comes to, before it is applied.
type Revision struct {
	NeedListRead
	Bulletin bool // its rows say what they do
	Steps    []RevisionStep
	Same     int // lines that stay as they are
	edit     store.PlanEdit
}

// RevisionStep is one line that is added, dropped or replaced.
type RevisionStep struct {
	Row int // of the list; 0 of what it leaves out
	store.PlanStep
	Was, Now string // how many, and where: "20 ea, figure 3"; empty for none
	// JointWas and JointNow are the joint that the line is in, with what its bolt goes through,
	// "hinge: spar 0.188"; empty for none.
	JointWas, JointNow string
}

// InJoint says which joint a step changes, and how it stood before where that was otherwise:
// "joint hinge: spar 0.125; was spar 0.188". It is empty for a line of no joint. A list that
// names no joint leaves a line in the one that it is in.
func (s RevisionStep) InJoint() string {
	was, now := s.JointWas, s.JointNow
	switch {
	case s.Does == "drops" && was != "":
		return "was in joint " + was
	case now == "":
		return ""
	case s.Does == "adds" || was == now:
		return "joint " + now
	case was == "":
		return "joint " + now + "; was in none"
	}
	name, _, _ := strings.Cut(now, ":")
	return "joint " + now + "; was " + strings.TrimPrefix(was, name+": ")
}

// jointOf is the joint that a line is in, with what its bolt goes through where the line says it.
func jointOf(r store.Requirement) string {
	if through := r.Through(); through != "" {
		return r.Joint + ": " + through
	}
	return r.Joint
}

// Stays says what of a step is fitted already and stays so; it is empty for nothing.
func (s RevisionStep) Stays() string {
	if s.Fitted.Sign() <= 0 {
		return ""
	}
	return fmt.Sprintf("%s %s fitted already, and it stays so", s.Fitted, s.Old)
}

// Do applies the changes as one entry, or none of them.
func (o ReviseNeeds) Do(ctx context.Context, s *session.Session) (Result, error) {
	title := strings.TrimSpace(o.Title)
	if title == "" {
		return Result{}, invalid("Say which paper changes the plans, as in Bulletin 4.")
	}
	on, err := day(s, o.On, s.Shop.Today())
	if err != nil {
		return Result{}, err
	}
	r, err := o.Read(s)
	switch {
	case err != nil:
		return Result{}, err
	case len(r.Problems) > 0:
		return Result{}, &r.Problems[0]
	case len(r.Steps) == 0:
		return Result{}, invalid("%s changes nothing: all %d lines stand as they are.", title, r.Same)
	}
	return ChangePlans{Change: store.PlanChange{Title: title, Paper: o.Paper, Day: on}, Edit: r.edit}.Do(ctx, s)
}

// Read works out what the list changes, without changing anything.
func (o ReviseNeeds) Read(s *session.Session) (Revision, error) {
	rows, source, err := o.List.rows()
	if err != nil {
		return Revision{}, err
	}
	return session.Answer(s, func(r *session.Reader) (Revision, error) {
		reader, err := newNeedReader(r)
		if err != nil {
			return Revision{}, err
		}
		reader.revising = true
		rev := &reviser{needReader: reader, taken: map[string]bool{}}
		rev.Source, rev.edit.Replace = source, map[string]store.Requirement{}
		for _, row := range rows {
			rev.Bulletin = rev.Bulletin || row.Text(packinglist.NeedChange) != ""
		}
		rev.understand(rows)
		rev.named()
		rev.pair()
		rev.settle()
		if len(rev.Problems) > 0 {
			return rev.Revision, nil
		}
		return rev.Revision, rev.preview()
	})
}

// reviser holds the rows of a list against what is listed.
type reviser struct {
	*needReader
	Revision
	asked []askedRow
	taken map[string]bool // names of the lines that a row is about
}

// askedRow is a row with the line that it is about; was is nil for none.
type askedRow struct {
	row  packinglist.NeedRow
	code string
	need store.Requirement
	does change
	was  *store.Requirement
}

// change is what a row of a bulletin says that it does.
type change int

const (
	whole change = iota // it stands on a whole list
	adds
	drops
	replaces
)

// changeWords are how bulletins say it.
var changeWords = map[string]change{
	"": whole, "add": adds, "adds": adds, "added": adds, "new": adds, "drop": drops, "drops": drops, "dropped": drops, "delete": drops, "deleted": drops,
	"remove": drops, "removed": drops, "replace": replaces, "replaces": replaces, "replaced": replaces, "change": replaces, "changed": replaces, "same": whole,
}

// understand reads the rows by themselves.
func (v *reviser) understand(rows []packinglist.NeedRow) {
	for i, row := range rows {
		code := v.code(row)
		sub, known := v.subs[code]
		switch {
		case code != "" && !known:
			v.refuse(row, packinglist.NeedSubAssembly, "there is no sub-assembly %q in this shop, so nothing of it is revised: bring its list in first", code)
			continue
		case known && sub.Closed != nil:
			v.refuse(row, packinglist.NeedSubAssembly, "%s is closed: reopen it before its list is changed", code)
			continue
		case !fills(row):
			v.list(&v.NeedListRead, row)
			continue
		}
		does, said := changeWords[strings.ToLower(row.Text(packinglist.NeedChange))]
		if !said || v.Bulletin && does == whole {
			v.refuse(row, packinglist.NeedChange, "%q does not say what the row does: write adds, drops or replaces", row.Text(packinglist.NeedChange))
			continue
		}
		if does == drops {
			v.drop(row, code)
			continue
		}
		before := len(v.Problems)
		v.row(&v.NeedListRead, rows[:i], row)
		if len(v.Problems) > before {
			continue
		}
		list := v.list(&v.NeedListRead, row)
		need := list.Requirements[len(list.Requirements)-1]
		need.SubAssembly = code
		v.asked = append(v.asked, askedRow{row: row, code: code, need: need, does: does})
	}
}

// drop takes a row that drops a line: its number is enough, where only one line has it.
func (v *reviser) drop(row packinglist.NeedRow, code string) {
	called := v.shop.Canonical(row.Text(packinglist.NeedNumber))
	v.list(&v.NeedListRead, row)
	a := askedRow{row: row, code: code, does: drops, need: store.Requirement{SubAssembly: code, Called: called}}
	if name := row.Text(packinglist.NeedReplaces); name != "" {
		a.need.Called = v.shop.Canonical(name)
	}
	v.Lines = append(v.Lines, NeedLine{Row: row.Row, SubAssembly: code, Called: called})
	v.asked = append(v.asked, a)
}

func (v *reviser) refuse(row packinglist.NeedRow, f packinglist.NeedField, format string, args ...any) {
	p := row.Problem(f, format, args...)
	v.Problems = append(v.Problems, *p)
	v.Lines = append(v.Lines, NeedLine{Row: row.Row, SubAssembly: v.code(row), Called: row.Text(packinglist.NeedNumber), Problem: p.Message})
}

// preview asks the shop what the changes come to, with what is fitted already.
func (v *reviser) preview() error {
	steps, err := v.shop.Shop.PreviewPlans(v.edit)
	if err != nil {
		return err
	}
	rows := map[string]askedRow{}
	added := 0
	for _, a := range v.asked {
		if a.was != nil {
			rows[a.was.Name()] = a
		}
	}
	for _, step := range steps {
		out := RevisionStep{PlanStep: step}
		a, about := rows[step.Requirement]
		if step.Requirement == "" {
			a = v.additions()[added]
			added++
			about = true
		}
		if about {
			out.Row = a.row.Row
		}
		if old := v.line(step.Requirement); old != nil {
			out.Was, out.JointWas = needWords(*old), jointOf(*old)
		}
		if step.Does != "drops" {
			out.Now, out.JointNow = needWords(a.need), jointOf(a.need)
		}
		v.Steps = append(v.Steps, out)
	}
	return nil
}

// additions are the rows that add a line, in the order of the list.
func (v *reviser) additions() []askedRow {
	var all []askedRow
	for _, a := range v.asked {
		if a.was == nil && a.does != drops {
			all = append(all, a)
		}
	}
	return all
}

// needWords are how many are called, and where.
func needWords(r store.Requirement) string {
	words := []string{quantityWords(r)}
	for _, where := range []string{r.Callout.String(), r.Position} {
		if where != "" {
			words = append(words, where)
		}
	}
	return strings.Join(words, ", ")
}
