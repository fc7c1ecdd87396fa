package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"runtime"
	"slices"
	"time"

	"github.com/alecthomas/kong"
	kongcompletion "github.com/jotaen/kong-completion"

	"stowright/app/region"
	"stowright/app/session"
	"stowright/app/userdirs"
	"stowright/labels"
	"stowright/store"
	"stowright/store/copies"
	"stowright/store/progress"
)

// grammar is the command line. The field tags are its documentation; shop:"no" marks what
// answers without a shop file as well.
type grammar struct {
	Shop string `help:"The shop file (default: in your data folder)." placeholder:"FILE" type:"path"`
	JSON bool   `help:"Print one JSON document and nothing else." name:"json"`
	Hand string `help:"Who does it, for the journal." placeholder:"NAME"`
	Day  string `help:"Work as if today were this day." placeholder:"2026-03-18" hidden:""`

	Desktop  desktopCommand  `cmd:"" default:"1" help:"Open the desktop (also without any command)."`
	Open     openCommand     `cmd:"" shop:"no" help:"Open the desktop on a shop file, by its name alone."`
	Demo     demoCommand     `cmd:"" help:"A fresh copy of the demo shop, and the desktop on it."`
	Import   importCommand   `cmd:"" help:"Bring a packing list in: CSV, XLSX, ODS or a PDF with text."`
	Find     findCommand     `cmd:"" help:"Where it is and how many."`
	Arrive   arriveCommand   `cmd:"" help:"Crates have come: from this day the time for claims runs."`
	Receive  receiveCommand  `cmd:"" help:"What was found of a line of the packing list."`
	Extra    extraCommand    `cmd:"" help:"What was found and is on no line of the packing list."`
	Sheet    sheetCommand    `cmd:"" help:"The check-off sheet of a crate, to print and tick."`
	Claim    claimCommand    `cmd:"" help:"What is reported to the supplier: shown, marked as sent, answered."`
	Stow     stowCommand     `cmd:"" help:"Put things from their bag or crate where they belong."`
	Move     moveCommand     `cmd:"" help:"Take things from one place to another."`
	Take     takeCommand     `cmd:"" help:"Take things out for a sub-assembly."`
	Ready    readyCommand    `cmd:"" help:"Which sub-assemblies can be started, and what stops the others."`
	Needs    needsCommand    `cmd:"" help:"Bring in what the plans list for sub-assemblies: CSV, XLSX, ODS or text."`
	Pull     pullCommand     `cmd:"" help:"What is taken out for sub-assemblies, in one walk."`
	Fit      fitCommand      `cmd:"" help:"What went into a sub-assembly."`
	Borrow   borrowCommand   `cmd:"" help:"Take what was taken out for one sub-assembly for another."`
	PutBack  putBackCommand  `cmd:"" help:"Put back what was taken out for a sub-assembly."`
	Remove   removeCommand   `cmd:"" help:"What came out of the aircraft again: not used before somebody looked at it."`
	Release  releaseCommand  `cmd:"" help:"What came out was looked at, and is used again."`
	Found    foundCommand    `cmd:"" help:"What was lost is found."`
	Close    closeCommand    `cmd:"" help:"A sub-assembly is closed up. Refused while something is open."`
	Reopen   reopenCommand   `cmd:"" help:"A closed sub-assembly is worked on again."`
	Decide   decideCommand   `cmd:"" help:"What somebody allowed: another item, a retest, a deviation."`
	Scrap    scrapCommand    `cmd:"" help:"Take things out of the shop for good."`
	SendBack sendBackCommand `cmd:"" help:"Send things back to their supplier."`
	Count    countCommand    `cmd:"" help:"How many were counted in a place."`
	Weigh    weighCommand    `cmd:"" shop:"no" help:"Count pieces by weight: about how many, and the range. Needs no shop."`
	Lot      lotCommand      `cmd:"" help:"What is known of a lot, and where its pieces are."`
	Paper    paperCommand    `cmd:"" help:"Papers: a PDF or a picture that is kept, or on paper in a binder; listed, shown, saved."`
	Alert    alertCommand    `cmd:"" help:"A warning on lots: recorded, its next issue, released by a decision; what it comes to."`
	Place    placeCommand    `cmd:"" help:"Make, move, rename or retire a place."`
	Order    orderCommand    `cmd:"" help:"What is to be bought, by supplier: shown, saved, marked as ordered; what is owed."`
	Supplier supplierCommand `cmd:"" help:"Who sells: minimum order and currency."`
	Supply   supplyCommand   `cmd:"" help:"How an item is bought: supplier, pack, price, spares."`
	Journal  journalCommand  `cmd:"" help:"What was done, the newest first."`
	Undo     undoCommand     `cmd:"" help:"Undo what was done last; also what was undone is in the journal."`
	Redo     redoCommand     `cmd:"" help:"Take the last undo back."`
	Labels   labelsCommand   `cmd:"" help:"A PDF of labels for places."`
	Scan     scanCommand     `cmd:"" help:"Every tag in a picture, with where it is now."`
	Photo    photoCommand    `cmd:"" help:"Photographs of a line, a place, an item or a position: bring in, list, save, describe, take away."`
	Check    checkCommand    `cmd:"" help:"Prove that the shop file is whole."`
	Backup   backupCommand   `cmd:"" help:"Make a safe copy of the shop file."`
	Restore  restoreCommand  `cmd:"" help:"Put a safe copy, or an export, in the place of the shop file."`
	Export   exportCommand   `cmd:"" help:"Write everything in the shop as plain files."`

	SubAssembly subAssemblyCommand `cmd:"" help:"What is known of a sub-assembly, with its list; or set: hours, day, aircraft."`
	Note        noteCommand        `cmd:"" help:"What was noted of the work: torque, paint, an inspection, a second look, hours."`
	Requirement requirementCommand `cmd:"" help:"A line of a sub-assembly's list: shown, ended, replaced by another."`
	Joint       jointCommand       `cmd:"" help:"The joints of a sub-assembly held against the tables of grips, or what makes one."`
	Aircraft    aircraftCommand    `cmd:"" help:"The aircraft of the shop: certificate, who may inspect, hours."`
	Component   componentCommand   `cmd:"" help:"Pieces with a serial number: on which aircraft from when to when, how long they ran."`
	Due         dueCommand         `cmd:"" help:"What is due by a day or by hours, of an aircraft, a component or a tool."`
	Position    positionCommand    `cmd:"" help:"Positions on an aircraft, and what went in there."`
	Evidence    evidenceCommand    `cmd:"" help:"What is recorded of a sub-assembly, an item, a lot, a component or an aircraft, with its lots and deliveries."`
	Value       valueCommand       `cmd:"" help:"What was received and paid, and what it cost by where it is now; each currency by itself."`
	SingleUse   singleUseCommand   `cmd:"" help:"An item is used once: what comes out of an aircraft is scrapped."`

	Decode   decodeCommand   `cmd:"" shop:"no" help:"What a designation means. Needs no shop."`
	Identify identifyCommand `cmd:"" shop:"no" help:"What a measured piece may be. Needs no shop."`
	Grip     gripCommand     `cmd:"" shop:"no" help:"Bolts for a stack of that thickness. Needs no shop."`
	Rivet    rivetCommand    `cmd:"" shop:"no" help:"Rivets for a thickness of sheet. Needs no shop."`
	Figures  figuresCommand  `cmd:"" help:"Your own figures of a printed standard: list, bring, take away."`

	Log     logCommand     `cmd:"" shop:"no" help:"Where the program's log is, and its last lines. Needs no shop."`
	Version versionCommand `cmd:"" shop:"no" help:"Which version of the program this is."`
	Man     manCommand     `cmd:"" shop:"no" help:"Print the manual page: stowright man | man -l -"`

	Completion kongcompletion.Completion `cmd:"" shop:"no" help:"How to have the shell complete commands and options: bash, zsh or fish."`

	Gallery galleryCommand `cmd:"" hidden:"" help:"Draw every screen on the demo shop."`
}

