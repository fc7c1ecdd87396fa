package desktop

import (
	"testing"

	"stowright/app/building"
	"stowright/app/demo"
	"stowright/app/ordering"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/app/unpack"
	"stowright/labels"
)

// Every paper is laid out for the sheet that the user's region takes.
func TestPapersTakeTheSheetOfTheRegion(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	ships, err := b.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	for locale, wide := range map[string]float64{"en_US.UTF-8": 215.9, "de_DE.UTF-8": 210} {
		b.Sheet = labels.OfficePaper(locale)
		for name, paper := range map[string]func() (labels.Document, error){
			"pull list":       func() (labels.Document, error) { return building.PullPaper(b.Session, []string{"SA-10"}) },
			"check-off sheet": func() (labels.Document, error) { return unpack.SheetPaper(b.Session, ships[0].ID, "C3") },
			"order list": func() (labels.Document, error) {
				return b.Lay(ordering.Paper(session.Ordering{}, b.Shop.Today()))
			},
			"real size": func() (labels.Document, error) {
				return session.TrueSize(b.Catalog().Decode("AN3-5A"), b.OfficePaper())
			},
		} {
			doc, err := paper()
			if err != nil || len(doc.Pages) == 0 || doc.Pages[0].W != wide {
				t.Errorf("%s in %s: %v, %d pages; want them %v mm wide", name, locale, err, len(doc.Pages), wide)
			}
		}
	}
}
