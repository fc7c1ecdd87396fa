package handbook

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// BoltForm is what the person says of the joint.
type BoltForm struct {
	Series string // "AN3"
	Stack  string // thicknesses from the head to the nut, with commas between
	Nut    int    // index in BoltState.Nuts
	Other  string // a nut by its designation, in place of those
	Height string // of the nut, measured
	Head   int    // index in Washers: under the head
	Under  int    // index in Washers: under the nut
	Wired  bool   // the head is to be drilled for lockwire
}

// Washers are the washers that can be asked for on one side. The chooser adds more
// under the nut where the grip asks for them.
func Washers() []string { return []string{"None", "Thin", "Thick"} }

// BoltState is what the part shows.
type BoltState struct {
	Form  BoltForm
	Nuts  []string // designations for the thread; the last choice is another one
	Wrong string   // what is wrong with the stack
	Answer
}

// BoltColumns are those of the bolts.
func BoltColumns() []table.Column {
	return []table.Column{
		{Title: "bolt", Kind: table.Names},
		{Title: "grip", Kind: table.Figure, Width: 58},
		{Title: "washers", Kind: table.Words, Width: 172},
		{Title: "", Kind: table.States, Width: 84},
	}
}

// BoltModel chooses a bolt for a stack.
type BoltModel struct {
	chooser
	form BoltForm
	nuts []string
	at   string // the series that nuts are for
	out  func(BoltState)
}

// NewBoltModel makes the model; show is called with every new state.
func NewBoltModel(s *session.Session, show func(BoltState)) *BoltModel {
	m := &BoltModel{out: show, form: BoltForm{Series: "AN3"}}
	m.chooser = chooser{session: s}
	m.chooser.show = func() { show(m.State()) }
	m.Choose()
	return m
}

// State is what is shown now.
func (m *BoltModel) State() BoltState {
	return BoltState{Form: m.form, Nuts: m.nuts, Answer: m.answer}
}

// Set takes the form and chooses again.
func (m *BoltModel) Set(form BoltForm) {
	m.form = form
	m.Choose()
}

// Pick shows one of the bolts.
func (m *BoltModel) Pick(index int) { m.choose(index) }

// nutSeries are the usual nuts, self-locking first.
var nutSeries = []string{"AN365", "MS21042", "AN310", "AN364"}

// nutsFor are the usual nuts with the thread of a bolt series.
func nutsFor(c *hardware.Catalog, series string) []string {
	bolts := c.Numbers(series, "")
	if len(bolts) == 0 {
		return nil
	}
	thread, _ := c.Decode(bolts[0]).Field(hardware.Thread)
	var nuts []string
	for _, name := range nutSeries {
		for _, number := range c.Numbers(name, "") {
			if f, ok := c.Decode(number).Field(hardware.Thread); ok && sameThread(f.Text, thread.Text) {
				nuts = append(nuts, number)
				break
			}
		}
	}
	return nuts
}

// sameNut is the index of the nut of another thread that is of the same series as
// the one that was chosen: a castle nut stays a castle nut. What lies beyond the
// nuts is another one, and stays that.
func sameNut(was []string, chosen int, nuts []string) int {
	if chosen >= len(was) {
		return len(nuts)
	}
	series, _, _ := strings.Cut(was[chosen], "-")
	return max(0, slices.IndexFunc(nuts, func(n string) bool { return strings.HasPrefix(n, series+"-") }))
}

// sameThread compares sizes such as "10-32" whatever class follows them.
func sameThread(a, b string) bool {
	first := func(s string) string {
		return strings.FieldsFunc(s+" ", func(r rune) bool { return r == ' ' || r == ',' })[0]
	}
	return a != "" && b != "" && first(a) == first(b)
}

