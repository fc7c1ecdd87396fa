package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/look"
	"stowright/app/routes"
)

// mostVisits bounds the way back.
const mostVisits = 50

// Go leaves the page that is shown and shows another. The card goes with the old
// page. Going to the route that is shown already makes its page again.
func (f *Frame) Go(to routes.Route) {
	f.leave()
	if n := len(f.visits); n == 0 || f.visits[n-1].route != to {
		f.visits = append(f.visits, visit{route: to})
	}
	if n := len(f.visits); n > mostVisits {
		f.visits = f.visits[n-mostVisits:]
	}
	f.enter(nil)
}

// visit goes to a page by its number, its icon or its key: the page has the focus then, and
// what was typed into the command bar before is gone.
func (f *Frame) visit(to routes.Route) {
	f.SetCommand("")
	f.Rest()
	f.Go(to)
}

// Back returns to the page before, with its state, and reports whether there was
// one.
func (f *Frame) Back() bool {
	if len(f.visits) < 2 {
		return false
	}
	f.leave()
	f.visits = f.visits[:len(f.visits)-1]
	f.enter(f.visits[len(f.visits)-1].saved)
	return true
}

// Reload makes the shown page again, with its state: after Undo, or when the
// records changed under it. The card and what was said stay.
func (f *Frame) Reload() {
	if len(f.visits) == 0 {
		return
	}
	f.stop()
	f.build(f.visits[len(f.visits)-1].saved)
}

// Route is where the window is; the zero route before the first Go.
func (f *Frame) Route() routes.Route {
	if len(f.visits) == 0 {
		return routes.Route{}
	}
	return f.visits[len(f.visits)-1].route
}

// Page is the page that is shown.
func (f *Frame) Page() Page { return f.page }

// stop saves the state of the shown page and stops what it has running.
func (f *Frame) stop() {
	if s, ok := f.page.(Saver); ok && len(f.visits) > 0 {
		f.visits[len(f.visits)-1].saved = s.Saved()
	}
	if l, ok := f.page.(Leaver); ok {
		l.Leave()
	}
}

// leave stops the page and clears what belongs to it.
func (f *Frame) leave() {
	f.stop()
	f.page = nil
	f.Hush()
	f.side.hide()
	if c := f.canvas(); c != nil && c.Focused() != nil && !f.commandFocused() {
		c.Unfocus()
	}
}

// enter shows the page of the last visit.
func (f *Frame) enter(saved any) {
	f.arrived = true
	f.build(saved)
	route := f.Route()
	for _, item := range f.rail {
		item.setCurrent(item.screen.Name == route.Screen)
	}
	f.root.Refresh()
}

// build makes the page of the last visit and puts it into the work area.
func (f *Frame) build(saved any) {
	f.keyboard.Asked(func() { f.make(saved) })
	if !f.keyboard.asked.Waiting() {
		f.settle()
	}
}

// settle gives the focus to what a page that was gone to is worked with first, once the page
// has read what it shows. What has the focus by then keeps it.
func (f *Frame) settle() {
	c := f.canvas()
	if !f.arrived || c == nil {
		return
	}
	f.arrived = false
	if f.top() != nil || c.Focused() != nil {
		return
	}
	if p, ok := f.page.(FirstFocus); ok {
		if w := p.First(); w != nil {
			c.Focus(w)
			return
		}
	}
	if p, ok := f.page.(AnswersTyping); ok && p.AnswersTyping() {
		f.FocusCommand()
	}
}

// make makes the page; what it reads is waited for before it is given what is typed.
func (f *Frame) make(saved any) {
	page, err := f.options.Pages(f.Route())
	if err != nil {
		f.page = nil
		f.setWork(look.NewEmptyState("This page cannot be shown", err.Error()))
		return
	}
	f.page = page
	if s, ok := page.(Saver); ok && saved != nil {
		s.Restore(saved)
	}
	f.setWork(page.Object())
	f.setTitle()
}

// setTitle names the page in the title bar of the window, after the nearest claim deadline:
// it is seen there when another program lies over the window.
func (f *Frame) setTitle() {
	t, ok := f.page.(Titled)
	if !ok || f.window == nil {
		return
	}
	title := t.Title() + " - Stowright"
	if f.deadline != "" {
		title = f.deadline + " - " + title
	}
	f.window.SetTitle(title)
}

// setWork replaces the page's object and keeps what is being said.
func (f *Frame) setWork(page fyne.CanvasObject) {
	o := container.NewVScroll(look.Inset(workBleed, workBleed, page)) // for a page that needs more height than there is
	if len(f.work.Objects) == 0 {
		f.work.Objects = []fyne.CanvasObject{o}
	} else {
		f.work.Objects[0] = o
	}
	f.work.Refresh()
}
