package operation

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
	"stowright/store/packinglist"
)

// NeedList brings a list of requirements in: a file, or text that was pasted or typed.
type NeedList struct {
	Path string
	Text string // in place of a file: lines as a spreadsheet copies them, or typed ones
	// For is the code of the sub-assembly that rows without one are for; Name is its name.
	For, Name string
}

// NeedListRead is a list as it was understood, before anything is brought in.
type NeedListRead struct {
	Source   string // the file's name, for the journal
	Lines    []NeedLine
	Lists    []store.Needs // by sub-assembly, in the order of the list
	Problems []packinglist.Problem
	Doubts   []NeedDoubt // questions about the lists, never corrections
	Listed   bool        // some of it is listed already: it may be a revised list
}

// NeedLine is a row as it was understood.
type NeedLine struct {
	Row         int
	SubAssembly string
	Called      string
	Item        string // what it is kept under here
	Via         string // by which source that is; "" where it is the same
	Quantity    string // "20 ea, 10 x 2 sides", "as required"
	Title       string // in plain words
	Doubt       string // what the tables say against the number
	Problem     string // why the row cannot be brought in
	Place       string // callout and position
	Joint       string // the joint that it is in; "" for none
	Through     string // what the bolt of that goes through, where the row says it
}

// NeedDoubt is a question about what a sub-assembly asks for.
type NeedDoubt struct {
	SubAssembly string
	build.Doubt
}

// Do brings the whole list in as one entry, or nothing of it: then the error says in one
// sentence what is wrong first, with row and column.
func (o NeedList) Do(ctx context.Context, s *session.Session) (Result, error) {
	read, err := o.Read(s)
	if err != nil {
		return Result{}, err
	}
	if len(read.Problems) > 0 {
		return Result{}, &read.Problems[0]
	}
	return PutNeeds{Source: read.Source, Lists: read.Lists}.Do(ctx, s)
}

// Read understands the list without bringing anything in.
func (o NeedList) Read(s *session.Session) (NeedListRead, error) {
	rows, source, err := o.rows()
	if err != nil {
		return NeedListRead{}, err
	}
	return session.Answer(s, func(r *session.Reader) (NeedListRead, error) {
		reader, err := newNeedReader(r)
		if err != nil {
			return NeedListRead{}, err
		}
		read := NeedListRead{Source: source}
		for i, row := range rows {
			reader.row(&read, rows[:i], row)
		}
		reader.circles(&read, rows)
		for i, l := range read.Lists {
			read.Doubts = append(read.Doubts, reader.doubts(l.SubAssembly.Code, append(slices.Clone(reader.listed[l.SubAssembly.Code]), read.Lists[i].Requirements...))...)
		}
		return read, nil
	})
}

// rows are the rows of the list, with what it leaves out, and its name for the journal.
func (o NeedList) rows() (rows []packinglist.NeedRow, source string, err error) {
	book, typed, err := o.open()
	if err != nil {
		return nil, "", err
	}
	rows, problem := book.Needs()
	if problem != nil {
		return nil, "", problem
	}
	for i := range rows {
		if typed {
			rows[i] = rows[i].Typed()
		}
		if rows[i].Text(packinglist.NeedSubAssembly) == "" {
			rows[i].Set(packinglist.NeedSubAssembly, strings.TrimSpace(o.For))
			rows[i].Set(packinglist.NeedName, o.Name)
		}
	}
	return rows, book.File, nil
}

// open opens the file, or makes a table of the text; typed reports whether its lines are
// typed ones.
func (o NeedList) open() (book *packinglist.Book, typed bool, err error) {
	if o.Path != "" {
		book, err = packinglist.OpenFile(context.Background(), o.Path)
		return book, false, err
	}
	const name = "typed list"
	first, _, _ := strings.Cut(strings.TrimSpace(o.Text), "\n")
	if strings.ContainsAny(first, "\t,;") { // as a spreadsheet copies it
		if book, err := packinglist.Open(name, []byte(o.Text)); err == nil {
			if _, problem := book.Needs(); problem == nil {
				return book, false, nil
			}
		}
	}
	book, err = packinglist.Open(name, []byte(typedTable(o.Text)))
	return book, true, err
}

// typedTable is typed lines as a table: the first word is the number, the rest up to a
// comma the quantity, and what follows it where the plans call it.
func typedTable(text string) string {
	var b strings.Builder
	b.WriteString("number\tquantity\tcallout\n")
	for line := range strings.Lines(text) {
		number, rest := strings.TrimSpace(line), ""
		if i := strings.IndexAny(number, " \t,;"); i >= 0 {
			number, rest = number[:i], strings.TrimSpace(number[i+1:])
		}
		quantity, callout, _ := strings.Cut(rest, ",")
		fmt.Fprintf(&b, "%s\t%s\t%s\n", number, strings.TrimSpace(quantity), strings.TrimSpace(callout))
	}
	return b.String()
}

