package handbook

import "testing"

// TestTablesNeedNoScrolling: the part fits a window of 1,280 by 800 points in the
// larger size (the page has 480 points at normal size there), whichever family is
// shown: the frame does not scroll it, and lists within it do.
func TestTablesNeedNoScrolling(t *testing.T) {
	d := open(t, TablesPart, "")
	v := d.p.shown.(*tablesView)
	for i, row := range v.model.State().Families {
		v.choose(i)
		if h := d.p.content.MinSize().Height; h > 480 {
			t.Fatalf("%s: the page wants %.0f points, and has 480", row.ID, h)
		}
	}
}

// TestTablesSearch: the field searches, Down goes on to the families, and the
// number that was typed is marked among those of its series.
func TestTablesSearch(t *testing.T) {
	d := open(t, TablesPart, "")
	v := d.p.shown.(*tablesView)
	v.field.SetText("AN3-5")
	d.says("AN3-5: Bolt, steel")
	if row, ok := v.numbers.Chosen(); !ok || row.ID != "AN3-5" {
		t.Errorf("marked is %+v, want AN3-5", row)
	}
	v.field.SetText("AN3-8A")
	d.says("AN3-8A does not exist")
	if row, ok := v.numbers.Chosen(); ok {
		t.Errorf("%s is marked for a number that is refused", row.ID)
	}
	v.field.SetText("zzz")
	d.says("No table answers to that")
	if v.right.Visible() {
		t.Error("figures are shown beside no family")
	}
	v.field.SetText("hose clamp")
	v.field.OnDown()
	d.says("worm drive")
}
