package store_test

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/exchange"
	"stowright/store/measure"
	"stowright/store/phototest"
)

func TestExportCSV(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	w.receive(1, store.Finding{Found: measure.Pieces(20), Damaged: measure.Pieces(1), Note: "=cmd|' /C calc'!A0"})
	w.receive(3, store.Finding{Found: measure.Quantity{Micro: 300_000, Unit: measure.Pound}})
	w.must(second(w.Weigh(w.in("AN426AD3-3.5", "H101"), rivets(10, 2, 15))))
	w.must(second(w.Scrap(w.to("AN426AD3-3.5", "H101", 6, "H101"), "bent"))) // 2 at least may have been 0
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 6, "H103")))))
	w.photograph(store.OfPlace(w.place["S1"]), "=the shelf", phototest.JPEG(8, 6, 1))
	w.must(third(w.Alert(0, "Washers", store.Issue{Item: "AN960-10", From: on(t, "2026-03-01")})))
	w.must(third(w.AddPaper(store.Paper{Kind: store.LetterPaper, Title: "12", Issuer: "Kit maker", Date: on(t, "2026-03-10"), Kept: "binder 2"})))
	w.must(second(w.RetirePlace(w.place["S1"])))
	w.must(second(w.LeaveUnchecked(w.ship, 4, "the bag was given away")))
	folder := filepath.Join(t.TempDir(), "tables")
	files, err := exchange.ExportCSV(context.Background(), w.Shop, folder, false)
	w.must(err)
	read := func(name string) [][]string {
		t.Helper()
		f, err := os.Open(filepath.Join(folder, name))
		w.must(err)
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		w.must(err)
		return rows
	}
	for _, row := range []struct {
		file string
		line int // of the file, from 0
		want []string
	}{
		{"items.csv", 0, []string{"part number", "description", "unit", "minimum", "note"}},
		{"items.csv", 1, []string{"AN3-5A", "Bolt", "ea", "", ""}},
		{"stock.csv", 1, []string{"AN3-5A", "C1, H103", "L-1", "", "13", "", "", "ea"}},
		{"stock.csv", 2, []string{"AN3-5A", "C1, H103", "L-1", "damaged", "1", "", "", "ea"}},
		{"stock.csv", 3, []string{"AN426AD3-3.5", "C1, H101", "L-2", "", "4", "0", "9", "ea"}},
		{"places.csv", 8, []string{"Garage, S1", "shelf", string(mustPlace(w, "S1").Tag), "out of use"}},
		{"packing-lists.csv", 1, []string{"OK-20731", "", "1", "C1", "H103", "AN3-5A", "Bolt", "24", "20", "1", "ea", "damaged", "'=cmd|' /C calc'!A0"}},
		{"packing-lists.csv", 4, []string{"OK-20731", "", "4", "C1", "SK20", "OQ-20-040-B", "Rudder horn rev B", "1", "", "", "ea", "never checked", "the bag was given away"}},
		{"packing-lists.csv", 6, []string{"OK-20731", "", "6", "C3", "SK50", "OQ-50-010-L", "Tank skin left", "1", "", "", "ea", "not arrived", ""}},
		{"fitted.csv", 1, []string{"SA-10", "R-1", "AN3-5A", "L-1", "6", "", "", "ea"}},
		{"photographs.csv", 1, []string{"P-1", "Garage, S1", "'=the shelf", "2026-03-14T09:00:00Z", "Builder", "8", "6"}},
		{"alerts.csv", 1, []string{"A-1", "Washers", "1", "2026-03-14", "AN960-10, shipped from 1 March 2026 on", "", "Builder"}},
		{"papers.csv", 1, []string{"PA-1", "letter", "12", "Kit maker", "2026-03-10", "binder 2", "", "", ""}},
		{"lots.csv", 1, []string{"L-1", "AN3-5A", "", "OK-20731", "1", "", "2026-03-14", "20", "", "", "ea", "", ""}},
		{"journal.csv", 1, []string{"1", "2026-03-14T09:00:00Z", "Builder", "set up", "room Garage made"}},
	} {
		rows := read(row.file)
		if row.line >= len(rows) {
			t.Errorf("%s has %d lines", row.file, len(rows))
			continue
		}
		if d := cmp.Diff(row.want, rows[row.line]); d != "" {
			t.Errorf("%s, line %d (-want +got):\n%s", row.file, row.line, d)
		}
	}
	if got := len(read("journal.csv")) - 1; got != int(newestSeq(w)) {
		t.Errorf("journal.csv has %d entries, the journal %d", got, newestSeq(w))
	}
	if len(files) != 23 || len(names(t, folder)) != 23 {
		t.Errorf("files %v, in the folder %v", files, names(t, folder))
	}
	_, err = exchange.ExportCSV(context.Background(), w.Shop, folder, false)
	wantRefusal(t, err, store.Conflict, "There is already "+filepath.Join(folder, "items.csv")+", and 22 more of these files: name another folder, or say --replace to write over them.")

	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	empty := t.TempDir()
	if _, err := exchange.ExportCSV(ctx, w.Shop, empty, false); err == nil || len(names(t, empty)) != 0 {
		t.Errorf("cancelled: %v, %v", err, names(t, empty))
	}
}
