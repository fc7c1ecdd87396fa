package unpack

import (
	"fmt"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// ArrivalState is what is shown while an arrival is entered.
type ArrivalState struct {
	Loading  bool
	Title    string
	Crates   []CrateChoice // those that have not come yet
	Day      string        // as typed
	Damage   Days
	Shortage Days
	Dates    []notice.Notice // the last days to claim, as they would be
	Missing  string          // what is still to be said; empty when Enter confirms
	Wants    Want            // which field says it
	Earlier  []notice.Notice // what came before, with its dates
	Error    string
}

// Want is a field of the form.
type Want int

// The fields, in the order in which they are filled.
const (
	NoField Want = iota
	CratesField
	DayField
	DamageField
	ShortageField
)

// CrateChoice is a crate that may have come.
type CrateChoice struct {
	Name   string
	Words  string // "52 lines, 10 bags"
	Chosen bool
}

// Days is how many days the paperwork allows for a claim. Nothing is assumed: they
// are typed, or the paperwork is said to be silent.
type Days struct {
	Text   string
	Silent bool // the paperwork says nothing
}

// ArrivalModel enters which crates of a shipment came.
type ArrivalModel struct {
	session *session.Session
	about   string
	show    func(ArrivalState)
	entered func(shipment string)
	state   ArrivalState
	data    delivery
	writing loop.Once
	// proposed: the only crate left is chosen for the person, so that its digit, which says
	// that it came, does not take it out.
	proposed bool
}

// NewArrivalModel makes the model of a shipment; entered is called when an arrival is
// recorded.
func NewArrivalModel(s *session.Session, shipment string, show func(ArrivalState), entered func(string)) *ArrivalModel {
	return &ArrivalModel{session: s, about: shipment, show: show, entered: entered, state: ArrivalState{Loading: true}}
}

// State is what is shown now.
func (m *ArrivalModel) State() ArrivalState { return m.state }

// Load reads the shipment.
func (m *ArrivalModel) Load() {
	session.Do(m.session, func() (delivery, error) { return load(m.session, m.about) }, func(d delivery, err error) {
		m.state.Loading = false
		if err != nil {
			m.state.Error = wording.Error(err)
			m.show(m.state)
			return
		}
		m.take(d)
	})
}

func (m *ArrivalModel) take(d delivery) {
	first := m.data.ship.ID == ""
	m.data = d
	if first {
		m.state.Day = d.today.String()
	}
	m.state.Title = "Which crates came?"
	chosen := map[string]bool{}
	for _, c := range m.state.Crates {
		chosen[c.Name] = c.Chosen
	}
	m.state.Crates = nil
	for _, name := range d.notCome() {
		m.state.Crates = append(m.state.Crates, CrateChoice{Name: name, Words: d.crateWords(name), Chosen: chosen[name]})
	}
	if first && len(m.state.Crates) == 1 {
		m.state.Crates[0].Chosen, m.proposed = true, true
	}
	m.state.Earlier = nil
	for _, came := range d.ship.Deliveries {
		n := notice.Notice{Lead: strings.Join(came.Crates, ", ") + " came " + came.Arrived.String() + ":", Text: "the paperwork said nothing of claims"}
		if words := dates(came); len(words) > 0 {
			n.Text = strings.Join(words, ", ")
		}
		m.state.Earlier = append(m.state.Earlier, n)
	}
	m.check()
}

// crateWords is how much a crate holds.
func (d delivery) crateWords(name string) string {
	lines, bags := 0, map[string]bool{}
	for _, l := range d.lines {
		if l.Crate == name {
			lines++
			bags[l.Group] = true
		}
	}
	return wording.Plural(lines, "line", "lines") + ", " + wording.Plural(len(bags), "bag", "bags")
}

// dates are the last days to claim of a delivery.
func dates(d store.Delivery) []string {
	var words []string
	if d.DamageDays != nil {
		words = append(words, "damage by "+d.Arrived.AddDays(*d.DamageDays).String())
	}
	if d.ShortageDays != nil {
		words = append(words, "shortages by "+d.Arrived.AddDays(*d.ShortageDays).String())
	}
	return words
}

// Toggle says that a crate came, or did not.
func (m *ArrivalModel) Toggle(index int) {
	if index < 0 || index >= len(m.state.Crates) {
		return
	}
	m.state.Crates[index].Chosen = m.proposed || !m.state.Crates[index].Chosen
	m.proposed = false
	m.check()
}

// SetDay follows the day as it is typed.
func (m *ArrivalModel) SetDay(text string) {
	m.state.Day = text
	m.check()
}

// SetDamage follows the days for damage as they are typed.
func (m *ArrivalModel) SetDamage(d Days) {
	m.state.Damage = d
	m.check()
}

// SetShortage follows the days for shortages as they are typed.
func (m *ArrivalModel) SetShortage(d Days) {
	m.state.Shortage = d
	m.check()
}

// check works out the dates, or what is still to be said.
func (m *ArrivalModel) check() {
	arrival, missing, wants := m.arrival()
	m.state.Missing, m.state.Wants, m.state.Dates, m.state.Error = missing, wants, nil, ""
	if missing == "" {
		d, err := arrival.Delivery(m.session, m.data.today)
		m.state.Error = wording.Error(err)
		for _, c := range (store.Shipment{Deliveries: []store.Delivery{d}}).Clocks(m.data.today) {
			lead := "Damage"
			if c.For == store.ForShortage {
				lead = "Shortages"
			}
			n := notice.Notice{Lead: lead + ": report by " + wording.WeekdayAndYear(c.Due) + ",", Text: wording.DaysLeft(c.DaysLeft), Tone: notice.OK}
			if c.DaysLeft < 0 {
				n.Tone = notice.Stop
			}
			m.state.Dates = append(m.state.Dates, n)
		}
		if len(m.state.Dates) == 0 {
			m.state.Dates = []notice.Notice{{Text: "No claim clock will run: the paperwork says nothing."}}
		}
	}
	m.show(m.state)
}

// arrival is what was entered, what is still missing of it, and in which field.
func (m *ArrivalModel) arrival() (operation.Arrive, string, Want) {
	o := operation.Arrive{List: m.data.ship.ID, On: m.state.Day}
	for _, c := range m.state.Crates {
		if c.Chosen {
			o.Crates = append(o.Crates, c.Name)
		}
	}
	if len(m.state.Crates) == 0 {
		return o, "Every crate of this list has come.", NoField
	}
	if len(o.Crates) == 0 {
		return o, "Say which crates came.", CratesField
	}
	if day, err := m.session.ParseDay(strings.TrimSpace(m.state.Day)); err != nil || day.IsZero() {
		return o, fmt.Sprintf("%q is not a day: write it like %s.", m.state.Day, m.data.today), DayField
	}
	if day, _ := m.session.ParseDay(strings.TrimSpace(m.state.Day)); m.data.today.DaysUntil(day) > 0 {
		return o, fmt.Sprintf("%s is still to come: type the day on which they arrived. Where it is that day, this computer's date is wrong.", day), DayField
	}
	for _, clock := range []struct {
		typed Days
		days  *string
		name  string
		field Want
	}{{m.state.Damage, &o.DamageDays, "damage", DamageField}, {m.state.Shortage, &o.ShortageDays, "shortages", ShortageField}} {
		if clock.typed.Silent {
			continue
		}
		switch days, err := operation.Days(clock.typed.Text); {
		case err != nil:
			return o, wording.Error(err), clock.field
		case days == nil:
			return o, "Type the days that the paperwork allows for " + clock.name + ", or say that it says nothing.", clock.field
		}
		*clock.days = clock.typed.Text
	}
	return o, "", NoField
}

// Confirm records the arrival, once all is said.
func (m *ArrivalModel) Confirm() {
	arrival, missing, _ := m.arrival()
	if missing != "" {
		return
	}
	operation.Start(m.session, &m.writing, arrival, func(_ operation.Result, err error) {
		if err != nil {
			m.state.Error = wording.Error(err)
			m.show(m.state)
			return
		}
		m.entered(arrival.List)
	})
}
