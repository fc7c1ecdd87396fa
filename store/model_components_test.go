package store

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stowright/store/build"
	"stowright/store/disk"
)

// hangar is a shop with two aircraft whose components come and go, beside what a person with
// a note-book would have of it.
type hangar struct {
	*Shop
	day    int      // since its beginning
	head   disk.End // the newest entry at the last look
	notes  notebook
	before []notebook // by entry, what Undo goes back to
}

// notebook is what somebody wrote down.
type notebook struct {
	hours map[string]build.Hours // of aircraft
	parts []part                 // by number
	dues  []duty                 // by number
}

// part is a component: how long it ran in stretches that ended, and where it is on since which
// hours.
type part struct {
	ran, onAt, lastOn build.Hours
	on                string // aircraft; "" for none
	corrected         bool   // since it came off last
}

// duty is what is due of a part every so many hours since new.
type duty struct {
	part  int
	at    build.Hours
	ended bool
}

func (n notebook) clone() notebook {
	return notebook{maps.Clone(n.hours), slices.Clone(n.parts), slices.Clone(n.dues)}
}

// total is how long a part ran by now.
func (n notebook) total(i int) build.Hours {
	p := n.parts[i]
	if p.on != "" {
		return p.ran + n.hours[p.on] - p.onAt
	}
	return p.ran
}

const (
	hangarParts = 3
	dutyEvery   = build.Hours(500)
)

// sinceNew is what a part had when it came.
func sinceNew(i int) build.Hours { return build.Hours(100 * i) }

