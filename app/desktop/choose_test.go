package desktop

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/handbook"
	"stowright/app/look"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/app/unpack"
	demodata "stowright/assets/demo"
	"stowright/store"
)

// atHome is a person's own folder with a list and a folder in it.
func atHome(t *testing.T) string {
	t.Helper()
	home := t.TempDir()
	t.Setenv("HOME", home)
	if err := os.Mkdir(filepath.Join(home, "disk"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(home, "list.xlsx"), demodata.PackingList(demodata.PackingListXLSX), 0o600); err != nil {
		t.Fatal(err)
	}
	return home
}

// Wherever a file or a folder is asked for, F5 shows the one dialog for it, and Esc
// leads back to what was on the page.
func TestEveryPathIsChosenAlike(t *testing.T) {
	atHome(t)
	for _, row := range []struct {
		name  string
		shop  func(t *testing.T) *sessiontest.Bench
		route routes.Route
		keys  []string
		title string
	}{
		{"a packing list", empty, routes.Route{Screen: routes.Unpack, Part: unpack.ListPart}, nil, "Choose a file"},
		{"an export", empty, routes.Route{Screen: routes.Copies}, []string{"I"}, "Choose a file"},
		{"figures", empty, routes.Route{Screen: routes.Handbook, Part: handbook.OwnPart}, nil, "Choose a file"},
		{"a picture of labels", empty, routes.Route{Screen: routes.Camera}, nil, "Choose a file, or a folder of them"},
		{"a photograph", at(demo.Unpacked), routes.Route{Screen: routes.Photos, About: photos.About(store.OfItem("AN3-5A"))}, nil, "Choose a file, or a folder of them"},
		{"a copy elsewhere", at(demo.Unpacked), routes.Route{Screen: routes.Copies}, []string{"O"}, "Choose a folder"},
		{"everything exported", at(demo.Unpacked), routes.Route{Screen: routes.Copies}, []string{"X"}, "Choose a folder"},
		{"labels", at(demo.Unpacked), routes.Route{Screen: routes.Labels}, nil, "Choose where to save it"},
		{"a claim", at(demo.Unpacked), routes.Route{Screen: routes.Unpack, Part: "claim"}, nil, "Choose where to save it"},
		{"a piece at its real size", at(demo.Unpacked), routes.Route{Screen: routes.Handbook, About: "an3-5a"}, []string{"P"}, "Choose where to save it"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sitAt(t, row.shop(t))
			b.d.Go(row.route)
			b.Elapse()
			b.d.Rest()
			b.press(row.keys...)
			under := b.w.Canvas().Overlays().Top()
			in := b.d.Object()
			if under != nil {
				in = under
			}
			pick := shownOf[*look.PathPick](t, in)[0]
			pick.SetPath(pick.Path() + "x") // what a person has typed
			typed := pick.Path()
			b.press("F5")
			b.asks(row.title)
			b.press("Down", "Esc")
			if got := b.w.Canvas().Overlays().Top(); got != under || b.d.Route() != row.route || pick.Path() != typed {
				t.Errorf("after Esc %v is open on %+v, with %q in the field; want %v on %+v with %q", got, b.d.Route(), pick.Path(), under, row.route, typed)
			}
		})
	}
}

// By keys alone everything is exported into a folder that is chosen, which is proposed
// for the next copy; and another shop brings that export in.
func TestChosenByKeys(t *testing.T) {
	home := atHome(t)
	disk := filepath.Join(home, "disk")
	b := sit(t, demo.Unpacked)
	b.press("F12", "X", "F5", "Down", "Enter", "Enter") // into the folder, and that one
	b.asks("Export everything")
	if got := shownOf[*look.PathPick](t, b.w.Canvas().Overlays().Top())[0].Path(); got != disk {
		t.Fatalf("the field has %q, want %q", got, disk)
	}
	b.press("Enter")
	b.has("Exported:")
	b.press("O")
	if got := shownOf[*look.PathPick](t, b.w.Canvas().Overlays().Top())[0].Path(); got != disk {
		t.Errorf("a copy is proposed in %q, want %q as chosen last", got, disk)
	}
	b.press(`"`+filepath.Join(home, "none", "copies")+`"`, "Enter")
	b.asks("There is no " + filepath.Join(home, "none") + ".")
	b.press("F5", "Enter", "Enter")
	b.has("Copied, and the copy is whole:", filepath.Join(disk, "demo-"))

	b.press("X", `"`+filepath.Join(disk, "new")+`"`, "Enter")
	b.has("Exported:", filepath.Join(disk, "new", "demo-"))

	other, all := onWindow(t, sessiontest.Empty(t), nil)
	other.press("F12", "I", "F5", "Enter", "End", "Enter")
	other.d = all.desktop
	other.said("is the shop now")
}

// A packing list is brought in without typing, and the labels go into the shop's folder.
func TestListAndLabelsChosen(t *testing.T) {
	atHome(t)
	b := sitAt(t, sessiontest.Empty(t))
	b.press("I")
	b.press("F5", "End", "Enter")
	b.has("list.xlsx", "60 lines")

	b = sit(t, demo.Unpacked)
	b.press("Ctrl+5", "F5", "S", "Enter")
	if b.w.Canvas().Focused() == nil {
		t.Error("the field with the chosen path has not the keys")
	}
	b.press("Enter")
	want := filepath.Join(filepath.Dir(b.Shop.File()), "labels.pdf")
	if data, err := os.ReadFile(want); err != nil || !strings.HasPrefix(string(data), "%PDF-") {
		t.Errorf("%s: %v, the page says %s", want, err, b.texts())
	}
}
