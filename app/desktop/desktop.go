// Package desktop is the whole desktop: the window's frame with the screens on an
// open shop. It joins what the frame offers (the command bar, undo, the hand, the
// camera) with what the shop answers.
package desktop

import (
	"encoding/json"
	"fmt"
	"io"
	"sync"
	"time"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/bell"
	"stowright/app/card"
	"stowright/app/copies"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/region"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/viewfinder"
	"stowright/labels"
	"stowright/store"
	"stowright/store/measure"
)

// Options are what the desktop needs beside the shop.
type Options struct {
	// Camera is where the camera page looks; empty for the first camera.
	Camera string
	// Trace gets one line of JSON for every change that the window shows, so that a
	// script can wait for it; nil for none.
	Trace io.Writer
	// Open opens what the camera page shows; nil for what viewfinder.OpenSource does.
	Open viewfinder.Opener
	// Sheet is what papers are laid out for; of no size: US Letter.
	Sheet labels.Stock
	// Region is how figures and days are typed here.
	Region region.Region
	// Lengths is in what unit lengths are typed and read at first, and LengthsIn is called when
	// Ctrl+U has changed that; nil for nobody.
	Lengths   measure.System
	LengthsIn func(measure.System)
	// Resized is called when F8 has made everything larger, or as it was; nil for nobody.
	Resized func(large bool)
	// Replace puts a restored file in the place of the shop file, as Window does.
	Replace copies.Replacer
	// Bell rings at a wrong drawer; nil rings never.
	Bell *bell.Bell
	// Caution is said when the window opens; empty for nothing.
	Caution string
	// Log is the file of the program's log, which a page names; empty for none.
	Log string
}

// Desktop is the desktop on one shop. Its methods are called on the window's goroutine.
type Desktop struct {
	*app.Frame
	session   *session.Session
	trace     io.Writer
	replace   copies.Replacer
	looking   viewfinder.Options // of the camera page
	window    fyne.Window
	visits    loop.Latest // of pages: the last one made is shown
	walk      walker      // the walk that the camera was opened from; nil for none
	reading   loop.Latest // of the status
	spots     loop.Latest // of what can be clicked on
	footer    app.Footer
	lengthsIn func(measure.System)

	copying string // how far the daily safe copy is, or when it was made; until the next entry

	keeping  sync.WaitGroup // the safe copies that are being made
	uncopied string         // why the last one was not made
}

// New makes the desktop. Put it into a window with Show.
func New(s *session.Session, o Options) *Desktop {
	d := &Desktop{session: s, trace: o.Trace, replace: o.Replace}
	d.looking = viewfinder.Options{
		Camera: o.Camera, Open: o.Open,
		GoTo: func(r session.Reading) routes.Route { return RouteOf(r.Resolution) }, Papers: listOf,
	}
	d.Frame = app.NewFrame(app.Options{
		Screens: screens(), Pages: d.page, Loop: s.Loop, Code: code, Query: d.query, Command: d.command,
		Measure: d.measure, Hand: d.askHand, Resized: o.Resized, Lengths: s.SwitchLengths, KeyCard: d.askKeyCard, Claim: func() { d.Go(routes.Route{Screen: routes.Unpack}) },
		Settled: d.settled,
		Undo:    func() { d.reverse(operation.Undo{}, "Undone:") }, Redo: func() { d.reverse(operation.Redo{}, "Done again:") },
	})
	s.Log, s.Bell = o.Log, o.Bell
	s.SetLengths(o.Lengths)
	s.Sheet, s.Region = o.Sheet, o.Region
	s.OnLengths, d.lengthsIn = d.lengthsSwitched, o.LengthsIn
	s.Listen(d.changed)
	s.Folders.FindDocuments()
	return d
}

// Show puts the desktop into a window, on the screen that the shop calls for: Today,
// which in an empty shop says what to do first.
func (d *Desktop) Show(w fyne.Window) {
	d.window = w
	d.Attach(w)
	w.SetOnDropped(d.dropped)
	d.status()
	d.followIndex()
	d.Go(routes.Route{Screen: routes.Today})
}