func newHangar(t *rapid.T, file string) *hangar {
	h := &hangar{notes: notebook{hours: map[string]build.Hours{"Q": 10, "T": 4000}}}
	shop, err := Open(file, Options{Create: true, Random: rand.NewChaCha8([32]byte{4}), Clock: func() time.Time {
		return time.Date(2026, 3, 18+h.day, 9, 0, 0, 0, time.UTC)
	}})
	if err != nil {
		t.Fatal(err)
	}
	shop.file.SetUnsynced(true)
	h.Shop = shop
	for _, name := range []string{"Q", "T"} {
		_, err := shop.PutAircraft(Aircraft{Name: name})
		if err == nil {
			_, err = shop.LogHours(name, shop.Today(), h.notes.hours[name])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for i := range hangarParts {
		had := sinceNew(i)
		if _, _, err := shop.PutComponent(Component{Item: "OQ-PROP", Serial: fmt.Sprintf("000%d", i), SinceNew: &had, Known: "log"}); err != nil {
			t.Fatal(err)
		}
		h.notes.parts = append(h.notes.parts, part{})
	}
	return h
}

// did notes what an entry changed; it fails where the entry was made or refused against what
// is written.
func (h *hangar) did(t *rapid.T, err error, may bool, change func(n *notebook)) {
	if (err == nil) != may {
		t.Fatalf("done: %v, and by the note-book it may be done: %v", err, may)
	}
	if err == nil {
		h.before = append(h.before, h.notes.clone())
		change(&h.notes)
	}
}

func (h *hangar) steps() map[string]func(*rapid.T) {
	name := func(i int) string { return numberName(componentLetters, uint64(i+1)) }
	aircraft := func(t *rapid.T) string { return rapid.SampledFrom([]string{"Q", "T"}).Draw(t, "aircraft") }
	which := func(t *rapid.T) int { return rapid.IntRange(0, hangarParts-1).Draw(t, "part") }
	off := func(t *rapid.T, i int) {
		was := h.notes.parts[i]
		_, err := h.DismountComponent(name(i), Mounting{})
		h.did(t, err, was.on != "", func(n *notebook) {
			n.parts[i] = part{ran: n.total(i), lastOn: n.hours[was.on] - was.onAt}
		})
	}
	on := func(t *rapid.T, i int, to string) {
		_, err := h.MountComponent(name(i), Mounting{Aircraft: to, Position: "Nose"})
		h.did(t, err, h.notes.parts[i].on == "", func(n *notebook) {
			n.parts[i].on, n.parts[i].onAt, n.parts[i].corrected = to, n.hours[to], false
		})
	}
	return map[string]func(*rapid.T){
		"": h.look,
		"fly": func(t *rapid.T) {
			h.day++
			a, more := aircraft(t), build.Hours(rapid.IntRange(0, 300).Draw(t, "tenths"))
			_, err := h.LogHours(a, h.Today(), h.notes.hours[a]+more)
			h.did(t, err, true, func(n *notebook) { n.hours[a] += more })
		},
		"install": func(t *rapid.T) { on(t, which(t), aircraft(t)) },
		"remove":  func(t *rapid.T) { off(t, which(t)) },
		"transfer": func(t *rapid.T) {
			i := which(t)
			if p := h.notes.parts[i]; p.on != "" {
				off(t, i)
				on(t, i, map[string]string{"Q": "T", "T": "Q"}[p.on])
			}
		},
		"correct": func(t *rapid.T) { // that it came off a tenth of an hour earlier than was read
			i := which(t)
			p := h.notes.parts[i]
			if p.on != "" || p.corrected || p.lastOn == 0 {
				return
			}
			components, err := h.Components()
			if err != nil {
				t.Fatal(err)
			}
			stretches := components[i].Stretches
			earlier := stretches[len(stretches)-1].Off.Hours - 1
			_, err = h.CorrectComponent(name(i), len(stretches), nil, &earlier)
			h.did(t, err, true, func(n *notebook) {
				n.parts[i].ran, n.parts[i].corrected = n.parts[i].ran-1, true
			})
		},
		"due":  h.due,
		"done": h.done,
		"undo": func(t *rapid.T) {
			if len(h.before) == 0 {
				return // what it began with stays
			}
			if _, err := h.Undo(); err != nil {
				t.Fatal(err)
			}
			h.notes, h.before = h.before[len(h.before)-1], h.before[:len(h.before)-1]
		},
	}
}

// due records something that is due of a part.
func (h *hangar) due(t *rapid.T) {
	i := rapid.IntRange(0, hangarParts-1).Draw(t, "part")
	at := build.Hours(rapid.IntRange(0, 9000).Draw(t, "at"))
	_, _, err := h.PutDue(Due{What: "Overhaul", Component: numberName(componentLetters, uint64(i+1)), Rule: "every 50 h", Every: dutyEvery, At: &at})
	h.did(t, err, true, func(n *notebook) { n.dues = append(n.dues, duty{part: i, at: at}) })
}

// done enters that something was done, or ends it. One that Undo took back is as none.
func (h *hangar) done(t *rapid.T) {
	dues, err := h.Dues()
	if err != nil {
		t.Fatal(err)
	}
	if len(dues) == 0 {
		return
	}
	i := rapid.IntRange(0, len(dues)-1).Draw(t, "due")
	d := h.notes.dues[i]
	if rapid.IntRange(0, 4).Draw(t, "end") == 0 {
		_, err = h.EndDue(dues[i].Name(), "a new part")
		h.did(t, err, !d.ended, func(n *notebook) { n.dues[i].ended = true })
		return
	}
	hours := sinceNew(d.part) + h.notes.total(d.part)
	_, err = h.EnterDue(dues[i].Name(), DueDone{By: "Partner", Hours: &hours})
	h.did(t, err, !d.ended, func(n *notebook) { n.dues[i].at = hours + dutyEvery })
}

// look holds what the shop says against the note-book.
func (h *hangar) look(t *rapid.T) {
	h.head = chained(t, h.Shop, h.head)
	times, err := h.Times()
	if err != nil {
		t.Fatal(err)
	}
	for name, hours := range h.notes.hours {
		if got := times.Aircraft(name); got == nil || *got != hours {
			t.Fatalf("%s has %v, want %s", name, got, hours)
		}
	}
	components, err := h.Components()
	if err != nil || len(components) != len(h.notes.parts) {
		t.Fatalf("%d components, %v", len(components), err)
	}
	for i, c := range components {
		if at, _ := c.On(); at.Aircraft != h.notes.parts[i].on {
			t.Fatalf("%s is on %q, want %q", c.Name(), at.Aircraft, h.notes.parts[i].on)
		}
		ran, since := times.Component(c.Name())
		if want := h.notes.total(i); ran == nil || *ran != want || since == nil || *since != sinceNew(i)+want {
			t.Fatalf("%s ran %v, %v since new; want %s and %s", c.Name(), ran, since, want, sinceNew(i)+want)
		}
	}
	dues, err := h.Dues()
	if err != nil || len(dues) != len(h.notes.dues) {
		t.Fatalf("%d are due, %v; want %d", len(dues), err, len(h.notes.dues))
	}
	for i, d := range dues {
		_, at := d.Next()
		if want := h.notes.dues[i]; want.ended && at != nil || !want.ended && (at == nil || *at != want.at) {
			t.Fatalf("%s is due at %v, want %+v", d.Name(), at, want)
		}
	}
}

// Whatever is flown, goes on an aircraft, comes off it, goes to another one, is corrected, due,
// done and undone: how long each component ran, and by when something is due, is what a
// note-book says that has every step in it.
func TestComponentsKeepTheirHours(t *testing.T) {
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(rt *rapid.T) {
		n++
		h := newHangar(rt, filepath.Join(dir, fmt.Sprintf("%d.stow", n)))
		defer h.Close()
		for range 3 { // what is due is done a second time
			rt.Repeat(h.steps())
		}
		(&model{shop: h.Shop}).whole(rt)
	})
}