// needReader holds rows against what the shop knows.
type needReader struct {
	shop        *session.Reader
	subs        map[string]store.SubAssembly
	listed      map[string][]store.Requirement
	equivalents []build.Equivalent
	revising    bool // what is listed already is what the list changes
}

func newNeedReader(r *session.Reader) (*needReader, error) {
	n := &needReader{shop: r, subs: map[string]store.SubAssembly{}, listed: map[string][]store.Requirement{}}
	subs, err := r.Shop.SubAssemblies()
	if err != nil {
		return nil, err
	}
	for _, sub := range subs {
		n.subs[sub.Code] = sub
	}
	all, err := r.Shop.Requirements("")
	if err != nil {
		return nil, err
	}
	for _, q := range all {
		if q.InForce() {
			n.listed[q.SubAssembly] = append(n.listed[q.SubAssembly], q)
		}
	}
	known, err := r.Shop.Equivalents()
	for _, q := range known {
		n.equivalents = append(n.equivalents, build.Equivalent{Old: q.Old, New: q.New, Source: q.Source, Date: q.Date})
	}
	return n, err
}

// row understands a row, before being the rows above it.
func (n *needReader) row(read *NeedListRead, before []packinglist.NeedRow, row packinglist.NeedRow) {
	if !fills(row) { // it only names a sub-assembly
		n.list(read, row)
		return
	}
	line, need, problem := n.understand(row)
	if problem == nil {
		if problem = n.twice(before, row); problem == nil {
			problem = n.already(row, need)
			read.Listed = read.Listed || problem != nil
		}
	}
	if problem != nil {
		line.Problem = problem.Message
		read.Problems = append(read.Problems, *problem)
	}
	read.Lines = append(read.Lines, line)
	list := n.list(read, row)
	if problem == nil {
		list.Requirements = append(list.Requirements, need)
	}
}

// fills reports whether a row asks for something, and does not only name a sub-assembly.
func fills(row packinglist.NeedRow) bool {
	for f := packinglist.NeedNumber; f <= packinglist.NeedNote; f++ {
		if row.Text(f) != "" {
			return true
		}
	}
	return false
}

// list is the list of the sub-assembly that a row is for.
func (n *needReader) list(read *NeedListRead, row packinglist.NeedRow) *store.Needs {
	code := n.code(row)
	i := slices.IndexFunc(read.Lists, func(l store.Needs) bool { return l.SubAssembly.Code == code })
	if i < 0 {
		i = len(read.Lists)
		read.Lists = append(read.Lists, store.Needs{SubAssembly: store.SubAssembly{Code: code}})
	}
	sub := &read.Lists[i].SubAssembly
	if sub.Name == "" {
		sub.Name = row.Text(packinglist.NeedName)
	}
	if sub.Parent == "" {
		sub.Parent = row.Text(packinglist.NeedPartOf)
	}
	if hours := row.Text(packinglist.NeedHours); hours != "" && sub.Hours == 0 {
		var err error
		if sub.Hours, err = build.ParseHours(hours); err != nil {
			read.Problems = append(read.Problems, *row.Problem(packinglist.NeedHours, "%v", err))
		}
	}
	return &read.Lists[i]
}

// code is the sub-assembly of a row, spelled as the shop does where it has it.
func (n *needReader) code(row packinglist.NeedRow) string {
	code := row.Text(packinglist.NeedSubAssembly)
	for known := range n.subs {
		if strings.EqualFold(known, code) {
			return known
		}
	}
	return code
}

