package hardware

import (
	"slices"
	"testing"

	"stowright/store/measure"
)

func TestLeadingNumber(t *testing.T) {
	for text, want := range map[string]int{
		"": 0, "5": 50, "10L": 100, "3.5": 35, "08": 80, "C32": 320, "N632": 6320, "3.7": 30, "A": 0, "999999999": 9999999990 / 10,
	} {
		t.Run(text, func(t *testing.T) {
			if text == "999999999" {
				if got := leadingNumber(text); got <= 0 {
					t.Errorf("%q: got %d, want a positive number", text, got)
				}
				return
			}
			if got := leadingNumber(text); got != want {
				t.Errorf("%q: got %d, want %d", text, got, want)
			}
		})
	}
}

func TestCodesSortedAndNear(t *testing.T) {
	cs := newCodes()
	for _, text := range []string{"20", "3", "10L", "10", "C32", "7", "C20", "3.5"} {
		cs.add(&code{text: text})
	}
	cs.sorted()
	var order []string
	for _, c := range cs.list {
		order = append(order, c.text)
	}
	if want := []string{"3", "3.5", "7", "10", "10L", "20", "C20", "C32"}; !slices.Equal(order, want) {
		t.Fatalf("got %q, want %q", order, want)
	}
	tests := []struct {
		name, text string
		want       []string
	}{
		{"between", "8", []string{"7", "10"}},
		{"below all", "1", []string{"3"}},
		{"above all", "99", []string{"20"}},
		{"with its letters", "C25", []string{"C20", "C32"}},
		{"letters that none has", "Z5", []string{"3", "C32"}},
		{"half", "4.5", []string{"3.5", "7"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, c := range cs.near(tt.text) {
				got = append(got, c.text)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("%q: got %q, want %q", tt.text, got, tt.want)
			}
		})
	}
	if at := cs.position(cs.index["10"]); at != 3 {
		t.Errorf("10 stands at %d, want 3", at)
	}
	if at := cs.position(&code{}); at != -1 {
		t.Errorf("a strange code stands at %d, want -1", at)
	}
	if old := cs.index["7"]; cs.add(&code{text: "7", words: "another"}) != old || len(cs.list) != 8 {
		t.Error("a second 7 was taken")
	}
}

// TestCanonicalWriting: where the dash stands in each kind of designation.
func TestCanonicalWriting(t *testing.T) {
	for _, want := range []string{
		"AN3-5A", "AN3C5A", "AN3DD5", "AN5H-27A", "AN3CH5A", "AN470AD4-3.5", "MS20615-4M4", "AN960-10L", "AN960PD416L", "NAS1149FN632P",
		"NAS1149F0363P", "AN365-1032A", "AN365D1032", "MS21042L3", "MS21042-3", "MS21044N3", "AN315-3R", "AN310D5R", "AN380-2-2", "MS24665-132",
		"AN393-9", "MS20392-1C9", "AN507-832R8", "AN507C832R8", "AN500-10-8", "AN501B416-7", "MS27039-1-08", "MS27039C1-08", "MS27039-0806",
		"NAS514P632-8P", "NAS6204-12", "NAS6204D12", "NAS6403U14D", "NAS464-5L20", "NAS464P4-20", "NAS5315V06A19D", "MS21919WDG8", "MS20995C32",
		"AS568-012", "MS28775-012", "MS21251-B3S", "AN667-3", "AN816-6D", "AN42B-5A", "AN73A-5", "AN23-10A", "MS20257P3", "MS24694S72",
		"NASM20470AD4-6", "AN931-6-16", "MS20600AD4-3", "NAS1738M4-4", "AN970-3", "MS35338-43",
	} {
		t.Run(want, func(t *testing.T) {
			if got, ok := Standard().Canonical(want); !ok || got != want {
				t.Errorf("got %q %v, want it unchanged: %s", got, ok, Decode(want).Problem)
			}
		})
	}
}

