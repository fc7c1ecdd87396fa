package desktop

import (
	"math/rand/v2"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// As one types, the card of the best answer is there with its drawer lit.
func TestTypingFinds(t *testing.T) {
	b := sit(t, demo.Unpacked)
	for _, row := range []struct{ typed, item, lit string }{
		{"an3-5", "AN3-5A", "A-12"}, {"AN960-10", "NAS1149F0363P", "A-30"}, {"castle", "AN310-3", "A-19"},
	} {
		t.Run(row.typed, func(t *testing.T) {
			b.t = t
			b.press("Ctrl+K")
			b.d.SetCommand("")
			for i := range row.typed { // one key after the other, each answered before the next
				b.press(`"` + row.typed[i:i+1] + `"`)
			}
			if c := b.d.Card(); c.Designation != row.item || b.lit() != row.lit {
				t.Errorf("typed %q: card of %q with %q lit, want %q with %q", row.typed, c.Designation, b.lit(), row.item, row.lit)
			}
		})
	}
}

// A tag goes to its place however it comes: from a hand scanner, while nothing or
// the command bar has the cursor, or typed by hand. What is no tag in use says so.
func TestTags(t *testing.T) {
	b := sit(t, demo.Unpacked)
	empty := b.Place("A-02")
	if _, err := b.Shop.RetirePlace(empty.ID); err != nil {
		t.Fatal(err)
	}
	good := string(b.Place("A-12").Tag)
	other, err := store.NewTag(rand.NewChaCha8([32]byte{1}), store.TagPlace)
	if err != nil {
		t.Fatal(err)
	}
	mistyped := good[:4] + string(good[5]) + string(good[4]) + good[6:]
	for _, row := range []struct {
		name, typed string
		bar         bool // the cursor is in the command bar
		screen      string
		said        string
	}{
		{"hand scanner", good, false, routes.Places, ""},
		{"hand scanner into the bar", good, true, routes.Places, ""},
		{"typed with blanks in lower case", strings.ToLower(b.Place("A-12").Tag.Spaced()), true, routes.Places, ""},
		{"a crate", string(b.Place("C1").Tag), false, routes.Unpack, ""},
		{"of another shop", string(other), true, "", "is not of this shop: look whether the right shop is open"},
		{"mistyped", mistyped, true, "", "one of its characters is wrong"},
		{"retired", string(empty.Tag), false, "", "out of use: take the label off"},
		{"foreign", "https://example.org/1", true, routes.Find, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			b.t = t
			b.d.Go(routes.Route{Screen: routes.Today})
			b.Drain()
			b.d.Rest()
			if row.bar {
				b.press("Ctrl+K")
			}
			b.scan(row.typed)
			if got := b.d.Route().Screen; row.screen != "" && got != row.screen {
				t.Errorf("scanned %q: on %q, want %q; said %q", row.typed, got, row.screen, b.d.Said())
			}
			if row.said != "" && !strings.Contains(b.d.Said(), row.said) {
				t.Errorf("scanned %q: said %q, want %q", row.typed, b.d.Said(), row.said)
			}
			if _, drawers := b.w.Canvas().Focused().(*look.CabinetView); row.screen == routes.Places && (b.d.Card().Designation != "AN3-5A" || !drawers) {
				t.Errorf("scanned %q: card of %q, focus on %T; want AN3-5A, and the drawers", row.typed, b.d.Card().Designation, b.w.Canvas().Focused())
			}
		})
	}
}

