package labelling

import (
	"path/filepath"
	"strings"

	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
)

// Save writes the PDF to a path, as soon as the layout is ready. Where a file is there
// already, AskReplace is called first.
func (m *Model) Save(path string) {
	if m.laying() && path != "" {
		m.waiting = path
		return
	}
	if path == "" || len(m.doc.Pages) == 0 {
		m.state.Problem = "Pick at least one group of labels, and name the PDF to save."
		m.show(m.state)
		return
	}
	doc := m.doc
	m.save(path, func() (labels.Document, error) { return doc, nil })
}

// SaveTest writes the test print of the chosen stock beside the PDF of the labels: rulers
// and the outline of each label, to hold against a sheet.
func (m *Model) SaveTest(path string) {
	if path == "" {
		path = m.state.Path
	}
	stock := m.state.Stocks[m.state.Stock]
	path = withEnding(path)
	path = strings.TrimSuffix(path, filepath.Ext(path)) + "-test" + filepath.Ext(path)
	m.save(path, func() (labels.Document, error) { return labels.Calibration(stock) })
}

// withEnding returns a path with the extension .pdf.
func withEnding(path string) string {
	if strings.EqualFold(filepath.Ext(path), ".pdf") {
		return path
	}
	return path + ".pdf"
}

// save makes a document and writes it, both in the background.
func (m *Model) save(path string, make func() (labels.Document, error)) {
	m.write(withEnding(path), false, make)
}

// write is save that replaces an existing file if replace is true, and asks otherwise.
func (m *Model) write(path string, replace bool, make func() (labels.Document, error)) {
	request := m.saving.Start()
	session.Do(m.session, func() (string, error) {
		doc, err := make()
		if err != nil {
			return "", err
		}
		return path, m.session.SavePDF(path, doc, replace)
	}, func(path string, err error) {
		if !request.Current() {
			return
		}
		if m.AskReplace.Asks(err, func() { m.write(path, true, make) }) {
			return
		}
		m.saved(path, err)
	})
}

func (m *Model) saved(path string, err error) {
	m.state.Problem, m.state.Saved = "", ""
	if err != nil {
		m.state.Problem = "The PDF was not saved. " + wording.Error(err)
	} else {
		m.state.Saved = path + ". Print it at 100 %, not fitted to the page."
	}
	m.show(m.state)
}
