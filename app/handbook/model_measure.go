package handbook

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/region"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// Names of the readings that are typed.
const (
	ReadDiameter  = "diameter"
	ReadOutside   = "outside"
	ReadInside    = "inside"
	ReadGrip      = "grip"
	ReadLength    = "length"
	ReadFlats     = "flats"
	ReadThickness = "thickness"
	ReadThread    = "thread"
	ReadHead      = "head"
	ReadMarking   = "marking"
)

// Reading is one field of the form.
type Reading struct {
	Name, Label, Hint string
	Length            bool // it is a length, and no count and no shape
}

// allReadings are the fields in their order.
var allReadings = []Reading{
	{ReadDiameter, "Diameter", "3/16 or #10", true},
	{ReadThread, "Threads per inch", "32, or 0.8mm", false},
	{ReadGrip, "Grip, no thread", "1/4", true},
	{ReadLength, "Length under head", "21/32", true},
	{ReadFlats, "Across the flats", "3/8", true},
	{ReadOutside, "Outside diameter", "7/16", true},
	{ReadInside, "Hole", "13/64", true},
	{ReadThickness, "Thickness", "1/16", true},
	{ReadHead, "Shape of the head", "hex, dome", false},
	{ReadMarking, "Mark on the head", "dimple, dash", false},
}

// kindReadings are the fields that a kind of piece has; a kind that is not listed
// has those of no kind.
var kindReadings = map[hardware.Kind][]string{
	"":                  {ReadDiameter, ReadThread, ReadGrip, ReadLength, ReadFlats, ReadOutside, ReadInside, ReadThickness},
	hardware.Bolt:       {ReadDiameter, ReadThread, ReadGrip, ReadLength, ReadFlats, ReadHead, ReadMarking},
	hardware.Screw:      {ReadDiameter, ReadThread, ReadGrip, ReadLength, ReadHead, ReadMarking},
	hardware.Nut:        {ReadDiameter, ReadThread, ReadFlats, ReadThickness},
	hardware.PlateNut:   {ReadDiameter, ReadThread},
	hardware.Washer:     {ReadInside, ReadOutside, ReadThickness},
	hardware.Rivet:      {ReadDiameter, ReadLength, ReadHead, ReadMarking},
	hardware.BlindRivet: {ReadDiameter, ReadLength, ReadGrip, ReadHead},
	hardware.ClevisPin:  {ReadDiameter, ReadGrip, ReadLength},
	hardware.CotterPin:  {ReadDiameter, ReadLength},
	hardware.ORing:      {ReadInside, ReadThickness},
}

// Kinds are the kinds of piece that can be said beforehand; the first is none.
func Kinds() []hardware.Kind {
	return []hardware.Kind{
		"", hardware.Bolt, hardware.Screw, hardware.Nut, hardware.PlateNut, hardware.Washer, hardware.Rivet, hardware.BlindRivet,
		hardware.CotterPin, hardware.ClevisPin, hardware.ORing,
	}
}

// Sight is a thing that is looked at and not measured.
type Sight struct {
	Name, Label string
}

// Sights are what a hand and a magnet tell.
func Sights() []Sight {
	return []Sight{{"magnet", "Does a magnet hold it?"}, {"shank", "Hole through the shank?"}, {"head", "Hole through the head?"}}
}

// MeasureState is what the part shows.
type MeasureState struct {
	Kind     int // index in Kinds
	Readings []Reading
	Typed    map[string]string
	Wrong    map[string]string // reading -> what is wrong with what was typed
	Seen     map[string]hardware.Answer
	Heading  string
	Verdict  []notice.Notice
	Rows     []table.Row
	Chosen   int
	Facts    []card.Fact // each reading held against the chosen candidate
	Alike    []Alike
	Card     card.Card
}

// Candidates are the columns of the rows.
func Candidates() []table.Column {
	return []table.Column{{Title: "what it may be", Kind: table.Names}, {Title: "by these readings", Kind: table.States, Width: 178}}
}

// MeasureModel identifies a piece while it is measured.
type MeasureModel struct {
	session *session.Session
	show    func(MeasureState)
	state   MeasureState
	found   hardware.Identification
	ranking loop.Latest
	card    loop.Latest // of the chosen candidate
}

// NewMeasureModel makes the model; show is called with every new state.
func NewMeasureModel(s *session.Session, show func(MeasureState)) *MeasureModel {
	m := &MeasureModel{session: s, show: show}
	m.Clear()
	return m
}

