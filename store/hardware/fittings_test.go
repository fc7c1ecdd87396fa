package hardware

import (
	"strings"
	"testing"
)

// TestEndsOfFittings: each end of a fitting is said, from a source that speaks of
// that fitting; what no source gives of it is unknown.
func TestEndsOfFittings(t *testing.T) {
	const flare = "37 degree flare for "
	tests := []struct {
		number string
		ends   []string // how each begins
		thread string   // how it begins, "" where the piece has none of its own
		angle  bool     // a flare is spoken of
	}{
		// Dash numbers and their threads: TM 1-1500-204-23-6 par. 2-16 and the table of
		// flared ends; -4 is 1/4 tube with 7/16-20, -6 is 3/8 with 9/16-18.
		{"AN815-4D", []string{flare + "1/4 tube, thread 7/16-20", flare + "1/4 tube, thread 7/16-20"}, "7/16-20", true},
		{"AN816-4D", []string{flare + "1/4 tube", "unknown: pipe thread"}, "7/16-20", true},
		{"AN816-6-4D", []string{flare + "3/8 tube, thread 9/16-18", "1/4 pipe thread"}, "9/16-18", true},
		{"AN821-6D", []string{flare + "3/8 tube", flare + "3/8 tube"}, "9/16-18", true},
		{"AN823-4D", []string{flare + "1/4 tube", "unknown: pipe thread"}, "7/16-20", true},
		{"AN825-6-4D", []string{flare + "3/8", flare + "3/8", "1/4 pipe thread"}, "9/16-18", true},
		{"AN826-6-4D", []string{flare + "3/8", "1/4 pipe thread", flare + "3/8"}, "9/16-18", true},
		{"AN827-6D", []string{flare + "3/8", flare + "3/8", flare + "3/8", flare + "3/8"}, "9/16-18", true},
		{"AN833-4D", []string{flare + "1/4", flare + "1/4 tube, thread 7/16-20, through a bulkhead"}, "7/16-20", true},
		{"AN814-4D", []string{"straight thread 7/16-20"}, "7/16-20", false},
		{"AN818-4D", nil, "7/16-20", true},
		{"AN924-6D", nil, "9/16-18", false},
		{"AN775-4", []string{"unknown: no source here says what this end is"}, "unknown", false},
		{"AN838-6D", []string{"for hose of 3/8 inside", "unknown"}, "unknown", false},
		{"AN893-6D", []string{"unknown", "unknown"}, "unknown", false},
		{"AN894-6-4D", []string{"unknown", "1/4 tube"}, "unknown", false},
		{"AN840-6-4D", []string{"for hose of 3/8 inside", "1/4 pipe thread"}, "", false},
		{"AN911-2D", []string{"1/4 pipe thread", "1/4 pipe thread"}, "", false},
		{"AN919-6D", []string{"unknown: the numbers of AN919", "unknown: the numbers of AN919"}, "", false},
		{"MS21902-6D", []string{"flareless for 3/8 tube", "flareless for 3/8 tube"}, "", false},
	}
	for _, tt := range tests {
		t.Run(tt.number, func(t *testing.T) {
			r := Decode(tt.number)
			for i, name := range endNames {
				f, ok := r.Field(name)
				if ok != (i < len(tt.ends)) || ok && !strings.HasPrefix(f.Text, tt.ends[i]) {
					t.Errorf("%s: got %q, want %q", name, f.Text, tt.ends)
				}
				if series, _, _ := strings.Cut(tt.number, "-"); ok && f.Checked > 0 && !strings.Contains(f.Source, series) && !strings.Contains(f.Source, "Table 4-9") {
					t.Errorf("%s: %d sources that do not name %s: %s", name, f.Checked, series, f.Source)
				}
			}
			f, ok := r.Field(Thread)
			if ok != (tt.thread != "") || !strings.HasPrefix(f.Text, tt.thread) || f.Unknown != (tt.thread == "unknown") {
				t.Errorf("thread: got %q, want %q", f.Text, tt.thread)
			}
			if _, ok := r.Field("flare_angle"); ok != tt.angle {
				t.Errorf("a flare angle is said: %v", ok)
			}
		})
	}
}

// TestUnknownThreads: what has a thread that no source gives is neither shown to
// fit nor ruled out by one, and is named.
func TestUnknownThreads(t *testing.T) {
	for _, name := range []string{"AN47-10", "AN48-12A", "AN49-16"} {
		r := Decode(name)
		for _, field := range []string{Diameter, Thread} {
			if f, ok := r.Field(field); !ok || !f.Unknown || f.Length != 0 {
				t.Errorf("%s %s: got %+v", name, field, f)
			}
		}
		if strings.Contains(r.Title, "/16-") || strings.Contains(r.Title, "unknown") {
			t.Errorf("%s: got %q", name, r.Title)
		}
	}
	tests := []struct {
		name      string
		r         Readings
		want, not string
	}{
		{"diameter", Readings{Kind: Bolt, Head: "eye", Diameter: 437 * thou}, "AN47, AN48, AN49", "AN46"},
		{"thread", Readings{Kind: Bolt, Head: "eye", ThreadsPerInch: 20}, "AN47, AN48, AN49", "AN46"},
		{"another kind", Readings{Kind: Screw, Diameter: 437 * thou}, "", "AN47"},
		{"another head", Readings{Kind: Bolt, Head: "hex", Diameter: 437 * thou}, "", "AN47"},
		{"what it does have", Readings{Kind: Bolt, Head: "eye", Length: measure10}, "", "numbers of AN47"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			id, err := Standard().Identify(tt.r, nil)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(id.NotExcluded, tt.want) || strings.Contains(id.NotExcluded, tt.not) {
				t.Errorf("got %q, want %q and not %q", id.NotExcluded, tt.want, tt.not)
			}
			for _, k := range id.Candidates {
				if strings.HasPrefix(k.Designation, "AN47") && k.Fits && tt.r.Length == 0 {
					t.Errorf("%s is shown to fit: %+v", k.Designation, k.Judged)
				}
			}
		})
	}
	id, err := Standard().Identify(Readings{Kind: Fitting, Head: "bolt"}, nil)
	if err != nil || len(id.Candidates) == 0 || !strings.HasPrefix(id.Candidates[0].Designation, "AN775-") {
		t.Errorf("by its head alone: got %+v, %v", id.Candidates, err)
	}
	long := Readings{Kind: Bolt, Head: "eye", Length: 1100 * thou, ThreadsPerInch: 20}
	id, err = Standard().Identify(long, nil)
	if err != nil || len(id.Candidates) == 0 || id.Candidates[0].Designation != "AN47-10" || !id.Candidates[0].Fits || !id.Candidates[0].Incomplete {
		t.Errorf("by its length: got %+v, %v", id.Candidates, err)
	}
	judged := judge(mustParse(t, "AN47-10"), &Readings{ThreadsPerInch: 20}, nil)
	if j := judged.Judged[0]; !j.Unknown || j.Away != 0 || j.Text != "20 threads per inch: no published thread to compare with" {
		t.Errorf("got %+v", j)
	}
	if judged := judge(mustParse(t, "AN893-6"), &Readings{ThreadsPerInch: 20}, nil); !judged.Fits || !judged.Incomplete {
		t.Errorf("got %+v", judged)
	}
}

const measure10 = 1000 * thou

func mustParse(t *testing.T, text string) piece {
	t.Helper()
	p, no := Standard().parse(text)
	if no != nil || p.s == nil {
		t.Fatalf("%s: %+v", text, no)
	}
	return p
}
