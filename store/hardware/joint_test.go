package hardware

import (
	"strings"
	"testing"

	"stowright/store/measure"
)

// findings are the texts of what is said of a choice, and which of them rule it out.
func findings(b *BoltChoice) (all, bad string) {
	for _, f := range b.Findings {
		all += f.Text + "\n"
		if f.Bad {
			bad += f.Text + "\n"
		}
	}
	return all, bad
}

// TestJointsByHand: joints worked out by hand from the printed table. AN4: threads of
// 1/28 (0.0357); AN4-7 grip 0.4375, length 0.90625; AN4-10 grip 0.5625, length 1.03125.
// A washer is 0.063 thick, thin 0.032; the nut of AN365-428 is 0.328 at most.
func TestJointsByHand(t *testing.T) {
	const washer, thin = 63 * thou, 32 * thou
	tests := []struct {
		name    string
		joint   Joint
		stack   string
		bolt    string
		fits    bool
		inHole  string // thread within the stack
		spare   measure.Length
		says    string
		rulesIt string // what rules it out
	}{
		{
			"grip is the stack: nothing in the hole, a washer to draw up",
			Joint{Series: "AN4", Nut: "AN365-428A", NutWashers: []string{"thick"}},
			".4375", "AN4-7A",
			true, "0", washer, "past the nut: 0.07775, 2.2 threads", "",
		},
		{
			"a thin washer does as well",
			Joint{Series: "AN4", Nut: "AN365-428A", NutWashers: []string{"thin"}},
			".4375", "AN4-7A",
			true, "0", thin, "the nut can be drawn up 0.032 past the shank", "",
		},
		{
			"one thread in the hole",
			Joint{Series: "AN4", Nut: "AN365-428A"},
			".473", "AN4-7A",
			true, ".0355", 0, "1.0 threads; it should be in the thicker part", "",
		},
		{
			"just over one and a half",
			Joint{Series: "AN4", Nut: "AN365-428A", NutWashers: []string{"thin"}},
			".4912", "AN4-7A",
			true, ".0537", 0, "more than one and a half, which one source does not allow", "",
		},
		{
			"just under one and a half",
			Joint{Series: "AN4", Nut: "AN365-428A", NutWashers: []string{"thin"}},
			".4910", "AN4-7A",
			true, ".0535", 0, "1.5 threads; it should be in the thicker part", "",
		},
		{
			"just over two threads",
			Joint{Series: "AN4", Nut: "AN365-428A", NutWashers: []string{"thin"}},
			".5090", "AN4-7A",
			false, ".0715", 0, "", "the grip is too short",
		},
		{
			"just under two threads shows too little past the nut",
			Joint{Series: "AN4", Nut: "AN365-428A", NutWashers: []string{"thin"}},
			".5088", "AN4-7A",
			true, ".0713", 0, "past the nut: 0.03745, 1.0 threads", "",
		},
		{
			"the next grip with two washers, which leave a thousandth",
			Joint{Series: "AN4", Nut: "AN365-428A"},
			".4375", "AN4-10A",
			false, "0", thou, "", "only 0.001 left before the nut meets the shank",
		},
		{
			"a high nut leaves no thread",
			Joint{Series: "AN4", NutHeight: 440 * thou, NutWashers: []string{"thin"}},
			".4375", "AN4-7A",
			false, "0", thin, "", "the bolt ends 0.00325 inside the nut",
		},
		{
			"a nut that leaves less than one",
			Joint{Series: "AN4", NutHeight: 410 * thou, NutWashers: []string{"thin"}},
			".4375", "AN4-7A",
			false, "0", thin, "", "past the nut: 0.02675, 0.7 threads; at least one must show",
		},
		{
			"a washer under the head takes of the grip",
			Joint{Series: "AN4", Nut: "AN365-428A", HeadWashers: []string{"thin"}, NutWashers: []string{"thin"}},
			".4055", "AN4-7A",
			true, "0", thin, "the nut can be drawn up 0.032 past the shank", "",
		},
		{
			"and so puts thread in the hole",
			Joint{Series: "AN4", Nut: "AN365-428A", HeadWashers: []string{"thin"}, NutWashers: []string{"thin"}},
			".4375", "AN4-7A",
			true, ".032", 2 * thin, "thread in the hole: 0.032, 0.9 threads", "",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.joint.Layers = stack(t, tt.stack)
			got, err := Standard().ChooseBolt(tt.joint)
			if err != nil {
				t.Fatal(err)
			}
			for i := range got.Choices {
				b := &got.Choices[i]
				if b.Designation != tt.bolt {
					continue
				}
				all, bad := findings(b)
				if b.Fits != tt.fits || b.ThreadInHole != length(t, tt.inHole) || tt.spare != 0 && b.Spare != tt.spare {
					t.Errorf("fits %v with %s in the hole and %s to draw up, want %v, %s, %s\n%s", b.Fits, b.ThreadInHole, b.Spare, tt.fits, tt.inHole, tt.spare, all)
				}
				if !strings.Contains(all, tt.says) || !strings.Contains(bad, tt.rulesIt) || (bad == "") != (tt.rulesIt == "") {
					t.Errorf("says\n%swant %q, and ruled out by %q", all, tt.says, tt.rulesIt)
				}
				return
			}
			t.Errorf("%s is not among the choices", tt.bolt)
		})
	}
}

