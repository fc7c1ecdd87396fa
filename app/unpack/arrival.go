package unpack

import (
	"fmt"
	"strconv"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
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

// mostDays bounds what is typed: longer than any delivery's paperwork allows.
const mostDays = 3650

// read is the number of days; nil where the paperwork is silent. Known is false while
// neither was said.
func (d Days) read() (days *int, known bool, err error) {
	text := strings.TrimSpace(d.Text)
	if d.Silent {
		return nil, true, nil
	}
	if text == "" {
		return nil, false, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > mostDays {
		return nil, false, say("%q is not a number of days: type one such as 5.", text)
	}
	return &n, true, nil
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
}

// NewArrivalModel makes the model of a shipment; entered is told when an arrival is
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
		m.state.Crates[0].Chosen = true
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
	m.state.Crates[index].Chosen = !m.state.Crates[index].Chosen
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
	d, missing, wants := m.delivery()
	m.state.Missing, m.state.Wants, m.state.Dates, m.state.Error = missing, wants, nil, ""
	if missing == "" {
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

// delivery is what was entered, what is still missing of it, and in which field.
func (m *ArrivalModel) delivery() (store.Delivery, string, Want) {
	var d store.Delivery
	for _, c := range m.state.Crates {
		if c.Chosen {
			d.Crates = append(d.Crates, c.Name)
		}
	}
	if len(m.state.Crates) == 0 {
		return d, "Every crate of this list has come.", NoField
	}
	if len(d.Crates) == 0 {
		return d, "Say which crates came.", CratesField
	}
	day, err := store.ParseDate(strings.TrimSpace(m.state.Day))
	if err != nil || day.IsZero() {
		return d, fmt.Sprintf("%q is not a day: write it like %s.", m.state.Day, m.data.today), DayField
	}
	d.Arrived = day
	for _, clock := range []struct {
		typed Days
		days  **int
		name  string
		field Want
	}{{m.state.Damage, &d.DamageDays, "damage", DamageField}, {m.state.Shortage, &d.ShortageDays, "shortages", ShortageField}} {
		days, known, err := clock.typed.read()
		if err != nil {
			return d, wording.Error(err), clock.field
		}
		if !known {
			return d, "Type the days that the paperwork allows for " + clock.name + ", or say that it says nothing.", clock.field
		}
		*clock.days = days
	}
	return d, "", NoField
}

// Confirm records the arrival, once all is said.
func (m *ArrivalModel) Confirm() {
	d, missing, _ := m.delivery()
	if missing != "" {
		return
	}
	ship := m.data.ship.ID
	loop.DoOnce(m.session.Loop, &m.writing, func() (store.Entry, error) { return m.session.Shop.Arrive(ship, d) }, func(_ store.Entry, err error) {
		if err != nil {
			m.state.Error = wording.Error(err)
			m.show(m.state)
			return
		}
		m.entered(ship)
	})
}
