package demo_test

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"testing"
	"time"

	"stowright/assets/demo"
)

// listed is a line of the packing list by its columns.
type listed struct{ crate, group, part, quantity, unit, status string }

func list(t *testing.T) map[int]listed {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(demo.PackingList(demo.PackingListCSV))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	lines := make(map[int]listed)
	for _, r := range rows[1:] {
		n, err := strconv.Atoi(r[0])
		if err != nil {
			t.Fatal(err)
		}
		lines[n] = listed{crate: r[1], group: r[2], part: r[3], quantity: r[5], unit: r[6], status: r[7]}
	}
	if len(lines) != 60 {
		t.Fatalf("lines: got %d, want 60", len(lines))
	}
	return lines
}

func amount(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// verdict says how a line stands with so much found.
func verdict(t *testing.T, l listed, f demo.Finding, found string) string {
	t.Helper()
	switch got, want := amount(t, found), amount(t, l.quantity); {
	case f.WrongRevision != "":
		return "wrong revision"
	case amount(t, f.Damaged) > 0:
		return "damaged"
	case got > want:
		return "over"
	case got == want:
		return "OK"
	case l.status == "B":
		return "back-ordered"
	case l.status == "N":
		return "not arrived"
	}
	return "short"
}

// TestFindingsAddUp holds the totals that the README gives, on day one and at the end.
func TestFindingsAddUp(t *testing.T) {
	lines := list(t)
	first, end := map[string]int{}, map[string]int{}
	for i, f := range demo.Findings() {
		if f.Line != i+1 {
			t.Fatalf("finding %d: got line %d", i+1, f.Line)
		}
		first[verdict(t, lines[f.Line], f, f.Found)]++
		later := f.Found
		if f.Later != "" {
			later = f.Later
		}
		end[verdict(t, lines[f.Line], f, later)]++
	}
	for _, c := range []struct {
		name      string
		got, want map[string]int
	}{
		{"day one", first, map[string]int{"OK": 45, "short": 5, "over": 2, "damaged": 2, "wrong revision": 1, "back-ordered": 1, "not arrived": 4}},
		{"all come", end, map[string]int{"OK": 51, "short": 4, "over": 2, "damaged": 2, "wrong revision": 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			for verdict, want := range c.want {
				if c.got[verdict] != want {
					t.Errorf("%s: got %d lines, want %d", verdict, c.got[verdict], want)
				}
			}
		})
	}
}

func TestPlaces(t *testing.T) {
	lines := list(t)
	known := map[string]demo.Place{}
	for _, p := range demo.Places() {
		if _, again := known[p.Name]; again {
			t.Errorf("place %q: twice", p.Name)
		}
		if _, ok := known[p.Parent]; !ok && p.Kind != "room" {
			t.Errorf("place %q: its place %q does not come before it", p.Name, p.Parent)
		}
		known[p.Name] = p
	}
	if c := known["Cabinet A"]; c.Rows != 5 || c.Columns != 8 {
		t.Errorf("Cabinet A: got %d x %d, want 5 x 8", c.Rows, c.Columns)
	}
	if got := len(known); got != 1+1+40+1+6+1 {
		t.Errorf("places: got %d, want 50", got)
	}
	in := map[string]string{}
	taken := map[string]string{}
	stowed := map[int]bool{}
	for _, s := range demo.Stow() {
		place, ok := known[s.Place]
		if !ok {
			t.Errorf("line %d: no place %q", s.Line, s.Place)
		}
		if drawer := place.Kind == "drawer"; drawer != (lines[s.Line].group[0] == 'H' && s.Designation == lines[s.Line].part) {
			t.Errorf("line %d, %s: got a %s", s.Line, s.Designation, place.Kind)
		}
		if other, ok := taken[s.Place]; ok && place.Kind == "drawer" && other != s.Designation {
			t.Errorf("drawer %s: holds %s and %s", s.Place, other, s.Designation)
		}
		in[s.Designation], taken[s.Place], stowed[s.Line] = s.Place, s.Designation, true
	}
	if len(stowed) != 60 {
		t.Errorf("lines with a place: got %d, want 60", len(stowed))
	}
	for part, want := range map[string]string{
		"AN470AD4-7": "A-07", "AN470AD4-4": "A-08", "MS21042-3": "A-22", "NAS1149F0363P": "A-30", "NAS1149F0332P": "A-31",
		"AN3-5A": "A-12", "OQ-80-T58": "R1",
	} {
		if in[part] != want {
			t.Errorf("%s: got %q, want %q", part, in[part], want)
		}
	}
}

// TestNumbersMeet proves that what the plans need is on the list, by its number
// there or by a renumbered one.
func TestNumbersMeet(t *testing.T) {
	parts := map[string]bool{}
	for _, l := range list(t) {
		parts[l.part] = true
	}
	renamed := map[string]string{}
	for _, n := range demo.NewNumbers() {
		if !parts[n.New] || parts[n.Old] {
			t.Errorf("%s -> %s: want the new number on the list and the old one not", n.Old, n.New)
		}
		if n.Source == "" || n.Date.Format(time.DateOnly) != "2026-03-10" {
			t.Errorf("%s: got source %q of %v", n.Old, n.Source, n.Date)
		}
		renamed[n.Old] = n.New
	}
	for _, n := range demo.Needs() {
		if !parts[n.Designation] && !parts[renamed[n.Designation]] {
			t.Errorf("%s needs %s: not on the list", n.SubAssembly, n.Designation)
		}
	}
	if got := len(demo.Needs()); got != 11 {
		t.Errorf("needs: got %d, want 11", got)
	}
}

func TestDeliveries(t *testing.T) {
	want := map[string]string{"C1": "2026-03-14", "C2": "2026-03-14", "C3": "2026-04-02"}
	got := demo.Deliveries()
	if len(got) != len(want) {
		t.Fatalf("deliveries: got %d, want %d", len(got), len(want))
	}
	for _, d := range got {
		if day := d.Arrived.Format(time.DateOnly); day != want[d.Crate] || d.DamageDays != 5 || d.ShortageDays != 30 {
			t.Errorf("%s: got %s, %d and %d days; want %s, 5 and 30", d.Crate, day, d.DamageDays, d.ShortageDays, want[d.Crate])
		}
	}
	if hands := demo.Hands(); len(hands) != 3 || hands[0] != "Builder" {
		t.Errorf("hands: got %q", hands)
	}
}
