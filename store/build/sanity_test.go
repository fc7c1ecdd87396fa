package build

import (
	"strings"
	"testing"

	"stowright/assets/standards"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// listOf makes a sub-assembly of "6 AN3-5A, 6 AN365-1032A".
func listOf(t testing.TB, text string) SubAssembly {
	t.Helper()
	s := SubAssembly{Code: "SA-1"}
	for i, line := range strings.Split(text, ", ") {
		n, item, ok := strings.Cut(line, " ")
		e, err := ParseExpression(n, measure.Each)
		if !ok || err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		s.Requirements = append(s.Requirements, Requirement{ID: "R-" + string(rune('a'+i)), Called: item, Item: item, Needed: e.Quantity, Kind: e.Kind})
	}
	return s
}

const (
	boltsList  = "212 AN426AD3-3.5, 46 AN470AD4-5, 6 AN3-5A, 12 NAS1149F0363P, 6 AN365-1032A"
	castleList = "4 AN3-11, 4 AN310-3, 4 MS24665-132, 8 AN960-10, 2 OQ-40-001-L, 2 OQ-40-001-R"
	clevisList = "2 AN23-10, 2 AN320-3, 4 AN380-2-2, 2 AN393-11, 2 AN960-10, 12 MS27039-0806, 12 MS21051-08"
)

// Three clean lists raise no alarm.
func TestCleanLists(t *testing.T) {
	for _, list := range []string{boltsList, castleList, clevisList} {
		for _, d := range Doubts(hardware.Standard(), listOf(t, list)) {
			t.Errorf("%s: %s", list, d.Sentence)
		}
	}
	for _, s := range demoReading().SubAssemblies {
		switch s.Code {
		case "SA-20", "SA-40": // the trade paper asks about these two
			continue
		}
		for _, d := range Doubts(hardware.Standard(), s) {
			t.Errorf("%s: %s", s.Code, d.Sentence)
		}
	}
}

// Every planted fault is found, by a question that names its table and source.
func TestPlantedFaults(t *testing.T) {
	for _, row := range []struct{ fault, list, old, new, want string }{
		{"a nut short", boltsList, "6 AN365-1032A", "5 AN365-1032A", "6 bolts and 5 nuts of 10-32: is the list whole?"},
		{"no nut", boltsList, ", 6 AN365-1032A", "", "6 bolts of 10-32 (AN3-5A) and no nut or plate nut with that thread: is the list whole?"},
		{"no bolt", boltsList, "6 AN3-5A, ", "", "6 nuts of 10-32 (AN365-1032A) and no bolt or screw with that thread: is the list whole?"},
		{"nuts of another thread", boltsList, "AN365-1032A", "AN365-428A", "6 nuts of 1/4-28 (AN365-428A) and no bolt or screw with that thread: is the list whole?"},
		{"undrilled for drilled", castleList, "AN3-11", "AN3-11A", "4 castle nuts and 0 bolts with a cotter-pin hole; AN3-11A has none: is a drilled shank meant?"},
		{"drilled for undrilled", boltsList, "AN3-5A", "AN3-5", "AN3-5 has a cotter-pin hole, and AN365-1032A locks by itself: is a plain shank meant, or a castle nut?"},
		{"no pins", castleList, "4 MS24665-132, ", "", "4 castle nuts and clevis pins (AN310-3) and no cotter pin: how are they locked?"},
		{"a pin short", castleList, "4 MS24665-132", "3 MS24665-132", "3 cotter pins for 4 castle nuts and clevis pins: is the list whole?"},
		{"a pin over", clevisList, "4 AN380-2-2", "5 AN380-2-2", "5 cotter pins for 4 castle nuts and clevis pins: is the list whole?"},
		{"pins for nothing", boltsList, "12 NAS", "6 MS24665-132, 12 NAS", "6 cotter pins (MS24665-132) and no castle nut or clevis pin: is the list whole?"},
		{"pins of another size", castleList, "MS24665-132", "AN380-3-3", "with AN310-3 the pin is usually MS24665-132, and AN380-3-3 is called: is that meant?"},
		{"thin castle nut", castleList, "AN310-3", "AN320-3", "AN320-3 is thin, for shear, and AN3-11 is no clevis bolt: is the full nut meant?"},
		{"thin lock nut", boltsList, "AN365-1032A", "MS21083N3", "MS21083N3 is thin, for shear, and AN3-5A is no clevis bolt: is the full nut meant?"},
		{"no washer", castleList, "8 AN960-10, ", "", "no washer is called for AN3-11: is the list whole?"},
		{"washers of another size", boltsList, "NAS1149F0363P", "NAS1149F0463P", "no washer for a No. 10 bolt (AN3-5A); NAS1149F0463P is for another size"},
		{"a washer short", boltsList, "12 NAS1149F0363P", "11 NAS1149F0363P", "11 washers for 6 bolts of No. 10: not the same number for each"},
		{"too many washers", boltsList, "12 NAS1149F0363P", "24 NAS1149F0363P", "24 washers for 6 bolts of No. 10: more than 3 each"},
		{"no such dash", boltsList, "AN3-5A", "AN3-8A", "AN3-8A: "},
		{"a line twice", castleList, "4 AN310-3", "2 AN310-3, 2 AN310-3", "AN310-3 stands twice without another position or callout: is one a repeat?"},
		{"left and right", castleList, "2 OQ-40-001-R", "1 OQ-40-001-R", "2 of OQ-40-001-L and 1 of OQ-40-001-R: are left and right meant to differ?"},
		{"a plate nut short", clevisList, "12 MS21051-08", "10 MS21051-08", "12 bolts and screws and 10 nuts and plate nuts of 8-32: is the list whole?"},
		{"drilled heads without wire", boltsList, "AN3-5A", "AN3H-5A", "AN3H-5A has a head drilled for lockwire, and none is called: is it meant?"},
		{"plain nuts unlocked", boltsList, "AN365-1032A", "AN315-3R", "AN315-3R does not lock by itself, and nothing that locks it is called: is the list whole?"},
		{"left-hand nuts", boltsList, "AN365-1032A", "AN315-3L", "AN315-3L has a left-hand thread: do the bolts have one?"},
	} {
		t.Run(row.fault, func(t *testing.T) {
			list := strings.Replace(row.list, row.old, row.new, 1)
			if list == row.list {
				t.Fatalf("the fault is not in %s", list)
			}
			var found []string
			for _, d := range Doubts(hardware.Standard(), listOf(t, list)) {
				found = append(found, d.Sentence)
				if !strings.HasPrefix(d.Sentence, row.want) || d.CannotCheck {
					continue
				}
				ofTheList := strings.Contains(d.Sentence, "twice") || strings.Contains(d.Sentence, "left and right")
				if !ofTheList && (d.Table == "" || d.Source == "" || d.Checked < 1) {
					t.Errorf("%q rests on %q, %q, seen %d times", d.Sentence, d.Table, d.Source, d.Checked)
				}
				return
			}
			t.Errorf("%s\nsays %q\nwant %q", list, found, row.want)
		})
	}
}

// The demo's own lists, as the trade paper holds them.
func TestDemoLists(t *testing.T) {
	for _, row := range []struct{ code, want string }{
		{"SA-20", "6 nuts of 10-32 (MS21042-3) and no bolt or screw with that thread: is the list whole?"},
		{"SA-40", "no washer is called for AN3-11: is the list whole?"},
	} {
		for _, s := range demoReading().SubAssemblies {
			if s.Code != row.code {
				continue
			}
			d := Doubts(hardware.Standard(), s)
			if len(d) != 1 || d[0].Sentence != row.want {
				t.Errorf("%s: %+v", row.code, d)
			}
		}
	}
}

// What no second source was seen for is said to be uncheckable, and never doubted.
func TestCannotCheck(t *testing.T) {
	for _, list := range []string{
		"6 AN3-5A, 12 AN960-10, 5 AN364-1032A",          // its thread is from memory
		"2 AN23-10, 2 AN320-3, 2 AN380-3-3, 2 AN960-10", // and so is the pin of AN320-3
	} {
		d := Doubts(hardware.Standard(), listOf(t, list))
		if len(d) == 0 {
			t.Fatalf("%s: nothing is said of what is from memory", list)
		}
		for _, x := range d {
			if !x.CannotCheck || !strings.HasPrefix(x.Sentence, "cannot check ") {
				t.Errorf("%s: it says %q of a row that nobody checked", list, x.Sentence)
			}
		}
	}
}

// What is as required is there, and is not counted.
func TestDoubtsAsRequired(t *testing.T) {
	for _, d := range Doubts(hardware.Standard(), listOf(t, "6 AN3-5A, A/R AN960-10, 6 AN365-1032A")) {
		t.Error(d.Sentence)
	}
	s := listOf(t, "6 AN3-5A, 12 AN960-10, 6 AN365-1032A, 9 AN3-7A")
	s.Requirements[3].Kind = Temporary
	for _, d := range Doubts(hardware.Standard(), s) {
		t.Error(d.Sentence)
	}
}

// The rules stand in the tables as they are cited here.
func TestRulesAreInTheTables(t *testing.T) {
	table, err := standards.Read("rules_reference")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct {
		fact
		words string
	}{
		{ruleSafety, "safety all bolts and nuts except self-locking nuts"},
		{ruleOneWasher, "one flat washer under the head, one under the nut"},
		{ruleMost, "no more than three washers"},
	} {
		found := false
		for _, row := range table.Rows {
			found = found || strings.Contains(row.Get("rule"), want.words) && row.Source() == want.source && row.Checked("checked") == want.checked
		}
		if !found {
			t.Errorf("%+v is in no row of rules_reference.csv", want)
		}
	}
}
