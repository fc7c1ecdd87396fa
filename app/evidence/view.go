package evidence

import (
	"path/filepath"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/session"
)

// Ask asks where the evidence of one thing is saved, and saves it: it shows how far that is,
// and can be stopped.
func Ask(s *session.Session, asker app.Asker, of Subject, name string) {
	m := NewModel(s, of)
	v := &view{asker: asker, model: m}
	m.Show, m.Say = v.show, asker.Say
	m.AskReplace = func(files []string, replace func()) { look.AskReplace(files, asker.Ask, replace) }
	file := fileName(name)
	look.AskPath(s.Folders, look.PathQuestion{
		Title: "Evidence of " + name, Label: "The file", Hint: "ends in .pdf to be read, with its photographs, or in .csv for a spreadsheet", Do: "Save",
		Want: folders.NewFile(file, ".csv"), Path: filepath.Join(s.Folders.ToWrite(), file),
	}, asker.Ask, m.Save)
}

// view is how far it is, while it is under way.
type view struct {
	asker    app.Asker
	model    *Model
	dialog   *look.Dialog
	progress *look.Progress
}

func (v *view) show(p loop.Progress) {
	switch {
	case p.Title == "" && v.dialog != nil:
		d := v.dialog
		v.dialog = nil
		d.Close()
	case p.Title != "" && v.dialog == nil:
		v.progress = look.NewProgress("", v.model.Stop)
		v.dialog = look.NewDialog(p.Title, v.progress)
		v.dialog.OnClosed = v.closed
		v.asker.Ask(v.dialog, nil)
	}
	if v.dialog != nil {
		v.progress.Set(p.Words, p.Done)
	}
}

// closed stops the work when the person leaves the dialog before it is done.
func (v *view) closed() {
	if v.dialog != nil {
		v.dialog = nil
		v.model.Stop()
	}
}
