package copies

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	storecopies "stowright/store/copies"
	"stowright/store/exchange"
	"stowright/store/output"
)

// State is what the page shows.
type State struct {
	Loading bool
	Note    string // how safe the shop is, in a sentence or two
	Folder  string // where the copies lie
	Rows    []table.Row
	Chosen  int  // -1 for none
	Empty   bool // nothing was ever done in the shop: an export can be brought in
	Job     loop.Progress
	Plan    *Plan // what restoring would change, where that is asked
	Said    notice.Notice
}

// Plan is what restoring a copy would change, before it is done.
type Plan struct {
	Title string
	Text  string
	Rows  []table.Row // the stock that would differ
}

// Replacer closes the shop, puts a restored file in its place and shows the window
// again on it, with what to say of it.
type Replacer func(r *storecopies.Restored, done string)

// shelf is what was read of the copies.
type shelf struct {
	copies []storecopies.Copy
	newest uint64 // entry of the shop
}

// Model decides what the page shows. Its methods are called on the window's goroutine.
type Model struct {
	// AskReplace asks whether files are written over, and calls replace if they are; nil
	// leaves them as they are and says so.
	AskReplace session.AskReplace

	session *session.Session
	show    func(State)
	replace Replacer
	state   State
	data    shelf
	seen    map[string]string // what looking at a copy found, by its file; empty: nothing wrong
	plan    storecopies.Plan
	job     *loop.Job
	stopped bool // the work under way, by the person
	left    bool
}

// NewModel makes the model.
func NewModel(s *session.Session, show func(State), replace Replacer) *Model {
	m := &Model{session: s, show: show, replace: replace, seen: map[string]string{}}
	m.state = State{Loading: true, Chosen: -1, Folder: s.Copies.Folder()}
	m.job = loop.NewJob(s.Loop, m.render)
	return m
}

// State is what the page shows now.
func (m *Model) State() State { return m.state }

func (m *Model) render() {
	m.state.Job = m.job.Progress()
	if !m.left {
		m.show(m.state)
	}
}

// Load reads which copies there are.
func (m *Model) Load() {
	session.Do(m.session, m.read, func(data shelf, err error) {
		m.state.Loading = false
		if err != nil {
			m.say(notice.Stop, "", wording.Error(err))
			return
		}
		m.take(data)
		m.render()
	})
}

func (m *Model) read() (shelf, error) {
	copies, err := m.session.Copies.List()
	if err != nil {
		return shelf{}, err
	}
	last, err := m.session.Shop.Entries(0, 1)
	data := shelf{copies: copies}
	if len(last) > 0 {
		data.newest = last[0].Seq
	}
	return data, err
}

func (m *Model) take(data shelf) {
	chosen, known := m.chosen()
	newest := m.state.Chosen <= 0
	m.data = data
	now := m.session.Shop.Now()
	m.state.Empty = data.newest == 0
	m.state.Rows = rows(data.copies, data.newest, now, m.seen)
	m.state.Chosen = min(0, len(data.copies)-1)
	if known && !newest {
		// Rows move when a copy is made or removed: the same copy stays chosen.
		i := slices.IndexFunc(data.copies, func(c storecopies.Copy) bool { return c.File == chosen.File })
		m.state.Chosen = max(i, m.state.Chosen)
	}
	switch {
	case m.state.Empty:
		m.state.Note = "Nothing was done in this shop yet: there is nothing to copy. An export of another shop can be brought in."
	case len(data.copies) == 0:
		m.state.Note = "There is no safe copy yet."
	default:
		newest := data.copies[0]
		m.state.Note = fmt.Sprintf("The newest is of %s: %s.", when(newest.At, now), behind(newest.Entries, data.newest))
	}
	m.state.Note += " One is made once a day, and before a packing list, an update or a restore. They are in " + m.state.Folder + "."
}

func (m *Model) say(tone notice.Tone, lead, text string) {
	m.state.Said = notice.Notice{Tone: tone, Lead: lead, Text: text}
	m.render()
}

// fail says what went wrong; what was stopped is as if it had not been begun.
func (m *Model) fail(err error) {
	if errors.Is(err, context.Canceled) {
		m.say(notice.Quiet, "Stopped.", "Nothing was changed.")
		return
	}
	m.say(notice.Stop, "", wording.Error(err))
}

// Choose chooses a copy.
func (m *Model) Choose(index int) {
	if index >= 0 && index < len(m.data.copies) && m.state.Plan == nil {
		m.state.Chosen = index
		m.render()
	}
}

func (m *Model) chosen() (storecopies.Copy, bool) {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.data.copies) {
		return storecopies.Copy{}, false
	}
	return m.data.copies[m.state.Chosen], true
}

// Copy makes a copy in a folder; empty is that of the copies.
func (m *Model) Copy(folder string) {
	folder = strings.TrimSpace(folder)
	if folder == "" {
		folder = m.state.Folder
	}
	work(m.job, "Making a safe copy", func(ctx context.Context) (storecopies.Copy, error) {
		return m.session.Copies.Make(ctx, folder, storecopies.ByHand)
	}, func(c storecopies.Copy, err error) {
		if err != nil {
			m.fail(err)
			return
		}
		m.say(notice.OK, "Copied, and the copy is whole:", c.File)
		m.Load()
	})
}

// Export writes everything into a file in a folder, which is made where it is not there.
func (m *Model) Export(folder string) {
	folder = strings.TrimSpace(folder)
	m.export(folder, exportName(folder, m.session.Shop.File(), m.session.Shop.Now()), false)
}

