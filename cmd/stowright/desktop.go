package main

import (
	"cmp"
	"context"
	"errors"
	"log"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/lang"

	"stowright/app"
	"stowright/app/bell"
	"stowright/app/desktop"
	"stowright/app/look"
	"stowright/app/region"
	"stowright/labels"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/output"
	"stowright/store/progress"
)

// appID names the program to the desktop.
const appID = "org.stowright.Stowright"

// windowFlags say how the window opens.
type windowFlags struct {
	Theme  string `help:"light, dark, or auto as the system has it." enum:"auto,light,dark" default:"auto"`
	Large  bool   `help:"Everything 1.4 times as large, to be read from the bench."`
	Camera string `help:"Where the camera key looks: a camera, a folder of pictures, or the address of a stream (default: the first camera)." placeholder:"WHERE"`
	Trace  string `help:"Write what the window shows to a file, for scripts." hidden:"" type:"path"`
}

// desktopCommand opens the desktop.
type desktopCommand struct {
	windowFlags `embed:""`
}

// openCommand opens the desktop on a shop file, as file managers ask for it.
type openCommand struct {
	windowFlags `embed:""`
	File        string `arg:"" optional:"" type:"path" help:"The shop file (default: as without any command)."`
}

// Run opens the desktop on the file.
func (c *openCommand) Run(p *program) error {
	if c.File != "" {
		if p.named {
			return &usageError{errors.New("two shop files are named: give one, with --shop or without")}
		}
		p.shop, p.named, p.noShop = c.File, true, nil
	}
	return (&desktopCommand{c.windowFlags}).Run(p)
}

// shopExt is how the names of shop files end.
const shopExt = ".stow"

// opening is a command line that is the name of a shop file and nothing else, as some file
// managers write it, as the one that opens the file; any other line as it is.
func opening(args []string) []string {
	if len(args) == 1 && strings.EqualFold(filepath.Ext(args[0]), shopExt) {
		return []string{"open", "--", args[0]}
	}
	return args
}

// Run opens the desktop on the shop, which is made when it is not there.
func (c *desktopCommand) Run(p *program) error {
	if !hasDisplay() {
		return &usageError{errors.New("there is no display to open a window on: use a command, such as find (--help lists them)")}
	}
	if store.UpdateDue(p.shop) { // which takes its time, and so is seen
		return c.show(p, nil, nil)
	}
	shop, err := p.open(true)
	if store.KindOf(err) == store.Busy {
		return heldBy(p.shop, err)
	}
	if err != nil && store.KindOf(err) != store.Corrupt {
		return err
	}
	return c.show(p, shop, err)
}

// hasDisplay reports whether a window can be opened.
func hasDisplay() bool {
	if runtime.GOOS != "linux" {
		return true
	}
	return os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}

// guardVariable, when it is set, leaves Fyne's guard against calls from outside its
// goroutine on, and what it says on standard error. Tests set it.
const guardVariable = "STOWRIGHT_THREAD_GUARD"

// newFyneApp makes the program's one Fyne application. That all calls from outside
// its goroutine go through fyne.Do is tested, so its slow guard against others is
// off. What it logs goes into the program's log: the folders and services that a bare
// machine lacks are no business of the person's terminal.
func newFyneApp() fyne.App {
	guarded := os.Getenv(guardVariable) != ""
	if guarded {
		log.SetOutput(os.Stderr)
	}
	if cache, err := os.UserCacheDir(); err == nil {
		_ = os.MkdirAll(cache, 0o700) // Fyne makes its folder in it, and does without where it cannot
	}
	fyneapp.SetMetadata(fyne.AppMetadata{ID: appID, Name: "Stowright", Migrations: map[string]bool{"fyneDo": !guarded}})
	a := fyneapp.NewWithID(appID)
	a.SetIcon(look.ProgramIcon())
	return a
}

// show runs the desktop until its window is closed, then closes the shop. Of a shop
// file that is damaged it is handed the problem in place of a shop, and of one that has to
// be brought up to date neither.
func (c *windowFlags) show(p *program, shop *store.Shop, problem error) (err error) {
	leaveConsole()
	a := newFyneApp()
	settings := a.Preferences()
	a.Settings().SetTheme(c.theme(settings.Bool(largeSetting)))
	options := desktop.Options{
		Bell:    bell.New(bell.System, settings.Bool(silentSetting), func(off bool) { settings.SetBool(silentSetting, off) }),
		Resized: func(large bool) { settings.SetBool(largeSetting, large) }, Camera: c.Camera, Log: logPath(),
		Caution: cautionOnce(p.shop, settings),
	}
	system := lang.SystemLocale().String() // which asks Windows and macOS, where no variable says it
	options.Sheet = labels.OfficePaper(cmp.Or(locale(), system))
	options.Region = region.Of(cmp.Or(localeFor("LC_NUMERIC"), system), cmp.Or(localeFor("LC_TIME"), system))
	options.Lengths = measure.System(settings.Int(lengthsSetting))
	options.LengthsIn = func(in measure.System) { settings.SetInt(lengthsSetting, int(in)) }
	if c.Trace != "" {
		f, err := output.Create(c.Trace, output.Options{Shop: p.shop})
		if err != nil {
			if shop != nil {
				err = errors.Join(err, shop.Close())
			}
			return err
		}
		defer func() { err = errors.Join(err, f.Close()) }()
		options.Trace = f
	}
	loop, stopLoop := app.Loop()
	ctx, end := context.WithCancel(p.ctx)
	defer end()
	w := a.NewWindow("Stowright")
	w.SetIcon(a.Icon())
	w.Resize(desktop.Size)
	if shop != nil {
		defer listen(p.shop, func() { loop.Post(w.RequestFocus) })()
	}
	all := desktop.NewWindow(ctx, w, loop, p.shop, options, func(progress progress.Func) (*store.Shop, error) {
		return store.Open(p.shop, p.options(progress))
	})
	leave := newLeaving(all.Close)
	w.SetOnClosed(func() {
		leave.begin()
		stopLoop()
	})
	stop := context.AfterFunc(p.ctx, func() {
		leave.begin()
		loop.Post(a.Quit) // which Fyne does by itself on the same signal
		stopLoop()
	})
	defer stop()
	if shop == nil && problem == nil {
		all.Update(func(failed error) {
			err = failed
			leave.begin()
			stopLoop()
			a.Quit()
		})
	} else {
		all.Start(shop, problem)
	}
	w.ShowAndRun()
	return errors.Join(err, leave.end())
}

// largeSetting is whether F8 made everything larger, for the next time.
const largeSetting = "large"

// lengthsSetting is in what unit lengths are typed and read, for the next time.
const lengthsSetting = "lengths"

// silentSetting is whether the sound of a wrong drawer is off.
const silentSetting = "silent"

// theme is how the window looks: as it was left, where no flag says otherwise.
func (c *windowFlags) theme(large bool) look.Theme {
	mode := look.System
	switch c.Theme {
	case "light":
		mode = look.Light
	case "dark":
		mode = look.Dark
	}
	return look.Theme{Mode: mode, Shop: c.Large || large}
}
