package stockdialog

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/notice"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// rig is a question about what lies in a place, and what it was told last.
type rig struct {
	*sessiontest.Bench
	m              *Model
	words, problem string
	told           int
}

func newRig(t *testing.T, place string) *rig {
	t.Helper()
	r := &rig{Bench: sessiontest.Open(t, demo.Unpacked)}
	r.m = NewModel(r.Session, r.Heap(place), func(words string, err error) {
		r.words, r.problem, r.told = words, "", r.told+1
		if err != nil {
			r.problem = err.Error()
		}
	})
	return r
}

// lies is how much of the item of the question lies in a place.
func (r *rig) lies(t *testing.T, place string) string {
	t.Helper()
	contents, err := r.Shop.Contents(r.Place(place).ID)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range contents {
		if h.Item == r.m.Heap().Item {
			return h.Amount.String()
		}
	}
	return ""
}

func TestDo(t *testing.T) {
	for _, row := range []struct {
		name   string
		do     func(r *rig)
		refuse string // "" where it is done
		here   string // what is left in A-12
		place  string
		there  string
	}{
		{"count", func(r *rig) { r.m.Count(" 27 ") }, "", "27 ea", "A-04", ""},
		{"count none", func(r *rig) { r.m.Count("0") }, "", "", "A-04", ""},
		{"count nothing typed", func(r *rig) { r.m.Count("") }, "Type how many there are.", "28 ea", "A-04", ""},
		{"count words", func(r *rig) { r.m.Count("many") }, `"many" is not an amount`, "28 ea", "A-04", ""},
		{"count half a bolt", func(r *rig) { r.m.Count("1.5") }, "1.5 is not a whole number of pieces", "28 ea", "A-04", ""},
		{"move all", func(r *rig) { r.m.Move("", r.Place("A-04").ID) }, "", "", "A-04", "28 ea"},
		{"move some", func(r *rig) { r.m.Move("8", r.Place("A-04").ID) }, "", "20 ea", "A-04", "8 ea"},
		{"move too many", func(r *rig) { r.m.Move("29", r.Place("A-04").ID) }, "28", "28 ea", "A-04", ""},
		{"move words", func(r *rig) { r.m.Move("all", r.Place("A-04").ID) }, "not an amount", "28 ea", "A-04", ""},
		{"move none", func(r *rig) { r.m.Move("0", r.Place("A-04").ID) }, `"0" moves nothing`, "28 ea", "A-04", ""},
		{"move half a bolt", func(r *rig) { r.m.Move(".5", r.Place("A-04").ID) }, "not a whole number of pieces", "28 ea", "A-04", ""},
		{"take out none", func(r *rig) { r.m.Pull("0", "SA-10") }, `"0" moves nothing`, "28 ea", "A-04", ""},
		{"take out", func(r *rig) { r.m.Pull("6", "SA-10") }, "", "22 ea", "A-04", ""},
		{"take out nothing typed", func(r *rig) { r.m.Pull("", "SA-10") }, "Type how many", "28 ea", "A-04", ""},
		{"send back", func(r *rig) { r.m.SendBack("3", "Bolt works", "wrong finish") }, "", "25 ea", "A-04", ""},
		{"send back to who sent it", func(r *rig) { r.m.SendBack("3", " ", "wrong finish") }, "", "25 ea", "A-04", ""},
		{"send back for no reason", func(r *rig) { r.m.SendBack("3", "Bolt works", "") }, "The reason", "28 ea", "A-04", ""},
		{"send back too many", func(r *rig) { r.m.SendBack("29", "Bolt works", "wrong finish") }, "29 ea cannot be taken", "28 ea", "A-04", ""},
		{"take out for nothing", func(r *rig) { r.m.Pull("6", "SA-99") }, "SA-99", "28 ea", "A-04", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, "A-12")
			journal := r.Journal()
			row.do(r)
			if r.Journal() != journal {
				t.Error("the shop has changed before the background work")
			}
			r.Drain()
			if !strings.Contains(r.problem, row.refuse) || (r.problem == "") != (row.refuse == "") || r.told != 1 {
				t.Errorf("told %d times: %q, %q; want %q", r.told, r.words, r.problem, row.refuse)
			}
			if here, there := r.lies(t, "A-12"), r.lies(t, row.place); here != row.here || there != row.there {
				t.Errorf("%q are left, %q in %s; want %q and %q", here, there, row.place, row.here, row.there)
			}
		})
	}
}

// A second Enter while the first is still being done changes nothing.
func TestSecondEnter(t *testing.T) {
	r := newRig(t, "A-12")
	r.m.Pull("6", "SA-10")
	r.m.Pull("6", "SA-10")
	r.Drain()
	if got := r.lies(t, "A-12"); got != "22 ea" || r.told != 1 {
		t.Errorf("%q are left after two Enters, told %d times; want 22 ea, once", got, r.told)
	}
}