// Clear forgets all readings.
func (m *MeasureModel) Clear() {
	m.ranking.Drop()
	m.card.Drop()
	m.state = MeasureState{Typed: map[string]string{}, Wrong: map[string]string{}, Seen: map[string]hardware.Answer{}, Chosen: -1}
	m.found = hardware.Identification{}
	m.setReadings()
	m.head()
	m.show(m.state)
}

// MeasureForm is what was measured and seen, for the way back.
type MeasureForm struct {
	Kind  int
	Typed map[string]string
	Seen  map[string]hardware.Answer
}

// Form is what was measured and seen.
func (m *MeasureModel) Form() MeasureForm {
	return MeasureForm{m.state.Kind, maps.Clone(m.state.Typed), maps.Clone(m.state.Seen)}
}

// SetForm takes readings that were made before.
func (m *MeasureModel) SetForm(f MeasureForm) {
	m.state.Kind, m.state.Typed, m.state.Seen = f.Kind, maps.Clone(f.Typed), maps.Clone(f.Seen)
	m.setReadings()
	m.Identify()
}

// State is what is shown now.
func (m *MeasureModel) State() MeasureState { return m.state }

// SetKind says what sort of piece it is; fields that it has not are forgotten.
func (m *MeasureModel) SetKind(i int) {
	m.state.Kind = i
	m.setReadings()
	for name := range m.state.Typed {
		if !slices.ContainsFunc(m.state.Readings, func(r Reading) bool { return r.Name == name }) {
			delete(m.state.Typed, name)
		}
	}
	m.Identify()
}

func (m *MeasureModel) setReadings() {
	names, ok := kindReadings[Kinds()[m.state.Kind]]
	if !ok {
		names = kindReadings[""]
	}
	m.state.Readings = nil
	for _, r := range allReadings {
		if slices.Contains(names, r.Name) {
			m.state.Readings = append(m.state.Readings, r)
		}
	}
}

// Type takes what was typed into a field.
func (m *MeasureModel) Type(name, text string) {
	m.state.Typed[name] = text
	m.Identify()
}

// See takes what was seen; 0 is not looked at.
func (m *MeasureModel) See(name string, answer hardware.Answer) {
	m.state.Seen[name] = answer
	m.Identify()
}

// Identify ranks what the readings may be of.
func (m *MeasureModel) Identify() {
	m.ranking.Drop()
	readings, any := m.read()
	if !any {
		m.found = hardware.Identification{}
		m.head()
		m.show(m.state)
		return
	}
	loop.DoLatest(m.session.Loop, &m.ranking, func(context.Context) (hardware.Identification, error) {
		have, err := session.AtHand(m.session.Shop)
		if err != nil {
			return hardware.Identification{}, err
		}
		return m.session.Catalog().Identify(readings, have)
	}, m.identified)
}

func (m *MeasureModel) identified(id hardware.Identification, err error) {
	m.found = id
	m.head()
	if err != nil {
		m.state.Verdict = []notice.Notice{{Tone: notice.Warn, Text: wording.Sentence(err.Error())}}
	}
	m.show(m.state)
	m.Choose(0)
}

// read turns the fields into readings, notes what is wrong with them, and says
// whether there is anything to go by.
func (m *MeasureModel) read() (hardware.Readings, bool) {
	r := hardware.Readings{
		Kind: Kinds()[m.state.Kind], Head: strings.TrimSpace(m.state.Typed[ReadHead]), Marking: strings.TrimSpace(m.state.Typed[ReadMarking]),
		Magnetic: m.state.Seen["magnet"], ShankDrilled: m.state.Seen["shank"], HeadDrilled: m.state.Seen["head"],
	}
	m.state.Wrong = map[string]string{}
	any := r.Head != "" || r.Marking != ""
	for _, f := range []struct {
		name string
		to   *measure.Length
	}{
		{ReadDiameter, &r.Diameter},
		{ReadOutside, &r.Outside},
		{ReadInside, &r.Inside},
		{ReadGrip, &r.Grip},
		{ReadLength, &r.Length},
		{ReadFlats, &r.AcrossFlats},
		{ReadThickness, &r.Thickness},
	} {
		text := strings.TrimSpace(m.state.Typed[f.name])
		if text == "" {
			continue
		}
		l, err := m.session.ParseLength(text)
		if err != nil || l <= 0 {
			m.state.Wrong[f.name] = "write it like " + m.session.Lengths().Example()
			continue
		}
		*f.to, any = l, true
	}
	if text := strings.TrimSpace(m.state.Typed[ReadThread]); text != "" {
		if !readThread(m.session.Region, text, &r) {
			m.state.Wrong[ReadThread] = "count them: 32; or the pitch by a gauge: 0.8mm"
		} else {
			any = true
		}
	}
	return r, any
}