// understand reads a row by itself.
func (n *needReader) understand(row packinglist.NeedRow) (NeedLine, store.Requirement, *packinglist.Problem) {
	text := row.Text
	line := NeedLine{Row: row.Row, SubAssembly: n.code(row), Called: text(packinglist.NeedNumber)}
	need := store.Requirement{
		Expression: text(packinglist.NeedQuantity), Revision: text(packinglist.NeedRevision), Joint: text(packinglist.NeedJoint), Torque: text(packinglist.NeedTorque),
		Note: text(packinglist.NeedNote), Callout: store.Callout{
			Drawing: text(packinglist.NeedDrawing), Sheet: text(packinglist.NeedSheet), Figure: text(packinglist.NeedFigure),
			Item: text(packinglist.NeedItem), Step: text(packinglist.NeedStep), Text: text(packinglist.NeedCallout),
		},
		Position: joined(text(packinglist.NeedPosition), text(packinglist.NeedSide)),
	}
	line.Place = strings.Trim(need.Callout.String()+" · "+need.Position, " ·")
	switch {
	case line.SubAssembly == "":
		return line, need, row.Problem(packinglist.NeedSubAssembly, "the row does not say for which sub-assembly it is: write its code")
	case line.Called == "":
		return line, need, row.Problem(packinglist.NeedNumber, "the row has no part number: write the number that the plans call")
	}
	need.Called = n.shop.Canonical(line.Called)
	line.Called = need.Called
	decoded := n.shop.Catalog().Decode(need.Called)
	line.Doubt = decoded.Problem
	item, via, err := build.Resolve(need.Called, n.equivalents)
	if err != nil {
		return line, need, row.Problem(packinglist.NeedNumber, "%v", err)
	}
	line.Item = item
	for _, v := range via {
		line.Via = v.Source
	}
	record, err := n.shop.Shop.Item(item)
	known := err == nil
	line.Title = session.Title(record, n.shop.Catalog().Decode(item))
	if !known && line.Doubt == "" && !decoded.Known {
		line.Doubt = "neither the shop nor the tables know this number"
	}
	if problem := n.kind(row, &need); problem != nil {
		return line, need, problem
	}
	if problem := stackOf(row, &need); problem != nil {
		return line, need, problem
	}
	line.Joint, line.Through = need.Joint, need.Through()
	problem := n.quantity(row, &need, record, known)
	if problem == nil {
		line.Quantity = quantityWords(need)
	}
	return line, need, problem
}

func joined(position, side string) string {
	if position == "" || side == "" {
		return position + side
	}
	return position + " / " + side
}

// quantityWords are "20 ea (10 x 2 sides)".
func quantityWords(need store.Requirement) string {
	words := need.Quantity()
	if need.Expression != "" && need.Expression != need.Needed.Number() && !need.Needed.IsZero() {
		words += " (" + need.Expression + ")"
	}
	if need.Kind != store.ExactNeed && !need.Needed.IsZero() {
		words += ", " + string(need.Kind)
	}
	return words
}

// kind reads how the quantity is meant.
func (n *needReader) kind(row packinglist.NeedRow, need *store.Requirement) *packinglist.Problem {
	switch kind := strings.ToLower(row.Text(packinglist.NeedKind)); kind {
	case "", "exact":
	case string(store.AsRequired), "a/r", "ar":
		need.Kind = store.AsRequired
	case string(store.Temporary):
		need.Kind = store.Temporary
	default:
		return row.Problem(packinglist.NeedKind, "%q is no kind of requirement: write exact, as required or temporary", kind)
	}
	for f, kind := range map[packinglist.NeedField]store.RequirementKind{packinglist.NeedAsNeeded: store.AsRequired, packinglist.NeedTemporary: store.Temporary} {
		switch tick := strings.ToLower(row.Text(f)); tick {
		case "", "no", "n", "0", "-":
		case "yes", "y", "x", "1", "✓", string(kind):
			need.Kind = kind
		default:
			return row.Problem(f, "%q is neither yes nor no: write x, or leave it out", tick)
		}
	}
	return nil
}

// stackOf reads what the bolt of the joint goes through.
func stackOf(row packinglist.NeedRow, need *store.Requirement) *packinglist.Problem {
	text := row.Text(packinglist.NeedStack)
	if text == "" {
		return nil
	}
	if need.Joint == "" {
		return row.Problem(packinglist.NeedStack, "the row says what a bolt goes through and not in which joint: name the joint, with the same name at its nut and washers")
	}
	var err error
	if need.Stack, err = layersTyped(measure.InInches, text); err != nil {
		return row.Problem(packinglist.NeedStack, "%v", err)
	}
	return nil
}

// quantity reads what is needed, in a unit that the item has.
func (n *needReader) quantity(row packinglist.NeedRow, need *store.Requirement, record store.Item, known bool) *packinglist.Problem {
	unit := measure.Each
	if known && !record.Unit.IsWeight() {
		unit = record.Unit
	}
	if word := row.Text(packinglist.NeedUnit); word != "" {
		var err error
		if unit, err = measure.ParseUnit(word); err != nil {
			return row.Problem(packinglist.NeedUnit, "%q is no unit: write ea, ft, in, lb, oz, qt or another one", word)
		}
		if known && !mayCall(unit, record.Unit) {
			return row.Problem(packinglist.NeedUnit, "%s is kept by %s here, and the list says %s: ask which is meant", need.Called, record.Unit, unit)
		}
	}
	if need.Expression == "" {
		if need.Kind == store.AsRequired {
			return nil
		}
		return row.Problem(packinglist.NeedQuantity, "the row does not say how many of %s: write a number, or A/R", need.Called)
	}
	e, err := build.ParseExpression(need.Expression, unit)
	if err != nil {
		return row.Problem(packinglist.NeedQuantity, "%v", err)
	}
	if e.Kind == build.AsRequired {
		need.Kind, need.Expression = store.AsRequired, ""
		return nil
	}
	if e.Quantity.Sign() <= 0 {
		return row.Problem(packinglist.NeedQuantity, "%s comes to %s: write a number above zero, or A/R", need.Expression, e.Quantity)
	}
	need.Needed = e.Quantity
	if need.Expression == e.Quantity.Plain() {
		need.Expression = "" // a plain number
	}
	return nil
}

