package labelling

import (
	"cmp"
	"path/filepath"
	"strings"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
)

// Save writes the PDF to a path, as soon as the layout is there and read back. Where a file is there
// already, AskReplace is called first.
func (m *Model) Save(path string) {
	if m.laying() && path != "" {
		m.waiting = func() { m.Save(path) }
		return
	}
	if path == "" || len(m.doc.Pages) == 0 {
		m.state.Problem = "Pick at least one group of labels, and name the PDF to save."
		m.show(m.state)
		return
	}
	doc, tags := m.doc, m.tags()
	m.write(withEnding(path), writing{make: func() (labels.Document, error) { return doc, nil }, tags: tags})
}

// SaveTest writes the test print of the chosen stock beside the PDF of the labels: rulers
// and the outline of each label, to hold against a sheet.
func (m *Model) SaveTest(path string) {
	stock := m.state.Stocks[m.state.Stock]
	m.save(beside(cmp.Or(path, m.state.Path), "-test"), func() (labels.Document, error) { return labels.Calibration(stock) })
}

// SaveSizes writes what lies in the picked places at its real size beside the PDF of the
// labels, on the paper of the chosen stock.
func (m *Model) SaveSizes(path string) {
	places, names := m.picked()
	if len(places) == 0 {
		m.state.Problem = "Pick at least one group first."
		m.show(m.state)
		return
	}
	stock := m.state.Stocks[m.state.Stock]
	m.save(beside(cmp.Or(path, m.state.Path), "-sizes"), func() (labels.Document, error) {
		card, err := m.session.SizingCard(strings.Join(names, ", "), places)
		if err != nil {
			return labels.Document{}, err
		}
		return card.Layout(stock)
	})
}

// beside is the path of another PDF beside one.
func beside(path, what string) string {
	path = withEnding(path)
	return strings.TrimSuffix(path, filepath.Ext(path)) + what + filepath.Ext(path)
}

// withEnding returns a path with the extension .pdf.
func withEnding(path string) string {
	if strings.EqualFold(filepath.Ext(path), ".pdf") {
		return path
	}
	return path + ".pdf"
}

// tags are those of the labels that are laid out.
func (m *Model) tags() []string {
	tags := make([]string, 0, len(m.list))
	for _, l := range m.list {
		tags = append(tags, l.Tag)
	}
	return tags
}

// save makes a document and writes it, both in the background.
func (m *Model) save(path string, make func() (labels.Document, error)) {
	m.write(withEnding(path), writing{make: make})
}

// writing is a document that is to be written.
type writing struct {
	make    func() (labels.Document, error)
	replace bool                    // an existing file, unasked
	tags    []string                // of the labels in it
	show    func(file string) error // opens it afterwards; nil for not at all
}

// write writes a document, and asks first where a file is there already.
func (m *Model) write(path string, w writing) {
	request, wrong := m.saving.Start(), m.state.Setup.Error
	var unseen error // why the viewer did not open it
	session.Do(m.session, func() (string, error) {
		doc, err := w.make()
		if err != nil {
			return "", err
		}
		err = m.session.SavePDF(path, wrong.Apply(doc), w.replace)
		if err == nil && w.show != nil {
			unseen = w.show(path)
		}
		return path, err
	}, func(path string, err error) {
		if !request.Current() {
			return
		}
		if m.AskReplace.Asks(err, func() { w.replace = true; m.write(path, w) }) {
			return
		}
		if err == nil && len(w.tags) > 0 {
			m.noteMade(w.tags)
		}
		m.saved(path, err)
		if err == nil && unseen != nil {
			m.state.Problem = wording.Error(unseen)
			m.show(m.state)
		} else if err == nil && w.show != nil {
			m.state.Saved = path + " is open in your viewer. Print it there at actual size, 100 %, not fitted to the page."
			m.show(m.state)
		}
	})
}

func (m *Model) saved(path string, err error) {
	m.state.Problem, m.state.Saved = "", ""
	if err != nil {
		m.state.Problem = "The PDF was not saved. " + wording.Error(err)
	} else {
		m.state.Lead = "Saved:"
		m.state.Saved = path + ". Print it at 100 %, not fitted to the page."
	}
	m.show(m.state)
}
