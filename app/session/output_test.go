package session_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"stowright/app/demo"
	"stowright/app/session/sessiontest"
	"stowright/labels"
	"stowright/store/output"
)

// A sheet that cannot be drawn leaves the file that was there, and one that is drawn does
// not take the place of the shop.
func TestSavePDF(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	doc, err := labels.Calibration(labels.Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "a.pdf")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name    string
		path    string
		doc     labels.Document
		replace bool
		begins  string // of the file then
		exists  bool   // said of the file
		fails   bool
	}{
		{"without pages", path, labels.Document{}, true, "old", false, true},
		{"there already", path, doc, false, "old", true, true},
		{"asked", path, doc, true, "%PDF-", false, false},
		{"the shop", b.Shop.File(), doc, true, "", false, true},
	} {
		err := b.Session.SavePDF(row.path, row.doc, row.replace)
		if (err != nil) != row.fails || errors.Is(err, output.ErrExist) != row.exists {
			t.Errorf("%s: %v", row.name, err)
		}
		if data, err := os.ReadFile(row.path); err != nil || !bytes.HasPrefix(data, []byte(row.begins)) {
			t.Errorf("%s: the file begins %.10q, %v", row.name, data, err)
		}
	}
	if report, err := b.Shop.CheckAll(t.Context()); err != nil || !report.OK {
		t.Errorf("the shop: %v, %v", report.Problems, err)
	}
}
