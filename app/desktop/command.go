package desktop

import (
	"slices"
	"strings"

	"stowright/app/building"
	"stowright/app/handbook"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/viewfinder"
	"stowright/app/wording"
	"stowright/store"
)

// Command does what Enter in the command bar does, for a page whose own field was
// typed or scanned into.
func (d *Desktop) Command(text string) { d.command(text) }

// command goes to what was typed or scanned into the command bar: a tag goes to
// what it names, anything else is looked for.
func (d *Desktop) command(text string) {
	if slices.Contains(copiesWords, strings.ToLower(strings.TrimSpace(text))) {
		d.SetCommand("")
		d.Go(routes.Route{Screen: routes.Copies})
		d.Rest()
		return
	}
	if to, ok := listOf(text); ok {
		d.SetCommand("")
		d.Go(to)
		d.Rest()
		return
	}
	if _, problem := store.ParseTag(text); problem == store.NotATag {
		if d.Route().Screen == routes.Handbook {
			return // the page has followed the typing, or it would be Find by now
		}
		d.open(routes.Route{Screen: routes.Find, About: text})
		d.ToResults()
		return
	}
	session.Do(d.session, func() (store.Resolution, error) { return d.session.Shop.Resolve(text) }, d.resolved)
}

// code reports whether a text in upper case begins a code that a hand scanner reads off our
// paper (a tag, or a pull list), and whether it is a whole one. A tag whose check character is
// wrong is whole: what is wrong with it is said.
func code(text string) (begun, whole bool) {
	if _, whole = listOf(text); whole {
		return true, true
	}
	const form = "SP00000000"
	if n := len(text); n <= len(form) {
		_, problem := store.ParseTag(text + form[n:])
		begun, whole = problem != store.NotATag, problem != store.NotATag && n == len(form)
	}
	return begun || building.BeginsCode(text), whole
}

// copiesWords go to the safe copies. No part number or place is called so.
var copiesWords = []string{"copies", "safe copies", "copy", "backup", "backups", "restore", "export", "check"}

// measure goes to where a loose piece is measured.
func (d *Desktop) measure() {
	if at := d.Route(); at.Screen != routes.Handbook || at.Part != handbook.MeasurePart {
		d.Go(routes.Route{Screen: routes.Handbook, Part: handbook.MeasurePart})
	}
}

// open goes to a route unless it is shown already: then the page has followed the
// typing by itself.
func (d *Desktop) open(to routes.Route) {
	if d.Route().Screen != to.Screen {
		d.Go(to)
	}
}

// resolved goes to what a tag names, or says why it names nothing.
func (d *Desktop) resolved(r store.Resolution, err error) {
	if err != nil {
		d.fail(err)
		return
	}
	if r.Answer != store.TagFound {
		d.Say(notice.Notice{Tone: notice.Warn, Text: r.Sentence()})
		d.FocusCommand() // the next scan takes the place of this one
		return
	}
	d.SetCommand("")
	if t, ok := d.Page().(tagTaker); !ok || !t.Tag(r) {
		d.Go(RouteOf(r))
	}
	d.Rest()
}

// listOf is where the code of a printed pull list leads.
func listOf(text string) (to routes.Route, ok bool) {
	codes, ok := building.Opened(text)
	return routes.Route{Screen: routes.Build, Part: building.PullPart, About: strings.Join(codes, ",")}, ok
}

// tagTaker is a page that may have a use of its own for a tag that was scanned, as a walk
// through the drawers has. Tag reports whether it took the tag.
type tagTaker interface{ Tag(r store.Resolution) bool }

// walker is a page that walks through drawers, and says of each that is shown to it whether
// it is the right one.
type walker interface {
	tagTaker
	// Wants reports whether a place is one that the walk leads to.
	Wants(place store.Place) bool
	// Next is the id of the place that it goes to next; ok is false where it is at its end.
	Next() (place string, ok bool)
}

// lookingOn is what the camera page needs: during a walk, a drawer that is shown to the
// camera is taken as one that is scanned.
func (d *Desktop) lookingOn() viewfinder.Options {
	o := d.looking
	if d.walk != nil {
		o.Walk = &walkSeen{d}
	}
	return o
}

// walkSeen is a walk as the camera sees it.
type walkSeen struct{ d *Desktop }

// Wants reports whether a place is one that the walk leads to.
func (w *walkSeen) Wants(place store.Place) bool { return w.d.walk.Wants(place) }

// Next is the id of the place that the walk goes to next.
func (w *walkSeen) Next() (place string, ok bool) { return w.d.walk.Next() }

// Take goes back to the walk with a drawer of it. Of a wrong one it is said that it is, and
// the camera goes on looking.
func (w *walkSeen) Take(r store.Resolution) bool {
	if !w.Wants(r.Place) {
		return w.d.walk.Tag(r)
	}
	w.d.Back()
	t, ok := w.d.Page().(tagTaker)
	return ok && t.Tag(r)
}

// RouteOf is where the window goes for a tag that was found.
func RouteOf(r store.Resolution) routes.Route {
	switch r.Place.Kind {
	case store.Crate, store.Bag:
		return routes.Route{Screen: routes.Unpack, About: r.Place.ID}
	case store.SubAssemblyKind:
		return routes.Route{Screen: routes.Build, Part: building.BenchPart, About: r.Place.Name}
	}
	return routes.Route{Screen: routes.Places, About: r.Place.ID}
}

// fail says what went wrong.
func (d *Desktop) fail(err error) {
	d.Say(notice.Notice{Tone: notice.Stop, Text: wording.Error(err)})
}

// reverse undoes or redoes away from the window, and says what that was.
func (d *Desktop) reverse(o operation.Operation, lead string) {
	operation.Start(d.session, nil, o, func(r operation.Result, err error) {
		if err != nil {
			d.fail(err)
			return
		}
		d.Say(notice.Notice{Tone: notice.OK, Lead: lead, Text: r.Words()})
	})
}
