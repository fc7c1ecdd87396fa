package desktop

import (
	"context"
	"io"

	storecopies "stowright/store/copies"
	"stowright/store/progress"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/copies"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// Window is the program's one window: the desktop on a shop, or, while the shop file
// is damaged, the page that puts a copy in its place. Its methods are called on the
// window's goroutine.
type Window struct {
	window  fyne.Window
	loop    loop.Loop
	options Options
	file    string
	open    func(progress.Func) (*store.Shop, error)
	ctx     context.Context

	desktop *Desktop // nil while there is no shop
	end     func()   // ends what runs in the background of the shop
}

// NewWindow shows a shop file in a window. Open opens it, again when it was restored.
// Ctx ends what runs in the background.
func NewWindow(ctx context.Context, w fyne.Window, l loop.Loop, file string, o Options, open func(progress.Func) (*store.Shop, error)) *Window {
	return &Window{window: w, loop: l, options: o, file: file, open: open, ctx: ctx}
}

// opened is a shop that was opened, or what is wrong with its file.
type opened struct {
	shop    *store.Shop
	problem error
	strange bool // the file can be used nevertheless
}

// lookAt looks at a shop that was opened, which may be that of another file in the place of
// ours. It reads files: not to be called on the window's goroutine once the window is seen.
func lookAt(shop *store.Shop, problem error) opened {
	if problem != nil {
		return opened{problem: problem}
	}
	strange := storecopies.NewKeeper(shop, "").Strange()
	if strange == nil {
		return opened{shop: shop}
	}
	if err := shop.Close(); err != nil {
		strange = err
	}
	return opened{problem: strange, strange: true}
}

// Start shows a shop that was opened before the window is seen, or what can be done about
// a file that is damaged.
func (w *Window) Start(shop *store.Shop, problem error) { w.begin(lookAt(shop, problem)) }

func (w *Window) begin(o opened) {
	switch {
	case o.strange:
		w.rescue(o.problem, w.openAnyway)
	case o.problem != nil:
		w.rescue(o.problem, nil)
	default:
		w.show(session.Start(w.ctx, o.shop, w.loop))
	}
}

// Update shows how far a file of an older program is brought up to date, then its shop.
// What is wrong other than with the file goes to failed.
func (w *Window) Update(failed func(error)) {
	bar := look.NewProgress("Bringing the shop up to date", nil)
	w.bare("updating", func(*app.Frame) app.Page { return plain{updating(bar)} })
	w.loop.Run(func() { w.update(bar, failed) })
}

// updating is the page that says why the shop is not there yet.
func updating(bar *look.Progress) fyne.CanvasObject {
	return look.Rows(12,
		look.NewTitle("An earlier version of Stowright made this shop file"),
		look.NewText("A safe copy of it is made first; that version could still open the copy. The shop opens by itself when this is done."),
		look.NewPanel(20, bar))
}

// update opens the file away from the window.
func (w *Window) update(bar *look.Progress, failed func(error)) {
	tell := loop.EachPercent(func(what string, done float64) { w.loop.Post(func() { bar.Set(what, done) }) })
	o := lookAt(w.open(progress.Func(tell)))
	if o.problem != nil && store.KindOf(o.problem) != store.Corrupt {
		w.loop.Post(func() { failed(o.problem) })
		return
	}
	w.loop.Post(func() { w.begin(o) })
}

// openAnyway shows the shop whose file has taken the place of another one. It is copied
// first: from then on the copies are of this shop.
func (w *Window) openAnyway() {
	w.loop.Run(func() {
		shop, problem := w.open(nil)
		if problem == nil {
			if problem = storecopies.NewKeeper(shop, "").Adopt(w.ctx); problem != nil {
				_ = shop.Close() // what is wrong is said already
			}
		}
		o := lookAt(shop, problem)
		w.loop.Post(func() { w.begin(o) })
	})
}

// show shows the desktop on a session.
func (w *Window) show(s *session.Session) {
	ctx, end := context.WithCancel(w.ctx)
	o := w.options
	o.Replace = w.replace
	w.end, w.desktop = end, New(s, o)
	w.desktop.Show(w.window)
	if w.options.Caution != "" { // once: not again after a copy was put in the file's place
		w.desktop.Say(notice.Notice{Tone: notice.Warn, Lead: "Look where this shop is.", Text: w.options.Caution})
		w.options.Caution = ""
	}
	w.desktop.KeepCopies(ctx)
}

// Close ends what runs in the background and closes the shop.
func (w *Window) Close() error {
	if w.desktop == nil {
		return nil
	}
	w.end()
	w.desktop.WaitForCopies()
	return w.desktop.session.Close()
}

// replace puts a restored file in the place of the shop file, and shows the window
// again on it. Meanwhile the window takes no keys.
func (w *Window) replace(r *storecopies.Restored, done string) {
	was := w.desktop
	w.bare("restoring", func(*app.Frame) app.Page {
		return plain{look.NewEmptyState("Restoring", "The copy takes the place of the shop file.")}
	})
	w.end()
	w.loop.Run(func() {
		was.WaitForCopies()
		closed := was.session.Close()
		aside, err := r.Replace()
		r.Discard()
		if err == nil {
			err = closed
		}
		o := lookAt(w.open(nil))
		w.loop.Post(func() { w.replaced(o, done, aside, err) })
	})
}

// replaced shows what stands after a restore, with what to say of it.
func (w *Window) replaced(o opened, done, aside string, err error) {
	w.desktop = nil
	w.begin(o)
	if w.desktop == nil {
		return
	}
	said := notice.Notice{Tone: notice.OK, Lead: "Restored.", Text: done}
	switch {
	case err != nil:
		said = notice.Notice{Tone: notice.Stop, Lead: "Not restored.", Text: wording.Error(err)}
	case aside != "":
		said.Text += " The file as it was is kept as " + aside + "."
	}
	w.desktop.Say(said)
}

// rescue shows what can be done about a file that cannot be opened.
// AsItIs uses it nevertheless; nil where that cannot be.
func (w *Window) rescue(problem error, openAnyway func()) {
	w.bare("rescue", func(frame *app.Frame) app.Page {
		return copies.NewRescue(w.file, problem, w.loop, tracing{frame, w.options.Trace}, w.rescued, openAnyway)
	})
}

// tracing is a frame without a shop that traces what its page shows.
type tracing struct {
	*app.Frame
	trace io.Writer
}

// Shown traces what the page shows.
func (t tracing) Shown(text string) { write(t.trace, traced{Event: "shown", Text: text}) }

// rescued opens the file that was restored.
func (w *Window) rescued(aside string) {
	w.loop.Run(func() {
		o := lookAt(w.open(nil))
		w.loop.Post(func() { w.replaced(o, "The shop is whole again.", aside, nil) })
	})
}

// bare shows a page without a shop: nothing else can be gone to.
func (w *Window) bare(screen string, page func(*app.Frame) app.Page) {
	var frame *app.Frame
	frame = app.NewFrame(app.Options{
		Bare: true, Loop: w.loop, Resized: w.options.Resized,
		Pages: func(routes.Route) (app.Page, error) { return page(frame), nil },
	})
	frame.Attach(w.window)
	w.window.SetOnDropped(nil)
	write(w.options.Trace, traced{Event: "page", Screen: screen})
	frame.Go(routes.Route{Screen: screen})
}

// plain is a page that only says something.
type plain struct{ says fyne.CanvasObject }

// Object is what it says.
func (p plain) Object() fyne.CanvasObject { return p.says }
