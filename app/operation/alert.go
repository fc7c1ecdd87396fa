package operation

import (
	"context"

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
	var number uint64
	if o.Alert != "" {
		var err error
		if number, err = alertNumber(o.Alert); err != nil {
			return Result{}, err
		}
	}
	issue := store.Issue{Item: spelled(s, o.Item), Printed: o.Lots, Maker: o.Maker, Paper: o.Paper, Note: o.Note}
	for _, field := range []struct {
		day  *store.Date
		said string
	}{{&issue.From, o.From}, {&issue.Until, o.Until}, {&issue.Day, o.Day}} {
		if err := setDay(s, field.day, field.said); err != nil {
			return Result{}, err
		}
	}
	_, e, err := s.Shop.Alert(number, o.Title, issue)
	return did(e, err)
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
	var names []string
	for _, text := range o.Lots {
		lot, err := LotNamed(s, text, o.Item)
		switch {
		case err == nil:
			text = lot.Name()
		case store.KindOf(err) != store.NotFound: // it may be a lot of an older shop, as printed
			return Result{}, err
		}
		names = append(names, text)
	}
	return did(s.Shop.AnswerAlert(number, o.Decision, names...))
}
