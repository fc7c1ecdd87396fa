package unpack

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/demo"
)

// What a line came as is named by keys in the check-off: its lot, and the day on which it was
// sent. Before it is checked there is none.
func TestLotByKeys(t *testing.T) {
	k := newTypist(t, demo.Arrived)
	ships, err := k.s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	m := k.check().model
	show := func() Current {
		k.settle()
		m.ChooseBag(0)
		k.settle()
		m.ChooseLine(49)
		k.settle()
		return m.State().Current
	}
	if show().offers(lotKey) {
		t.Error("a line that nobody checked is offered its lot")
	}
	k.text("v")
	k.settle()
	if got := m.State().Error; !strings.Contains(got, "once it is checked") {
		t.Errorf("without a lot it says %q", got)
	}
	m.Key("A")
	if !show().offers(lotKey) {
		t.Fatal("its lot is not offered")
	}
	k.text("v")
	k.settle()
	k.text("R-77")
	for range 9 {
		k.press(fyne.KeyReturn)
	}
	k.text("2026-03-09")
	for range 5 {
		k.press(fyne.KeyReturn)
	}
	k.settle()
	line, err := k.s.Shop.Line(ships[0].ID, 50)
	if err != nil {
		t.Fatal(err)
	}
	lot, err := k.s.Shop.Lot(line.Designation, line.Finding.LotName)
	if err != nil || lot.Printed != "R-77" || lot.Facts.Shipped.String() != "9 March 2026" || line.Finding.Lot != "R-77" {
		t.Errorf("the lot is %+v, %v", lot, err)
	}
}
