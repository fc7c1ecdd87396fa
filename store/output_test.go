package store_test

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/exchange"
	"stowright/store/output"
)

// What the store writes is known by what is in it: output must never write over a shop
// file, the log beside it while it is in use, or a copy, whatever they are called.
func TestOutputKnowsWhatTheStoreWrites(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "shop.data")
	shop, err := store.Open(path, store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	for _, name := range []string{"One", "Two", "Three"} {
		if _, _, err := shop.AddPlace(store.Place{Kind: store.Room, Name: name}); err != nil {
			t.Fatal(err)
		}
	}
	made, err := copies.NewKeeper(shop, "").Make(context.Background(), filepath.Join(dir, "copies"), copies.ByHand)
	if err != nil {
		t.Fatal(err)
	}
	export := filepath.Join(dir, "export.jsonl")
	if err := exchange.ExportFile(context.Background(), shop, export, false); err != nil {
		t.Fatal(err)
	}
	text := func(w io.Writer) error { _, err := io.WriteString(w, "lost"); return err }
	for i, file := range []string{path, path + ".recent", made.File} {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		renamed := filepath.Join(dir, "renamed.pdf") // nothing but what is in it tells what it is
		if err := os.WriteFile(renamed, data, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{file, renamed} {
			err := output.Write(output.Options{Replace: true}, output.File{Path: name, Write: text})
			if !errors.Is(err, store.ErrConflict) || errors.Is(err, output.ErrExist) {
				t.Errorf("%d, %s: got %v, want a refusal", i, filepath.Base(name), err)
			}
		}
	}
	for _, replace := range []bool{false, true} {
		err := exchange.ExportFile(context.Background(), shop, export, replace)
		if (err == nil) != replace {
			t.Errorf("an export over an export, replace %v: %v", replace, err)
		}
		if err := exchange.ExportFile(context.Background(), shop, path, replace); !errors.Is(err, store.ErrConflict) {
			t.Errorf("an export over its own shop, replace %v: %v", replace, err)
		}
	}
}
