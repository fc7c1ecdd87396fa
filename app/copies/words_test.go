package copies

import (
	"testing"
	"time"

	"stowright/app/notice"
	"stowright/app/table"
	storecopies "stowright/store/copies"
)

func TestBehind(t *testing.T) {
	for _, row := range []struct {
		copied, now uint64
		want        string
	}{
		{7, 7, "nothing missing"},
		{6, 7, "1 entry behind"},
		{100, 134, "34 entries behind"},
		{8, 7, "1 entry more than now"},
	} {
		if got := behind(row.copied, row.now); got != row.want {
			t.Errorf("a copy of %d entries, and %d now: got %q, want %q", row.copied, row.now, got, row.want)
		}
	}
}

// How a copy was looked at: what this window found counts before what its reason says.
func TestLooked(t *testing.T) {
	for _, row := range []struct {
		why  storecopies.Why
		seen map[string]string
		want table.Cell
	}{
		{storecopies.Daily, nil, table.State("whole when made", notice.OK)},
		{storecopies.Import, nil, table.State("read back when made", notice.OK)},
		{storecopies.Replaced, nil, table.State("not checked", notice.Quiet)},
		{storecopies.Replaced, map[string]string{"a": ""}, table.State("whole, checked now", notice.OK)},
		{storecopies.Daily, map[string]string{"a": "cut short"}, table.State("damaged", notice.Stop)},
		{storecopies.Daily, map[string]string{"b": "cut short"}, table.State("whole when made", notice.OK)},
	} {
		if got := looked(storecopies.Copy{File: "a", Why: row.why}, row.seen); got != row.want {
			t.Errorf("%s, seen %v: got %+v, want %+v", row.why, row.seen, got, row.want)
		}
	}
}

func TestTimesAndNames(t *testing.T) {
	at := time.Date(2026, 3, 18, 10, 5, 7, 0, time.FixedZone("EST", -5*3600))
	if got := exportName("/disk", "/home/shop.stow", at); got != "/disk/shop-2026-03-18-100507.zip" {
		t.Errorf("the export goes to %q", got)
	}
	if got := when(at.UTC(), at); got != "18 March 2026 10:05" {
		t.Errorf("made at %q, want it where the shop is", got)
	}
}
