package labelling

import (
	"path/filepath"
	"strings"

	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels"
)

// Save writes the PDF to a path, as soon as the labels are laid out.
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

// SaveTest writes the test print of the chosen stock beside where the labels go:
// rulers and the outline of each label, to hold against a sheet.
func (m *Model) SaveTest(path string) {
	if path == "" {
		path = m.state.Path
	}
	stock := m.state.Stocks[m.state.Stock]
	path = withEnding(path)
	path = strings.TrimSuffix(path, filepath.Ext(path)) + "-test" + filepath.Ext(path)
	m.save(path, func() (labels.Document, error) { return labels.Calibration(stock) })
}

// withEnding is a path that ends in .pdf.
func withEnding(path string) string {
	if strings.EqualFold(filepath.Ext(path), ".pdf") {
		return path
	}
	return path + ".pdf"
}

// save makes a document and writes it, both away from the window.
func (m *Model) save(path string, make func() (labels.Document, error)) {
	path = withEnding(path)
	request, made := m.saving.Start(), m.session.Shop.Now()
	session.Do(m.session, func() (string, error) {
		doc, err := make()
		if err != nil {
			return "", err
		}
		return path, labels.WriteFile(path, doc, labels.PDFOptions{Made: made})
	}, func(path string, err error) { m.saved(request, path, err) })
}

func (m *Model) saved(request loop.Request, path string, err error) {
	if !request.Current() {
		return
	}
	m.state.Problem, m.state.Saved = "", ""
	if err != nil {
		m.state.Problem = wording.Sentence("the PDF was not saved: " + err.Error())
	} else {
		m.state.Saved = path + ". Print it at 100 %, not fitted to the page."
	}
	m.show(m.state)
}
