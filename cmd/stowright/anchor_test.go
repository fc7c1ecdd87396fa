package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// Story 22 by commands: the entry and hash of a page are answered once the shop has gone on,
// in groups and as a beginning too, and an export of which one byte was changed is refused by
// the entries between which it no longer holds.
func TestPaperOfAnEntry(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "shop.stow")
	fillShop(t, file)
	answer := func(code int, args ...string) string {
		t.Helper()
		var out, errOut bytes.Buffer
		if got := run(context.Background(), append([]string{"--shop", file}, args...), &out, &errOut); got != code {
			t.Fatalf("%q: %d, want %d: %s%s", args, got, code, out.String(), errOut.String())
		}
		return out.String() + errOut.String()
	}
	head := func() store.Anchor {
		t.Helper()
		var report store.Report
		if err := json.Unmarshal([]byte(answer(exitDone, "check", "--json")), &report); err != nil {
			t.Fatal(err)
		}
		return *report.Head
	}
	printed := head()
	entry := fmt.Sprint(printed.Entry)
	answer(exitDone, "note", "--kind", "look", "--second", "Partner", "--text", "looked at", "SA-10")
	if now := head(); now.Entry != printed.Entry+1 || now.SHA256 == printed.SHA256 {
		t.Errorf("the head went from %+v to %+v", printed, now)
	}
	for _, hash := range [][]string{{printed.SHA256}, strings.Fields(printed.Grouped()), {printed.SHA256[:16]}} {
		if said := answer(exitDone, append([]string{"check", "--paper", entry}, hash...)...); !strings.Contains(said, "Contains entry "+entry+" as printed") {
			t.Errorf("%q: %s", hash, said)
		}
	}
	if said := answer(exitNo, "check", "--paper", "5", printed.SHA256); !strings.Contains(said, "Differs from the paper at entry 5: that entry or one before it is not what it was.") {
		t.Error(said)
	}

	file = filepath.Join(dir, "counted.stow")
	countOften(t, file)
	export := filepath.Join(dir, "export.jsonl")
	answer(exitDone, "export", export)
	data, err := os.ReadFile(export)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(data), "\n")
	lines[68] = strings.Replace(lines[68], `"hand":"B`, `"hand":"C`, 1) // the first line is of no entry
	if err := os.WriteFile(export, []byte(strings.Join(lines, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	file = filepath.Join(dir, "again.stow")
	if said := answer(exitUsage, "restore", export, "--yes"); !strings.Contains(said, "entry 68 is not what entry 69 was written after") {
		t.Error(said)
	}
}

// countOften makes a shop of a hundred entries.
func countOften(t *testing.T, file string) {
	t.Helper()
	shop, err := store.Open(file, store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	for n := int64(1); n < 100 && err == nil; n++ {
		_, err = shop.Count(store.StockKey{Item: "AN3-5A", Place: bin.ID}, measure.Pieces(n))
	}
	if err := errors.Join(err, shop.Close()); err != nil {
		t.Fatal(err)
	}
}