// Choose works the bolts out.
func (m *BoltModel) Choose() {
	series := strings.ToUpper(strings.ReplaceAll(strings.TrimSpace(m.form.Series), " ", ""))
	catalog := m.session.Catalog()
	if series != m.at {
		was := m.nuts
		first := m.at == ""
		m.at, m.nuts = series, nutsFor(catalog, series)
		if !first { // at first the usual nut stands chosen
			m.form.Nut = sameNut(was, m.form.Nut, m.nuts)
		}
	}
	if strings.TrimSpace(m.form.Stack) == "" {
		m.refuse("A bolt for a stack", "")
		return
	}
	plies, err := hardware.ParsePliesIn(m.session.Lengths(), m.form.Stack)
	if err != nil {
		m.refuse("A bolt for a stack", wording.Sentence(err.Error()))
		return
	}
	joint := hardware.Joint{Layers: plies, Series: series, Nut: m.nut(), DrilledHead: m.form.Wired}
	if text := strings.TrimSpace(m.form.Height); text != "" {
		if joint.NutHeight, err = m.session.ParseLength(text); err != nil {
			m.refuse("A bolt for a stack", "The height of the nut is not a length: write it like .25 or 1/4.")
			return
		}
	}
	joint.HeadWashers, joint.NutWashers = washerWish(m.form.Head), washerWish(m.form.Under)
	m.ask(func() (Answer, []option, error) {
		if joint.Shop, err = session.AtHand(m.session.Shop); err != nil {
			return Answer{}, nil, err
		}
		found, err := catalog.ChooseBolt(joint)
		if err != nil {
			return Answer{}, nil, err
		}
		return boltAnswer(found, m.session.Lengths())
	})
}

// nut is the designation of the chosen nut.
func (m *BoltModel) nut() string {
	if m.form.Nut < len(m.nuts) {
		return m.nuts[m.form.Nut]
	}
	return strings.TrimSpace(m.form.Other)
}

func washerWish(index int) []string {
	if index <= 0 || index >= len(Washers()) {
		return nil
	}
	return []string{strings.ToLower(Washers()[index])}
}

func boltAnswer(found hardware.BoltAnswer, in measure.System) (Answer, []option, error) {
	fits, unsure := 0, 0
	var options []option
	for _, b := range found.Choices {
		if b.Fits {
			fits++
		}
		if b.CannotTell {
			unsure++
		}
		options = append(options, boltOption(b))
	}
	a := Answer{Cautions: cautionFacts(slices.Concat(torqueFindings(found), found.Cautions))}
	switch {
	case fits == 0 && unsure > 0:
		a.Heading = fmt.Sprintf("Cannot tell which bolt fits a stack of %s%s: the height of the nut is not known", found.Thickness, in.Beside(found.Thickness))
	case fits == 0:
		a.Heading = fmt.Sprintf("No bolt fits a stack of %s%s with these washers", found.Thickness, in.Beside(found.Thickness))
	case fits == 1:
		a.Heading = fmt.Sprintf("1 bolt fits a stack of %s%s", found.Thickness, in.Beside(found.Thickness))
	default:
		a.Heading = fmt.Sprintf("%d bolts fit a stack of %s%s", fits, found.Thickness, in.Beside(found.Thickness))
	}
	return a, options, nil
}

// torqueFindings are the torque of Table 7-1 and what must be said of it.
func torqueFindings(found hardware.BoltAnswer) []hardware.Finding {
	if !found.HasTorque {
		return nil
	}
	t := found.Torque
	text := fmt.Sprintf("torque: tension nut %s, most allowable %s; shear nut %s, most allowable %s", t.Tension, t.MaxTension, t.Shear, t.MaxShear)
	return append([]hardware.Finding{{Text: text, Source: t.Source, Checked: t.Checked}}, found.TorqueCautions...)
}

func boltOption(b hardware.BoltChoice) option {
	state := table.State("fits", notice.OK)
	switch {
	case b.CannotTell:
		state = table.State("cannot tell", notice.Warn)
	case !b.Fits:
		state = table.State("no", notice.Stop)
	}
	grip, ok := b.Grip.Fraction()
	if !ok {
		grip = b.Grip.Printed()
	}
	washers := table.T("none")
	if names := washerNames(b); len(names) > 0 {
		washers = table.Cell{Text: names[0], Sub: strings.Join(names[1:], ", ")}
	}
	facts := findingFacts(b.Findings)
	facts = slices.Insert(facts, 0, card.Fact{Name: "washers", Text: b.Washers()})
	return option{
		designation: b.Designation, section: b.Section, facts: facts,
		row: table.Row{ID: b.Designation, Dim: !b.Fits && !b.CannotTell, Cells: []table.Cell{table.Name(b.Designation, under("", b.Mark, b.InShop)), table.T(grip), washers, state}},
	}
}

// washerNames are the washers in few words: "1 thick", by designation and how many.
func washerNames(b hardware.BoltChoice) []string {
	var names []string
	count := map[string]int{}
	for _, w := range slices.Concat(b.HeadWashers, b.NutWashers) {
		if count[w.Designation] == 0 {
			names = append(names, w.Designation)
		}
		count[w.Designation]++
	}
	for i, n := range names {
		names[i] = fmt.Sprintf("%d × %s", count[n], n)
	}
	return names
}
