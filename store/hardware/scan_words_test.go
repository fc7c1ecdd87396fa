package hardware

import (
	"slices"
	"strings"
	"testing"
)

// TestWordsAgainstTheNumber: a word beside a number that names another piece is
// a second reading, and neither is taken.
func TestWordsAgainstTheNumber(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"hole in the head", "AN3-5A drilled head", `"DRILLED" does not go with AN3-5A, which is not drilled in the head`},
		{"hole in the head beside one in the shank", "AN3-5 drilled head", "not drilled in the head"},
		{"hole in the shank", "AN3H-5A drilled shank", "not drilled in the shank"},
		{"hole anywhere", "AN3-5A drilled", "which is not drilled:"},
		{"no hole", "AN3-5 undrilled", "drilled for a cotter pin"},
		{"in front", "undrilled bolt AN3-5", "drilled for a cotter pin"},
		{"aluminium", "AN3-5 aluminium bolt", "which is alloy steel"},
		{"aluminum", "aluminum AN3-5", "which is alloy steel"},
		{"steel", "AN3DD5 steel", "which is aluminium alloy"},
		{"stainless", "AN960-10 stainless", `"STAINLESS" does not go with AN960-10`},
		{"brass", "AN816-4D brass", "which is aluminium alloy"},
		{"thin washer", "AN960-10 THIN", "which is 0.063 thick"},
		{"light washer", "AN960-416 light", "which is 0.063 thick"},
		{"thick washer", "AN960-10L thick", "which is 0.032 thick"},
		{"thin washer below No. 10", "AN960-8 thin", "which is 0.032 thick"},
		{"thick washer below No. 10", "AN960-8L thick", "which is 0.016 thick"},
		{"thin washer by its thickness", "NAS1149F0363P thin", "which is 0.063 thick"},
		{"thin nut", "AN365-1032A thin", "which is full height"},
		{"thick nut", "AN364-1032A thick", "which is thin"},
		{"insert", "AN365-1032C nylon lock nut", "which is all metal"},
		{"all metal", "AN365-1032A all-metal", ""}, // "all" is no word that may stand there
		{"metal", "AN365-1032A metal", "which is non-metallic insert"},
		{"dome of a flush rivet", "AN426AD3-4 dome", "countersunk head"},
		{"flush of a dome rivet", "AN470AD4-4 flush rivet", "universal head"},
		{"pan head", "AN515-8R8 pan head screw", "round head"},
		{"hex head", "MS27039-1-08 hex", "pan head"},
		{"another sort", "AN3-5A nut", `"NUT" does not go with AN3-5A, which is a bolt, hex head, 10-32`},
		{"another sort in front", "washer AN365-1032A", `"WASHER" does not go with AN365-1032A`},
		{"another sort in the bag", "bag of washers: AN3-5A", `"WASHERS" does not go with AN3-5A`},
		{"another sort of several", "AN960-10 nuts", `"NUTS" does not go with AN960-10`},
		{"another thread", "AN4-7A 10-32", `"10-32" does not go with AN4-7A, which is for thread 1/4-28`},
		{"another thread with a length", "AN525-10R8, 8-32x1/2", `"8-32" does not go with AN525-10R8`},
		{"another pitch", "AN3-5A (10-24)", `"10-24" does not go with AN3-5A`},
		{"a nut of another thread", "AN365-1032A 1/4-28 lock nut", `"1/4-28" does not go with AN365-1032A`},
		{"a specification with a slash", "M83248/1-012 washer", `"WASHER" does not go with M83248/1-012`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := Decode(tt.text)
			if r.Known || !strings.Contains(r.Problem, tt.says) {
				t.Errorf("%q: got %q %q, want it refused with %q", tt.text, r.Designation, r.Problem, tt.says)
			}
		})
	}
}

