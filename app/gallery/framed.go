package gallery

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
)

// Window is the size of the window that every screen must fit, in points.
const (
	Width  = 1280
	Height = 800
)

// Framed is a screen in the whole window: what a page looks like with the frame
// around it. Nothing in it does anything.
type Framed struct {
	Screen  string // which one the rail marks
	Command string // what the command bar holds
	Card    card.Card
	Side    func() fyne.CanvasObject // in place of the card
	Page    func() fyne.CanvasObject
}

// page is a fixed object as a page.
type page struct{ object fyne.CanvasObject }

func (p page) Object() fyne.CanvasObject { return p.object }

// Window builds the window around the screen.
func (s Framed) Window() fyne.CanvasObject { return s.frame().Object() }

func (s Framed) frame() *app.Frame {
	f := app.NewFrame(app.Options{
		Screens: Rail(),
		Pages:   func(routes.Route) (app.Page, error) { return page{s.Page()}, nil },
	})
	f.SetFooter(app.Footer{Shop: "Type Q", Last: "Partner counted A-30: 150", CanUndo: true})
	f.SetClaim("Damage claim: 1 day left", notice.Warn)
	f.SetHand("Partner")
	f.Go(routes.Route{Screen: s.Screen})
	f.SetCommand(s.Command)
	if s.Side != nil {
		f.ShowSide(s.Side())
	} else {
		f.ShowCard(s.Card, nil)
	}
	return f
}

// State is the screen as a state of that name, 1280 x 800.
func (s Framed) State(name string) State {
	return State{Name: name, Width: Width, Height: Height, Make: s.Window}
}

// Sketches are three screens built of the family's widgets alone, to hold beside
// each other: a list, a check-off, a cabinet.
func Sketches() []State {
	return []State{
		Framed{Screen: routes.Find, Command: "an3 5", Card: BoltCard(), Page: findPage}.State("window-find"),
		Framed{Screen: routes.Unpack, Side: claims, Page: unpackPage}.State("window-unpack"),
		Framed{Screen: routes.Places, Command: "an470ad4 7", Card: RivetCard(), Page: placesPage}.State("window-places"),
	}
}

func findPage() fyne.CanvasObject {
	list := look.NewRowList(FoundColumns()...)
	list.SetRows(FoundRows())
	list.Mark(0)
	return look.Fill(12,
		look.Rows(2, look.NewTitle("8 found"), look.NewQuiet("best first; what is in the shop before what is not")),
		list,
		look.Line(look.NewQuiet("Loose piece, no name?"), look.NewLink("Measure it", "F6", nil),
			look.NewQuiet("Nothing here?"), look.NewLink("Look it up in the Handbook", "", nil)),
	)
}

func unpackPage() fyne.CanvasObject {
	list := look.NewRowList(CheckColumns()...)
	list.SetRowHeight(52)
	list.SetRows(CheckRows())
	list.Mark(2)
	bar := look.NewProgressBar("39 of 52 lines", look.Segment{Share: 33, Tone: notice.OK}, look.Segment{Share: 3, Tone: notice.Warn},
		look.Segment{Share: 3, Tone: notice.Stop}, look.Segment{Share: 13})
	buttons := look.Spread(
		look.NewKeyButton("All here", "A", nil), look.NewPrimary("Some: 12", "S", nil), look.NewKeyButton("None", "N", nil),
		look.NewKeyButton("Damaged", "D", nil), look.NewKeyButton("Mixed bag: split", "X", nil))
	return look.Fill(12,
		look.Line(look.Rows(2, look.NewTitle("Crate C1 · bag H103"), look.NewQuiet("order OK-20731, came 14 March 2026")), look.Gap(), bar),
		list,
		look.NewPanel(16, look.Rows(12,
			look.Line(look.NewDesignation("AN3-6A", 32), look.NewQuiet("Bolt, 10-32, grip 3/8"), look.Gap(), look.NewText("listed 16 each")),
			buttons,
			look.Line(look.NewQuiet("4 short so far. Look first: inside other parts of C1, in H104."), look.NewLink("Weigh instead", "W", nil)),
		)),
	)
}

func claims() fyne.CanvasObject {
	cab := CabinetA(21)
	return look.Pin(12, look.NewScroller(look.Rows(10,
		look.NewHeading("Claims for this delivery"),
		look.NewNotice(notice.Notice{Tone: notice.Warn, Lead: "Hidden damage:", Text: "by Thu 19 March, 1 day left"}),
		look.NewNotice(notice.Notice{Lead: "Shortages:", Text: "by Mon 13 April, 26 days left"}),
		look.NewTallies([]card.Tally{
			{Words: "all here", Figure: "33"},
			{Words: "short", Figure: "2"},
			{Words: "over", Figure: "1"},
			{Words: "damaged", Figure: "2"},
			{Words: "wrong revision", Figure: "1"},
			{Words: "to check", Figure: "13"},
		}),
		look.NewRule(), look.NewHeading("Where does it go?"), look.NewLead("", "AN3-6A: Cabinet A, A-21"),
		look.NewCabinetMini(cab), look.NewFoot("empty, and two rows away from AN3-5A, which looks the same"),
	)), look.Pair(look.NewPrimary("Stow 12 there", "Enter", nil), look.NewKeyButton("Elsewhere", "E", nil)))
}

func placesPage() fyne.CanvasObject {
	return look.Fill(12,
		look.Line(look.Rows(2, look.NewTitle("Garage · Cabinet A"), look.NewQuiet("40 drawers, 11 empty, tag SP 7K3M 9QXD")),
			look.Gap(), look.NewKeyButton("Count round", "R", nil), look.NewKeyButton("Print labels", "L", nil)),
		look.NewCabinetView(CabinetA(7)),
		look.NewQuiet("≠ a look-alike lies within reach of this drawer. Nearest pair: AN3-5A (A-12) and AN3-6A (A-13)."),
	)
}
