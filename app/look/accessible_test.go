package look

import (
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/table"
)

// A screen reader says all that is seen: the key of a button, the tone of a state, the title
// over a cell, which row is chosen.
func TestAccessible(t *testing.T) {
	start(t, Theme{})
	off := NewKeyButton("Count", "C", nil)
	off.SetOff(true)
	list := NewRowList(table.Column{Title: "what", Kind: table.Names}, table.Column{Title: "how many", Kind: table.Figure}, table.Column{Kind: table.States})
	list.SetRows([]table.Row{{ID: "a", Cells: []table.Cell{table.Name("AN3-5A", "Bolt"), table.T("28"), table.State("4 short", notice.Stop)}}})
	list.Mark(0)
	row, head := newRowView(list), newRowView(list)
	row.index, row.row = 0, list.rowAt(0)
	head.header, head.row = true, list.headerRow()
	pounds := NewAmountEntry("pounds")
	typed := NewAmountEntry("pounds")
	typed.SetText("0.25")
	for _, it := range []struct {
		name   string
		widget fyne.Accessible
		want   string
		role   fyne.AccessibleRole
	}{
		{"button", NewKeyButton("Take out", "T", nil), "Take out, key T", fyne.AccessibleRoleButton},
		{"button that is off", off, "Count, key C, not now", fyne.AccessibleRoleButton},
		{"link", NewLink("Measure it", "F6", nil), "Measure it, key F6", fyne.AccessibleRoleLink},
		{"paragraph", NewLead("Not AN3-6A", "in A-13."), "Not AN3-6A in A-13.", fyne.AccessibleRoleText},
		{"designation", NewDesignation("AN3-5A", 32), "AN3-5A", fyne.AccessibleRoleText},
		{"caption", NewCaption("Shop:", "Type Q"), "Shop: Type Q", fyne.AccessibleRoleText},
		{"state", NewStateMark(notice.Mark{Word: "damage: 1 day", Tone: notice.Warn}), "damage: 1 day, careful", fyne.AccessibleRoleText},
		{"amount", NewAmount("28", "pieces", "counted 14 March by Builder"), "28 pieces, counted 14 March by Builder", fyne.AccessibleRoleText},
		{"pill", NewPill("Builder", "F9", notice.Quiet, nil), "Builder, key F9", fyne.AccessibleRoleButton},
		{"claim clock", NewPill("Damage claim: 1 day left", "", notice.Warn, nil), "Damage claim: 1 day left", fyne.AccessibleRoleButton},
		{"tallies", NewTallies([]card.Tally{{Words: "short", Figure: "2"}, {Words: "over", Figure: "1"}}), "short 2, over 1", fyne.AccessibleRoleText},
		{"row", row, "what AN3-5A, Bolt, how many 28, 4 short, stop, chosen", fyne.AccessibleRoleButton},
		{"header", head, "what, how many", fyne.AccessibleRoleText},
		{"field", pounds, "pounds", fyne.AccessibleRoleText},
		{"field with something in it", typed, "0.25, pounds", fyne.AccessibleRoleText},
		{"list", list, "1 row, what AN3-5A, Bolt, how many 28, 4 short, stop, chosen", fyne.AccessibleRoleText},
		{"notice", NewNotice(notice.Notice{Tone: notice.Warn, Lead: "Not AN3-6A", Text: "in A-13."}), "Not AN3-6A in A-13., careful", fyne.AccessibleRoleText},
		{"field with its name", NewField("How many?", typed, "in A-12"), "How many?, 0.25, pounds, in A-12", fyne.AccessibleRoleText},
		{"facts", NewFacts(card.Fact{Name: "grip", Text: "1/4 (0.250)", Source: "a table"}), "grip, 1/4 (0.250), a table", fyne.AccessibleRoleText},
		{"panel", NewPanel(4, Rows(2, NewText("Count it"), NewPrimary("Counted", "Enter", nil))), "Count it, Counted, key Enter", fyne.AccessibleRoleText},
		{
			"card", NewCardView(card.Card{Designation: "AN3-5A", Title: "Bolt", Quantity: "28", Unit: "pieces", Place: "Garage, A-12", Actions: []card.Action{{ID: "take", Label: "Take out", Key: "T"}}}),
			"AN3-5A, Bolt, 28 pieces, Garage, A-12, Take out, key T", fyne.AccessibleRoleText,
		},
		{"command bar", NewCommandEntry(nil), barSays, fyne.AccessibleRoleText},
	} {
		if got := it.widget.AccessibilityLabel(); got != it.want || it.widget.AccessibilityRole() != it.role {
			t.Errorf("%s: says %q as %s, want %q as %s", it.name, got, it.widget.AccessibilityRole(), it.want, it.role)
		}
	}
}