func TestEighths(t *testing.T) {
	tests := []struct {
		dash, want int
		ok         bool
	}{{3, 3, true}, {7, 7, true}, {8, 8, false}, {9, 9, false}, {10, 8, true}, {17, 15, true}, {18, 16, false}, {27, 23, true}, {30, 24, true}, {67, 55, true}}
	for _, tt := range tests {
		if got, ok := eighths(tt.dash); got != tt.want || ok != tt.ok {
			t.Errorf("-%d: got %d %v, want %d %v", tt.dash, got, ok, tt.want, tt.ok)
		}
	}
}

func TestCovers(t *testing.T) {
	tests := []struct {
		label, name string
		want        bool
	}{
		{"AN3-AN20", "AN3", true},
		{"AN3-AN20", "AN20", true},
		{"AN3-AN20", "AN21", false},
		{"AN3-AN20", "NAS5", false},
		{"AN310", "AN310", true},
		{"AN310", "AN31", false},
		{"NAS6203-NAS6220", "NAS6210", true},
		{"NAS6203-NAS6220", "NAS6303", false},
	}
	for _, tt := range tests {
		t.Run(tt.label+" "+tt.name, func(t *testing.T) {
			if got := covers(tt.label, tt.name); got != tt.want {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

func testLoader() *loader {
	return &loader{c: &Catalog{series: map[string]*series{}}, lengths: map[string]measure.Length{}, tables: map[steps]*codes{}}
}

func TestParseThread(t *testing.T) {
	tests := []struct {
		text string
		dia  string
		tpi  int
	}{
		{"10-32 UNF", "0.19", 32},
		{"1/4-28", "0.25", 28},
		{".3125-24 UNJF", "0.3125", 24},
		{"1-1/8-12", "1.125", 12},
		{"1-14", "1", 14},
		{"4-40", "0.112", 40},
		{"0-80", "0.06", 80},
		{"8-36", "0.164", 36},
		{"no thread", "0", 0},
		{"", "0", 0},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			ld := testLoader()
			dia, tpi := ld.parseThread(tt.text)
			if dia.Decimal() != tt.dia || tpi != tt.tpi || ld.err != nil {
				t.Errorf("got %s %d %v, want %s %d", dia.Decimal(), tpi, ld.err, tt.dia, tt.tpi)
			}
		})
	}
}

func TestSteps(t *testing.T) {
	ld := testLoader()
	st := steps{field: LengthField, low: 2, high: 4, per: 16, words: "% long", halves: true, width: 2, src: cite{"test", 1}}
	cs := ld.steps(st)
	var got []string
	for _, c := range cs.list {
		got = append(got, c.text+" "+c.words)
	}
	if want := []string{"02 1/8 long", "02.5 5/32 long", "03 3/16 long", "03.5 7/32 long", "04 1/4 long", "04.5 9/32 long"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	if cs.index["2"] != cs.index["02"] {
		t.Error("2 is not read as 02")
	}
	if ld.steps(st) != cs {
		t.Error("the same table was made twice")
	}
}

// TestLoaderReports: a broken cell and a series without its line stop loading
// with an error that says where.
func TestLoaderReports(t *testing.T) {
	ld := testLoader()
	ld.length("a long way")
	if ld.err == nil {
		t.Error("a length that is none was taken")
	}
	ld = testLoader()
	if ld.open("AN9999"); ld.err == nil || ld.err.Error() != `series "AN9999" has no line in the table series` {
		t.Errorf("got %v", ld.err)
	}
	first := ld.err
	ld.fail(ErrNoGrip)
	if ld.err != first {
		t.Errorf("got %v, want the first error kept", ld.err)
	}
	if rows := ld.rows("no such table"); rows != nil {
		t.Errorf("got %d rows of no table", len(rows))
	}
}

func TestInchThread(t *testing.T) {
	for text, want := range map[string]string{".1900-32": "10-32", ".2500-28": "1/4-28", ".6250-18": "5/8-18", ".9999-1": ".9999-1"} {
		if got := inchThread(text); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}

func TestOrList(t *testing.T) {
	for want, words := range map[string][]string{"": nil, "A": {"A"}, "A or B": {"A", "B"}, "A, B or C": {"A", "B", "C"}} {
		if got := orList(words); got != want {
			t.Errorf("%q: got %q, want %q", words, got, want)
		}
	}
}
