package handbook

import (
	"slices"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/store/measure"
)

// Page is one part of the screen, under the bar that leads to the others.
type Page struct {
	host    app.Host
	shown   part
	session *session.Session
	lengths *look.KeyButton // inches or millimetres
	content *fyne.Container
}

// part is what the parts of the screen have in common.
type part interface {
	object() fyne.CanvasObject
	changed()
}

// typist is a part that follows the command bar.
type typist interface{ query(text string) }

// lister is a part with a list that the down arrow goes to.
type lister interface{ results() fyne.Focusable }

// keeper is a part that is shown again as it was left.
type keeper interface {
	saved() any
	restore(saved any)
}

// New makes the page of a route. Its About is what the part starts with: a
// designation, a diameter, the thicknesses of a stack, words of the tables.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{host: host, session: s}
	switch route.Part {
	case MeasurePart:
		p.shown = newMeasureView(s, host, route.About)
	case BoltPart:
		p.shown = newBoltView(s, host, route.About)
	case RivetPart:
		p.shown = newRivetView(s, host, route.About)
	case TablesPart:
		p.shown = newTablesView(s, host, route.About)
	case TorquePart:
		p.shown = newTorqueView(s, host)
	case OwnPart:
		p.shown = newOwnView(s, host)
	default:
		p.shown = newLookUpView(s, host, route.About)
	}
	names, words := Parts()
	bar := look.NewChoices(max(0, slices.Index(names, route.Part)), words...)
	bar.OnChosen = func(i int) { host.Go(routes.Route{Screen: routes.Handbook, Part: names[i]}) }
	p.lengths = look.NewFootLink(p.otherLengths(), "", s.SwitchLengths) // Ctrl+U, which F1 says
	other := look.NewKeyButton(words[bar.Chosen()]+": other pages", "", func() { p.askPart(names, words) })
	p.content = look.Fill(6, look.Head(look.NewTitle("Handbook"), p.lengths), look.Either(bar, other), p.shown.object())
	return p
}

// askPart lists the parts of the Handbook, where a row of them has no room.
func (p *Page) askPart(names, words []string) {
	actions := make([]card.Action, len(names))
	for i, name := range names {
		actions[i] = card.Action{ID: name, Label: words[i]}
	}
	app.AskAction(p.host, "Which page of the Handbook?", actions, func(part string) {
		p.host.Go(routes.Route{Screen: routes.Handbook, Part: part})
	})
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// GivesWay reports whether looking up can stand beside its card in a narrow window; the
// other parts have fields or tables that need the width.
func (p *Page) GivesWay() bool {
	_, ok := p.shown.(*lookUpView)
	return ok
}

// Title is the page's title for the window.
func (p *Page) Title() string { return "Handbook" }

// otherLengths is what Ctrl+U would have lengths typed and read in.
func (p *Page) otherLengths() string {
	if p.session.Lengths() == measure.InMillimetres {
		return "In inches"
	}
	return "In millimetres"
}

// Changed follows a change of the shop, and of how lengths are read.
func (p *Page) Changed() {
	p.lengths.SetLabel(p.otherLengths())
	p.shown.changed()
}

// Query follows the command bar where the part has a use for it.
func (p *Page) Query(text string) bool {
	t, ok := p.shown.(typist)
	if ok {
		t.query(text)
	}
	return ok
}

// Results is the list that the down arrow goes to, nil where the part has none.
func (p *Page) Results() fyne.Focusable {
	if l, ok := p.shown.(lister); ok {
		return l.results()
	}
	return nil
}

// Saved is how the part stands.
func (p *Page) Saved() any {
	if k, ok := p.shown.(keeper); ok {
		return k.saved()
	}
	return nil
}

// Restore shows the part as it was left.
func (p *Page) Restore(saved any) {
	if k, ok := p.shown.(keeper); ok {
		k.restore(saved)
	}
}

// lookUp leads to the first part with a designation.
func lookUp(host app.Host, designation string) {
	host.Go(routes.Route{Screen: routes.Handbook, About: designation})
}

// Actions on the card of a piece.
const (
	findID   = "find"
	lookUpID = "look up"
)

// showPiece shows the card of a piece with the ways on from it; an empty card
// shows none.
func showPiece(host app.Host, c card.Card, ids ...string) {
	if c.Empty() {
		host.HideCard()
		return
	}
	for _, id := range ids {
		switch id {
		case findID:
			if c.Place != "" {
				c.Actions = append(c.Actions, card.Action{ID: findID, Label: "Where it is", Key: "W", Primary: true})
			}
		case lookUpID:
			c.Actions = append(c.Actions, card.Action{ID: lookUpID, Label: "All figures", Key: "I"})
		}
	}
	host.OfferCard(c, func(id string) {
		if id == findID {
			host.Go(routes.Route{Screen: routes.Find, About: c.Designation})
			return
		}
		lookUp(host, c.Designation)
	})
}

// drawn is a drawing as large as it can be in that room (points at normal size).
func drawn(p drawing.Piece, wide, high float32) *look.PieceView {
	picture := look.NewPieceView(p)
	least, greatest := p.Bounds()
	if w, h := greatest.X-least.X, greatest.Y-least.Y; w > 0 && h > 0 {
		picture.SetTrueSize(min(float64(look.Px(wide))/w, float64(look.Px(high))/h, float64(look.Px(mostPerMM))))
	}
	return picture
}

// mostPerMM is how many points a millimetre is drawn at most, so that small
// pieces stay small beside large ones.
const mostPerMM = 12

// caution is the line at the foot of every part.
func caution() *look.Paragraph { return look.NewFoot(Caution) }

// newEntry is a field of a form: Esc leaves the field first, so that single keys
// work, and only then the page.
func newEntry(placeholder string) *look.Entry { return leavable(look.NewEntry(placeholder)) }

// newLength is a field for lengths, with the unit of a plain number at its end.
func newLength(in measure.System, placeholder string) *look.Entry {
	e := look.NewAmountEntry(in.Unit())
	e.PlaceHolder = placeholder
	return leavable(e)
}

// setUnits shows in what unit plain numbers are in fields for lengths.
func setUnits(in measure.System, fields ...*look.Entry) {
	for _, e := range fields {
		e.SetUnit(in.Unit())
	}
}

// leavable has Esc leave a field.
func leavable(e *look.Entry) *look.Entry {
	e.OnEscape = func() bool {
		if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil {
			c.Unfocus()
		}
		return true
	}
	return e
}
