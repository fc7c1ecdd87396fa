package hardware

import (
	"fmt"
	"strings"
	"testing"
)

// The torque table of AC 43.13-1B (Table 7-1), in inch-pounds: thread, tension
// nuts, shear nuts, most allowable with either.
const publishedTorques = `
8-36      12   15     7    9    20    12
10-32     20   25    12   15    40    25
1/4-28    50   70    30   40   100    60
5/16-24  100  140    60   85   225   140
3/8-24   160  190    95  110   390   240
7/16-20  450  500   270  300   840   500
1/2-20   480  690   290  410  1100   660
9/16-18  800 1000   480  600  1600   960
5/8-18  1100 1300   600  780  2400  1400
3/4-16  2300 2500  1300 1500  5000  3000
7/8-14  2500 3000  1500 1800  7000  4200
`

// TestPublishedTorqueTable: every figure of the fine threads, on the row, on the bolt
// of that thread and on the nuts that the columns of the table name.
func TestPublishedTorqueTable(t *testing.T) {
	bolts := map[string]string{
		"10-32": "AN3-5A", "1/4-28": "AN4-7A", "5/16-24": "AN5-7A", "3/8-24": "AN6-7A", "7/16-20": "AN7-7A", "1/2-20": "AN8-7A",
		"9/16-18": "AN9-7A", "5/8-18": "AN10-7A", "3/4-16": "AN12-10A", "7/8-14": "AN14-10A", "8-36": "AN22-10A",
	}
	for line := range strings.Lines(strings.TrimSpace(publishedTorques)) {
		var thread string
		var row [6]InchPounds
		if _, err := fmt.Sscan(line, &thread, &row[0], &row[1], &row[2], &row[3], &row[4], &row[5]); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		got, ok := Standard().Torque(thread)
		if !ok || !got.Fine || got.Tension != (TorqueRange{row[0], row[1]}) || got.Shear != (TorqueRange{row[2], row[3]}) || got.MaxTension != row[4] || got.MaxShear != row[5] {
			t.Errorf("%s: got %+v, printed %v", thread, got, row)
		}
		tension := fmt.Sprintf("%d to %d in-lb, most allowable %d in-lb", row[0], row[1], row[4])
		shear := fmt.Sprintf("%d to %d in-lb, most allowable %d in-lb", row[2], row[3], row[5])
		if bolt := bolts[thread]; bolt != "AN22-10A" { // a clevis bolt is in shear
			saysTorque(t, bolt, tension, shear)
		} else {
			saysTorque(t, bolt, "", shear)
		}
	}
	// The nuts that the columns name: MS20365 and AN310, MS20364 and AN320.
	saysTorque(t, "AN310-4", "50 to 70 in-lb, most allowable 100 in-lb", "")
	saysTorque(t, "AN365-1032A", "20 to 25 in-lb, most allowable 40 in-lb", "")
	saysTorque(t, "MS20365-428A", "50 to 70 in-lb, most allowable 100 in-lb", "")
	saysTorque(t, "AN320-4", "", "30 to 40 in-lb, most allowable 60 in-lb")
	saysTorque(t, "AN364-1032A", "", "12 to 15 in-lb, most allowable 25 in-lb")
}

// saysTorque holds the two torques of a piece, "" for none, with their caution.
func saysTorque(t *testing.T, number, tension, shear string) {
	t.Helper()
	r := Decode(number)
	for name, want := range map[string]string{TorqueTension: tension, TorqueShear: shear} {
		f, ok := r.Field(name)
		if ok != (want != "") || !strings.HasPrefix(f.Text, want) {
			t.Errorf("%s %s: got %q, want %q", number, name, f.Text, want)
		}
		if ok && (!strings.Contains(f.Text, "the kit maker's torque governs") || f.Source != "AC 43.13-1B Table 7-1") {
			t.Errorf("%s %s: got %q from %q", number, name, f.Text, f.Source)
		}
	}
}

