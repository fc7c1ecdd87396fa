package unpack

import (
	"fmt"
	"slices"

	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/store"
)

// Key does what a key is for and reports whether it is one of this screen's. Keys
// are named as on a KeyButton: "A", "Enter", "Down". While the store works none is: the window
// keeps what is typed meanwhile.
func (m *Model) Key(key string) bool {
	if !m.knows(key) {
		return false
	}
	if m.working.Busy() {
		return true
	}
	if m.prompt != nil {
		m.promptKey(key)
		return true
	}
	switch key {
	case "Up":
		m.step(-1)
	case "Down":
		m.step(1)
	case "Left":
		m.ChooseBag(m.state.Bag - 1)
	case "Right":
		m.ChooseBag(m.state.Bag + 1)
	case "Enter":
		m.stow()
	case "E":
		m.elsewhere()
	case "T":
		m.nextToStow()
	case "O":
		m.about = m.data.next
		m.Load()
	case "G":
		m.goOn()
	default:
		m.find(key)
	}
	return true
}

// knows reports whether a key is one of this screen's now.
func (m *Model) knows(key string) bool {
	switch {
	case m.prompt != nil:
		return len(key) == 1 || slices.Contains([]string{"Enter", "Esc", "Up", "Down"}, key)
	case m.data.ship.ID == "":
		return false
	case m.state.Nothing != "":
		return key == "O" && m.data.next != ""
	}
	if now, named := m.able()[key]; named {
		return now
	}
	return slices.Contains([]string{"Up", "Down", "Left", "Right"}, key) || findings()[key] != nil || digit(key)
}

// able are the keys that do something at times only, and whether they do now.
func (m *Model) able() map[string]bool {
	stow := m.state.Side.Stow != nil
	return map[string]bool{"Enter": stow, "E": stow, "T": m.data.waitingToStow() > 0, "G": m.course.then != "", "O": m.data.next != ""}
}

func digit(key string) bool { return len(key) == 1 && key >= "0" && key <= "9" }

// Part is the part of the screen that a key leads to, and whether it leads to one.
func (m *Model) Part(key string) (to routes.Route, ok bool) {
	to = routes.Route{Screen: routes.Unpack, About: m.data.ship.ID}
	switch {
	case m.prompt != nil || m.state.Loading:
		return to, false
	case key == "I":
		return routes.Route{Screen: routes.Unpack, Part: ListPart}, true
	case key == "P" && m.photographed() != nil && m.state.Nothing == "":
		return routes.Route{Screen: routes.Photos, About: photos.About(store.OfLine(m.data.ship.ID, m.photographed().ID))}, true
	case key == "F3" && m.state.Side.Crate != "":
		return routes.Route{Screen: routes.Photos, About: photos.About(store.OfPlace(m.data.placeOf(scope{crate: m.scope.crate})))}, true
	case key == "R" && len(m.data.notCome()) > 0:
		to.Part = ArrivalPart
	case key == "C" && m.state.Nothing == "":
		to.Part = ClaimPart
	case key == "K" && m.data.line(m.current) != nil:
		to.Part, to.About = SheetPart, m.data.placeOf(scope{crate: m.data.line(m.current).Crate})
	}
	return to, to.Part != ""
}

// findings are what the keys of a line do with it.
func findings() map[string]func(m *Model, l store.Line) {
	return map[string]func(*Model, store.Line){
		"A": (*Model).allHere, "D": (*Model).damaged, "W": (*Model).wrong, "X": (*Model).split, "L": (*Model).look,
		"B": (*Model).wholeBag, "F": (*Model).inside, "U": (*Model).unlistedFind, "H": (*Model).lookIn,
		"Y": (*Model).never,
		"N": func(m *Model, l store.Line) { m.receive(l, operation.Receive{Found: "0"}) },
		"S": func(m *Model, l store.Line) { m.someHere(l, "") },
	}
}

// Hasty is what is said of a key that would record something of the line in hand at once, when
// it is the first one on the page: it may have been meant for the page before. Nil for any
// other key.
func (m *Model) Hasty(key string) *notice.Notice {
	what := map[string]string{"A": "all of it is here", "N": "nothing of it came", "B": "all of its bag is here"}[key]
	l := m.data.line(m.current)
	if what == "" || l == nil || m.prompt != nil || !m.knows(key) {
		return nil
	}
	return &notice.Notice{
		Tone: notice.Warn, Lead: "Nothing is recorded yet.",
		Text: fmt.Sprintf("%s says of line %d, %s, that %s: press it again.", key, l.Number(), l.Designation, what),
	}
}

// find starts the finding that a key stands for.
func (m *Model) find(key string) {
	l := m.data.line(m.current)
	if l == nil {
		return
	}
	refused := ""
	switch {
	case key == "H": // of a line that has not come, too
	case !m.data.receivable(*l):
		refused = crateWords(l.Crate) + " has not come: enter its day of arrival first."
	case key != "L" && key != "U" && key != "F" && key != "Y":
		refused = m.course.refuseFinding()
	}
	if refused != "" {
		m.state.Error = refused
		m.render()
		return
	}
	if do := findings()[key]; do != nil {
		do(m, *l)
		return
	}
	m.someHere(*l, key) // a digit, which begins a count
}