// What a hand does with stock, by keys alone: what is said, and what lies where
// after it.
func TestStockByKeys(t *testing.T) {
	type want struct{ place, item, amount string }
	for _, row := range []struct {
		name, from string
		keys       []string
		said       string
		want       []want
	}{
		{"count", "A-12", []string{"C", `"27"`, "Enter"}, "AN3-5A", []want{{"A-12", "AN3-5A", "27 ea"}}},
		{"move all", "A-12", []string{"M", `"A-02"`, "Enter"}, "moved to A-02", []want{{"A-02", "AN3-5A", "28 ea"}, {"A-12", "AN3-5A", ""}}},
		{"move some", "A-12", []string{"M", `"A-02"`, "Tab", "Tab", `"8"`, "Enter", "Enter"}, "moved to A-02", []want{{"A-02", "AN3-5A", "8 ea"}, {"A-12", "AN3-5A", "20 ea"}}},
		{"take out", "A-12", []string{"T", `"6"`, "Enter"}, "SA-10", []want{{"A-12", "AN3-5A", "22 ea"}, {"SA-10", "AN3-5A", "6 ea"}}},
		{"send back", "A-12", []string{"M", "F7", `"3"`, "Enter", `"Bolt works"`, "Enter", `"wrong finish"`, "Enter"}, "AN3-5A: 3 ea sent back to Bolt works, wrong finish", []want{{"A-12", "AN3-5A", "25 ea"}}},
		{"put in", "A-02", []string{"P", `"an4-6a"`, "Enter", `"10"`, "Enter"}, "AN4-6A", []want{{"A-02", "AN4-6A", "10 ea"}}},
		{"move to another lot, poured", "A-02", []string{"P", `"AN3-5A"`, "Enter", `"2"`, "Enter", "M", `"A-12"`, "Enter", "P"}, "moved to A-12", []want{{"A-12", "AN3-5A", "30 ea"}}},
		{"move to another lot, apart", "A-02", []string{"P", `"AN3-5A"`, "Enter", `"2"`, "Enter", "M", `"A-12"`, "Enter", "A"}, "moved to A-12", []want{{"A-02", "AN3-5A", ""}, {"A-12", "AN3-5A", "28 ea"}}},
		{"put in all the same", "A-02", []string{"P", `"an3-8a"`, "Enter", "Enter", `"3"`, "Enter"}, "AN3-8A", []want{{"A-02", "AN3-8A", "3 ea"}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, demo.Unpacked)
			b.drawer(row.from)
			b.press(row.keys...)
			b.said(row.said)
			for _, w := range row.want {
				if got := b.amount(w.place, w.item); got != w.amount {
					t.Errorf("%s in %s: %q, want %q", w.item, w.place, got, w.amount)
				}
			}
			b.press("Ctrl+Z")
			b.said("Undone")
			if got := b.amount("A-12", "AN3-5A"); got != "28 ea" {
				t.Errorf("after undo %q lie in A-12, want 28 ea", got)
			}
			b.press("Ctrl+Y")
			b.said("Done again")
			if got := b.amount(row.want[0].place, row.want[0].item); got != row.want[0].amount {
				t.Errorf("after redo: %q, want %q", got, row.want[0].amount)
			}
		})
	}
}

// amount is how much of an item lies in a place, "" for none.
func (b *bench) amount(place, item string) string {
	b.t.Helper()
	places, err := b.Shop.Places()
	if err != nil {
		b.t.Fatal(err)
	}
	for _, p := range places {
		if p.Name != place && !strings.HasPrefix(p.Name, place+" ") {
			continue
		}
		contents, err := b.Shop.Contents(p.ID)
		if err != nil {
			b.t.Fatal(err)
		}
		for _, h := range contents {
			if h.Item == item {
				return h.Amount.String()
			}
		}
	}
	return ""
}

// After Enter the keys work that the card shows; where nothing was found, or a scanner goes
// on, it is typed again.
func TestEnterGoesToWhatWasFound(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+K", `"an3-5a"`, "Enter", "C")
	b.asks("Count AN3-5A")
	b.press("Esc", "Ctrl+K", `"xyzzy-9"`, "Enter", `"9"`)
	b.has("xyzzy-99")
}

// A count that is far from what was there is booked by a second Enter.
func TestFarCountIsAskedOnceMore(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+K", `"an3-5a"`, "Enter", "C", `"150"`, "Enter")
	b.has("28 ea here becomes 150 ea: Enter again if that is so.")
	if got := b.amount("A-12", "AN3-5A"); got != "28 ea" {
		t.Errorf("after one Enter A-12 holds %s", got)
	}
	b.press("Enter")
	b.said("150 ea")
}

