package handbook

import (
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// RivetForm is what the person says of the seam.
type RivetForm struct {
	Sheets   string // thicknesses with commas between
	Diameter string // of the plans; "" for the rule's
	Material int    // index in RivetMaterials
	Head     int    // 0 both, 1 protruding, 2 flush
}

// RivetMaterials are the letters of the usual rivet materials.
func RivetMaterials() []string { return []string{"AD", "A", "D", "DD", "B"} }

// RivetHeads are the heads to choose among.
func RivetHeads() []string { return []string{"Both", "Dome", "Flush"} }

// RivetState is what the part shows.
type RivetState struct {
	Form RivetForm
	Answer
}

// RivetColumns are those of the rivets.
func RivetColumns() []table.Column {
	return []table.Column{
		{Title: "rivet", Kind: table.Names}, {Title: "to the edge", Kind: table.Figure, Width: 90}, {Title: "", Kind: table.States, Width: 130},
	}
}

// RivetModel chooses rivets for sheets.
type RivetModel struct {
	chooser
	form RivetForm
}

// NewRivetModel makes the model; show is called with every new state.
func NewRivetModel(s *session.Session, show func(RivetState)) *RivetModel {
	m := &RivetModel{chooser: chooser{session: s}}
	m.chooser.show = func() { show(m.State()) }
	m.Choose()
	return m
}

// State is what is shown now.
func (m *RivetModel) State() RivetState { return RivetState{Form: m.form, Answer: m.answer} }

// Set takes the form and chooses again.
func (m *RivetModel) Set(form RivetForm) {
	m.form = form
	m.Choose()
}

// Pick shows one of the rivets.
func (m *RivetModel) Pick(index int) { m.choose(index) }

// Choose works the rivets out.
func (m *RivetModel) Choose() {
	const heading = "A rivet for sheets"
	if strings.TrimSpace(m.form.Sheets) == "" {
		m.refuse(heading, "")
		return
	}
	plies, err := hardware.ParsePliesIn(m.session.Lengths(), m.form.Sheets)
	if err != nil {
		m.refuse(heading, wording.Sentence(err.Error()))
		return
	}
	seam := hardware.Seam{Layers: plies, Material: RivetMaterials()[m.form.Material]}
	if text := strings.TrimSpace(m.form.Diameter); text != "" {
		if seam.Diameter, err = m.session.ParseLength(text); err != nil {
			m.refuse(heading, "The diameter is not a length: write it like 1/8 or .125.")
			return
		}
	}
	head := m.form.Head
	m.ask(func() (Answer, []option, error) {
		if seam.Shop, err = session.AtHand(m.session.Shop); err != nil {
			return Answer{}, nil, err
		}
		found, err := m.session.Catalog().ChooseRivet(seam)
		if err != nil {
			return Answer{}, nil, err
		}
		return rivetAnswer(found, head, m.session.Lengths())
	})
}

func rivetAnswer(found hardware.RivetAnswer, head int, in measure.System) (Answer, []option, error) {
	a := Answer{
		Heading:  fmt.Sprintf("Rivets for %s%s, the thickest sheet %s%s", found.Thickness, in.Beside(found.Thickness), found.Thickest, in.Beside(found.Thickest)),
		Cautions: cautionFacts(found.Cautions),
	}
	var options []option
	for _, r := range found.Choices {
		if head == 1 && r.Flush || head == 2 && !r.Flush {
			continue
		}
		options = append(options, rivetOption(r))
	}
	return a, options, nil
}

func rivetOption(r hardware.RivetChoice) option {
	state := table.State("beside the rule", notice.Quiet)
	if r.ByRule {
		state = table.State("by the rule", notice.OK)
	}
	for _, f := range r.Findings {
		if f.Bad {
			state = table.State("too short", notice.Stop)
		}
	}
	head := "dome"
	if r.Flush {
		head = "flush"
	}
	edge, ok := r.EdgeDistance.Fraction()
	if !ok {
		edge = r.EdgeDistance.Printed()
	}
	facts := findingFacts(r.Findings)
	if r.Drill != "" {
		facts = append(facts, card.Fact{Name: "drill", Text: r.Drill, Source: "usual practice"})
	}
	return option{
		designation: r.Designation, section: r.Section, facts: facts,
		row: table.Row{ID: r.Designation, Cells: []table.Cell{table.Name(r.Designation, under(head, r.Mark, r.InShop)), table.T(edge), state}},
	}
}
