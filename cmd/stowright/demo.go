package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"stowright/app/demo"
	"stowright/app/desktop"
	"stowright/app/gallery"
	"stowright/app/session"
	"stowright/app/wording"
	demodata "stowright/assets/demo"
	"stowright/labels"
	"stowright/labels/scan"
	"stowright/store"
	"stowright/store/copies"
	"stowright/store/output"
)

// demoCommand makes a fresh copy of the demo shop.
type demoCommand struct {
	replaceFlag
	NoWindow bool   `help:"Do the job in the terminal, and save pictures of the window."`
	Size     int    `help:"In place of the demo shop, generate one of so many items, for measuring: a place to twenty items, ten journal entries to each." placeholder:"ITEMS" hidden:""`
	Dir      string `help:"The folder for the demo's files (default: demo, in your data folder)." type:"path" placeholder:"FOLDER"`

	windowFlags `embed:""`
}

// demoAnswer is the JSON answer of the demo in the terminal.
type demoAnswer struct {
	Shop     string         `json:"shop"`
	Lines    int            `json:"lines"`
	Totals   map[string]int `json:"totals"`
	Clocks   []string       `json:"clocks"`
	Photos   int            `json:"photographs"`
	Stowed   int            `json:"stowed"`
	PDF      string         `json:"pdf"`
	Labels   int            `json:"labels"`
	ReadBack int            `json:"read_back"`
	Found    string         `json:"found"`
	Pictures []string       `json:"pictures"`
}

// Run makes the demo shop and opens the desktop on it; where there is no display,
// or none is wanted, it does the same job in the terminal.
func (c *demoCommand) Run(p *program) error {
	if err := c.badSize(); err != nil {
		return err
	}
	if c.Dir == "" {
		c.Dir = filepath.Join(filepath.Dir(p.shop), "demo")
	}
	// Only ever the demo's own file is replaced: a shop named with --shop is left alone.
	p.shop = filepath.Join(c.Dir, "demo.stow")
	if err := c.clearAway(p); err != nil {
		return err
	}
	if err := os.MkdirAll(c.Dir, 0o700); err != nil {
		return fmt.Errorf("making the folder of the demo: %w", err)
	}
	if c.Size != 0 {
		return c.generate(p)
	}
	clock := demo.NewClock(demo.ArrivalDay, false)
	p.clock = clock.Now
	shop, err := p.open(true)
	if err != nil {
		return err
	}
	if !c.NoWindow && hasDisplay() {
		if err := demo.Fill(shop, clock, demo.Unpacking, demo.Extend); err != nil {
			return errors.Join(err, shop.Close())
		}
		fmt.Fprintf(p.log, "The demo shop is %s. Its day is %s.\n", p.shop, shop.Today())
		return c.show(p, shop, nil)
	}
	s, err := session.Open(p.ctx, shop, session.Inline(), nil)
	if err != nil {
		return errors.Join(err, shop.Close())
	}
	return errors.Join(c.inTerminal(p, s, clock), s.Close())
}

// clearAway removes the last demo shop with its copies, so that the new one is fresh;
// what the demo wrote beside it is written over then. A file of that name that is not the
// demo's is somebody's shop, and stays.
func (c *demoCommand) clearAway(p *program) error {
	old, err := copies.List(p.shop, copies.Folder(p.shop))
	if err != nil {
		return err
	}
	shop, err := p.open(false)
	switch {
	case store.KindOf(err) == store.NotFound && len(old) == 0:
		return nil
	case store.KindOf(err) == store.Busy:
		return err
	}
	ours := false
	if err == nil {
		ours, err = demo.Is(shop)
		err = errors.Join(err, shop.Close())
	}
	if err != nil || !ours {
		return &store.Error{
			Kind: store.Conflict, Where: p.shop, Err: err,
			Message: fmt.Sprintf("%s, or a copy of it, is not a demo shop and is left alone: name another folder with --dir.", p.shop),
		}
	}
	for _, of := range old {
		if err := os.Remove(of.File); err != nil {
			return fmt.Errorf("removing a copy of the last demo shop: %w", err)
		}
	}
	c.Replace = true
	return store.Remove(p.shop)
}

// terminal is the demo in the terminal: the main job, step by step.
type terminal struct {
	*program
	files    output.Options
	session  *session.Session
	dir      string
	answer   demoAnswer
	shipment string
	sheet    labels.Document
}

func (c *demoCommand) inTerminal(p *program, s *session.Session, clock *demo.Clock) error {
	t := &terminal{program: p, files: c.files(p), session: s, dir: c.Dir, answer: demoAnswer{Shop: p.shop}}
	for _, step := range []func() error{
		t.bringIn, t.checkOff, t.photograph,
		func() error { clock.Set(demo.StowDay); return t.stow() },
		func() error { clock.Set(demo.Today); return t.print() },
		t.readBack, t.find, t.draw,
	} {
		if err := step(); err != nil {
			return err
		}
		if err := p.ctx.Err(); err != nil {
			return err
		}
	}
	return p.emit(t.answer, func(w io.Writer) error {
		_, err := fmt.Fprintf(w, "\nEverything is in %s: the shop file, the label sheet, and pictures of the window.\nOpen it with: stowright --shop %s\n", c.Dir, p.shop)
		return err
	})
}

// say prints a step for a person; with --json it says nothing.
func (t *terminal) say(format string, args ...any) {
	if !t.asJSON {
		fmt.Fprintf(t.out, format+"\n", args...)
	}
}

