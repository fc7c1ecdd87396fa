package store_test

import (
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

func TestResolve(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	w.must(second(w.Stow(w.to("AN3-5A", "H103", 20, "A-01"))))
	w.must(second(w.Pull("SA-10", w.to("AN3-5A", "A-01", 6, "A-01"))))
	w.must(second(w.RetirePlace(w.place["S1"])))
	other := storetest.Open(t, store.Options{Random: strings.NewReader(strings.Repeat("another shop", 100))})
	foreign, _, err := other.AddPlace(store.Place{Kind: store.Room, Name: "Elsewhere"})
	w.must(err)
	tag := func(place string) store.Tag { return mustPlace(w, place).Tag }
	wrong := []byte(tag("A-01"))
	wrong[5] = map[bool]byte{true: '1', false: '0'}[wrong[5] == '0']
	for _, row := range []struct {
		name, text string
		answer     store.Answer
		sentence   string
		contents   string // of the first heap
		within     int
	}{
		{"a drawer", string(tag("A-01")), store.TagFound, "Garage, Cabinet A, A-01", "14 ea", 0},
		{"a drawer, typed", strings.ToLower(tag("A-01").Spaced()), store.TagFound, "Garage, Cabinet A, A-01", "14 ea", 0},
		{"a cabinet", string(tag("Cabinet A")), store.TagFound, "Garage, Cabinet A", "", 4},
		{"a bag", string(tag("H103")), store.TagFound, "C1, H103", "4 ea", 0},
		{"a crate", string(tag("C1")), store.TagFound, "C1", "", 5},
		{"a sub-assembly", string(tag("SA-10")), store.TagFound, "SA-10", "6 ea", 0},
		{"a retired shelf", string(tag("S1")), store.TagRetired, "The tag " + tag("S1").Spaced() + " was of Garage, S1, which is out of use: take the label off.", "", 0},
		{"a tag of another shop", string(foreign.Tag), store.TagUnknown, "The tag " + foreign.Tag.Spaced() + " is not of this shop: look whether the right shop is open.", "", 0},
		{"a wrong character", string(wrong), store.TagMistyped, "That is not quite a tag: one of its characters is wrong. Read it again.", "", 0},
		{"another code", "https://example.org/a/rather/long/address/indeed?of=a&parcel&that=came", store.TagForeign, "That code is not one of our tags: it says “https://example.org/a/rather/long/addres…”.", "", 0},
		{"nothing", "", store.TagForeign, "That code is not one of our tags: it says “”.", "", 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			r, err := w.Resolve(row.text)
			if err != nil {
				t.Fatal(err)
			}
			contents := ""
			if len(r.Contents) > 0 {
				contents = r.Contents[0].Amount.String()
			}
			if r.Answer != row.answer || r.Sentence() != row.sentence || contents != row.contents || r.Within != row.within || r.Text != row.text {
				t.Errorf("Resolve(%q) is %s, %q with %q and %d places; want %s, %q with %q and %d", row.text, r.Answer, r.Sentence(), contents, r.Within, row.answer, row.sentence, row.contents, row.within)
			}
		})
	}
	tags, err := w.Tags()
	w.must(err)
	for _, text := range tags {
		if r, err := w.Resolve(text); err != nil || r.Answer != store.TagFound {
			t.Errorf("the tag %s in use is %s, %v", text, r.Answer, err)
		}
	}
	if len(tags) != 16 { // 2 rooms, a cabinet of 4 drawers, 2 crates of 5 bags and 1, a sub-assembly; not the shelf
		t.Errorf("%d tags in use: %v", len(tags), tags)
	}
}

// What is known of items, numbers, sub-assemblies and the shop itself.
func TestSetup(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.PutItem(store.Item{Designation: " AN3-5A ", Title: "Bolt,  undrilled", Unit: measure.Each, Minimum: measure.Pieces(10)})))
	item, err := w.Item("AN3-5A")
	w.must(err)
	if want := (store.Item{Designation: "AN3-5A", Title: "Bolt, undrilled", Unit: measure.Each, Minimum: measure.Pieces(10)}); item != want {
		t.Errorf("item %+v, want %+v", item, want)
	}
	// Before anything of it has come, an item may still change its unit.
	w.must(second(w.PutItem(store.Item{Designation: "AN3-6A", Unit: measure.Pound})))
	_, err = w.Receive(w.ship, 2, found(16))
	wantRefusal(t, err, store.Conflict, "AN3-6A is kept by lb here, and this says ea: nothing is converted, so give it in lb.")

	w.must(second(w.PutEquivalent(store.Equivalent{Old: "AN960-10", New: "NAS1149F0363P", Source: "Osterhollow cover letter", Date: store.Date{Year: 2026, Month: 3, Day: 10}})))
	all, err := w.Equivalents()
	w.must(err)
	if len(all) != 1 || all[0].Source != "Osterhollow cover letter" || all[0].Date.String() != "10 March 2026" {
		t.Errorf("old numbers %+v", all)
	}

	place := w.place["SA-10"]
	needs := store.Requirement{Item: " AN3-6A", Needed: measure.Pieces(6), Callout: store.Callout{Drawing: " 12"}}
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin and rudder", Place: "elsewhere"}, needs)))
	subs, err := w.SubAssemblies()
	w.must(err)
	if len(subs) != 1 || subs[0].Place != place || subs[0].Name != "Fin and rudder" || subs[0].Order != 1 {
		t.Errorf("sub-assemblies %+v, want one at %s", subs, place)
	}
}

// Who works is who was set, else the first of the shop's hands, else Builder.
func TestHands(t *testing.T) {
	w := newWorld(t)
	by := func(want string) {
		t.Helper()
		e, err := w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(int64(newestSeq(w))))
		w.must(err)
		c, _, err := w.LastCounted(w.in("AN3-5A", "A-01"))
		w.must(err)
		if e.Hand != want || c.Hand != want || !c.At.Equal(e.At) || !e.At.Equal(w.clock.Now()) {
			t.Errorf("entry by %q at %s, counted by %q at %s; want %q at %s", e.Hand, e.At, c.Hand, c.At, want, w.clock.Now())
		}
	}
	by(store.DefaultHand)
	w.must(second(w.PutSettings(store.Settings{Title: "Type Q", Hands: []string{"Partner", " Partner", "Youngster"}})))
	by("Partner")
	w.SetHand("Youngster")
	by("Youngster")
	w.SetHand("")
	by("Partner")
	settings, err := w.Settings()
	w.must(err)
	if len(settings.Hands) != 2 {
		t.Errorf("hands %q", settings.Hands)
	}
	w.clock.Set(t, "2026-03-01") // a clock set back spoils nothing
	by("Partner")
	if got := w.Today(); got != (store.Date{Year: 2026, Month: 3, Day: 1}) {
		t.Errorf("today is %s", got)
	}
}