// TestNoTorque: the table is for plated steel with nuts of fine thread, and nothing
// of it is said of other pieces.
func TestNoTorque(t *testing.T) {
	for number, why := range map[string]string{
		"AN3DD5A":       "aluminium",
		"AN4C7A":        "corrosion-resistant steel",
		"AN310D4":       "an aluminium nut",
		"AN365C1032A":   "a corrosion-resistant nut",
		"AN365D1032A":   "an aluminium nut",
		"AN73A5":        "coarse thread in a drilled head for tapped holes",
		"AN16-20A":      "sources disagree about the one-inch thread",
		"AN316-4R":      "no nut that the table names",
		"MS21042-3":     "no nut that the table names",
		"AN525-10R8":    "a screw",
		"MS27039-1-08":  "a screw",
		"NAS6304-5":     "A286",
		"AN960-10":      "a washer",
		"AN470AD4-4":    "a rivet",
		"MS21047L3":     "a plate nut",
		"NAS1149F0363P": "a washer",
	} {
		for _, name := range []string{TorqueTension, TorqueShear} {
			if f, ok := Decode(number).Field(name); ok {
				t.Errorf("%s (%s): got %q", number, why, f.Text)
			}
		}
	}
	for _, thread := range []string{"", "10", "10-33", "32", "10-32UNF", "1-14x"} {
		if row, ok := Standard().Torque(thread); ok {
			t.Errorf("%q: got %+v", thread, row)
		}
	}
}

// TestTorqueRows: each row goes up, shear nuts take less than tension nuts, and the
// coarse threads are marked as such.
func TestTorqueRows(t *testing.T) {
	last := map[bool]InchPounds{}
	for _, row := range Standard().Torques() {
		switch {
		case row.Tension.Low > row.Tension.High || row.Shear.Low > row.Shear.High:
			t.Errorf("%s: a range that goes down: %+v", row.Thread, row)
		case row.Shear.High >= row.Tension.High || row.MaxShear >= row.MaxTension:
			t.Errorf("%s: shear nuts take as much as tension nuts: %+v", row.Thread, row)
		case row.Tension.High > row.MaxTension || row.Shear.High > row.MaxShear:
			t.Errorf("%s: more is recommended than allowed: %+v", row.Thread, row)
		case row.Tension.Low < last[row.Fine]:
			t.Errorf("%s: less than the size below it: %+v", row.Thread, row)
		}
		last[row.Fine] = row.Tension.Low
		if _, tpi := threadOf(row.Thread); tpi == 0 {
			t.Errorf("%q is no thread", row.Thread)
		}
	}
	if coarse, ok := Standard().Torque("10-24"); !ok || coarse.Fine {
		t.Errorf("10-24: got %+v, %v", coarse, ok)
	}
	// What is handed out is a copy.
	Standard().Torques()[0].Thread = "changed"
	if Standard().Torques()[0].Thread == "changed" {
		t.Error("the table of the catalog was changed from outside")
	}
}

// TestTurnbuckleWire: AC 43.13-1B Table 7-8, by the cable, and the turnbuckles that
// par. 7-165 names.
func TestTurnbuckleWire(t *testing.T) {
	rows := []string{
		"1/16 cable: single wrap of 0.040 copper, brass (or galvanized, tinned, soft iron)",
		"3/32 cable: single wrap of 0.040 copper, brass",
		"1/8 cable: single wrap of 0.040 stainless, Monel, K Monel",
		"1/8 cable: double wrap of 0.040 copper, brass",
		"1/8 cable: single wrap of 0.057 min copper, brass",
		"5/32 and greater cable: double wrap of 0.040 stainless, Monel, K Monel",
		"5/32 and greater cable: single wrap of 0.057 min stainless, Monel, K Monel",
		"5/32 and greater cable: double wrap of 0.0512 copper, brass",
	}
	for _, number := range []string{"AN130-16S", "AN135-16S", "AN140-22L", "AN150-16S", "AN155-32S"} {
		f, ok := Decode(number).Field("safety_wire")
		if !ok || f.Text != strings.Join(rows, "; ") || !strings.Contains(f.Source, "Table 7-8") {
			t.Errorf("%s: got %q from %q", number, f.Text, f.Source)
		}
	}
	for _, number := range []string{"MS21251-B3S", "MS21252-3LS", "AN100-4", "AN3-5A"} { // clipped, or no turnbuckle
		if f, ok := Decode(number).Field("safety_wire"); ok {
			t.Errorf("%s: got %q", number, f.Text)
		}
	}
}
