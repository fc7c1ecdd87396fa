package desktop

import (
	"context"
	"fmt"
	"runtime/debug"
	"time"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/session"
	"stowright/store"
)

// indexTick is how often the footer says anew how far the index is.
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

// foot is the footer with how far the index is, while it is being built.
func (d *Desktop) foot() app.Footer {
	f := d.footer
	if words := session.IndexWords(d.session.Indexing()); words != "" {
		f.Shop += " · " + words
	}
	return f
}

// KeepCopies makes a safe copy away from the window when one is due, once the index
// is there, so that the two do not wait for each other's disk. The channel is closed
// when that has ended, be it by ctx.
func (d *Desktop) KeepCopies(ctx context.Context) <-chan struct{} {
	ended := make(chan struct{})
	d.session.Loop.Run(func() {
		defer close(ended)
		select {
		case <-d.session.Indexed():
		case <-ctx.Done():
			return
		}
		made, due, err := d.copyWhenDue(ctx)
		if ctx.Err() != nil {
			return
		}
		d.session.Loop.Post(func() { d.copied(made, due, err) })
	})
	return ended
}

// thrift is after how much growth garbage is collected while a copy is looked through,
// which needs several times what the program holds: in percent, 100 at other times.
const thrift = 30

func (d *Desktop) copyWhenDue(ctx context.Context) (made store.Copy, due bool, err error) {
	usual := debug.SetGCPercent(thrift)
	made, due, err = d.session.Shop.BackupWhenDue(ctx)
	debug.SetGCPercent(usual)
	if due {
		debug.FreeOSMemory()
	}
	return made, due, err
}

func (d *Desktop) copied(made store.Copy, due bool, err error) {
	switch {
	case err != nil:
		d.Say(card.Notice{Tone: card.Warn, Lead: "No safe copy was made.", Text: session.Sentence(err)})
	case due:
		d.write(traced{Event: "copied", Text: made.File, Figure: fmt.Sprint(made.Entries)})
	}
}
