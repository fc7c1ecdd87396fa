package gallery

import (
	"image"
	"io/fs"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/labels"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// Widgets are the shared widgets in all their states.
func Widgets() []State {
	grown := func(name string, w, h float32, make func() fyne.CanvasObject) State {
		return State{Name: name, Width: w, Height: h, Grow: true, Make: func() fyne.CanvasObject { return onGround(make()) }}
	}
	return []State{
		grown("buttons", 640, 330, buttons),
		grown("texts", 560, 560, texts),
		grown("marks-and-notices", 560, 470, marks),
		grown("fields", 560, 560, fields),
		grown("progress", 560, 370, progress),
		grown("list-header", 760, 420, listWithHeader),
		grown("list-long", 760, 360, listLong),
		grown("list-hard-names", 420, 360, listHardNames),
		grown("cabinet-large", 860, 500, func() fyne.CanvasObject { return look.NewCabinetView(CabinetA(7)) }),
		grown("cabinet-rack", 400, 220, rack),
		grown("cards", 1060, 760, cards),
		grown("card-more", 376, 720, fullCard),
		grown("pieces", 760, 560, pieces),
		grown("facts", 760, 330, facts),
		grown("facts-narrow", 420, 420, facts),
		grown("photographs-tiles", 640, 460, photoTiles),
		grown("sub-assembly-tiles", 820, 300, tiles),
		grown("sheet", 560, 720, sheet),
		grown("empty", 640, 300, empty),
		{Name: "dialog", Width: Width, Height: Height, Make: dialogOver},
		{Name: "folders-file", Width: Width, Height: Height, Make: foldersOver(folders.File(".csv", ".tsv", ".xlsx"), "/home/builder/papers/crates.csv")},
		{Name: "folders-folder", Width: Width, Height: Height, Make: foldersOver(folders.Folder(), "/home/builder/papers")},
		{Name: "folders-save", Width: Width, Height: Height, Make: foldersOver(folders.NewFile("labels.pdf"), "/home/builder/papers/drawers.pdf")},
		{Name: "folders-refused", Width: Width, Height: Height, Make: foldersOver(folders.File(".zip"), "/home/builder/private")},
		{Name: "window-narrow", Width: 1000, Height: 700, Make: Framed{Screen: routes.Find, Command: "an3 5", Card: BoltCard(), Page: findPage}.Window},
		{Name: "window-said", Width: Width, Height: Height, Make: said},
	}
}

// onGround sets a widget on the ground of the window.
func onGround(o fyne.CanvasObject) fyne.CanvasObject {
	return look.OnGround(look.Inset(16, 16, o))
}

func buttons() fyne.CanvasObject {
	off := look.NewKeyButton("Cannot be used now", "U", nil)
	off.SetOff(true)
	focused := look.NewKeyButton("Focused", "F", nil)
	focused.FocusGained()
	primary := look.NewPrimary("Focused primary", "G", nil)
	primary.FocusGained()
	under := look.NewKeyButton("Under the pointer", "H", nil)
	under.MouseIn(nil)
	return look.Rows(12,
		look.Line(look.NewPrimary("Take out", "T", nil), look.NewKeyButton("Put in", "P", nil), look.NewKeyButton("No key", "", nil), off),
		look.Line(focused, primary, under),
		look.Line(look.NewQuiet("Loose piece, no name?"), look.NewLink("Measure it", "F6", nil), look.NewFootLink("Undo", "Ctrl+Z", nil)),
		look.Spread(look.NewKeyButton("All here", "A", nil), look.NewPrimary("Some: 12", "S", nil), look.NewKeyButton("None", "N", nil),
			look.NewKeyButton("Damaged", "D", nil)),
		look.Line(look.NewPill("Damage claim: 1 day left", "", notice.Warn, nil), look.NewPill("Expired: 2 lots", "", notice.Stop, nil),
			look.NewPill("Partner", "F9", notice.Quiet, nil)),
	)
}

func texts() fyne.CanvasObject {
	return look.Rows(10,
		look.NewTitle("Garage · Cabinet A"),
		look.NewHeading("Claims for this delivery"),
		look.NewText("Body text wraps at words and is never cut: the hinge plate right is one short, the hinge plate left is one over, and they never net off."),
		look.NewQuiet("Quiet text is second in rank, and wraps too when a sentence is longer than its line."),
		look.NewFoot("Foot text is the smallest that carries meaning."),
		look.NewLead("Not AN3-6A", "in A-13: that one is 1/8 longer in the grip."),
		look.NewDesignation("AN470AD4-7", 32), look.NewDesignation("NAS1149F0363P", 32),
		look.NewDesignation("OQ-10-031-L-REVISION-B-SPECIAL", 32),
		look.NewCaption("Shop:", "Type Q"),
		look.NewRule(),
		look.NewAmount("28", "pieces", "counted 14 Mar by Builder"),
		look.NewAmount("about 1,680", "pieces", "by weight with the 0.1 g scale, 1,668 to 1,692"),
	)
}

func marks() fyne.CanvasObject {
	return look.Rows(10,
		look.Line(look.NewStateMark(notice.Mark{Word: "all here", Tone: notice.OK}), look.NewStateMark(notice.Mark{Word: "+4 over", Tone: notice.Warn}),
			look.NewStateMark(notice.Mark{Word: "4 short", Tone: notice.Stop}), look.NewStateMark(notice.Mark{Word: "to check"})),
		look.NewNotice(notice.Notice{Tone: notice.Warn, Lead: "Not AN3-6A", Text: "in A-13: that one is 1/8 longer in the grip. Lay one on the drawing before you take it."}),
		look.NewNotice(notice.Notice{Tone: notice.Stop, Lead: "Expired:", Text: "SEAL-B2 expired 22 days ago. Set it apart, do not use it."}),
		look.NewNotice(notice.Notice{Tone: notice.OK, Text: "12 stowed in A-21."}),
		look.NewNotice(notice.Notice{Lead: "Shortages:", Text: "by Mon 13 April, 26 days left"}),
		look.NewPanel(16, look.NewTallies([]card.Tally{
			{Words: "all here", Figure: "33"}, {Words: "short", Figure: "2", Tone: notice.Stop}, {Words: "over", Figure: "1", Tone: notice.Warn},
		})),
	)
}

func fields() fyne.CanvasObject {
	filled := look.NewEntry("")
	filled.SetText("160.4")
	wrong := look.NewField("Sample, pieces", look.NewEntry("10"), "")
	wrong.SetProblem("half a step of the scale is more than 2 % of it: weigh more pieces")
	note := look.NewNote("what was seen", 2)
	focused := look.NewChoices(0, "Builder", "Partner", "Youngster")
	focused.FocusGained()
	return look.Rows(14,
		look.NewField("Gross, g", filled, "with the tub"), wrong,
		look.NewField("Whose hand is this", focused, ""),
		look.NewField("Packing list", look.NewPathPick(builders(), folders.File(".csv"), "path of a CSV, XLSX, ODS, text or PDF file"), ""),
		look.NewField("Note", note, ""),
	)
}

func photoTiles() fyne.CanvasObject {
	shades := image.NewGray(image.Rect(0, 0, 64, 48))
	for i := range shades.Pix {
		shades.Pix[i] = uint8(4 * (i % 64))
	}
	tall := shades.SubImage(image.Rect(0, 0, 24, 48))
	tiles := look.NewPhotoTiles(180)
	tiles.SetPhotos([]card.Photo{
		{Name: "P-1", When: "14 Mar 2026, Builder", Caption: "Dent", Picture: shades},
		{Name: "P-2", When: "14 Mar 2026, Partner", Caption: "A caption that is longer than there is room for in its line", Picture: tall},
		{Name: "P-1017", When: "2 Apr 2026, Youngster"},
		{Name: "P-1018", When: "2 Apr 2026, Builder", Caption: "its picture cannot be read"},
	}, 1)
	return tiles
}

func tiles() fyne.CanvasObject {
	const full, half, missing, owed = drawing.InHand, drawing.Estimated, drawing.Missing, drawing.Awaited
	many := make([]drawing.Square, 40)
	for i := range many {
		many[i] = drawing.Square(i / 10)
	}
	t := look.NewTiles()
	t.SetTiles([]drawing.Tile{
		{Code: "SA-10", Name: "Fin", Corner: "20 h", Squares: []drawing.Square{half, half, full, full, full}, Mark: notice.Mark{Word: "weigh A-03 and A-21", Tone: notice.Warn}},
		{Code: "SA-20", Name: "Rudder", Corner: "in the walk · 6 h", Squares: []drawing.Square{full}, Mark: notice.Mark{Word: "ready", Tone: notice.OK}, Taken: true},
		{Code: "SA-41", Name: "Elevator hinges", Corner: "5 h", Squares: []drawing.Square{missing, full, full}, Mark: notice.Mark{Word: "AN3-5A: 6 short", Tone: notice.Stop}},
		{Code: "SA-50", Name: "Tank", Corner: "40 h", Squares: []drawing.Square{owed}, Mark: notice.Mark{Word: "crate C3 not here", Tone: notice.Stop}},
		{Code: "SA-60-LEFT-OUTER", Name: "Wing, left, with a name that is longer than its tile", Corner: "180 h", Squares: many, Mark: notice.Mark{Word: "OQ-60-031-L: 12 short, +9", Tone: notice.Stop}},
		{Code: "SA-05", Name: "Jig", Mark: notice.Mark{Word: "closed"}},
		{Name: "New sub-assembly", Corner: "N", New: true},
	}, 2)
	return t
}

func progress() fyne.CanvasObject {
	running := look.NewProgress("Bringing in the packing list", func() {})
	running.Set("412 of 1,200 rows", 412.0/1200)
	unknown := look.NewProgress("Reading the picture", func() {})
	unknown.Set("3 codes so far", -1)
	return look.Rows(16, look.NewPanel(16, running), look.NewPanel(16, unknown))
}

func listWithHeader() fyne.CanvasObject {
	l := look.NewRowList(CheckColumns()...)
	l.SetRowHeight(52)
	l.SetRows(CheckRows())
	l.Mark(2)
	l.FocusGained()
	return look.Fill(8, l)
}

func listLong() fyne.CanvasObject {
	l := look.NewRowList(FoundColumns()...)
	l.SetSource(100_000, manyRows)
	l.Choose(51_200)
	return look.Fill(8, l)
}

func listHardNames() fyne.CanvasObject {
	l := look.NewRowList(FoundColumns()...)
	l.SetRows([]table.Row{
		{Cells: []table.Cell{table.Name("NAS1149F0363P", "Washer, #10, .063 thick (plans: AN960-10)"), table.T("150"), table.T("Cabinet A · A-30")}},
		{Cells: []table.Cell{table.Name("OQ-10-031-L", "Hinge plate left, revision B, for the fin"), table.T("about 1,680"), table.T("Hangar, Cabinet A · A-30")}},
		{Cells: []table.Cell{table.Name("MS24665-132", "Cotter pin"), table.T("16"), table.T("A-23")}},
	})
	return look.Fill(8, l)
}

func rack() fyne.CanvasObject {
	c := drawing.Cabinet{Rows: 2, Cols: 3}
	for i, name := range []string{"S1", "S2", "S3", "S4", "S5", "S6"} {
		c.Drawers = append(c.Drawers, drawing.Drawer{Name: name, Designation: "OQ-10-001", More: i, Level: -1, Empty: i == 4, Lit: i == 1})
	}
	c.Drawers[4].Designation = ""
	p := look.NewCabinetView(c)
	p.FocusGained()
	return p
}

func cards() fyne.CanvasObject {
	quiet := card.Card{
		Designation: "OQ-30-033", Title: "Spar doubler", Mark: notice.Mark{Word: "back-ordered", Tone: notice.Warn},
		Quantity: "0", Unit: "pieces", Known: "none came yet", Place: "none in the shop",
		Notes: []string{"needed by SA-30 Tailplane (2)"}, Actions: []card.Action{{Label: "Arrived", Key: "A", Primary: true}},
	}
	return look.Columns(12, look.NewCardView(BoltCard()), look.NewCardView(RivetCard()), look.NewCardView(quiet))
}

// fullCard has more actions than buttons.
func fullCard() fyne.CanvasObject {
	c := BoltCard()
	c.Actions = append(c.Actions, card.Action{ID: "move", Label: "Move", Key: "M"}, card.Action{ID: "scrap", Label: "Scrap", Key: "X"})
	return look.NewCardView(c)
}

// facts is a table of facts: cross-checked, marked, unknown, without a source.
func facts() fyne.CanvasObject {
	return look.NewPanel(14, look.NewFacts(
		card.Fact{Name: "grip", Text: "1/4 (0.25) ±1/64", Source: "NASM3-20 (AN3-AN20) · 2 sources agree"},
		card.Fact{Name: "head height", Text: "1/8 (0.125)", Mark: "not cross-checked", Tone: notice.Warn, Source: "NASM3-20 (AN3-AN20); the thread list agrees with AC 43.13-1B table 7-1"},
		card.Fact{Name: "cotter hole to end", Text: "unknown", Mark: "in no published source seen: check it on the bolt", Tone: notice.Warn},
		card.Fact{Name: "wrong", Text: "The grip is 1/16 too long: the nut runs out of thread before it clamps", Mark: "this rules it out", Tone: notice.Stop, Source: "AC 43.13-1B par. 7-37 · 2 sources agree"},
	))
}

func pieces() fyne.CanvasObject {
	page := look.Rows(6)
	for _, name := range []string{"AN3-5A", "AN470AD4-7", "AN426AD3-3.5", "AN365-1032A", "NAS1149F0363P"} {
		p := drawing.PieceOf(hardware.Decode(name), measure.InInches)
		if p == nil {
			page.Add(look.NewText(name + ": no drawing"))
			continue
		}
		page.Add(look.NewPieceView(*p))
	}
	return page
}

// sheet is a page of labels on a sheet that has been started.
func sheet() fyne.CanvasObject {
	stock := labels.Stocks()[0]
	list := []labels.Label{
		{Tag: "SP7K3M9QXD", Name: "AN3-5A", Title: "Bolt 10-32, grip 1/4, no pin hole", Place: "A-12", Beware: labels.Beware{Name: "AN3-6A", Why: "that one is 1/8 longer"}},
		{Tag: "SP0V4T8KDX", Name: "AN470AD4-7", Title: "Dome rivet 1/8, length 7/16", Place: "A-07"},
	}
	doc, err := labels.Layout(list, stock, labels.Options{})
	if err != nil || len(doc.Pages) == 0 {
		return look.NewText("no page: " + err.Error())
	}
	s := look.NewSheetView(doc.Pages[0])
	ghost := doc.Pages[0].Cells[0].Rect
	ghost.Y += 3 * stock.PitchY
	s.SetPage(doc.Pages[0], []labels.Rect{ghost}, doc.Pages[0].Cells[1].Rect)
	return s
}

func empty() fyne.CanvasObject {
	return look.NewEmptyState("Nothing has arrived yet",
		"Bring in the packing list of the first delivery: a spreadsheet, a text or a PDF. The claim clocks start from the day it came.",
		look.NewPrimary("Bring in a list", "I", nil), look.NewKeyButton("Type it in", "N", nil))
}

// over sets a dialog over the screen of the first sketch.
func over(d fyne.CanvasObject) fyne.CanvasObject {
	window := Framed{Screen: routes.Find, Command: "an3 5", Card: BoltCard(), Page: findPage}.Window()
	return look.Over(window, d)
}

func dialogOver() fyne.CanvasObject {
	reading := look.NewEntry("148")
	d := look.NewDialog("Count A-30", look.Rows(12,
		look.NewText("How many washers are in the drawer? The figure of the first count is not shown."),
		look.NewField("Pieces", reading, "whole pieces"),
	), look.NewKeyButton("Cancel", "Esc", nil), look.NewPrimary("Count", "Enter", nil))
	return over(d)
}

// builders are the folders of a builder, of which one may not be read.
func builders() *folders.Ways {
	at := folders.New(session.Inline(), "/home/builder/shop/Type Q.stow")
	at.Home = "/home/builder"
	at.Read = func(dir string) ([]folders.Entry, error) {
		switch dir {
		case "/home/builder":
			return []folders.Entry{{Name: "papers", Folder: true}, {Name: "private", Folder: true}}, nil
		case "/home/builder/private":
			return nil, fs.ErrPermission
		case "/home/builder/papers":
			return []folders.Entry{
				{Name: "photographs", Folder: true},
				{Name: "claims", Folder: true},
				{Name: "crates.csv", Bytes: 4120},
				{Name: "a list with a very long name as a scanner or a mail program gives it, second copy, final.csv", Bytes: 2_500_000},
				{Name: "labels.pdf", Bytes: 88_000},
			}, nil
		}
		return nil, fs.ErrNotExist
	}
	return at
}

func foldersOver(want folders.Want, field string) func() fyne.CanvasObject {
	return func() fyne.CanvasObject {
		return over(look.NewFolders(builders(), want, func(string) {}).Dialog(field))
	}
}

func said() fyne.CanvasObject {
	f := Framed{Screen: routes.Find, Command: "an3 5", Card: BoltCard(), Page: findPage}.frame()
	f.Say(notice.Notice{Tone: notice.OK, Lead: "Taken out:", Text: "6 of AN3-5A from A-12. 22 are left."})
	return f.Object()
}
