package operation

import (
	"context"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store/hardware"
)

// KeepFigures keeps figures of a printed standard that are the builder's own, all of them
// or none.
type KeepFigures struct {
	File string            // a CSV with the columns designation, source, grip, length; "": Rows
	Rows []hardware.OwnRow // where there is no file
}

// Do keeps them. In the error is every *hardware.OwnError of the file.
func (o KeepFigures) Do(_ context.Context, s *session.Session) (Result, error) {
	if o.File == "" {
		return did(s.Shop.PutFigures(o.Rows))
	}
	rows, err := session.ReadFigures(o.File)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.PutFigures(rows))
}

// DropFigures takes the own figures of numbers away.
type DropFigures struct{ Designations []string }

// Do takes them away.
func (o DropFigures) Do(_ context.Context, s *session.Session) (Result, error) {
	return did(s.Shop.DropFigures(o.Designations...))
}

// AddHand keeps the name of somebody who works in the shop, for the list to choose from.
type AddHand struct{ Name string }

// Do keeps it. Where it is kept already nothing is written.
func (o AddHand) Do(_ context.Context, s *session.Session) (Result, error) {
	settings, err := s.Shop.Settings()
	if err != nil {
		return Result{}, err
	}
	name := strings.TrimSpace(o.Name)
	switch {
	case name == "":
		return Result{}, invalid("Type the name of who works here.")
	case slices.Contains(settings.Hands, name):
		return Result{}, nil
	}
	settings.Hands = append(settings.Hands, name)
	return did(s.Shop.PutSettings(settings))
}
