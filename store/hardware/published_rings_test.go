package hardware

import (
	"fmt"
	"strings"
	"testing"

	"stowright/store/measure"
)

// Sizes of AS568 as its size charts print them: dash, inside diameter, section.
const publishedRings = `
006 .114 .070   010 .239 .070   012 .364 .070   014 .489 .070   016 .614 .070
018 .739 .070   020 .864 .070   024 1.114 .070  028 1.364 .070  110 .362 .103
113 .549 .103   116 .737 .103   210 .734 .139   214 .984 .139   218 1.234 .139
222 1.484 .139  312 .600 .210   325 1.475 .210  425 4.475 .275  902 .239 .064
904 .351 .072   906 .468 .078   908 .644 .087   910 .755 .097   912 .924 .116
`

// TestPublishedRings: figures of the charts, on the standards that share the numbers.
func TestPublishedRings(t *testing.T) {
	cells := strings.Fields(publishedRings)
	for i := 0; i+2 < len(cells); i += 3 {
		for _, standard := range []string{"AS568", "MS29513", "M83248/1", "M83248/2"} {
			r := Decode(standard + "-" + cells[i])
			for name, want := range map[string]string{InsideDiameter: cells[i+1], CrossSection: cells[i+2]} {
				if f, ok := r.Field(name); !ok || !printedAs(f.Length, want) {
					t.Errorf("%s-%s %s: got %s, want %s", standard, cells[i], name, f.Text, want)
				}
			}
		}
	}
	if len(cells) != 75 {
		t.Errorf("%d cells", len(cells))
	}
}

// TestRingSeries: the hundreds of the number are the section, but for the 900
// numbers, and within them the inside grows with the number.
func TestRingSeries(t *testing.T) {
	// Sections of the series by AS568: 0.070, 0.103, 0.139, 0.210 and 0.275.
	sections := map[byte]measure.Length{'0': 70 * thou, '1': 103 * thou, '2': 139 * thou, '3': 210 * thou, '4': 275 * thou}
	odd := map[string]bool{"001": true, "002": true, "003": true} // thinner by the standard
	last := map[byte]measure.Length{}
	seen := 0
	for _, c := range Standard().series["AS568"].nums[0].list {
		section, inside := c.field(CrossSection), c.field(InsideDiameter)
		if want, ok := sections[c.text[0]]; ok && !odd[c.text] && section.Length != want {
			t.Errorf("AS568-%s: section %s, want %s", c.text, section.Text, want)
		}
		if inside.Unknown {
			continue
		}
		seen++
		if inside.Length <= last[c.text[0]] && c.text[0] != '9' {
			t.Errorf("AS568-%s: inside %s, not more than the number before it", c.text, inside.Text)
		}
		last[c.text[0]] = inside.Length
	}
	if seen < 200 {
		t.Errorf("only %d rings have an inside", seen)
	}
}

// TestBossRings: the 900 numbers seal a boss, whose tube is their last two digits in
// sixteenths (NAVEDTRA 14105 ch. 7); 901 is outside the rule.
func TestBossRings(t *testing.T) {
	for number, tube := range map[string]string{"902": "1/8", "903": "3/16", "904": "1/4", "905": "5/16", "906": "3/8", "908": "1/2", "910": "5/8", "912": "3/4", "916": "1", "920": "1-1/4"} {
		f, ok := Decode("AS568-" + number).Field(Fits)
		if want := "boss of a straight thread fitting for " + tube + " tube"; !ok || f.Text != want {
			t.Errorf("AS568-%s: got %q, want %q", number, f.Text, want)
		}
	}
	for _, number := range []string{"AS568-901", "AS568-012", "AS568-214"} {
		if f, ok := Decode(number).Field(Fits); ok {
			t.Errorf("%s: got %q", number, f.Text)
		}
	}
}

// TestRingNumbers: a nought in front may be left out, the letter of the revision is
// no part of the number, and what the standard leaves out is refused.
func TestRingNumbers(t *testing.T) {
	for text, want := range map[string]string{
		"AS568-12": "AS568-012", "AS568-6": "AS568-006", "AS568A-012": "AS568-012", "AS568C012": "AS568-012", "as568 214": "AS568-214", "MS28775-12": "MS28775-012",
		"M83248/1-12": "M83248/1-012", "MS29513-214": "MS29513-214",
	} {
		if r := Decode(text); r.Designation != want {
			t.Errorf("%q: got %q (%s), want %s", text, r.Designation, r.Problem, want)
		}
	}
	for _, text := range []string{"AS568-200", "AS568-000", "AS568-500", "AS568-999", "AS568AB-012", "AS568-0012", "AS568"} {
		if r := Decode(text); r.Known {
			t.Errorf("%q: got %s", text, r.Title)
		}
	}
}

// TestMeasuredRings: a ring that was measured is found by inside and section, and by
// outside and section where the inside cannot be reached.
func TestMeasuredRings(t *testing.T) {
	for number, r := range map[string]Readings{
		"AS568-012": {Kind: ORing, Inside: 364 * thou, Thickness: 70 * thou},
		"AS568-214": {Kind: ORing, Outside: (984 + 2*139) * thou, Thickness: 139 * thou},
		"AS568-908": {Kind: ORing, Inside: 644 * thou, Thickness: 87 * thou},
	} {
		id, err := Standard().Identify(r, nil)
		if err != nil || len(id.Candidates) == 0 || id.Candidates[0].Designation != number || !id.Candidates[0].Fits {
			t.Errorf("%s: got %+v, %v", number, id.Candidates, err)
		}
	}
	// One section, the next inside: 0.070 rings step by 1/16 here, and the other is ruled out.
	id, err := Standard().Identify(Readings{Kind: ORing, Inside: 364 * thou, Thickness: 70 * thou}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range id.Candidates {
		if strings.HasSuffix(k.Designation, "-013") && k.Fits {
			t.Errorf("%s fits: %s", k.Designation, fmt.Sprint(k.Judged))
		}
	}
}