// mayCall reports whether plans may call in one unit what is kept by another: pieces of
// what came by weight are counted by weighing.
func mayCall(called, kept measure.Unit) bool {
	return called == kept || called == measure.Each && kept.IsWeight() || called.IsWeight() && kept == measure.Each || called.IsWeight() && kept.IsWeight()
}

// twice refuses a line that the list has already.
func (n *needReader) twice(before []packinglist.NeedRow, row packinglist.NeedRow) *packinglist.Problem {
	for _, b := range before {
		if packinglist.SameNeed(b, row) {
			return row.Problem(packinglist.NeedNumber, "%s stands in row %d already: leave one of them out, or say in which figure or position each is", n.shop.Canonical(row.Text(packinglist.NeedNumber)), b.Row)
		}
	}
	return nil
}

// already refuses a line that the shop has, unless the list revises it.
func (n *needReader) already(row packinglist.NeedRow, need store.Requirement) *packinglist.Problem {
	for _, known := range n.listed[n.code(row)] {
		if !n.revising && known.Called == need.Called && known.Callout == need.Callout && known.Position == need.Position {
			return row.Problem(packinglist.NeedNumber, "%s calls %s already (%s, %s): leave the row out, or say in which figure or position it is", known.SubAssembly, known.Called, known.Name(), known.Quantity())
		}
	}
	return nil
}

// circles refuses a sub-assembly that would be part of itself.
func (n *needReader) circles(read *NeedListRead, rows []packinglist.NeedRow) {
	parent := map[string]string{}
	for code, sub := range n.subs {
		parent[code] = sub.Parent
	}
	listed := map[string]bool{}
	for _, l := range read.Lists {
		listed[l.SubAssembly.Code] = true
		if l.SubAssembly.Parent != "" {
			parent[l.SubAssembly.Code] = l.SubAssembly.Parent
		}
	}
	seen := map[string]bool{}
	for _, row := range rows {
		code, at := n.code(row), row.Text(packinglist.NeedPartOf)
		if at == "" || seen[code] {
			continue
		}
		seen[code] = true
		if _, known := n.subs[at]; !known && !listed[at] {
			read.Problems = append(read.Problems, *row.Problem(packinglist.NeedPartOf, "there is no sub-assembly %q for %s to be part of: list it too", at, code))
			continue
		}
		for steps := 0; at != "" && steps <= len(parent); steps++ {
			if at == code {
				read.Problems = append(read.Problems, *row.Problem(packinglist.NeedPartOf, "%s would be part of itself: write another one", code))
				break
			}
			at = parent[at]
		}
	}
}

// doubts are the questions about what a sub-assembly asks for.
func (n *needReader) doubts(code string, asked []store.Requirement) []NeedDoubt {
	sub := build.SubAssembly{Code: code}
	for i, q := range asked {
		item := q.Item
		if item == "" {
			item, _, _ = build.Resolve(q.Called, n.equivalents) // that it can be is seen by now
		}
		sub.Requirements = append(sub.Requirements, build.Requirement{
			ID: fmt.Sprint(i), Called: q.Called, Item: item, Expression: q.Expression, Needed: q.Needed, Kind: q.Kind,
			Callout: q.Callout.String(), Position: q.Position, Joint: q.Joint, Stack: layers(q.Stack),
		})
	}
	var all []NeedDoubt
	for _, d := range build.Doubts(n.shop.Catalog(), sub) {
		all = append(all, NeedDoubt{code, d})
	}
	for _, j := range build.Joints(n.shop.Catalog(), sub) {
		if j.Verdict == build.JointDoesNot || j.Verdict == build.JointWashers {
			all = append(all, NeedDoubt{code, build.Doubt{Sentence: "joint " + j.Joint + ": " + j.Sentence}})
		}
	}
	return all
}

// layers are what a bolt goes through, as the rules of building have it; nil for a line that
// does not say.
func layers(stack []store.Layer) (out []build.Layer) {
	for _, l := range stack {
		out = append(out, build.Layer{Name: l.Name, Thickness: l.Thickness})
	}
	return out
}
