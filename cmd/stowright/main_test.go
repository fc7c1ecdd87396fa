package main

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/skip2/go-qrcode"

	"stowright/app/demo"
	demodata "stowright/assets/demo"
	"stowright/store"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

// TestMain lets tests run the program itself, as the command stowright.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"stowright": main})
}

// TestScripts runs one story for each subcommand. Each finds in its folder: the
// demo packing list as list.csv and list.xlsx, two workbooks with several sheets as
// crates.xlsx and hidden.xlsx, the demo shop with everything stowed
// as shop.stow, the same with what the building stories add as build.stow, a label of A-07 as a07.png, a code that is not ours as foreign.png,
// a label of another shop as other.png, photographs as dent.jpg and edge.jpg, one cut
// short as cut.jpg, and one that a phone kept its own way as phone.heic.
func TestScripts(t *testing.T) {
	fixtures := t.TempDir()
	writeFixtures(t, fixtures)
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join("testdata", "script"),
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", e.WorkDir)
			e.Setenv("DISPLAY", "")
			return os.CopyFS(filepath.Join(e.WorkDir), os.DirFS(fixtures))
		},
	})
}

func writeFixtures(t *testing.T, dir string) {
	t.Helper()
	write := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("list.csv", demodata.PackingList(demodata.PackingListCSV))
	write("list.xlsx", demodata.PackingList(demodata.PackingListXLSX))
	for name, sample := range map[string]string{"crates.xlsx": "sheet-per-crate.xlsx", "hidden.xlsx": "hidden-older-list.xlsx"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "packinglists", "shapes", sample))
		if err != nil {
			t.Fatal(err)
		}
		write(name, data)
	}
	fillShop(t, filepath.Join(dir, "build.stow"), demo.Extend)
	for _, p := range fillShop(t, filepath.Join(dir, "shop.stow")) {
		if p.Name == "A-07" {
			write("a07.png", qr(t, string(p.Tag)))
			write("a07.txt", fmt.Appendf(nil, "%s\n", p.Tag))
		}
	}
	write("foreign.png", qr(t, "https://example.org/"))
	write("other.png", qr(t, anotherTag(t)))
	write("cut.png", qr(t, "SP")[:200])
	write("dent.jpg", phototest.JPEG(400, 300, 1))
	write("edge.jpg", phototest.JPEG(300, 400, 2))
	write("cut.jpg", phototest.JPEG(300, 400, 2)[:5000])
	write("phone.heic", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"))
}

// fillShop makes a demo shop with everything stowed, and returns its places.
func fillShop(t *testing.T, path string, more ...func(*store.Shop) error) []store.Place {
	t.Helper()
	clock := demo.NewClock(demo.Today, true)
	shop, err := store.Open(path, store.Options{Clock: clock.Now, Random: storetest.Random(), Create: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := demo.Fill(shop, clock, demo.Unpacked, more...); err != nil {
		t.Fatal(err)
	}
	places, err := shop.Places()
	if err != nil {
		t.Fatal(err)
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	return places
}

// qr is a picture of a code by a library that the program's reader does not use.
func qr(t *testing.T, text string) []byte {
	t.Helper()
	code, err := qrcode.New(text, qrcode.Highest)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, code.Image(-8)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
