package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/store"
	"stowright/store/measure"
)

// While another program has the shop, questions are answered by what is on the disk, the
// newest entries among them, and changes are refused.
func TestQuestionsWhileTheShopIsInUse(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "shop.stow")
	var drawer store.Place
	for _, p := range fillShop(t, file, demo.Extend) {
		if p.Name == "A-12" {
			drawer = p
		}
	}
	shop, err := store.Open(file, store.Options{Clock: demo.NewClock(demo.Today, true).Now})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := shop.Close(); err != nil {
			t.Error(err)
		}
	})
	for _, n := range []int64{30, 31, 33} { // from the second one on they are in the log alone
		if _, err := shop.Count(store.StockKey{Item: "AN3-5A", Place: drawer.ID}, measure.Pieces(n)); err != nil {
			t.Fatal(err)
		}
	}
	head, err := shop.End()
	if err != nil {
		t.Fatal(err)
	}
	names := func() []string {
		list, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, e := range list {
			names = append(names, e.Name())
		}
		return names
	}
	before := strings.Join(names(), " ")
	const said = "Another program has the shop file open: this is what was on the disk of it.\n"
	for _, row := range []struct {
		line string
		want string // part of the answer; "" where it is refused
	}{
		{"find AN3-5A", "33 ea in Garage, Cabinet A, A-12"},
		{"journal", "33 ea"},
		{"ready", "SA-10"},
		{"check", "Whole: "},
		{"decode AN3-5A", "AN3-5A  Bolt"},
		{"export -", `"AN3-5A"`},
		{"sub-assembly SA-10", "SA-10"},
		{"labels --places A-12 --out " + filepath.Join(t.TempDir(), "a.pdf"), "a.pdf"},
		{"count AN3-5A 34", ""},
		{"take AN3-5A --amount 6 --for SA-10", ""},
		{"single-use AN3-5A", ""},
		{"undo", ""},
		{"backup", ""},
	} {
		t.Run(strings.Fields(row.line)[0], func(t *testing.T) {
			var out, log bytes.Buffer
			code := run(t.Context(), append([]string{"--shop", file}, strings.Fields(row.line)...), &out, &log)
			switch {
			case row.want == "" && (code != exitDamaged || out.Len() > 0 || !strings.Contains(log.String(), "Another program has the shop file "+file+" open: close it there, then try again.")):
				t.Errorf("code %d, %q, %q; want it refused as busy", code, out.String(), log.String())
			case row.want != "" && (code != exitDone && row.line != "ready" || !strings.Contains(out.String(), row.want) || !strings.HasPrefix(log.String(), said)):
				t.Errorf("code %d, %q, %q; want %q", code, out.String(), log.String(), row.want)
			}
		})
	}
	if after := strings.Join(names(), " "); after != before {
		t.Errorf("in the folder are %s, there were %s", after, before)
	}
	if now, err := shop.End(); err != nil || now != head {
		t.Errorf("the shop has changed: %v, %v; it was %v", now, err, head)
	}
}
