package gallery

import (
	"fmt"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/table"
)

// Bolt is the drawing of a bolt: head, shank, thread and its two dimensions.
// Lengths are millimetres.
func Bolt(grip, length float64) *drawing.Piece {
	const head, across, shank = 3.2, 9.5, 4.8
	p := &drawing.Piece{Caption: ""}
	rect := func(x, y, w, h float64) []drawing.Point {
		return []drawing.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}}
	}
	line := func(x1, y1, x2, y2 float64) []drawing.Point { return []drawing.Point{{X: x1, Y: y1}, {X: x2, Y: y2}} }
	mid := across / 2
	p.Paths = append(p.Paths,
		drawing.Path{Points: rect(0, 0, head, across), Closed: true},
		drawing.Path{Points: line(0, across*0.3, head, across*0.3), Stroke: drawing.Inner},
		drawing.Path{Points: line(0, across*0.7, head, across*0.7), Stroke: drawing.Inner},
		drawing.Path{Points: rect(head, mid-shank/2, length, shank), Closed: true},
		drawing.Path{Points: line(head+grip, mid-shank/2, head+grip, mid+shank/2), Stroke: drawing.Inner},
	)
	for x := head + grip + 0.6; x < head+length-0.6; x += 0.7 {
		p.Paths = append(p.Paths, drawing.Path{Points: line(x, mid-shank/2, x+0.5, mid+shank/2), Stroke: drawing.Thread})
	}
	p.Dimensions = []drawing.Dimension{
		{A: drawing.Point{X: head, Y: mid}, B: drawing.Point{X: head + length, Y: mid}, Offset: -1, Text: "length 21/32"},
		{A: drawing.Point{X: head, Y: mid}, B: drawing.Point{X: head + grip, Y: mid}, Offset: 1, Text: "grip 1/4"},
	}
	return p
}

// CabinetA is the demo cabinet with drawer lit (its number) and its neighbours.
func CabinetA(lit int) drawing.Cabinet {
	c := drawing.Blank("A", 5, 8)
	names := []string{
		"AN426AD3-3", "AN426AD3-3.5", "AN426AD3-4", "AN426AD3-4.5", "AN470AD3-4", "AN470AD4-6", "AN470AD4-7", "AN470AD4-4",
		"AN470AD4-5", "", "AN3-4A", "AN3-5A", "AN3-6A", "AN3-7A", "AN4-12A", "", "AN365-1032A", "AN364-1032A", "AN365-428A",
		"AN310-3", "AN3-11A", "MS21042-3", "MS24665-132", "", "MS21047L08", "MS21049L08", "AN507-832R8", "", "",
		"NAS1149F0363P", "NAS1149F0332P", "NAS1149F0463P",
	}
	for i, name := range names {
		if name == "" {
			continue
		}
		c.Drawers[i].Designation, c.Drawers[i].Empty = name, false
		c.Drawers[i].Level = float64((i*37)%100) / 100
	}
	for _, i := range []int{6, 7, 11, 12, 29, 30} {
		c.Drawers[i].LookAlike = true
	}
	c.Drawers[19].More = 2
	if lit > 0 {
		c.Drawers[lit-1].Lit = true
	}
	return c
}

// BoltCard is the card of the first sketch.
func BoltCard() card.Card {
	cab := CabinetA(12)
	return card.Card{
		Designation: "AN3-5A", Title: "Bolt, steel, hex head, 10-32, no cotter-pin hole", Piece: Bolt(6.35, 16.67),
		Quantity: "28", Unit: "pieces", Known: "counted 14 Mar by Builder",
		Place: "Garage, Cabinet A, drawer A-12", Cabinet: &cab,
		Beware:  []notice.Notice{{Tone: notice.Warn, Lead: "Not AN3-6A", Text: "in A-13: that one is 1/8 longer in the grip."}},
		Actions: Actions(),
	}
}

// RivetCard is a card with an estimate, notes and a long title.
func RivetCard() card.Card {
	cab := CabinetA(7)
	c := BoltCard()
	c.Designation, c.Title = "AN470AD4-7", "Rivet, dome head, 1/8 x 7/16, alloy AD (dimple)"
	c.Quantity, c.Unit, c.Known = "about 180", "", "by weight, 176 to 184"
	c.Place, c.Cabinet = "Garage, Cabinet A, drawer A-07", &cab
	c.Beware = []notice.Notice{{Tone: notice.Warn, Lead: "Not AN470AD4-6", Text: "in A-06, next to it: 1/16 shorter. Lay one on the drawing."}}
	c.Notes = []string{"needed by SA-10 Fin (46), SA-40 Elevator (60)", "below the minimum of 200: on the order list"}
	return c
}

