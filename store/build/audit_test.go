package build

import (
	"slices"
	"testing"

	"stowright/store/measure"
)

// The demo after story 13: nine rivets and a washer, 9 x .081 + .96 = 1.69 g.
func TestTrayAudit(t *testing.T) {
	rivets := TrayContent{"AN426AD3-3.5", 9, &measure.Sample{Pieces: 100, Net: grams(81), Step: grams(1)}}
	washers := TrayContent{washer, 1, &measure.Sample{Pieces: 100, Net: grams(960), Step: grams(1)}}
	light := "; a single AN426AD3-3.5 is lighter than this weighing can tell"
	for _, row := range []struct {
		name     string
		content  []TrayContent
		gross    int64 // tenths of a gram, the tray weighs 20
		answer   AuditAnswer
		single   []string
		sentence string
	}{
		{"all there", []TrayContent{rivets, washers}, 217, Agrees, nil, "agrees" + light},
		{"no washer", []TrayContent{rivets, washers}, 207, ShortBy, []string{washer}, "short by about 0.99 g: about one NAS1149F0363P missing"},
		{"a washer more", []TrayContent{rivets, washers}, 227, OverBy, []string{washer}, "over by about 1.01 g: about one NAS1149F0363P too many"},
		{"nearly empty", []TrayContent{rivets, washers}, 201, ShortBy, nil, "short by about 1.59 g: no single piece weighs that"},
		{"rivets alone", []TrayContent{rivets}, 207, CannotTell, nil, "cannot tell" + light},
		{"rivets alone, two short and more", []TrayContent{rivets}, 204, ShortBy, nil, "short by about 0.33 g: no single piece weighs that"},
		{"an empty tray", nil, 200, Agrees, nil, "agrees"},
		{"something in an empty tray", nil, 210, OverBy, nil, "over by about 1.00 g: no single piece weighs that"},
		{"no sample", []TrayContent{rivets, {"AN3-5A", 1, nil}}, 217, CannotTell, nil, "cannot tell: weigh a sample of AN3-5A in g first"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := WeighTray(row.content, grams(row.gross), grams(200), grams(1))
			if err != nil || got.Answer != row.answer || !slices.Equal(got.Single, row.single) || got.Sentence != row.sentence {
				t.Errorf("got %+v, %v; want %q", got, err, row.sentence)
			}
		})
	}
	for _, bad := range [][3]measure.Quantity{
		{grams(200), grams(217), grams(1)},
		{grams(217), grams(200), grams(0)},
		{grams(217), grams(200), measure.Pieces(1)},
		{measure.Of(1, measure.Ounce), grams(0), grams(1)},
	} {
		if got, err := WeighTray(nil, bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v: %+v", bad, got)
		}
	}
}