func TestHint(t *testing.T) {
	for _, row := range []struct{ place, want string }{{"A-12", "pieces"}, {"A-08", "pounds"}, {"A-07", "ounces"}} {
		if got := newRig(t, row.place).m.Hint(); got != row.want {
			t.Errorf("amounts in %s: %q, want %q", row.place, got, row.want)
		}
	}
}

func TestOffer(t *testing.T) {
	r := newRig(t, "A-12")
	var got []Choice
	offered := 0
	show := func(c []Choice, err error) {
		if err != nil {
			t.Error(err)
		}
		got, offered = c, offered+1
	}
	for _, row := range []struct {
		name, typed string
		want        []string
	}{
		{"part of a name", "a-3", []string{"A-30", "A-31", "A-32", "A-33", "A-34"}},
		{"a whole name", "A-07", []string{"A-07"}},
		{"its own place", "A-12", nil},
		{"a tag", string(r.Place("S2").Tag), []string{"S2"}},
		{"nothing like it", "xyzzy", nil},
		{"an item only", "SEAL-B2", nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			r.m.Offer(row.typed, show)
			r.Drain()
			var names []string
			for _, c := range got {
				names = append(names, c.Name)
				if !strings.HasSuffix(c.Note, c.Name) {
					t.Errorf("%s is in %q", c.Name, c.Note)
				}
			}
			if d := cmp.Diff(row.want, names); d != "" {
				t.Errorf("typed %q (-want +got):\n%s", row.typed, d)
			}
		})
	}
	before := offered
	r.m.Offer("a-3", show)
	r.Step()
	r.m.Offer("A-07", show)
	done := 0
	r.m.WhenOffered(func() { done++ })
	if done != 0 {
		t.Error("Enter does not wait for the answer to what was typed last")
	}
	r.Drain()
	if offered != before+1 || len(got) != 1 || got[0].Name != "A-07" || done != 1 {
		t.Errorf("typed on: %d answers, the last %v, done %d times; want one of A-07, once", offered-before, got, done)
	}
	r.m.WhenOffered(func() { done++ })
	if done != 2 {
		t.Error("with the answer there Enter waits")
	}
}

// What needs the item comes first.
func TestSubAssemblies(t *testing.T) {
	got, err := newRig(t, "A-12").m.SubAssemblies()
	if err != nil || len(got) != 5 {
		t.Fatalf("%v, %v; want 5", got, err)
	}
	if d := cmp.Diff(Choice{ID: "SA-10", Name: "SA-10 Fin", Note: "needs 6 ea"}, got[0]); d != "" {
		t.Errorf("the first (-want +got):\n%s", d)
	}
	for _, c := range got[1:] {
		if c.Note != "" {
			t.Errorf("%s needs no AN3-5A, and says %q", c.Name, c.Note)
		}
	}
}

