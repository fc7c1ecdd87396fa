package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/build"
	"stowright/store/phrase"
)

// Certificate is the kind of certificate that an aircraft has.
type Certificate = build.Certificate

// The kinds of certificate.
const (
	NoCertificate    = build.NoCertificate
	Experimental     = build.Experimental
	StandardCategory = build.StandardCategory
	OtherCertificate = build.OtherCertificate
)

// Aircraft is one that is built or kept in the shop.
type Aircraft struct {
	Name        string         `json:"name"`
	Certificate Certificate    `json:"certificate,omitempty"` // empty: none yet
	Inspectors  []Inspector    `json:"inspectors,omitempty"`
	Hours       []HoursReading `json:"hours,omitempty"` // by day
	Build       bool           `json:"build,omitempty"` // the one that is built here
}

// Inspector is who may inspect an aircraft, and by which paper, as somebody typed it.
type Inspector struct {
	Who   string `json:"who"`
	Paper string `json:"paper"`
}

// HoursReading is the total time of an aircraft on a day.
type HoursReading struct {
	Day   Date        `json:"day"`
	Hours build.Hours `json:"hours"` // in tenths of an hour
	At    time.Time   `json:"at"`
	Hand  string      `json:"hand"`
}

// HoursOn is the newest reading up to a day; false where there is none.
func (a Aircraft) HoursOn(day Date) (reading HoursReading, ok bool) {
	for _, r := range a.Hours {
		if r.Day.DaysUntil(day) >= 0 {
			reading, ok = r, true
		}
	}
	return reading, ok
}

var aircraftTable = table{
	name: tableAircraft, one: "aircraft", since: 6, keys: named, by: replacing,
	forms:   []form{formOf[Aircraft]("aircraft")},
	valid:   filed(func(a Aircraft) string { return a.Name }),
	refers:  namingNothing,
	indexes: []index{},
	touches: concerning(RulesPart),
	differs: others,
	unmade:  gone,
	sheet:   ownSheet("aircraft.csv", (*Reader).aircraftRows),
}

// PutAircraft makes an aircraft, or changes what is known of it but for its hours.
func (s *Shop) PutAircraft(a Aircraft) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		var err error
		if a.Name, err = cleanName("The name of the aircraft", a.Name); err != nil {
			return "", err
		}
		switch a.Certificate {
		case NoCertificate, Experimental, StandardCategory, OtherCertificate:
		default:
			return "", fail(Invalid, a.Name, "%s is no kind of certificate: say experimental, standard or other, or leave it out.", phrase.Quote(string(a.Certificate)))
		}
		a.Inspectors = slices.Clone(a.Inspectors)
		for i := range a.Inspectors {
			p := &a.Inspectors[i]
			if p.Who, err = cleanName("Who may inspect "+a.Name, p.Who); err != nil {
				return "", err
			}
			if p.Paper, err = cleanName("The paper by which "+p.Who+" may inspect", p.Paper); err != nil {
				return "", err
			}
		}
		known, _, err := lookup[Aircraft](w.ledger, tableAircraft, a.Name)
		if err != nil {
			return "", err
		}
		a.Hours = known.Hours
		return fmt.Sprintf("aircraft %s: certificate %s", a.Name, cmp.Or(string(a.Certificate), "none yet")), w.put(tableAircraft, a.Name, a)
	})
}

// LogHours records the total time of an aircraft on a day. Where that day has a reading
// already it is corrected, by an entry of its own.
func (s *Shop) LogHours(name string, day Date, hours build.Hours) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		a, err := w.aircraft(name)
		switch {
		case err != nil:
			return "", err
		case day.IsZero() || !day.Valid() || hours < 0 || hours > maxHours:
			return "", fail(Invalid, name, "%s on %s is no reading of hours: correct it.", hours, day)
		}
		text := fmt.Sprintf("%s had %s on %s", name, hours, day)
		log := slices.DeleteFunc(slices.Clone(a.Hours), func(r HoursReading) bool {
			if r.Day == day {
				text += fmt.Sprintf(", corrected from %s", r.Hours)
			}
			return r.Day == day
		})
		if err := (Aircraft{Name: name, Hours: log}).holds(day, hours); err != nil {
			return "", err
		}
		log = append(log, HoursReading{Day: day, Hours: hours, At: w.at, Hand: w.hand})
		slices.SortFunc(log, func(x, y HoursReading) int { return y.Day.DaysUntil(x.Day) })
		a.Hours = log
		return text, w.put(tableAircraft, name, a)
	})
}

// aircraft is the aircraft of a name.
func (w *writer) aircraft(name string) (Aircraft, error) {
	a, found, err := lookup[Aircraft](w.ledger, tableAircraft, name)
	if err == nil && !found {
		err = fail(NotFound, name, "There is no aircraft %s in this shop: make it first.", phrase.Quote(name))
	}
	return a, err
}

// holds refuses hours on a day that the readings of the aircraft rule out.
func (a Aircraft) holds(day Date, hours build.Hours) error {
	if !day.Valid() || hours < 0 || hours > maxHours {
		return fail(Invalid, a.Name, "%s on %s is no reading of hours: correct it.", hours, day)
	}
	for _, r := range a.Hours {
		apart := r.Day.DaysUntil(day)
		if apart > 0 && r.Hours > hours || apart < 0 && r.Hours < hours {
			return fail(Conflict, a.Name, "%s had %s on %s: hours only grow, correct one of the two.", a.Name, r.Hours, r.Day)
		}
	}
	return nil
}

// Aircraft are all aircraft, by name.
func (r *Reader) Aircraft() ([]Aircraft, error) { return all[Aircraft](r, tableAircraft, "") }

func (r *Reader) aircraftRows() ([][]string, error) {
	list, err := r.Aircraft()
	rows := [][]string{{"aircraft", "certificate", "who may inspect, by which paper", "day", "hours"}}
	for _, a := range list {
		var who []string
		for _, p := range a.Inspectors {
			who = append(who, p.Who+": "+p.Paper)
		}
		first := []string{a.Name, cmp.Or(string(a.Certificate), "none yet"), strings.Join(who, "; "), "", ""}
		if len(a.Hours) == 0 {
			rows = append(rows, first)
		}
		for _, h := range a.Hours {
			rows = append(rows, []string{first[0], first[1], first[2], h.Day.String(), h.Hours.String()})
		}
	}
	return rows, err
}