// TestWordsWithTheNumber: a word that says what the number says, and one that
// speaks of another thing, stand beside it.
func TestWordsWithTheNumber(t *testing.T) {
	for text, want := range map[string]string{
		"AN3-5 drilled":                       "AN3-5",
		"AN3-5 drilled shank":                 "AN3-5",
		"AN3-5A undrilled":                    "AN3-5A",
		"AN3H-5A drilled head":                "AN3H-5A",
		"AN3H-5A head drilled":                "AN3H-5A",
		"AN73-5 drilled head bolt":            "AN73-5",
		"AN3DD5 aluminum":                     "AN3DD5",
		"AN960C10 stainless steel washer":     "AN960C10",
		"AN960-10L thin":                      "AN960-10L",
		"AN960-8L light":                      "AN960-8L",
		"AN960-8 thick":                       "AN960-8",
		"AN970-3 thick":                       "AN970-3",
		"NAS1149F0332P thin":                  "NAS1149F0332P",
		"AN364-1032A thin nut":                "AN364-1032A",
		"AN365-1032A nylon insert lock nut":   "AN365-1032A",
		"AN365-1032A self-locking nut":        "AN365-1032A",
		"AN470AD4-4 dome":                     "AN470AD4-4",
		"AN430AD4-4 dome":                     "AN430AD4-4",
		"AN426AD3-4 CSK flush":                "AN426AD3-4",
		"AN509-10R8 bolt":                     "AN509-10R8", // a screw with a grip
		"AN42-10 bolt":                        "AN42-10",
		"AN525-10R8 washer head screw":        "AN525-10R8",
		"AN310-3 castle nut, cotter pin":      "AN310-3",
		"M83248/1-012 O-ring":                 "M83248/1-012",
		"AN3-5A for the flush nut":            "AN3-5A", // what stands behind "for" is not this piece
		"AN3-5A on the stainless hinge":       "AN3-5A",
		"AN481-3 drilled":                     "AN481-3", // nothing is known of it
		"MS21042-3 nylon":                     "MS21042-3",
		"MS24665-132 cotter pin 1/16 x 1/2":   "MS24665-132",
		"AN365-1032A steel nut (12 ea) bag 7": "AN365-1032A",
		"AN3-5A 10-32":                        "AN3-5A",
		"AN525-10R8 10-32x1/2":                "AN525-10R8",
		"AN4-7A, 1/4-28 hex head":             "AN4-7A",
		"AN4-7A bag 10-24":                    "AN4-7A",
		"AN4-7A 12-5":                         "AN4-7A", // no thread has five
		"MS35207-263 10-32x1/2":               "MS35207-263",
		"AN47-10 3/8-24":                      "AN47-10", // its thread is unknown
	} {
		if r := Decode(text); r.Designation != want {
			t.Errorf("%q: got %q (%s), want %s", text, r.Designation, r.Problem, want)
		}
	}
}

// TestFractionsAndLists: a slash or a comma between digits makes a fraction or
// names two sizes, and nothing of it is left out.
func TestFractionsAndLists(t *testing.T) {
	for _, text := range []string{
		"AN4 7/16", "AN4-7/8", "AN3-5,6", "AN3-5/6", "AN3-5A/24", "AN426AD3-7/32", "AN470AD4-5/16", "AN470AD4-4/5", "AN481-3/4", "AN960-10/416",
		"MS20426AD3-3,6", "NAS43DD3-16/17",
	} {
		if r := Decode(text); r.Known || r.Problem == "" {
			t.Errorf("%q: got %q", text, r.Designation)
		}
	}
	half := Decode("MS20426AD3-3,5")
	if want := []string{"MS20426AD3-3.5", "MS20426AD3-3"}; half.Known || !slices.Equal(half.Nearest, want) {
		t.Errorf("MS20426AD3-3,5: got %q, nearest %q, want %q", half.Designation, half.Nearest, want)
	}
	for text, want := range map[string]string{"AN3-5A,24": "AN3-5A", "AN3-5A, 24": "AN3-5A", "AN960-10 1,200 EA": "AN960-10", "AN470AD4-4 1/4 lb": "AN470AD4-4"} {
		if r := Decode(text); r.Designation != want {
			t.Errorf("%q: got %q (%s), want %s", text, r.Designation, r.Problem, want)
		}
	}
}

// TestDashForSlash: a part of a specification written with a dash is asked for.
func TestDashForSlash(t *testing.T) {
	r := Decode("M83248-1-012")
	if r.Known || !slices.Equal(r.Nearest, []string{"M83248/1-012"}) || r.Kind != ORing {
		t.Errorf("got %q %q, nearest %q", r.Designation, r.Problem, r.Nearest)
	}
	for _, text := range []string{"M83248-1", "M83248-9-012", "M22759-16-22", "M83248.1-012", "M832481-012"} {
		if r := Decode(text); r.Known || r.Problem != "" || len(r.Nearest) > 0 {
			t.Errorf("%q: got %q %q, want nothing", text, r.Designation, r.Problem)
		}
	}
}