// What has all it needs comes after what still needs some, and what is closed takes nothing.
func TestSubAssembliesThatStillNeed(t *testing.T) {
	r := newRig(t, "A-12")
	bolts := store.Requirement{Called: "AN3-5A", Item: "AN3-5A", Needed: measure.Pieces(4)}
	for _, code := range []string{"SA-55", "SA-56"} {
		if _, err := r.Shop.PutSubAssembly(store.SubAssembly{Code: code, Name: "Wing"}, bolts, bolts); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := r.Shop.Pull("SA-10", store.Transfer{StockKey: r.m.Heap().StockKey, Quantity: measure.Pieces(6)}); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Shop.PutSubAssembly(store.SubAssembly{Code: "SA-57", Name: "Cowl"}); err != nil {
		t.Fatal(err)
	}
	open, _, err := r.Shop.Closing("SA-57", nil)
	if err != nil {
		t.Fatal(err)
	}
	answers := map[string]string{}
	for _, o := range open {
		answers[o.Key] = "as it is"
	}
	if _, err := r.Shop.CloseSubAssembly("SA-57", answers); err != nil {
		t.Fatal(err)
	}
	got, err := r.m.SubAssemblies()
	if err != nil {
		t.Fatal(err)
	}
	want := []Choice{
		{ID: "SA-55", Name: "SA-55 Wing", Note: "needs 8 ea"},
		{ID: "SA-56", Name: "SA-56 Wing", Note: "needs 8 ea"},
		{ID: "SA-10", Name: "SA-10 Fin", Note: "has all it needs"},
		{ID: "SA-20", Name: "SA-20 Rudder"},
		{ID: "SA-30", Name: "SA-30 Tailplane"},
		{ID: "SA-40", Name: "SA-40 Elevator"},
		{ID: "SA-50", Name: "SA-50 Tank"},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("choices (-want +got):\n%s", d)
	}
}

func TestPut(t *testing.T) {
	for _, row := range []struct {
		name, place, item, amount string
		refuse, want              string
	}{
		{"what does not exist", "A-04", "an3-8a", "3", "", "AN3-8A 3 ea"},
		{"something new", "A-04", " an4-6a ", "10", "", "AN4-6A 10 ea"},
		{"more of what is there", "A-12", "AN3-5A", "2", "", "AN3-5A 30 ea"},
		{"in its own unit", "A-08", "an470ad4-4", "0.05", "", "AN470AD4-4 0.3 lb"},
		{"what no table knows", "A-04", "Brass  knob", "3", "", "Brass knob 3 ea"},
		{"nothing", "A-04", "AN3-5A", "", "Type how many go in", ""},
		{"none", "A-04", "AN3-5A", "0", "Type how many go in", ""},
		{"half a bolt", "A-04", "AN3-5A", "0.5", "0.5 is not a whole number", ""},
		{"words", "A-04", "AN3-5A", "a few", "Type how many go in", ""},
		{"without a name", "A-04", "", "3", "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sessiontest.Open(t, demo.Unpacked)
			place := b.Place(row.place)
			var said notice.Notice
			var problem string
			var p *Putting
			asked := false // what becomes of two lots
			p = NewPutting(b.Session, place, func(n notice.Notice, err error) {
				said, problem = n, ""
				switch {
				case errors.Is(err, store.ErrLotsMeet):
					asked = true
					p.Meet(store.PourLots)
				case err != nil:
					problem = err.Error()
				}
			})
			journal := b.Journal()
			p.Put(row.item, row.amount)
			p.Put(row.item, row.amount) // a second Enter
			b.Waits(journal)
			b.Drain()
			if row.want == "" {
				if problem == "" || !strings.Contains(problem, row.refuse) || b.Journal() != journal {
					t.Errorf("put %q of %q: %q, %q; want it refused: %q", row.amount, row.item, said.Text, problem, row.refuse)
				}
				return
			}
			if met := !strings.HasPrefix(row.place, "A-04"); asked != met {
				t.Errorf("put %q of %q: asked about lots that meet: %v, want %v", row.amount, row.item, asked, met)
			}
			heap := b.Heap(row.place)
			if got := heap.Item + " " + heap.Amount.String(); got != row.want || problem != "" || b.Journal() != journal+1 {
				t.Errorf("put %q of %q: %q, %q; want %q", row.amount, row.item, got, problem, row.want)
			}
			if said.Tone != notice.OK {
				t.Errorf("put %q: said %q, %q", row.item, said.Lead, said.Text)
			}
		})
	}
}

// A number that no standard has is doubted before anything is put in, and once.
func TestPutDoubts(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	p := NewPutting(b.Session, b.Place("A-04"), func(notice.Notice, error) {})
	if got := p.Doubt("an3-8a"); !strings.Contains(got, "AN3-8A does not exist") || !strings.Contains(got, "AN3-7A and AN3-10A") || !strings.Contains(got, "Enter again") {
		t.Errorf("AN3-8A is doubted with %q", got)
	}
	if got := p.Doubt(" AN3-8A"); got != "" {
		t.Errorf("asked again: %q", got)
	}
	if got := p.Doubt("AN3-9A"); got == "" {
		t.Error("another one is not doubted")
	}
	// In the words of decode, whatever it is that the tables lack.
	for _, number := range []string{"AN999-4", "NAS1149F0999P", "AN3-5(A)"} {
		if got, want := p.Doubt(number), hardware.Standard().Decode(number).Problem; want == "" || !strings.Contains(strings.ToLower(got), strings.ToLower(want)) {
			t.Errorf("%s is doubted with %q, decode says %q", number, got, want)
		}
	}
	for designation, want := range map[string]string{"an3-5a": "Bolt, 10-32, grip 1/4", "AN3-8A": "", "brass knob": "", "": ""} {
		if got := p.What(designation); got != want {
			t.Errorf("What(%q): got %q, want %q", designation, got, want)
		}
	}
}

// A card's actions are off where there is nothing to do them with.
func TestActions(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	heap := b.Heap("A-12")
	apart := heap
	apart.Condition = store.SetApart
	on := func(actions []card.Action) (ids []string) {
		for _, a := range actions {
			if !a.Off {
				ids = append(ids, a.ID)
			}
		}
		return ids
	}
	if d := cmp.Diff([]string{PullID, MoveID, CountID, LabelID}, on(Actions(&heap))); d != "" {
		t.Errorf("a good heap (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]string{MoveID, CountID, LabelID}, on(Actions(&apart))); d != "" {
		t.Errorf("what is set apart (-want +got):\n%s", d)
	}
	if got := on(Actions(nil)); got != nil {
		t.Errorf("nothing: %v are on", got)
	}
	if got := newRig(t, "A-12").m.Unit(); got != measure.Each {
		t.Errorf("bolts are counted in %q", got)
	}
}
