package unpack

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/store"
)

// Page is one part of the screen.
type Page struct {
	host  app.Host
	shown part
}

// part is what the parts of the screen have in common.
type part interface {
	object() fyne.CanvasObject
	title() string
	key(key string) bool
	changed()
}

// New makes the page of a route.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{host: host}
	switch route.Part {
	case ListPart:
		p.shown = newListView(s, host, route.About)
	case ArrivalPart:
		p.shown = newArrivalView(s, host, route.About)
	case ClaimPart:
		p.shown = newClaimView(s, host, route.About)
	case SheetPart:
		p.shown = newSheetView(s, host, route.About)
	default:
		p.shown = newCheckView(s, host, route.About)
	}
	return p
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.shown.object() }

// First is the list of lines, where one is checked off here.
func (p *Page) First() fyne.Focusable {
	if c, ok := p.shown.(*checkView); ok && c.model.State().Nothing == "" && !c.model.State().Loading {
		return c.lines
	}
	return nil
}

// GivesWay reports whether the check-off can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool {
	_, ok := p.shown.(*checkView)
	return ok
}

// Title is the page's title for the window.
func (p *Page) Title() string { return p.shown.title() }

// HandleKey does what a key is for.
func (p *Page) HandleKey(key string) bool { return p.shown.key(key) }

// Tag takes the label of a place that was scanned for what is to be stowed, and reports whether
// something is.
func (p *Page) Tag(r store.Resolution) bool {
	c, isCheck := p.shown.(*checkView)
	return isCheck && c.model.Scan(r.Place)
}

// PhotosRoute leads to the photographs of the line in hand, if one is checked off here.
func (p *Page) PhotosRoute() (to routes.Route, ok bool) {
	if c, isCheck := p.shown.(*checkView); isCheck {
		return c.model.Part("P")
	}
	return to, false
}

// Changed follows a change of the shop.
func (p *Page) Changed() { p.shown.changed() }

// Saved is where the check-off stands.
func (p *Page) Saved() any {
	if c, ok := p.shown.(*checkView); ok {
		return c.model.Saved()
	}
	return nil
}

// Restore puts the check-off back to where it stood.
func (p *Page) Restore(saved any) {
	c, isCheck := p.shown.(*checkView)
	s, isSaved := saved.(Saved)
	if isCheck && isSaved {
		c.model.Restore(s)
		c.model.Load()
	}
}

// put moves and resizes.
func put(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

// spread sets words at the left and what acts at the right of one line.
func spread(left fyne.CanvasObject, right ...fyne.CanvasObject) *fyne.Container {
	return look.Line(append([]fyne.CanvasObject{left, look.Gap()}, right...)...)
}
