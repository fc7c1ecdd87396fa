package hardware

import (
	"strings"
	"testing"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// TestDecimalsAgreeWithFractions: where a table gives a figure both ways, the
// decimal is the fraction rounded to three or four places.
func TestDecimalsAgreeWithFractions(t *testing.T) {
	compared := 0
	for _, name := range standards.Names() {
		table, err := standards.Read(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, column := range table.Header() {
			stem, ok := strings.CutSuffix(column, "_fraction")
			if !ok || !table.Has(stem+"_in") {
				continue
			}
			for _, r := range table.Rows {
				decimal, fraction := r.Get(stem+"_in"), r.Get(column)
				if decimal == "" || fraction == "" {
					continue
				}
				a, errA := measure.ParseLength(decimal)
				b, errB := measure.ParseLength(fraction)
				if off := a - b; errA != nil || errB != nil || max(off, -off) > measure.Inch/2000 {
					t.Errorf("%s line %d: %s %q and %q differ (%v, %v)", name, r.Line, stem, decimal, fraction, errA, errB)
				}
				compared++
			}
		}
	}
	if compared < 500 {
		t.Errorf("only %d figures were compared", compared)
	}
}

// TestBoltRowsObeyTheirRule: length is n/8 and a, grip is n/8 less C for the
// diameter; the rows that do not say so in their note.
// Source of the constants: the published AN3 to AN6 table, NASM3-20.
func TestBoltRowsObeyTheirRule(t *testing.T) {
	length := func(text string) measure.Length {
		l, err := measure.ParseLength(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		return l
	}
	constants, err := standards.Read("bolts_an3_an20_constants")
	if err != nil {
		t.Fatal(err)
	}
	more, less := map[string]measure.Length{}, map[string]measure.Length{}
	for _, r := range constants.Rows {
		if r.Get("display") == "yes" {
			more[r.Get("an_number")] = length(r.Get("length_excess_a_fraction"))
			less[r.Get("an_number")] = length(r.Get("grip_constant_C_fraction"))
		}
	}
	bolts, err := standards.Read("bolts_an3_an20")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range bolts.Rows {
		dash := r.Checked("dash")
		nominal := measure.Length(dash/10*8+dash%10) * measure.Inch / 8
		an := r.Get("an_number")
		obeys := length(r.Get("length_fraction")) == nominal+more[an] && length(r.Get("grip_fraction")) == nominal-less[an]
		if exception := strings.HasPrefix(r.Get("note"), "exception"); obeys == exception {
			t.Errorf("%s-%d: length %s grip %s: obeys the rule %v, said to be an exception %v", an, dash, r.Get("length_fraction"), r.Get("grip_fraction"), obeys, exception)
		}
		if dash%10 > 7 {
			t.Errorf("%s-%d: no such dash number", an, dash)
		}
	}
}