// Places are made, moved, renamed and retired by keys alone.
func TestPlacesByKeys(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+4", "K", "Enter")
	b.said("Cabinet B")
	if drawers, err := b.Shop.Children(b.Place("Cabinet B").ID); err != nil || len(drawers) != 40 {
		t.Errorf("Cabinet B has %d drawers, %v; want 40", len(drawers), err)
	}
	b.press("U", "N", `"Hangar"`, "Enter")
	b.said("Hangar")
	b.drawer("Garage")
	b.press("/", "Down")
	if got := b.d.Card().Designation; got != "Cabinet A" {
		t.Fatalf("the first place of the garage is %q, want Cabinet A", got)
	}
	b.press("M", "Enter")
	b.said("moved to Hangar")
	if got := b.d.Card(); got.Place != "Hangar, Cabinet A" || len(got.Actions) != 1 {
		t.Errorf("the card of what has gone: in %q with %d actions, want Hangar, Cabinet A with a way there", got.Place, len(got.Actions))
	}
	b.press("O")
	if got := b.d.Route().About; got != b.Place("Cabinet A").ID {
		t.Errorf("the way there leads to %q", got)
	}
	b.press("Ctrl+K", `"an470ad4-7"`)
	if got := b.d.Card().Place; got != "Hangar, Cabinet A, drawer A-07" {
		t.Errorf("AN470AD4-7 is in %q, want Hangar, Cabinet A, drawer A-07", got)
	}

	tag := b.Place("A-02").Tag
	b.drawer("A-02")
	b.press("R", `"A-99"`, "Enter")
	b.said("A-99")
	b.scan(string(tag))
	if got := b.d.Card().Place; got != "Hangar, Cabinet A, drawer A-99" {
		t.Errorf("the renamed drawer's old label leads to %q", got)
	}
	b.press("X", "Enter")
	b.said("out of use")
	b.scan(string(tag))
	if got := b.d.Said(); !strings.Contains(got, "is out of use: take the label off") {
		t.Errorf("a retired tag: said %q", got)
	}
}

// What cannot be done stays in its question, and says what to do.
func TestRefusals(t *testing.T) {
	for _, row := range []struct {
		name, from string
		keys       []string
		want       string
	}{
		{"no number", "A-12", []string{"C", "Enter"}, "Type how many there are."},
		{"a word", "A-12", []string{"C", `"many"`, "Enter"}, "not an amount"},
		{"more than there are", "A-12", []string{"T", `"29"`, "Enter"}, "28"},
		{"nowhere", "A-12", []string{"M", `"nowhere at all"`, "Enter"}, "Type where it goes"},
		{"where it is already", "A-12", []string{"M", `"A-12"`, "Enter"}, "Type where it goes"},
		{"a number that does not exist", "A-02", []string{"P", `"an3-8a"`, "Enter"}, "AN3-8A does not exist"},
		{"nothing put in", "A-02", []string{"P", `"AN3-5A"`, "Enter", "Enter"}, "Type how many go in"},
		{"a name that is taken", "A-02", []string{"R", `"A-03"`, "Enter"}, "A-03"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, demo.Unpacked)
			b.drawer(row.from)
			journal := b.Journal()
			b.press(row.keys...)
			b.asks(row.want)
			if got := b.Journal(); got != journal {
				t.Errorf("the journal has %d entries, want %d", got, journal)
			}
			b.press("Esc", "Esc")
			if b.w.Canvas().Overlays().Top() != nil {
				t.Error("Esc does not close the question")
			}
		})
	}
}

// A second Enter before the shop has answered takes nothing out twice.
func TestImpatientEnter(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.drawer("A-12")
	b.press("T", `"6"`)
	b.one("Enter")
	b.one("Enter")
	b.Elapse()
	b.said("SA-10")
	if got := b.amount("A-12", "AN3-5A"); got != "22 ea" {
		t.Errorf("%q are left, want 22 ea", got)
	}
}

// A hand scanner that names where something goes presses Enter before the shop can
// have answered what was typed.
func TestScannedDestination(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.drawer("A-12")
	b.press("M")
	b.write(string(b.Place("A-04").Tag))
	b.one("Enter")
	b.Elapse()
	b.said("moved to A-04")
	if got := b.amount("A-04", "AN3-5A"); got != "28 ea" {
		t.Errorf("%q lie in A-04, want 28 ea", got)
	}
}

func TestHand(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("F9")
	b.asks("Whose hand is this?")
	b.press("Down", "Enter")
	if got := b.Shop.Hand(); got != "Partner" {
		t.Errorf("the hand is %q, want Partner", got)
	}
	b.press("F9", "Tab", `"Aunt May"`, "Enter")
	settings, err := b.Shop.Settings()
	if err != nil || b.Shop.Hand() != "Aunt May" || settings.Hands[len(settings.Hands)-1] != "Aunt May" {
		t.Errorf("the hand is %q of %v, %v; want Aunt May, kept for the next time", b.Shop.Hand(), settings.Hands, err)
	}
	b.drawer("A-12")
	b.press("C", `"28"`, "Enter")
	if got := b.d.Card().Known; !strings.Contains(got, "by Aunt May") {
		t.Errorf("the count is %q, want by Aunt May", got)
	}
}

