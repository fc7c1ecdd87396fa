package store_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

func TestAddCabinet(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name          string
		rows, columns int
		first, last   string // name and position
	}{
		{"one drawer", 1, 1, "A-01 1/1", "A-01 1/1"},
		{"five rows of eight", 5, 8, "A-01 1/1", "A-40 5/8"},
		{"more than a hundred", 13, 8, "A-001 1/1", "A-104 13/8"},
		{"the largest", 40, 40, "A-0001 1/1", "A-1600 40/40"},
	} {
		t.Run(row.name, func(t *testing.T) {
			shop := storetest.Open(t, store.Options{})
			cabinet, e, err := shop.AddCabinet(store.CabinetSpec{Name: "Cabinet A", Prefix: "A", Rows: row.rows, Columns: row.columns})
			if err != nil {
				t.Fatal(err)
			}
			if want := fmt.Sprintf("Cabinet A made with %d drawers", row.rows*row.columns); e.Text != want {
				t.Errorf("the entry says %q, want %q", e.Text, want)
			}
			drawers, err := shop.Children(cabinet.ID)
			if err != nil || len(drawers) != row.rows*row.columns {
				t.Fatalf("%d drawers, %v; want %d", len(drawers), err, row.rows*row.columns)
			}
			text := func(p store.Place) string { return fmt.Sprintf("%s %d/%d", p.Name, p.Row, p.Column) }
			if first, last := text(drawers[0]), text(drawers[len(drawers)-1]); first != row.first || last != row.last {
				t.Errorf("first drawer %q, last %q; want %q, %q", first, last, row.first, row.last)
			}
			tags := map[store.Tag]bool{cabinet.Tag: true}
			for _, d := range drawers {
				if d.Kind != store.Drawer || tags[d.Tag] || d.Tag.Kind() != store.TagPlace {
					t.Errorf("drawer %+v", d)
				}
				tags[d.Tag] = true
			}
			if _, err := shop.Undo(); err != nil {
				t.Fatal(err)
			}
			if places, err := shop.Places(); err != nil || len(places) != 0 {
				t.Errorf("after the undo: %d places, %v", len(places), err)
			}
		})
	}
}

// A place moves with all that is in it; labels stay good.
func TestMovePlace(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, place, to string
		text            string
		look, path      string // where a place of it is then
	}{
		{"a cabinet to another room", "Cabinet A", "Hangar", "Cabinet A moved to Hangar", "A-01", "Hangar, Cabinet A, A-01"},
		{"a shelf to the top", "S1", "", "S1 moved to the top", "S1", "S1"},
		{"a drawer out of its cabinet", "A-01", "S1", "A-01 moved to S1", "A-01", "Garage, S1, A-01"},
		{"a crate into a room", "C1", "Garage", "C1 moved to Garage", "H103", "Garage, C1, H103"},
		{"a bag into a drawer", "H103", "A-01", "H103 moved to A-01", "H103", "Garage, Cabinet A, A-01, H103"},
		{"a bag into a bag", "H103", "H101", "H103 moved to H101", "H103", "C1, H101, H103"},
		{"a sub-assembly onto a shelf", "SA-10", "S1", "SA-10 moved to S1", "SA-10", "Garage, S1, SA-10"},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			before, err := w.Place(w.place[row.look])
			w.must(err)
			e, err := w.MovePlace(w.place[row.place], w.place[row.to])
			w.must(err)
			if e.Text != row.text || e.Verb != store.VerbMove {
				t.Errorf("the entry says %s %q, want %q", e.Verb, e.Text, row.text)
			}
			r, err := w.Resolve(string(before.Tag))
			w.must(err)
			if r.Answer != store.TagFound || r.Sentence() != row.path {
				t.Errorf("the tag of %s says %s %q, want %q", row.look, r.Answer, r.Sentence(), row.path)
			}
			if p := mustPlace(w, row.place); p.Kind == store.Drawer && (p.Row != 0 || p.Column != 0) {
				t.Errorf("outside its cabinet it is still in row %d, column %d", p.Row, p.Column)
			}
			w.must(second(w.Undo()))
			after, err := w.Place(w.place[row.look])
			w.must(err)
			if d := cmp.Diff(before, after); d != "" {
				t.Errorf("undone (-before +after):\n%s", d)
			}
		})
	}
}

// Places nest only as deep as a path may be, however they get there.
func TestPlacesNestToALimit(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	chain := func(name string, n int) (top, bottom string) {
		t.Helper()
		for i := range n {
			p, _, err := shop.AddPlace(store.Place{Parent: bottom, Kind: store.Tub, Name: fmt.Sprintf("%s %d", name, i+1)})
			if err != nil {
				t.Fatal(err)
			}
			bottom = p.ID
			if i == 0 {
				top = p.ID
			}
		}
		return top, bottom
	}
	_, deepest := chain("Tub", 32)
	_, _, err := shop.AddPlace(store.Place{Parent: deepest, Kind: store.Tub, Name: "Tub 33"})
	wantRefusal(t, err, store.Invalid, "Places nest 32 deep at most: put Tub 33 somewhere less deep.")
	path, err := shop.Path(deepest)
	if err != nil || len(path) != 32 {
		t.Fatalf("a path of %d places, %v", len(path), err)
	}
	_, _, err = shop.AddCabinet(store.CabinetSpec{Parent: path[30].ID, Name: "B", Prefix: "B", Rows: 1, Columns: 1})
	wantRefusal(t, err, store.Invalid, "Places nest 32 deep at most: put B somewhere less deep.")
	top, _ := chain("Box", 3)
	_, err = shop.MovePlace(top, path[29].ID)
	wantRefusal(t, err, store.Invalid, "Places nest 32 deep at most: put Box 1 somewhere less deep.")
	if _, err = shop.MovePlace(top, path[28].ID); err != nil {
		t.Errorf("to the depth of 32: %v", err)
	}
}