// program is what a command has to work with.
type program struct {
	ctx    context.Context
	out    io.Writer
	log    io.Writer // progress and remarks, for people
	shop   string    // file name; "" where none is named and the system has no place for it
	noShop error     // why it is "", which a command that needs no shop does not mind
	named  bool      // the shop file was named on the command line
	hand   string
	clock  func() time.Time
	asJSON bool
	asOf   string     // the day as of which the shop is read; "" for now
	past   *pastState // that day as it was found; nil for now
}

// The exit codes.
const (
	exitDone    = 0
	exitNo      = 1 // the answer is no: not found, short, not whole
	exitUsage   = 2 // bad usage or bad input
	exitDamaged = 3 // the file is busy or damaged
)

// run does one command line and returns its exit code.
func run(ctx context.Context, args []string, out, errOut io.Writer) int {
	var g grammar
	exited := false
	parser, err := kong.New(&g, kong.Name("stowright"), kong.Writers(out, errOut), kong.UsageOnError(),
		kong.Description("Keeps the hardware and parts of a kit-built aircraft in order.\nPlans and the kit maker's instructions govern."),
		kong.Vars{"stocks": stockNames(), "stock_example": labels.StockExample}, kong.Exit(func(int) { exited = true }))
	if err != nil {
		return report(errOut, false, err)
	}
	kongcompletion.Register(parser)
	if exited {
		return exitDone // the shell asked how a line goes on
	}
	args = opening(args)
	asJSON := slices.Contains(args, "--json")
	k, err := parser.Parse(args)
	if exited {
		return exitDone // the help was printed
	}
	if err != nil {
		return report(errOut, asJSON, &usageError{plainly(args, err)})
	}
	p, err := newProgram(ctx, &g, out, errOut)
	if err == nil && k.Selected().Tag.Get("shop") != "no" {
		err = p.noShop
	}
	if err != nil {
		return report(errOut, asJSON, err)
	}
	slog.Info("began", "command", k.Selected().Name, "system", runtime.GOOS)
	err = k.Run(p)
	logFailure(err)
	return report(errOut, asJSON, err)
}

