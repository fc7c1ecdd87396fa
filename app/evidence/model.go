package evidence

import (
	"context"
	"errors"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store/output"
	"stowright/store/progress"
)

// Model writes the evidence of one thing to a file, shows how far that is, and stops it. Its
// methods are called on the window's goroutine.
type Model struct {
	session *session.Session
	of      Subject
	job     *loop.Job

	// Show is called whenever the progress has changed; its zero value: nothing is under way.
	Show func(p loop.Progress)
	// Say is called with what came of it.
	Say func(n notice.Notice)
	// AskReplace is called before a file that is there is written over.
	AskReplace session.AskReplace
}

// NewModel makes the model of the evidence of one thing.
func NewModel(s *session.Session, of Subject) *Model {
	m := &Model{session: s, of: of, Show: func(loop.Progress) {}, Say: func(notice.Notice) {}}
	m.job = loop.NewJob(s.Loop, func() { m.Show(m.job.Progress()) })
	return m
}

// Save gathers the evidence and writes it, as the ending of the path says.
func (m *Model) Save(path string) { m.save(path, false) }

// Stop ends it, and leaves no file.
func (m *Model) Stop() { m.job.Stop() }

func (m *Model) save(path string, replace bool) {
	loop.DoJob(m.job, "Gathering the evidence", func(ctx context.Context, tell loop.Tell) (Book, error) {
		ctx = progress.With(ctx, progress.Func(tell))
		book, err := Gather(ctx, &m.session.Shop.Reader, m.of)
		if err != nil {
			return book, err
		}
		return book, Save(ctx, m.session, book, path, output.Options{Replace: replace, Shop: m.session.Shop.File()})
	}, func(book Book, err error) { m.ended(path, book, err) })
}

// ended says what came of it, and asks before a file is written over.
func (m *Model) ended(path string, book Book, err error) {
	m.Show(loop.Progress{})
	switch {
	case m.AskReplace.Asks(err, func() { m.save(path, true) }):
	case errors.Is(err, context.Canceled):
		m.Say(notice.Notice{Tone: notice.Quiet, Lead: "Stopped:", Text: "no file was written."})
	case err != nil:
		m.Say(notice.Notice{Tone: notice.Stop, Lead: "The evidence was not saved.", Text: wording.Error(err)})
	default:
		m.Say(notice.Notice{Tone: notice.OK, Lead: "Saved:", Text: path + ", with " + wording.Plural(len(book.Photos()), "photograph", "photographs") + "."})
	}
}
