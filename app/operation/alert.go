package operation

import (
	"context"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// Alert records an issue of an alert, which sets apart what it names.
type Alert struct {
	Alert       string   // its number, A-3; "": a new one
	Title       string   // of a new one
	Item        string   // part number
	Lots        []string // as they are marked
	From, Until string   // days on which it was shipped, the first and the last
	Maker       string
	Day         string // of the issue; "": today
	Paper       string // "PA-3"
	Note        string
}

// Do records it.
func (o Alert) Do(_ context.Context, s *session.Session) (Result, error) {
	number, issue, err := o.issue(s)
	if err != nil {
		return Result{}, err
	}
	_, e, err := s.Shop.Alert(number, o.Title, issue)
	return did(e, err)
}

// issue is what is recorded: of a new alert for number 0.
func (o Alert) issue(s *session.Session) (number uint64, issue store.Issue, err error) {
	if o.Alert != "" {
		if number, err = alertNumber(o.Alert); err != nil {
			return 0, issue, err
		}
	}
	issue = store.Issue{Item: spelled(s, o.Item), Maker: o.Maker, Paper: strings.TrimSpace(o.Paper), Note: o.Note}
	for _, lot := range o.Lots {
		if lot = strings.TrimSpace(lot); lot != "" {
			issue.Printed = append(issue.Printed, lot)
		}
	}
	for _, field := range []struct {
		day  *store.Date
		said string
	}{{&issue.From, o.From}, {&issue.Until, o.Until}, {&issue.Day, o.Day}} {
		if err := setDay(s, field.day, field.said); err != nil {
			return 0, issue, err
		}
	}
	return number, issue, nil
}

// Comes is what it would come to, with nothing recorded: what the alert comes to now, empty
// for a new one, and what it would after it.
func (o Alert) Comes(s *session.Session) (now, then session.Alerted, err error) {
	number, issue, err := o.issue(s)
	switch {
	case err != nil:
		return now, then, err
	case number == 0 && strings.TrimSpace(o.Title) == "":
		return now, then, invalid("Say what the alert is called: its title.")
	case issue.Item == "":
		return now, then, invalid("Say which part number the alert names.")
	}
	err = s.Read(func(r *session.Reader) error {
		if number > 0 {
			alerts, err := r.Shop.Alerts()
			if err != nil {
				return err
			}
			i := slices.IndexFunc(alerts, func(a store.Alert) bool { return a.Number == number })
			if i < 0 {
				return missing(o.Alert, "There is no alert %s in this shop: see its alerts.", o.Alert)
			}
			if now, err = r.Alerted(alerts[i]); err != nil {
				return err
			}
		}
		var err error
		then, err = r.AlertedBy(number, issue)
		return err
	})
	return now, then, err
}

func alertNumber(text string) (uint64, error) {
	number, ok := store.AlertNumber(text)
	if !ok {
		return 0, invalid("%q is no alert: give its number, such as A-3.", text)
	}
	return number, nil
}

// AnswerAlert releases lots from an alert, by a decision that answers it.
type AnswerAlert struct {
	Alert    string   // its number
	Decision string   // D-2
	Lots     []string // L-17, or as printed
	Item     string   // of the lots; "": of any
}

// Do releases them.
func (o AnswerAlert) Do(_ context.Context, s *session.Session) (Result, error) {
	number, err := alertNumber(o.Alert)
	if err != nil {
		return Result{}, err
	}
	names, err := o.lots(s)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.AnswerAlert(number, o.Decision, names...))
}

func (o AnswerAlert) lots(s *session.Session) (names []string, err error) {
	for _, text := range o.Lots {
		text = strings.TrimSpace(text)
		lot, err := LotNamed(s, text, o.Item)
		switch {
		case err == nil:
			text = lot.Name()
		case store.KindOf(err) != store.NotFound: // it may be a lot of an older shop, as printed
			return nil, err
		}
		names = append(names, text)
	}
	return names, nil
}

// ReleaseLots records the decision that answers an alert, and releases lots by it: both
// happen or none.
type ReleaseLots struct {
	AnswerAlert      // Decision is the one to be made, and stays empty
	Who, Paper, Note string
	Day              string // of the decision; "": today
}

// Do records and releases.
func (o ReleaseLots) Do(_ context.Context, s *session.Session) (Result, error) {
	number, err := alertNumber(o.Alert)
	if err != nil {
		return Result{}, err
	}
	names, err := o.lots(s)
	if err != nil {
		return Result{}, err
	}
	d := store.Decision{Kind: store.AlertAnswer, Who: o.Who, Note: o.Note, Lots: names}
	if paper := strings.TrimSpace(o.Paper); IsPaperName(paper) {
		d.Papers = []string{paper}
	} else {
		d.Paper = paper
	}
	if err := setDay(s, &d.Day, o.Day); err != nil {
		return Result{}, err
	}
	var e store.Entry
	err = s.Shop.Together(func(group *store.Shop) error {
		made, _, err := group.Decide(d)
		if err != nil {
			return err
		}
		e, err = group.AnswerAlert(number, made.Name(), names...)
		return err
	})
	return did(e, err)
}
