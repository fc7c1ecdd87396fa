// Package look is the visual family of the window: the theme and the widgets that
// several screens share. Screens compose it and draw nothing themselves.
//
// A page is a column: a heading, a list or a cabinet that takes the height there
// is, and a line or a panel under it.
//
//	list := look.NewRowList(
//		table.Column{Title: "line", Kind: table.Faint, Width: 38},
//		table.Column{Title: "on the list", Kind: table.Names}, // width 0: what is left
//		table.Column{Title: "found", Kind: table.Figure, Width: 64},
//		table.Column{Title: "state", Kind: table.States, Width: 140},
//	)
//	list.OnChosen = func(i int, row table.Row) { model.Choose(row.ID) }
//	title := look.NewTitle("Crate C1")
//	page := look.Fill(12,
//		look.Line(title, look.Gap(), look.NewKeyButton("Print labels", "L", model.Print)),
//		list,
//		look.NewPanel(16, look.Rows(12,
//			look.NewText("AN3-6A, listed 16 pieces"),
//			look.Line(look.NewPrimary("All here", "A", model.All), look.NewKeyButton("None", "N", model.None)),
//		)),
//	)
//
// Layouts: Rows stacks at natural height, Fill stacks and lets the list take the
// rest, Line sets side by side and wraps, Inset and Panel keep space around,
// Scroller scrolls. Use these rather than Fyne's boxes: they know how high
// wrapped text is, and Fyne's cut it.
//
// Text: NewTitle, NewHeading, NewText, NewQuiet, NewFoot, NewLead (starts bold),
// NewDesignation (mono, never broken inside a dash group). Change it with SetText
// and then Refresh the layout around it when its height may change.
//
// Buttons: NewPrimary (one in a group), NewKeyButton, NewLink. The key that a
// button shows works by itself as long as the button is visible and no field has
// the focus; the window finds it. Screens bind no single keys.
//
// Fields: NewEntry, NewNote, NewField (label over it), NewChoices, NewPathPick.
// Use Entry instead of widget.Entry: it leaves F2, F9, Esc and Ctrl+K to the
// window.
//
// Measures: sizes given to constructors are points at normal size; the theme
// multiplies them in shop mode. For a gap of your own use Px(12).
//
// State arrives as data of package card; every Set method is safe to repeat and
// must be called on Fyne's goroutine.
//
// # Words
//
// One word for one thing, on every screen; a test in app/desktop holds the pages to it.
//
//	piece, pieces    what is counted, where that is said in words: on cards, in questions
//	ea               the same behind a figure in tables, in the journal and on paper
//	checked off      a line of a packing list that was counted or weighed
//	checked for damage   what was done with it besides
//	checked          a safe copy that was read through
//	looked at        what somebody did with a part that came out of the aircraft, before it is used again
//	fitted, removed  in the aircraft, and out of it; put back is from a tray to its drawer
//	stow             from a bag or crate to its place; move is from one place to another
//	owed             what a supplier is to send still, whichever paper says so
//	set apart        here, and not to be used
//	about            before a figure that is an estimate
//	More (M, or F7 on a card)   the actions that have no button
//	Choose (F5)      a file or a folder
//	Change           another one in place of the one that is named
//
// A button says what it does; none is called by a sign alone.
package look
