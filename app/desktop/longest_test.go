package desktop

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// The longest that people write: a kit part number with its side and revision, the names of
// a place, a crate, a bag, a supplier and a person.
const (
	longNumber = "OQ-40-2117-1033-0085-LH-UPPER-R2"
	longHand   = "Wilhelmina van der Osterhollow-Featherstonehaugh"
	longPlace  = "Third shelf from the top behind the compressor, left 12"
	longCrate  = "Crate 3 of 7, empennage and fuel"
	longBag    = "Bag 14 (hardware, tailplane 2/3)"
)

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// longest is the demo shop with what is longest in it everywhere.
func longest(t *testing.T) *sessiontest.Bench {
	b := sessiontest.Open(t, demo.Unpacked)
	b.Shop.SetHand(longHand)
	settings := must[store.Settings](t)(b.Shop.Settings())
	settings.Title, settings.Hands = "Type Q, the second one, in the old barn", append(settings.Hands, longHand)
	entry := must[store.Entry](t)
	entry(b.Shop.PutSettings(settings))
	var lines []store.NewLine
	for i := range 6 {
		lines = append(lines, store.NewLine{
			Number: i + 1, Crate: longCrate, Group: longBag, Designation: fmt.Sprintf("%s-%d", longNumber, i), Title: "Rib, tailplane, nose, upper, left, with doubler and anchor nuts (old number OQ-1-77)",
			Listed: measure.Pieces(1_234_567), Status: store.Shipped,
		})
	}
	ship, _, err := b.Shop.Import(store.NewShipment{Order: "OK-20731-SUPPLEMENT-2026-A", Supplier: "Osterhollow Kitworks and Daughters, Inc.", File: "list-of-the-second-delivery-2026.csv", Fingerprint: "long", Lines: lines})
	if err != nil {
		t.Fatal(err)
	}
	three := 3
	entry(b.Shop.Arrive(ship.ID, store.Delivery{Crates: []string{longCrate}, Arrived: b.Shop.Today(), DamageDays: &three, ShortageDays: &three}))
	room := b.Place("Garage")
	shelf, _, err := b.Shop.AddPlace(store.Place{Parent: room.ID, Kind: store.Shelf, Name: longPlace})
	if err != nil {
		t.Fatal(err)
	}
	for i, found := range []int64{1_234_567, 1_234_560, 1_234_569} {
		entry(b.Shop.Receive(ship.ID, store.LineID(i+1), store.Finding{Found: measure.Pieces(found), Damaged: measure.Pieces(int64(2 * i)), Counted: true, Looked: true}))
	}
	line := must[store.Line](t)(b.Shop.Line(ship.ID, 1))
	heap := must[[]store.Holding](t)(b.Shop.Holdings(line.Designation))[0]
	entry(b.Shop.Stow(store.Transfer{StockKey: heap.StockKey, To: shelf.ID, Quantity: heap.Amount.Quantity}))
	entry(b.Shop.PutSubAssembly(store.SubAssembly{Code: "SA-1044-TAILPLANE-LH", Name: "Tailplane, left, with trim tab and its actuator"},
		store.Requirement{Called: lines[0].Designation, Item: lines[0].Designation, Needed: measure.Pieces(1_234_568)},
		store.Requirement{Called: lines[4].Designation, Item: lines[4].Designation, Needed: measure.Pieces(1_234_568)}))
	entry(b.Shop.PutSupplier(store.Supplier{Name: "Osterhollow Kitworks and Daughters, Inc."}))
	entry(b.Shop.PutSupply(store.Supply{Item: lines[4].Designation, Supplier: "Osterhollow Kitworks and Daughters, Inc.", Pack: 250}, measure.Pieces(9_999_999)))
	return b
}