// readThread reads threads per inch, alone or behind a size as in 10-32, or a pitch.
func readThread(in region.Region, text string, r *hardware.Readings) bool {
	if r.ReadThread(text) {
		return true
	}
	pitch, err := measure.ParseLength(in.Length(text))
	r.ThreadPitch = pitch
	return err == nil && pitch > 0 && pitch < measure.Inch/2
}

// head puts the answer into the state.
func (m *MeasureModel) head() {
	s := &m.state
	s.Rows, s.Verdict, s.Alike, s.Facts, s.Card, s.Chosen = nil, nil, nil, nil, card.Card{}, -1
	fits, open := 0, 0
	for _, k := range m.found.Candidates {
		switch {
		case k.Fits && k.Incomplete:
			open++
		case k.Fits:
			fits++
		}
		s.Rows = append(s.Rows, candidateRow(k))
	}
	switch {
	case len(s.Rows) == 0:
		s.Heading = "Measure what you can"
		return
	case fits == 0 && open == 0:
		s.Heading = "Nothing fits"
	case fits == 0:
		s.Heading = "Nothing is shown to fit"
	case fits == 1:
		s.Heading = "1 piece fits"
	case fits+open >= mostShown:
		s.Heading, open = "The nearest of those that fit", 0
	default:
		s.Heading = fmt.Sprintf("%d pieces fit", fits)
	}
	if open > 0 {
		s.Heading += fmt.Sprintf(", %d not excluded", open)
	}
	if m.found.CannotTell != "" {
		s.Verdict = append(s.Verdict, notice.Notice{Tone: notice.Warn, Lead: "Cannot tell:", Text: m.found.CannotTell + "."})
	}
	if m.found.NotExcluded != "" {
		s.Verdict = append(s.Verdict, notice.Notice{Tone: notice.Quiet, Text: wording.Sentence(m.found.NotExcluded)})
	}
	s.Alike = alikesOf(m.found.LookAlikes)
}

// mostShown is from how many on an answer may be cut: then no count is given.
const mostShown = 12

// candidateRow is a candidate as a row.
func candidateRow(k hardware.Candidate) table.Row {
	sub := titled(k.Title, k.Mark)
	if k.InShop {
		sub = "in the shop · " + sub
	}
	if len(k.Also) > 0 {
		sub = "also " + strings.Join(k.Also, ", ") + " · " + sub
	}
	if !k.Fits {
		sub = "ruled out by " + k.RuledOut
	}
	state := notice.Mark{Word: "fits", Tone: notice.OK}
	switch {
	case !k.Fits:
		state = notice.Mark{Word: k.Away.String() + " tolerances off", Tone: notice.Stop}
	case k.Incomplete:
		state = notice.Mark{Word: "not excluded", Tone: notice.Quiet}
	}
	return table.Row{ID: k.Designation, Dim: !k.Fits, Cells: []table.Cell{table.Name(k.Designation, sub), {Mark: state}}}
}

// Choose shows how the readings stand to a candidate.
func (m *MeasureModel) Choose(index int) {
	if index < 0 || index >= len(m.found.Candidates) {
		return
	}
	k := m.found.Candidates[index]
	m.state.Chosen, m.state.Facts = index, judgedFacts(k)
	m.show(m.state)
	loop.DoLatest(m.session.Loop, &m.card, func(context.Context) (card.Card, error) { return m.session.PieceCard(k.Designation) }, func(c card.Card, err error) {
		if err != nil {
			c = card.Card{Designation: k.Designation, Title: k.Title, Notes: []string{err.Error()}}
		}
		m.state.Card = c
		m.show(m.state)
	})
}

// judgedFacts are the readings held against a candidate.
func judgedFacts(k hardware.Candidate) []card.Fact {
	facts := make([]card.Fact, 0, len(k.Judged))
	for _, j := range k.Judged {
		text := strings.TrimPrefix(j.Text, strings.ReplaceAll(j.Name, "_", " ")+" ")
		fact := card.Fact{Name: fieldName(j.Name), Text: text}
		switch {
		case j.Unknown:
			fact.Mark, fact.Tone = "so it does not rule this one out", notice.Warn
		case j.Away > 10:
			fact.Mark, fact.Tone = "this rules it out", notice.Stop
		case j.Away > 0:
			fact.Mark, fact.Tone = "at the edge", notice.Warn
		}
		facts = append(facts, fact)
	}
	return facts
}