func (m *Model) export(folder, file string, replace bool) {
	work(m.job, "Writing everything into one file", func(ctx context.Context) (string, error) {
		shop := m.session.Shop
		archive := output.File{Path: file, MakeFolder: true, Write: func(w io.Writer) error { return exchange.ExportArchive(ctx, shop, w) }}
		return file, output.Write(output.Options{Replace: replace, Shop: shop.File()}, archive)
	}, func(file string, err error) {
		if m.AskReplace.Asks(err, func() { m.export(folder, file, true) }) {
			m.render()
			return
		}
		if err != nil {
			m.fail(err)
			return
		}
		m.say(notice.OK, "Exported:", file)
	})
}

// Check goes over the whole shop.
func (m *Model) Check() {
	work(m.job, "Checking the shop", func(ctx context.Context) (store.Report, error) {
		return m.session.Shop.CheckAll(ctx)
	}, func(r store.Report, err error) {
		switch {
		case err != nil:
			m.fail(err)
		case r.OK:
			m.say(notice.OK, "Whole:", wording.Plural(int(r.Entries), "entry adds", "entries add")+" up to what the shop says.")
		default:
			m.say(notice.Stop, wording.Plural(len(r.Problems), "problem", "problems")+":", r.Problems[0]+". Restore a copy made earlier.")
		}
	})
}

// LookAt goes over the chosen copy.
func (m *Model) LookAt() {
	c, ok := m.chosen()
	if !ok {
		return
	}
	work(m.job, "Looking whether the copy is whole", func(ctx context.Context) (struct{}, error) {
		return struct{}{}, storecopies.Check(ctx, c.File)
	}, func(_ struct{}, err error) {
		if errors.Is(err, context.Canceled) {
			m.fail(err)
			return
		}
		m.seen[c.File] = wording.Error(err)
		m.take(m.data)
		if err != nil {
			m.fail(err)
			return
		}
		m.say(notice.OK, "Whole:", filepath.Base(c.File))
	})
}

// AskRestore finds out what restoring the chosen copy would change.
func (m *Model) AskRestore() {
	c, ok := m.chosen()
	if !ok {
		return
	}
	m.state.Said = notice.Notice{}
	work(m.job, "Looking what restoring changes", func(ctx context.Context) (storecopies.Plan, error) {
		return m.session.Copies.PlanRestore(ctx, c.File)
	}, func(p storecopies.Plan, err error) {
		if err != nil {
			m.fail(err)
			return
		}
		m.plan = p
		m.state.Plan = &Plan{Title: "Restore the copy of " + when(c.At, m.session.Shop.Now()) + "?", Text: planWords(p), Rows: differRows(p.Difference)}
		m.render()
	})
}

// planWords is what a restore does, for a shop that is whole.
func planWords(p storecopies.Plan) string {
	text := p.Difference.Sentence()
	if !p.Difference.None() {
		text += " The shop as it is now becomes a copy first, so that you can go back to it."
	}
	return text
}

// Drop leaves the shop as it is.
func (m *Model) Drop() {
	m.state.Plan = nil
	m.render()
}

// Restore does what the plan says.
func (m *Model) Restore() {
	if m.state.Plan == nil {
		return
	}
	m.stopped = false
	plan, title := m.plan, m.state.Plan.Title
	work(m.job, "Restoring", func(ctx context.Context) (*storecopies.Restored, error) {
		return plan.Prepare(ctx, false)
	}, func(r *storecopies.Restored, err error) {
		m.state.Plan = nil
		if err != nil {
			m.fail(err)
			return
		}
		m.give(r, "The copy of "+strings.TrimSuffix(strings.TrimPrefix(title, "Restore the copy of "), "?")+" is the shop now.")
	})
}

// BringIn makes the shop of an export, where it is still empty.
func (m *Model) BringIn(file string) {
	if !m.state.Empty {
		m.say(notice.Warn, "", "This shop is not empty, and an export is never mixed into another shop: start on a shop file that is not there yet.")
		return
	}
	m.stopped = false
	work(m.job, "Bringing everything in", func(ctx context.Context) (*storecopies.Restored, error) {
		return m.session.Copies.PrepareImport(ctx, file)
	}, func(r *storecopies.Restored, err error) {
		if err != nil {
			m.fail(err)
			return
		}
		m.give(r, filepath.Base(file)+" is the shop now.")
	})
}

// give hands a restored file on, unless the page was left or the work stopped, be it
// after the file was ready.
func (m *Model) give(r *storecopies.Restored, done string) {
	switch {
	case m.left:
		r.Discard()
	case m.stopped:
		r.Discard()
		m.fail(context.Canceled)
	default:
		m.replace(r, done)
	}
}

// Stop stops the work under way.
func (m *Model) Stop() {
	m.stopped = true
	m.job.Stop()
}

// Leave stops the work under way; nothing more is shown.
func (m *Model) Leave() {
	m.left = true
	m.Stop()
}

// Key does what a key is for and reports whether it is one of this page's.
func (m *Model) Key(key string) bool {
	switch {
	case m.job.Busy():
		if key == "Esc" {
			m.Stop()
		}
		return key == "Esc" || key == "Enter"
	case m.state.Plan != nil && key == "Esc":
		m.Drop()
	case m.state.Plan != nil && key == "Enter":
		m.Restore()
	case m.state.Plan != nil:
		return false
	case key == "Down":
		m.Choose(m.state.Chosen + 1)
	case key == "Up" && m.state.Chosen > 0:
		m.Choose(m.state.Chosen - 1)
	case key == "Enter":
		m.AskRestore()
	default:
		return false
	}
	return true
}
