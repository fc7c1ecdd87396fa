package desktop

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/store"
	storecopies "stowright/store/copies"
)

// saveField is a place in the window where a person says where something is saved.
type saveField struct {
	name  string
	route routes.Route
	keys  []string                          // which lead to its field
	file  func(b *bench, dir string) string // what is written when a folder or a name there is given
	typed func(file string) string          // what is typed to have it written
}

func itself(file string) string { return file }

func saveFields() []saveField {
	named := func(name string) func(*bench, string) string {
		return func(_ *bench, dir string) string { return filepath.Join(dir, name) }
	}
	line := store.OfItem("AN3-5A")
	return []saveField{
		{"labels", routes.Route{Screen: routes.Labels}, nil, named("a.pdf"), itself},
		{"a claim", routes.Route{Screen: routes.Unpack, Part: "claim"}, nil, named("a.txt"), itself},
		{"a piece at its real size", routes.Route{Screen: routes.Handbook, About: "an3-5a"}, []string{"P"}, named("a.pdf"), itself},
		{"photographs", routes.Route{Screen: routes.Photos, About: photos.About(line)}, []string{"A"}, named("P-3.jpg"), filepath.Dir},
		{"everything exported", routes.Route{Screen: routes.Copies}, []string{"X"}, func(b *bench, dir string) string {
			return filepath.Join(dir, "demo-"+b.Shop.Now().Format("2006-01-02-150405")+".zip")
		}, filepath.Dir},
	}
}

// save names the file in the field and presses Enter.
func (f saveField) save(t *testing.T, b *bench, file string) {
	t.Helper()
	b.d.Go(f.route)
	b.Elapse()
	b.d.Rest()
	b.press(f.keys...)
	in := b.d.Object()
	if top := b.w.Canvas().Overlays().Top(); top != nil {
		in = top
	}
	pick := shownOf[*look.PathPick](t, in)[0]
	pick.SetPath(f.typed(file))
	look.FocusOn(pick.Focusable())
	b.press("Enter")
	b.Elapse()
}

// savingBench is a desktop whose shop has a photograph of an item, and a folder to save in.
func savingBench(t *testing.T) (b *bench, dir string) {
	t.Helper()
	atHome(t)
	b = sit(t, demo.Unpacked)
	picture, err := photos.Read(onDisk(t))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Shop.AddPhoto(store.OfItem("AN3-5A"), "", picture); err != nil {
		t.Fatal(err)
	}
	return b, t.TempDir()
}

func read(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// Every save field asks before it writes over a file: Esc goes back, Enter replaces it.
func TestSavingAsksBeforeItReplaces(t *testing.T) {
	for _, f := range saveFields() {
		t.Run(f.name, func(t *testing.T) {
			b, dir := savingBench(t)
			file := f.file(b, dir)
			if err := os.WriteFile(file, []byte("mine"), 0o600); err != nil {
				t.Fatal(err)
			}
			f.save(t, b, file)
			b.asks("Replace " + filepath.Base(file) + "?")
			b.picture("replace-" + f.name)
			b.press("Esc")
			if got := read(t, file); got != "mine" || b.w.Canvas().Overlays().Top() != nil {
				t.Fatalf("after Esc the file holds %.20q", got)
			}
			f.save(t, b, file)
			b.asks("Replace " + filepath.Base(file) + "?")
			b.press("Enter")
			b.Elapse()
			if got := read(t, file); got == "mine" || b.w.Canvas().Overlays().Top() != nil {
				t.Errorf("after Enter the file holds %.20q; the page says %s", got, b.texts())
			}
		})
	}
}

// Where several files would be written over, the question says of how many and which.
func TestSavingAsksAboutAll(t *testing.T) {
	b, dir := savingBench(t)
	other, err := photos.Read(onDisk(t))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Shop.AddPhoto(store.OfItem("AN3-5A"), "once more", other); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"P-3.jpg", "P-4.jpg"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("mine"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	field := saveFields()[3]
	field.save(t, b, filepath.Join(dir, "P-3.jpg"))
	b.asks("Replace 2 files?")
	b.asks("P-3.jpg, P-4.jpg")
	b.press("Enter")
	b.Elapse()
	for _, name := range []string{"P-3.jpg", "P-4.jpg"} {
		if read(t, filepath.Join(dir, name)) == "mine" {
			t.Errorf("%s was not written over", name)
		}
	}
}

// No save field writes over a shop file, a copy or what lies beside a shop, and none asks
// whether it may.
func TestSavingNeverReplacesAShop(t *testing.T) {
	for _, f := range saveFields() {
		t.Run(f.name, func(t *testing.T) {
			b, dir := savingBench(t)
			copied, err := b.Copies.Make(t.Context(), filepath.Join(dir, "copies"), storecopies.ByHand)
			if err != nil {
				t.Fatal(err)
			}
			shop := filepath.Join(dir, "shop.pdf")
			if err := os.Link(copied.File, shop); err != nil {
				t.Fatal(err)
			}
			before := read(t, copied.File)
			file := f.file(b, dir)
			for _, to := range []string{copied.File, shop, b.Shop.File(), b.Shop.File() + ".recent"} {
				if err := os.Symlink(to, file); err != nil {
					t.Fatal(err)
				}
				f.save(t, b, file)
				if b.w.Canvas().Overlays().Top() != nil {
					t.Fatalf("a question is asked about %s", to)
				}
				if text := strings.ReplaceAll(b.texts(), " | ", " "); !strings.Contains(text, "is never written over: name another.") { // over several lines
					t.Errorf("%s: the page says %s", to, text)
				}
				if d := cmp.Diff(before, read(t, copied.File)); d != "" {
					t.Fatalf("%s has changed", to)
				}
				if err := os.Remove(file); err != nil {
					t.Fatal(err)
				}
			}
			if report, err := b.Shop.CheckAll(t.Context()); err != nil || !report.OK {
				t.Errorf("the shop: %v, %v", report.Problems, err)
			}
		})
	}
}

// A copy elsewhere takes a name that nothing has: neither the shop nor a copy is replaced,
// in whatever folder.
func TestCopyElsewhereReplacesNothing(t *testing.T) {
	b, dir := savingBench(t)
	f := saveField{route: routes.Route{Screen: routes.Copies}, keys: []string{"O"}, typed: itself}
	for range 3 { // within one second of the demo's clock
		f.save(t, b, dir)
		b.has("Copied, and the copy is whole:")
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.stow"))
	if err != nil || len(files) != 3 {
		t.Errorf("%d copies, %v: %v", len(files), err, files)
	}
	f.save(t, b, filepath.Dir(b.Shop.File()))
	b.has("Copied, and the copy is whole:")
	if report, err := b.Shop.CheckAll(t.Context()); err != nil || !report.OK {
		t.Errorf("the shop: %v, %v", report.Problems, err)
	}
}

// The page of the safe copies says where the program's log is, where there is one.
func TestTheLogIsNamed(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.Session.Log = filepath.Join(b.Folders.Home, ".local", "state", "stowright", "stowright.log")
	b.press("F12")
	b.has("is noted in ~/.local/state/stowright/stowright.log")
	b.picture("copies-log")
	b.Session.Log = ""
	b.press("F12", "Ctrl+1", "F12")
	if strings.Contains(b.texts(), "is noted in") {
		t.Error("a log is named that is not there")
	}
}
