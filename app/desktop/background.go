package desktop

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"

	"stowright/app"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/wording"
	storecopies "stowright/store/copies"
	"stowright/store/progress"
)

// indexTick is how often the footer updates how far the index is.
const indexTick = 250 * time.Millisecond

// followIndex has the footer say how far the index is until it is there, and then
// has the page that was asked meanwhile ask again.
func (d *Desktop) followIndex() {
	if _, _, running := d.session.Indexing(); !running {
		return
	}
	d.session.WhenIndexed(d.indexed)
	d.tick()
}

func (d *Desktop) tick() {
	if _, _, running := d.session.Indexing(); running {
		d.SetFooter(d.foot())
		d.session.Loop.After(indexTick, d.tick)
	}
}

// indexer is a page that asks the index.
type indexer interface{ Indexed() }

func (d *Desktop) indexed(err error) {
	if err != nil {
		d.fail(err)
	}
	d.SetFooter(d.foot())
	if p, ok := d.Page().(indexer); ok {
		p.Indexed()
	}
	d.write(traced{Event: "indexed"})
}

// foot is the footer with what goes on in the background.
func (d *Desktop) foot() app.Footer {
	f := d.footer
	if f.Behind = session.IndexWords(d.session.Indexing()); f.Behind == "" {
		f.Behind = d.copying
	}
	return f
}

// copyCheck is how often it is looked whether a safe copy is due: a shop that was made today
// gets its first one soon after there is something to lose, and a window that stays open for
// days one on each of them.
const copyCheck = 15 * time.Minute

// KeepCopies makes a safe copy away from the window when one is due, once the index is there,
// so that the two do not wait for each other's disk; and looks again from time to time, until
// ctx ends it.
func (d *Desktop) KeepCopies(ctx context.Context) {
	d.keeping.Add(1)
	d.session.Loop.Run(func() { d.keepCopy(ctx) })
}

// keepCopy makes the copy that is due, in the background.
func (d *Desktop) keepCopy(ctx context.Context) {
	defer d.keeping.Done()
	select {
	case <-d.session.Indexed():
	case <-ctx.Done():
		return
	}
	made, due, err := d.copyWhenDue(d.followCopy(ctx))
	if ctx.Err() != nil {
		return
	}
	d.session.Loop.Post(func() {
		d.copied(made, due, err)
		d.session.Loop.After(copyCheck, func() { d.lookAgain(ctx) })
	})
}

// lookAgain is KeepCopies, unless it was ended meanwhile.
func (d *Desktop) lookAgain(ctx context.Context) {
	if ctx.Err() == nil {
		d.KeepCopies(ctx)
	}
}

// WaitForCopies returns when no safe copy is being made any more, after the context of
// KeepCopies was ended.
func (d *Desktop) WaitForCopies() { d.keeping.Wait() }

// followCopy has the footer say how far the copy is, a hundred times at most for each
// part of the work.
func (d *Desktop) followCopy(ctx context.Context) context.Context {
	return progress.With(ctx, progress.Func(loop.EachPercent(func(what string, done float64) {
		words := wording.Progress("safe copy: "+what, done)
		d.session.Loop.Post(func() { d.sayCopy(words) })
	})))
}

// sayCopy shows in the footer what is to be said of the copy.
func (d *Desktop) sayCopy(words string) {
	d.copying = words
	d.SetFooter(d.foot())
}

// thrift is after how much growth garbage is collected while a copy is looked through,
// which needs several times what the program holds: in percent, 100 at other times.
const thrift = 30

func (d *Desktop) copyWhenDue(ctx context.Context) (made storecopies.Copy, due bool, err error) {
	usual := debug.SetGCPercent(thrift)
	made, due, err = d.session.Copies.MakeWhenDue(ctx)
	debug.SetGCPercent(usual)
	if due {
		debug.FreeOSMemory()
	}
	return made, due, err
}

func (d *Desktop) copied(made storecopies.Copy, due bool, err error) {
	switch {
	case err != nil && err.Error() == d.uncopied:
		d.sayCopy("") // it was said when it began to fail
	case err != nil:
		d.uncopied = err.Error()
		d.sayCopy("")
		d.Say(notice.Notice{Tone: notice.Warn, Lead: "No safe copy was made.", Text: wording.Error(err)})
	case due:
		d.uncopied = ""
		d.sayCopy("Safe copy made, " + made.At.In(d.session.Shop.Now().Location()).Format("15:04"))
		d.write(traced{Event: "copied", Text: made.File, Figure: fmt.Sprint(made.Entries)})
	}
}
