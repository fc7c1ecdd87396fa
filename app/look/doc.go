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
//			look.NewText("AN3-6A, listed 16 each"),
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
package look
