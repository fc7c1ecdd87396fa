package labels

import (
	"testing"
	"time"
)

// made is the date in every PDF of the tests.
var made = time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC)

// bolt is an AN3-5A from the side: head 1/8 high and 3/8 across flats, shank
// 3/16, grip 1/4, 21/32 long.
func bolt() *Drawing {
	const in = inch
	const head, flats, dia, grip, length = 0.125 * in, 0.375 * in, 0.1875 * in, 0.25 * in, 0.656 * in
	across := flats * 1.1547
	mid := across / 2
	box := func(x, y, w, h float64) Path {
		return Path{Points: []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, Closed: true, Pen: 0.2}
	}
	d := &Drawing{Strokes: []Path{
		box(0, 0, head, across),
		{Points: []Point{{0, mid - across/4}, {head, mid - across/4}}, Pen: 0.2},
		{Points: []Point{{0, mid + across/4}, {head, mid + across/4}}, Pen: 0.2},
		box(head, mid-dia/2, grip, dia),
		box(head+grip, mid-dia/2, length-grip, dia),
	}}
	for x := head + grip + 0.6; x < head+length; x += 0.8 {
		d.Strokes = append(d.Strokes, Path{Points: []Point{{x, mid - dia/2}, {x + 0.4, mid + dia/2}}, Pen: 0.1})
	}
	return d
}

// samples are labels of every kind, from the plainest to the fullest.
func samples() []Label {
	return []Label{
		{
			Tag: "SP7K3M9QXD", Name: "AN3-5A", Title: "Bolt 10-32, grip 1/4, no pin hole", Place: "A-12", PlacePath: "Cabinet A",
			Beware: Beware{"AN3-6A", "that one is 1/8 longer"}, Piece: bolt(),
		},
		{
			Tag: "SP0V4T8KDX", Name: "AN470AD4-7", Title: "Dome rivet 1/8, length 7/16", Place: "A-07", PlacePath: "Cabinet A",
			Beware: Beware{"AN470AD4-4", "next drawer; that one is 3/16 shorter"},
		},
		{
			Tag: "SPZZZ1Y2E8", Name: "NAS1149F0363P", Title: "Washer 3/16, thick .063, replaces AN960-10", Place: "A-30",
			Beware: Beware{"NAS1149F0332P", "the thin one, .032; half the weight"}, Lines: []string{"about 150"}, PlacePath: "Cabinet A",
		},
		{
			Tag: "SC4T0W8HNE", Name: "C2", Title: "Crate 2 of 3, long parts", Place: "R1",
			Lines: []string{"order OK-20731, came 14 March 2026", "4 lines: angle, hinge, pushrod tube"},
			Due:   "damage by 19 March", Later: "shortages by 13 April",
		},
		{Tag: "SB00000000", Name: "OQ-10-031-L", Title: "Hinge plate left", Place: "S3"},
		{Tag: "SS1111111A", Name: "SA-10", Title: "Fin", Lines: []string{"5 requirements", "212 rivets, 46 rivets, 6 bolts"}},
		{Tag: "SPAAAAAAAA", Name: "Tank sealant two-part", Title: "made 10 January 2026, expires 10 July 2026", Place: "SHELF-S4", PlacePath: "Shelf, by the window"},
		{Name: "no tag", Title: "a label without a code"},
		{Tag: "SPWWWWWWWW", Place: "A-08"},
	}
}

func mustLayout(t testing.TB, list []Label, name string, opt Options) Document {
	t.Helper()
	stock, err := StockNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := Layout(list, stock, opt)
	if err != nil {
		t.Fatalf("Layout on %s: %v", name, err)
	}
	return doc
}

func repeat(list []Label, n int) []Label {
	out := make([]Label, n)
	for i := range out {
		out[i] = list[i%len(list)]
	}
	return out
}
