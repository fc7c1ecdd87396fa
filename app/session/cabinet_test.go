package session_test

import (
	"testing"

	"stowright/app/drawing"
	"stowright/app/session"
	"stowright/store/hardware"
)

// The pair of a cabinet that is easiest to confuse is the one that lies closest
// together, wherever the cabinet's rows break.
func TestNearestPair(t *testing.T) {
	cabinet := func(columns int, items ...string) drawing.Cabinet {
		c := drawing.Blank("A", len(items)/columns, columns)
		for i, item := range items {
			c.Drawers[i].Designation = item
		}
		return c
	}
	for _, row := range []struct {
		name    string
		cabinet drawing.Cabinet
		a, b    string
		away    int
	}{
		{"empty", drawing.Blank("A", 2, 2), "", "", 0},
		{"no drawers", drawing.Cabinet{}, "", "", 0},
		{"none alike", cabinet(2, "AN3-5A", "MS24665-132"), "", "", 0},
		{"the same thing twice", cabinet(2, "AN3-5A", "AN3-5A"), "", "", 0},
		{"the closer of two", cabinet(4, "AN3-5A", "", "AN3-6A", "AN3-5A"), "A-03", "A-04", 1},
		{"over the corner", cabinet(2, "AN3-5A", "", "", "AN3-6A"), "A-01", "A-04", 1},
		{"not round the end of a row", cabinet(3, "", "", "AN3-5A", "AN3-6A", "", ""), "A-03", "A-04", 2},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, found := session.NearestPair(hardware.Standard(), row.cabinet)
			if found != (row.a != "") || got.A.Name != row.a || got.B.Name != row.b || got.Away != row.away {
				t.Errorf("got %s and %s, %d away, %v; want %s and %s, %d away", got.A.Name, got.B.Name, got.Away, found, row.a, row.b, row.away)
			}
		})
	}
}
