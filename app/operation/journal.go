package operation

import (
	"context"

	"stowright/app/session"
)

// Undo writes the opposite of the newest entry that is not undone.
type Undo struct{}

// Do undoes.
func (Undo) Do(_ context.Context, s *session.Session) (Result, error) { return did(s.Shop.Undo()) }

// Redo takes the newest undo back.
type Redo struct{}

// Do redoes.
func (Redo) Do(_ context.Context, s *session.Session) (Result, error) { return did(s.Shop.Redo()) }