// longScenes reach every screen of that shop, and the questions that name what is longest.
func longScenes() []scene {
	first := `"` + strings.ToLower(longNumber) + `-0"`
	unpack := func(part string) func(b *bench) {
		return func(b *bench) {
			ships, err := b.Shop.Shipments()
			if err != nil {
				b.t.Fatal(err)
			}
			b.d.Go(routes.Route{Screen: routes.Unpack, About: ships[len(ships)-1].ID, Part: part})
			b.Elapse()
		}
	}
	return []scene{
		{"today", nil, keysOf("Ctrl+1")},
		{"unpack", nil, unpack("")},
		{"unpack-some", nil, func(b *bench) { unpack("")(b); b.press("S") }},
		{"unpack-claim", nil, unpack("claim")},
		{"unpack-arrival", nil, unpack("arrival")},
		{"unpack-sheet", nil, unpack("sheet")},
		{"find", nil, keysOf("Ctrl+K", `"oq"`)},
		{"find-count", nil, keysOf("Ctrl+K", first, "Down", "C")},
		{"find-move", nil, keysOf("Ctrl+K", first, "Down", "M")},
		{"find-take", nil, keysOf("Ctrl+K", first, "Down", "T")},
		{"places", nil, keysOf("Ctrl+4", "U")},
		{"places-shelf", nil, func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Places, About: b.Place(longPlace).ID})
			b.Elapse()
		}},
		{"labels", nil, func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Labels, About: b.Place(longPlace).ID})
			b.Elapse()
		}},
		{"build", nil, keysOf("Ctrl+6")},
		{"build-list", nil, keysOf("Ctrl+6", "End", "Enter")},
		{"order", nil, keysOf("Ctrl+7")},
		{"handbook", nil, keysOf("Ctrl+8", `"ms21083n3"`)},
		{"hand", nil, keysOf("F9")},
		{"copies", nil, keysOf("F12", "N")},
		{"camera", nil, func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Camera, About: b.photo(longPlace, "A-12")})
			b.Elapse()
		}},
		{"photos", nil, func(b *bench) {
			b.d.Go(routes.Route{Screen: routes.Photos, About: "item:" + longNumber + "-0"})
			b.Elapse()
		}},
	}
}

// With the longest numbers, places and hands nothing is cut off on any screen, and no number is
// cut in the middle.
func TestLongestIsWhole(t *testing.T) {
	shop := longest(t) // no scene changes it
	scenes := longScenes()
	for i := range scenes {
		scenes[i].shop = func(*testing.T) *sessiontest.Bench { return shop }
	}
	modes := slices.DeleteFunc(gallery.Modes(), func(m gallery.Mode) bool { return m.Theme.Mode == look.Dark }) // as wide as light
	inModes(t, scenes, modes, func(b *bench, s scene, mode string) {
		b.whole(mode, 0)
		b.picture("long-" + s.name + "-" + mode)
	})
}

// faulty is a packing list with a fault in each of its rows.
const faulty = `line,crate,bag,part number,description,quantity,unit
1,C9,H9,AN3-5A,Bolt,twelve or so,ea
2,C9,H9,AN3-6A,Bolt,12,bushels
3,C9,H9,,Bolt without any number on it,12,ea
`

// What is wrong with a list, and where, is said in whole of the row that is chosen.
func TestFaultsOfAListAreSaidInWhole(t *testing.T) {
	list := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(list, []byte(faulty), 0o600); err != nil {
		t.Fatal(err)
	}
	b := sit(t, demo.Unpacked)
	b.d.Go(routes.Route{Screen: routes.Unpack, Part: "list", About: list})
	b.press("F8")
	for i, want := range []string{
		`Row 2, column F: The quantity "twelve or so" is not a plain number.`,
		`Row 3, column G: The unit "bushels" is not one of ea, ft, in, lb, oz,`,
		"Row 4, column D: The line has no part number.",
	} {
		lists := shownOf[*look.RowList](t, b.d.Page().Object())
		lists[1].Choose(i)
		b.Elapse()
		said := ""
		for _, n := range shownOf[*look.Notice](t, b.d.Page().Object()) {
			said += n.Text()
		}
		if !strings.Contains(said, want) || strings.Contains(said, "…") {
			t.Errorf("row %d: said %q, want %q", i, said, want)
		}
	}
}

// Of a code that is no tag of the shop the camera's list says in whole what it is.
func TestUnknownTagsAreSaidInWhole(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.d.Go(routes.Route{Screen: routes.Camera, About: b.photoOf("SPAAAAAAA", "SP7K3M9QXD")})
	b.Elapse()
	for _, size := range []string{"normal", "larger"} {
		var texts []string
		for _, list := range shownOf[*look.RowList](t, b.d.Page().Object()) {
			collect(list, &texts)
		}
		said := strings.Join(texts, " ")
		for _, want := range []string{"That code is not one of our tags: it says “SPAAAAAAA”.", "That is not quite a tag: one of its characters is wrong. Read it again."} {
			if !strings.Contains(said, want) {
				t.Errorf("%s: the list says %q, want %q", size, said, want)
			}
		}
		b.press("F8")
	}
}