func (t *terminal) bringIn() error {
	if err := errors.Join(demo.Furnish(t.session.Shop), demo.Extend(t.session.Shop)); err != nil {
		return err
	}
	name := filepath.Join(t.dir, demodata.PackingListCSV)
	list := func(w io.Writer) error {
		_, err := w.Write(demodata.PackingList(demodata.PackingListCSV))
		return err
	}
	if err := output.Write(t.files, output.File{Path: name, Write: list}); err != nil {
		return err
	}
	ship, err := demo.Import(t.session.Shop)
	if err != nil {
		return err
	}
	t.shipment = ship.ID
	lines, err := t.session.Shop.Lines(ship.ID)
	if err != nil {
		return err
	}
	t.answer.Lines = len(lines)
	t.say("Brought in %s: %d lines in %d crates.", ship.File, len(lines), len(ship.Crates))
	return demo.Arrive(t.session.Shop, ship.ID, "C1", "C2")
}

func (t *terminal) checkOff() error {
	for _, f := range demodata.Findings() {
		if err := demo.CheckOff(t.session.Shop, t.shipment, f.Line); err != nil {
			return err
		}
	}
	totals, err := t.session.Shop.Totals(t.shipment)
	if err != nil {
		return err
	}
	t.answer.Totals = map[string]int{}
	t.say("Checked off crates C1 and C2:")
	for _, state := range []store.State{store.AllHere, store.Short, store.Over, store.DamagedState, store.WrongRevision, store.BackOrder, store.NotArrived} {
		t.answer.Totals[string(state)] = totals[state]
		t.say("  %-15s%d", state, totals[state])
	}
	clocks, err := t.session.Shop.Clocks()
	if err != nil {
		return err
	}
	for _, c := range clocks {
		t.answer.Clocks = append(t.answer.Clocks, fmt.Sprintf("%s by %s", c.For, c.Due))
		t.say("  claim %s by %s", c.For, c.Due)
	}
	return nil
}

func (t *terminal) photograph() error {
	n, err := demo.AddPhotos(t.session.Shop, t.shipment)
	t.answer.Photos = n
	t.say("Photographed what is damaged: %s, for the claim.", wording.Plural(n, "picture", "pictures"))
	return err
}

func (t *terminal) stow() error {
	n, err := demo.StowAll(t.session.Shop, t.shipment)
	t.answer.Stowed = n
	t.say("Stowed what was found: %d lines, into drawers, shelves and the rack.", n)
	return err
}

// demoStock is the stock that the demo prints on.
const demoStock = "letter-3x10"

func (t *terminal) print() error {
	places, err := t.session.PlacesMatching("Cabinet A")
	if err != nil {
		return err
	}
	list, err := t.session.Labels(places)
	if err != nil {
		return err
	}
	stock, err := labels.StockNamed(demoStock)
	if err != nil {
		return err
	}
	if t.sheet, err = labels.Layout(list, stock, labels.Options{}); err != nil {
		return err
	}
	t.answer.PDF = filepath.Join(t.dir, "cabinet-a.pdf")
	t.answer.Labels = t.sheet.Labels()
	if err := session.WritePDF(t.answer.PDF, t.sheet, labels.PDFOptions{Made: t.clock()}, t.files); err != nil {
		return err
	}
	t.say("Printed %d labels of Cabinet A on %d sheets: %s", t.answer.Labels, len(t.sheet.Pages), t.answer.PDF)
	return nil
}

// readBack shows the sheets to the reader, as a camera would, and counts the
// labels that lead back to their places.
func (t *terminal) readBack() error {
	reader := scan.New()
	for _, page := range t.sheet.Pages {
		picture, err := labels.Picture(page, readBackDots)
		if err != nil {
			return err
		}
		readings, err := t.session.ReadPicture(t.ctx, reader, picture)
		if err != nil {
			return err
		}
		for _, r := range readings {
			if r.Answer == store.TagFound {
				t.answer.ReadBack++
			}
		}
	}
	t.say("Read the sheets back: %d of %d labels lead to their drawers.", t.answer.ReadBack, t.answer.Labels)
	return nil
}

// readBackDots is the resolution of the sheets as they are read back, in pixels to
// the millimetre: about that of a phone's photograph of a whole sheet.
const readBackDots = 8

func (t *terminal) find() error {
	const typed = "3-5a"
	found, _, err := t.session.Find(typed, 1)
	if err != nil {
		return err
	}
	if len(found) == 0 || len(found[0].Stock.Heaps) == 0 {
		return &noError{fmt.Sprintf("nothing answers to %q", typed), t.shop}
	}
	f := found[0]
	t.answer.Found = fmt.Sprintf("%s: %s in %s", f.Item, f.Stock.Total, store.PathText(f.Stock.Heaps[0].Path))
	t.say("Asked for “%s”, and found %s.", typed, t.answer.Found)
	return nil
}

// draw draws one picture of each screen of the rail, in light, dark and large.
func (t *terminal) draw() error {
	newFyneApp()
	began := time.Now()
	shots, err := desktop.RailShots(t.session)
	if err != nil {
		return err
	}
	pictures, err := gallery.Write(filepath.Join(t.dir, "pictures"), desktop.States(t.session, shots), t.files)
	if err != nil {
		return err
	}
	t.answer.Pictures = pictures
	t.say("Drew %d pictures of the window in %.1f s: %s", len(pictures), time.Since(began).Seconds(), filepath.Join(t.dir, "pictures"))
	return nil
}