// TestJointAskedWrong: each part of a joint is looked up, and what is wrong with it is
// said with its name.
func TestJointAskedWrong(t *testing.T) {
	ok := func() Joint { return Joint{Series: "AN4", Layers: stack(t, ".5")} }
	tests := []struct {
		name   string
		change func(*Joint)
		want   string
	}{
		{"no layer", func(j *Joint) { j.Layers = nil }, "0 layers: give the thickness of 1 to 20 parts"},
		{"too many layers", func(j *Joint) { j.Layers = make([]Ply, 21) }, "21 layers"},
		{"a layer of nothing", func(j *Joint) { j.Layers = stack(t, ".5", "0") }, "layer 2: thickness 0 is not between 0 and 12 in"},
		{"a layer of a foot and more", func(j *Joint) { j.Layers = stack(t, "12.1") }, "layer 1"},
		{"no series", func(j *Joint) { j.Series = "" }, `series "" is not a bolt series`},
		{"a screw", func(j *Joint) { j.Series = "AN525" }, "is not a bolt series"},
		{"a bolt of two numbers", func(j *Joint) { j.Series = "NAS464" }, "is not a bolt series"},
		{"a thread that no source gives", func(j *Joint) { j.Series = "AN47" }, "series AN47 has no thread in the tables"},
		{"no grip in any source", func(j *Joint) { j.Series = "AN9" }, "no published table gives the grip"},
		{"a nut that is none", func(j *Joint) { j.Nut = "AN960-416" }, `nut "AN960-416" is not a nut`},
		{"a nut that does not exist", func(j *Joint) { j.Nut = "AN365-429A" }, "nut: AN365-429A is not in the tables"},
		{"words for a nut", func(j *Joint) { j.Nut = "lock nut" }, `nut "lock nut" is not a nut`},
		{"a nut of another thread", func(j *Joint) { j.Nut = "AN365-1032A" }, "nut AN365-1032A has thread 10-32, the bolt 1/4-28"},
		{"a coarse nut", func(j *Joint) { j.Nut = "AN340-416" }, "has thread"},
		{"a washer under a plate nut", func(j *Joint) { j.Nut, j.NutWashers = "MS21047L4", []string{"thin"} }, "MS21047L4 is a plate nut: no washer goes under it"},
		{"a washer that is none", func(j *Joint) { j.NutWashers = []string{"AN4-7A"} }, `washer "AN4-7A" is not a washer of known thickness`},
		{"a washer without a thickness", func(j *Joint) { j.NutWashers = []string{"MS35333-40"} }, "is not a washer of known thickness"},
		{"a washer of another bolt", func(j *Joint) { j.HeadWashers = []string{"AN960-10"} }, "washer AN960-10 is for a No. 10 bolt, not for AN4"},
		{"a washer that does not exist", func(j *Joint) { j.HeadWashers = []string{"AN960-417"} }, "washer: AN960-417"},
		{"four washers", func(j *Joint) { j.HeadWashers, j.NutWashers = []string{"thin"}, []string{"thin", "thin", "thin"} }, "4 washers: common practice: no more than three"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := ok()
			tt.change(&j)
			if got, err := Standard().ChooseBolt(j); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %d choices, %v; want %q", len(got.Choices), err, tt.want)
			}
		})
	}
	if _, err := Standard().ChooseBolt(ok()); err != nil {
		t.Errorf("without a change: %v", err)
	}
}

// TestOrderOfChoices: what fits before what cannot be told, no thread in the hole
// before some, at hand before not, fewer washers before more, less thread before more.
func TestOrderOfChoices(t *testing.T) {
	w := WasherUse{}
	list := []struct {
		name string
		b    BoltChoice
	}{
		{"fits, at hand", BoltChoice{Fits: true, InShop: true}},
		{"two washers", BoltChoice{Fits: true, InShop: true, NutWashers: []WasherUse{w, w}}},
		{"not at hand", BoltChoice{Fits: true, NutWashers: []WasherUse{w}}},
		{"a washer under the head as well", BoltChoice{Fits: true, HeadWashers: []WasherUse{w}, NutWashers: []WasherUse{w}}},
		{"thread in the hole, at hand", BoltChoice{Fits: true, InShop: true, ThreadInHole: 10 * thou}},
		{"more of it", BoltChoice{Fits: true, InShop: true, ThreadInHole: 20 * thou}},
		{"thread in the hole, not at hand", BoltChoice{Fits: true, ThreadInHole: 10 * thou}},
		{"cannot tell", BoltChoice{CannotTell: true, InShop: true}},
		{"cannot tell, thread in the hole", BoltChoice{CannotTell: true, InShop: true, ThreadInHole: thou}},
		{"does not fit", BoltChoice{InShop: true}},
	}
	for i := 1; i < len(list); i++ {
		if list[i-1].b.rank() >= list[i].b.rank() {
			t.Errorf("%s (%d) does not stand before %s (%d)", list[i-1].name, list[i-1].b.rank(), list[i].name, list[i].b.rank())
		}
	}
}

// TestWashersSaid: which washer goes where, with its mark.
func TestWashersSaid(t *testing.T) {
	thick, thin := WasherUse{"AN960-416", 63 * thou, NotCrossChecked}, WasherUse{Designation: "AN960-416L", Thickness: 32 * thou}
	for want, b := range map[string]BoltChoice{
		"no washer":                {},
		"AN960-416L under the nut": {NutWashers: []WasherUse{thin}},
		"AN960-416 (not cross-checked) and AN960-416L under the nut": {NutWashers: []WasherUse{thick, thin}},
		"AN960-416L under the head; AN960-416L under the nut":        {HeadWashers: []WasherUse{thin}, NutWashers: []WasherUse{thin}},
	} {
		if got := b.Washers(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