// An empty shop says on every screen what to do first, with one action that does it.
func TestFirstRun(t *testing.T) {
	for _, row := range []struct {
		screen, says, key string
		to                string // the screen that the action leads to, or what it asks
	}{
		{"3", "Nothing is in the shop yet", "I", routes.Unpack},
		{"4", "Where do things go?", "N", "New place"},
		{"5", "Nothing to label yet", "P", routes.Places},
	} {
		t.Run(row.says, func(t *testing.T) {
			b := sitAt(t, sessiontest.Empty(t))
			b.press("Ctrl+" + row.screen)
			if got := b.texts(); !strings.Contains(got, row.says) {
				t.Errorf("the window says:\n%s\nwant %q", got, row.says)
			}
			if b.d.Card().Designation != "" {
				t.Errorf("a card of %q is shown", b.d.Card().Designation)
			}
			b.press(row.key)
			if b.d.Route().Screen != row.to {
				b.asks(row.to)
			}
		})
	}
}

// A late answer does not bring the window back to what it was about.
func TestLateAnswers(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+3")
	before := b.d.Page().(interface{ Query(text string) bool })
	b.press("Ctrl+5")
	before.Query("an3-5a")
	b.Elapse()
	if got := b.d.Card(); !got.Empty() || b.d.Route().Screen != routes.Labels {
		t.Errorf("on %s the card of %q is shown", b.d.Route().Screen, got.Designation)
	}
	b.d.Go(routes.Route{Screen: routes.Places})
	b.Drain()
	b.one("K")
	b.d.Go(routes.Route{Screen: routes.Find})
	b.Elapse()
	if top := b.w.Canvas().Overlays().Top(); top != nil {
		t.Error("the question of the page before opens")
	}
}

// Nothing that a person does reads or writes the shop on the window's goroutine:
// with the file closed behind it, the window notices only when the background does.
func TestShopIsReadInTheBackground(t *testing.T) {
	tag := string(sit(t, demo.Furnished).Place("A-12").Tag)
	for _, row := range []struct {
		name  string
		reach []string // before the file is closed
		keys  []string
	}{
		{"typing", nil, []string{"Ctrl+K", `"an3-5"`}},
		{"screens", nil, []string{"Ctrl+2", "Ctrl+3", "Ctrl+4", "Ctrl+5"}},
		{"hand", nil, []string{"F9"}},
		{"undo", nil, []string{"Ctrl+Z"}},
		{"redo", nil, []string{"Ctrl+Y"}},
		{"count", []string{"A-12", "C", `"27"`}, []string{"Enter"}},
		{"where to", []string{"A-12", "M"}, []string{`"a-1"`}},
		{"move", []string{"A-12", "M", `"a-1"`}, []string{"Enter"}},
		{"what for", []string{"A-12"}, []string{"T"}},
		{"take out", []string{"A-12", "T", `"3"`}, []string{"Enter"}},
		{"put in", []string{"A-02", "P", `"AN3-5A"`, "Enter", `"3"`}, []string{"Enter"}},
		{"new cabinet", []string{"Garage"}, []string{"K"}},
		{"make a cabinet", []string{"Garage", "K"}, []string{"Enter"}},
		{"new place", []string{"Garage", "N", `"R2"`}, []string{"Enter"}},
		{"move a cabinet", []string{"Garage", "/", "Down"}, []string{"M"}},
		{"rename", []string{"A-02", "R"}, []string{"Enter"}},
		{"retire", []string{"A-02", "X"}, []string{"Enter"}},
		{"drawers", []string{"A-02", "/", "Down"}, []string{"Right"}},
		{"a tag", []string{"A-02", "Ctrl+K"}, []string{`"` + tag + `"`, "Enter"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, demo.Unpacked)
			if len(row.reach) > 0 {
				b.drawer(row.reach[0])
				b.press(row.reach[1:]...)
			}
			if err := b.Shop.Close(); err != nil {
				t.Fatal(err)
			}
			for _, key := range row.keys {
				b.one(key)
			}
			if b.Waiting() == 0 {
				t.Error("nothing waits in the background")
			}
			if b.complains() {
				t.Errorf("the window knows already that the file is closed:\n%s", b.texts())
			}
			b.Elapse()
			if !b.complains() {
				t.Errorf("nobody says that the file is closed:\n%s", b.texts())
			}
		})
	}
}

// complains reports whether the window says that something went wrong.
func (b *bench) complains() bool {
	text := strings.ToLower(b.texts() + b.d.Said())
	return strings.Contains(text, "file is closed") || strings.Contains(text, "could not be")
}