// Actions are the four of a stowed item.
func Actions() []card.Action {
	return []card.Action{
		{ID: "take", Label: "Take out", Key: "T", Primary: true},
		{ID: "put", Label: "Put in", Key: "P"},
		{ID: "count", Label: "Count", Key: "C"},
		{ID: "label", Label: "Label", Key: "L"},
	}
}

// FoundRows are search results.
func FoundRows() []table.Row {
	row := func(name, sub, n, place string) table.Row {
		return table.Row{ID: name, Cells: []table.Cell{table.Name(name, sub), table.T(n), table.T(place)}}
	}
	rows := []table.Row{
		row("AN3-5A", "Bolt, 10-32, grip 1/4", "28", "Cabinet A · A-12"),
		row("AN3-5", "Bolt, 10-32, grip 1/4, cotter hole", "0", "none in the shop"),
		row("AN3-6A", "Bolt, 10-32, grip 3/8", "12", "Cabinet A · A-13"),
		row("AN3-4A", "Bolt, 10-32, grip 1/8", "12", "Cabinet A · A-11"),
		row("AN3-11A", "Bolt, 10-32, grip 3/4", "4", "Cabinet A · A-14"),
		row("AN310-3", "Castle nut, 10-32", "4", "Cabinet A · A-20"),
		row("NAS1149F0363P", "Washer, #10, .063 thick (plans: AN960-10)", "150", "Cabinet A · A-30"),
		row("MS21042-3", "Lock nut, all metal, 10-32", "20", "Cabinet A · A-22"),
	}
	rows[1].Dim = true
	return rows
}

// FoundColumns are the columns of search results.
func FoundColumns() []table.Column {
	return []table.Column{{Kind: table.Names}, {Kind: table.Figure, Width: 90}, {Kind: table.Words, Width: 190}}
}

// CheckRows are packing list lines in every state.
func CheckRows() []table.Row {
	row := func(line, name, listed, found, word string, tone notice.Tone) table.Row {
		return table.Row{ID: line, Cells: []table.Cell{
			table.T(line), table.Name(name, "Bolt"), table.T(listed), table.T(found), table.State(word, tone),
		}}
	}
	return []table.Row{
		row("38", "AN3-4A", "12", "12", "all here", notice.OK),
		row("39", "AN3-5A", "24", "28", "+4 over", notice.Warn),
		row("40", "AN3-6A", "16", "12", "4 short", notice.Stop),
		row("41", "AN3-7A", "8", "", "to check", notice.Quiet),
		row("42", "AN3-11", "4", "", "to check", notice.Quiet),
		row("43", "AN4-12A", "6", "", "to check", notice.Quiet),
	}
}

// CheckColumns are the columns of packing list lines.
func CheckColumns() []table.Column {
	return []table.Column{
		{Title: "line", Kind: table.Faint, Width: 38},
		{Title: "on the list", Kind: table.Names},
		{Title: "listed", Kind: table.Plain, Width: 64},
		{Title: "found", Kind: table.Figure, Width: 64},
		{Title: "state", Kind: table.States, Width: 140},
	}
}

// manyRows makes row i of a very long list.
func manyRows(i int) table.Row {
	return table.Row{Cells: []table.Cell{table.Name(fmt.Sprintf("OQ-%05d", i), "Kit part"), table.T(fmt.Sprint(i % 97)), table.T("Shelf S1")}}
}

// Rail is a rail of eight screens, in the order that they are to have.
func Rail() []app.Screen {
	var rail []app.Screen
	for _, s := range []struct{ name, title string }{
		{routes.Today, "Today"},
		{routes.Unpack, "Unpack"},
		{routes.Find, "Find"},
		{routes.Places, "Places"},
		{routes.Labels, "Labels"},
		{routes.Build, "Build"},
		{routes.Order, "Order"},
		{routes.Handbook, "Handbook"},
		{routes.Alerts, "Alerts"},
	} {
		rail = append(rail, app.Screen{Name: s.name, Title: s.title, Icon: s.name})
	}
	return rail
}