// Story 9: the cabinet moves in one step, the label text stays, shelf and rack
// stay where they are, and it is the same after the file was closed and opened.
func TestMoveCabinetCloseReopen(t *testing.T) {
	w := newWorld(t)
	rack, _, err := w.AddPlace(store.Place{Parent: w.place["Garage"], Kind: store.Rack, Name: "R1"})
	w.must(err)
	w.must(second(w.Count(w.in("AN470AD4-7", "A-02"), measure.Pieces(120))))
	drawer, err := w.Place(w.place["A-02"])
	w.must(err)
	w.must(second(w.MovePlace(w.place["Cabinet A"], w.place["Hangar"])))
	look := func(shop *store.Shop) []string {
		t.Helper()
		holdings, err := shop.Holdings("AN470AD4-7")
		w.must(err)
		var lines []string
		for _, id := range []string{holdings[0].Place, w.place["S1"], rack.ID} {
			path, err := shop.Path(id)
			w.must(err)
			lines = append(lines, fmt.Sprintf("%s (%s)", store.PathText(path), path[len(path)-1].Tag))
		}
		return append(lines, holdings[0].Amount.String())
	}
	want := look(w.Shop)
	if want[0] != "Hangar, Cabinet A, A-02 ("+string(drawer.Tag)+")" || !strings.HasPrefix(want[1], "Garage, S1") || !strings.HasPrefix(want[2], "Garage, R1") {
		t.Errorf("after the move: %v", want)
	}
	file := w.File()
	w.must(w.Close())
	again := storetest.OpenFile(t, file, store.Options{Clock: w.clock.Now})
	if d := cmp.Diff(want, look(again)); d != "" {
		t.Errorf("after closing and opening (-want +got):\n%s", d)
	}
}

// Retiring takes all that is in the place along, and undoing brings all of it back.
func TestRetirePlace(t *testing.T) {
	w := newWorld(t)
	tags, err := w.Tags()
	w.must(err)
	e, err := w.RetirePlace(w.place["Cabinet A"])
	w.must(err)
	if want := "cabinet Cabinet A taken out of use with 4 places in it"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	now, err := w.Tags()
	w.must(err)
	if len(now) != len(tags)-5 {
		t.Errorf("%d tags in use, then %d; want 5 fewer", len(tags), len(now))
	}
	r, err := w.Resolve(string(mustPlace(w, "Garage").Tag))
	w.must(err)
	if r.Within != 1 {
		t.Errorf("the garage holds %d places in use, want 1: the shelf", r.Within)
	}
	again, _, err := w.AddPlace(store.Place{Parent: w.place["Garage"], Kind: store.Cabinet, Name: "Cabinet A"})
	w.must(err) // the name is free again
	w.must(second(w.RetirePlace(again.ID)))
	w.must(second(w.Undo()))
	w.must(second(w.Undo()))
	w.must(second(w.Undo()))
	if p := mustPlace(w, "A-04"); p.Retired {
		t.Errorf("after the undo %+v", p)
	}
}

func mustPlace(w world, name string) store.Place {
	w.t.Helper()
	p, err := w.Place(w.place[name])
	w.must(err)
	return p
}

func TestRenamePlace(t *testing.T) {
	w := newWorld(t)
	before := mustPlace(w, "A-01")
	e, err := w.RenamePlace(w.place["A-01"], "  Bolts,  short ")
	w.must(err)
	if want := "A-01 renamed to Bolts, short"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	after := mustPlace(w, "A-01")
	before.Name = "Bolts, short"
	if d := cmp.Diff(before, after); d != "" {
		t.Errorf("renamed (-want +got):\n%s", d)
	}
	w.must(second(w.RenamePlace(w.place["A-01"], "bolts, short"))) // only its case
}

func TestCompareNames(t *testing.T) {
	for _, row := range []struct {
		a, b string
		want int
	}{
		{"A-2", "A-10", -1},
		{"A-10", "A-2", 1},
		{"A-02", "A-2", 0},
		{"A-2", "A-2", 0},
		{"", "A", -1},
		{"A", "", 1},
		{"A-2a", "A-2b", -1},
		{"S1", "S1-1", -1},
		{"B-1", "A-2", 1},
		{"A-0", "A-00", 0},
		{"9", "10", -1},
	} {
		if got := store.CompareNames(row.a, row.b); got < 0 != (row.want < 0) || got > 0 != (row.want > 0) {
			t.Errorf("CompareNames(%q, %q) = %d, want %d", row.a, row.b, got, row.want)
		}
	}
}

// Places are listed in the order in which they were made, also those of one moment
// and those made after the clock was set back.
func TestPlacesInOrder(t *testing.T) {
	w := newWorld(t)
	before, err := w.Places()
	w.must(err)
	want := []string{"Garage", "Hangar", "Cabinet A", "A-01", "A-02", "A-03", "A-04", "S1", "C1", "H103", "H101", "SK20", "SK30", "C3", "SK50", "H104", "SA-10"}
	w.clock.Set(t, "2026-01-01")
	for i := range 30 {
		name := fmt.Sprintf("Bin %d", i)
		w.must(third(w.AddPlace(store.Place{Kind: store.Bin, Name: name})))
		want = append(want, name)
	}
	w.clock.Set(t, "2026-05-01")
	w.must(third(w.AddPlace(store.Place{Kind: store.Bin, Name: "Later"})))
	want = append(want, "Later")
	places, err := w.Places()
	w.must(err)
	var got []string
	for _, p := range places {
		got = append(got, p.Name)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("places (-want +got), %d before:\n%s", len(before), d)
	}
}