// page makes the page of a route.
func (d *Desktop) page(route routes.Route) (app.Page, error) {
	d.write(traced{Event: "page", Screen: route.Screen, About: route.About})
	host := &visit{Desktop: d, visit: d.visits.Start()}
	for _, e := range entries() {
		if e.Name != route.Screen {
			continue
		}
		page := e.page(d, host, route)
		if route.Screen != routes.Camera {
			d.walk, _ = page.(walker)
		}
		return page, nil
	}
	return nil, fmt.Errorf("there is no screen %q", route.Screen)
}

// ShowCard shows a card and traces it.
func (d *Desktop) ShowCard(c card.Card, act func(id string)) {
	d.Frame.ShowCard(c, act)
	d.write(traced{Event: "card", About: c.Designation, Text: c.Place, Figure: c.Quantity})
}

// OfferCard offers a card and traces it.
func (d *Desktop) OfferCard(c card.Card, act func(id string)) {
	d.Frame.OfferCard(c, act)
	d.write(traced{Event: "card", About: c.Designation, Text: c.Place, Figure: c.Quantity})
}

// Say says something and traces it.
func (d *Desktop) Say(n notice.Notice) {
	d.Frame.Say(n)
	d.write(traced{Event: "said", Text: n.Lead + " " + n.Text})
}

// traced is a line of the trace.
type traced struct {
	Event  string `json:"event"`
	Screen string `json:"screen,omitempty"`
	About  string `json:"about,omitempty"`
	Text   string `json:"text,omitempty"`
	Figure string `json:"figure,omitempty"`
	Spots  []spot `json:"spots,omitempty"`
}

// spot is what can be clicked on, with its middle in pixels of the window.
type spot struct {
	Says string `json:"says"`
	X, Y int
}

// laidOut is how long after something came the window is taken to have been drawn.
const laidOut = 60 * time.Millisecond

// settled traces what can be clicked on, once the window has been laid out: walks by the mouse
// find it so.
func (d *Desktop) settled() {
	if d.trace == nil || d.window == nil || d.session.Loop.After == nil {
		return
	}
	request := d.spots.Start()
	d.session.Loop.After(laidOut, func() {
		if !request.Current() {
			return
		}
		c := d.window.Canvas()
		shown := c.Content()
		if top := c.Overlays().Top(); top != nil {
			shown = top
		}
		var all []spot
		for _, s := range look.Spots(shown, c.Size()) {
			all = append(all, spot{s.Says, int(s.At.X * c.Scale()), int(s.At.Y * c.Scale())})
		}
		d.write(traced{Event: "spots", Spots: all})
	})
}

// shown traces what a page shows.
func (d *Desktop) shown(text string) { d.write(traced{Event: "shown", Text: text}) }

func (d *Desktop) write(t traced) { write(d.trace, t) }

func write(trace io.Writer, t traced) {
	if trace == nil {
		return
	}
	// The trace is for scripts that wait on it: one that cannot be written makes
	// them fail, and must not stop the person's work.
	_ = json.NewEncoder(trace).Encode(t)
}

// changer is a page that follows changes of the shop by itself; others are made again.
type changer interface{ Changed() }

// changed brings the window up to date after an entry.
func (d *Desktop) changed(e store.Entry) {
	d.copying = "" // a copy that was made lacks this entry; one under way says so anew
	d.status()
	if p, ok := d.Page().(changer); ok {
		p.Changed()
	} else {
		d.Reload()
	}
	d.write(traced{Event: "entry", About: string(e.Verb), Text: e.Text})
}

// query follows typing in the command bar on a page that has no use for it.
func (d *Desktop) query(text string) {
	if text == "" {
		return
	}
	d.Go(routes.Route{Screen: routes.Find, About: text})
}