// logFailure puts what went wrong into the log. What a person can fix, such as a name
// that is not there, is noted by its kind alone.
func logFailure(err error) {
	switch kind := store.KindOf(err); {
	case err == nil, errors.Is(err, context.Canceled):
	case isExpected(err):
		slog.Info("refused", "kind", describe(err).Kind)
	default:
		slog.Error("failed", "kind", string(kind), "err", err)
	}
}

func newProgram(ctx context.Context, g *grammar, out, errOut io.Writer) (*program, error) {
	p := &program{ctx: ctx, out: out, log: errOut, shop: g.Shop, named: g.Shop != "", hand: g.Hand, clock: time.Now, asJSON: g.JSON}
	if g.JSON {
		p.log = io.Discard
	}
	if g.Day != "" {
		day, err := store.ParseDate(g.Day)
		if err != nil {
			return nil, err
		}
		p.clock = dayClock(day)
	}
	if p.shop == "" {
		var err error
		if p.shop, err = userdirs.Here().Shop(); err != nil {
			p.noShop = &usageError{err}
		}
	}
	return p, nil
}

// dayClock is the machine's time of day on another day.
func dayClock(day store.Date) func() time.Time {
	return func() time.Time {
		now := time.Now()
		return time.Date(day.Year, day.Month, day.Day, now.Hour(), now.Minute(), now.Second(), now.Nanosecond(), now.Location())
	}
}

// open opens the shop file.
func (p *program) open(create bool) (*store.Shop, error) {
	if p.noShop != nil {
		return nil, p.noShop
	}
	line := p.progress()
	defer line.clear()
	o := p.options(line.work)
	o.Create = create
	return store.Open(p.shop, o)
}

// read opens the shop file to be asked: while another program has it, what is on the disk; and
// goes back to the day that is asked for.
func (p *program) read() (*store.Shop, error) {
	shop, err := p.readNow()
	if err != nil || p.asOf == "" {
		return shop, err
	}
	if err := p.goBack(shop); err != nil {
		return nil, errors.Join(err, shop.Close())
	}
	return shop, nil
}

// goBack has a shop be as it stood on the day that is asked for.
func (p *program) goBack(shop *store.Shop) error {
	day, err := store.ParseDate(p.asOf)
	if err != nil {
		return err
	}
	if err := p.long(func(ctx context.Context) error { return shop.AsOf(ctx, day) }); err != nil {
		return err
	}
	newest, err := shop.Newest()
	if err != nil {
		return err
	}
	p.past = &pastState{day, newest}
	fmt.Fprintf(p.log, "As of the end of %s, after entry %d.\n", day, newest)
	return nil
}

func (p *program) readNow() (*store.Shop, error) {
	shop, err := p.open(false)
	if store.KindOf(err) != store.Busy {
		return shop, err
	}
	line := p.progress()
	shop, snapErr := store.OpenSnapshot(p.shop, p.options(line.work))
	line.clear()
	switch {
	case store.KindOf(snapErr) == store.Busy, errors.Is(snapErr, os.ErrPermission):
		return nil, err
	case snapErr != nil:
		return nil, snapErr
	}
	fmt.Fprintln(p.log, "Another program has the shop file open: this is what was on the disk of it.")
	return shop, nil
}

// options are how the shop file is opened.
func (p *program) options(follow progress.Func) store.Options {
	return store.Options{Clock: p.clock, Hand: p.hand, BeforeUpgrade: copies.BeforeUpgrade(progress.With(p.ctx, follow), "")}
}

// withShop asks the shop, which has to be there, and closes it.
func (p *program) withShop(work func(*store.Shop) error) error {
	shop, err := p.read()
	if err != nil {
		return err
	}
	return errors.Join(work(shop), shop.Close())
}

// withSession asks the shop with its index, and closes it. What is changed in it is refused
// while another program has the file.
func (p *program) withSession(work func(*session.Session) error) error {
	shop, err := p.read()
	if err != nil {
		return err
	}
	return p.inSession(shop, work)
}

// inSession does work on a shop with its index, and closes it.
func (p *program) inSession(shop *store.Shop, work func(*session.Session) error) error {
	l := session.Inline()
	l.Run = func(func()) {} // a command ends: what the session would do in the background is left undone
	s, err := session.Open(p.ctx, shop, l, nil)
	if err != nil {
		return errors.Join(err, shop.Close())
	}
	s.Sheet, s.Region = labels.OfficePaper(locale()), inRegion()
	return errors.Join(work(s), s.Close())
}

// locale is that of the user for paper, as the system's environment names it; "" for none.
func locale() string { return localeFor("LC_PAPER") }

// localeFor is that of the user for one thing, by the variable of the environment that names it.
func localeFor(variable string) string {
	return cmp.Or(os.Getenv("LC_ALL"), os.Getenv(variable), os.Getenv("LANG"))
}

// inRegion is how figures and days are typed here, as the environment says.
func inRegion() region.Region { return region.Of(localeFor("LC_NUMERIC"), localeFor("LC_TIME")) }
