package building

import (
	"fmt"
	"strings"

	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store/build"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// tileOf is a sub-assembly as a tile.
func tileOf(s build.Status, squares []drawing.Square, taken bool) drawing.Tile {
	t := drawing.Tile{ID: s.Code, Code: s.Code, Name: s.Name, Mark: markOf(s), Squares: squares, Taken: taken}
	var corner []string
	if taken {
		corner = append(corner, "in the walk")
	}
	if s.Begun && s.State == build.Blocked {
		corner = append(corner, "begun")
	}
	if s.Hours > 0 {
		corner = append(corner, s.Hours.String())
	}
	t.Corner = strings.Join(corner, " · ")
	return t
}

// squaresOf are the needs of a sub-assembly as squares.
func squaresOf(s build.Status) []drawing.Square {
	squares := make([]drawing.Square, len(s.Needs))
	for i, n := range s.Needs {
		squares[i] = squareOf(blockerOf(s, n))
	}
	return squares
}

// squareOf is a need as a square, by what stops it; nil for nothing.
func squareOf(b *build.Blocker) drawing.Square {
	switch {
	case b == nil:
		return drawing.InHand
	case b.CannotTell:
		return drawing.Estimated
	}
	for _, r := range b.Reasons {
		switch r.Kind {
		case build.Due, build.Owing, build.InCrate, build.UncheckedLine:
			return drawing.Awaited
		}
	}
	return drawing.Missing
}

// markOf is how a sub-assembly stands, in a word or two.
func markOf(s build.Status) notice.Mark {
	switch s.State {
	case build.Closed:
		return notice.Mark{Word: "closed"}
	case build.Unlisted:
		return notice.Mark{Word: "nothing listed"}
	case build.Ready:
		return notice.Mark{Word: "ready", Tone: notice.OK}
	case build.Begun:
		return notice.Mark{Word: "begun", Tone: notice.OK}
	case build.Estimate:
		return notice.Mark{Word: toTell(s), Tone: notice.Warn}
	}
	word, others := "", -1
	for _, b := range s.Blockers {
		if b.CannotTell {
			continue
		}
		if others++; word == "" {
			word = stopWord(b)
		}
	}
	if others > 0 {
		word += fmt.Sprintf(", +%d", others)
	}
	return notice.Mark{Word: word, Tone: notice.Stop}
}

// longestMark is how many characters a tile has room for.
const longestMark = 17

// toTell is what tells whether a sub-assembly can be started: "weigh A-03 and A-21".
func toTell(s build.Status) string {
	words := strings.TrimPrefix(s.Sentence, "cannot tell: ")
	verb, where, _ := strings.Cut(words, " ")
	if len(words) <= longestMark {
		return words
	}
	places := 1 + strings.Count(where, ", ") + strings.Count(where, " and ")
	return fmt.Sprintf("%s %s", verb, wording.Plural(places, "place", "places"))
}

// stopWord is what stops a sub-assembly, in a word or two.
func stopWord(b *build.Blocker) string {
	for _, r := range b.Reasons {
		switch r.Kind {
		case build.InCrate:
			return phrase.Crate(r.Crate) + " unopened"
		case build.UncheckedLine:
			return fmt.Sprintf("line %d to check", r.Line)
		case build.Reserved, build.InTray:
			return short(b)
		case build.OriginAsked:
			return b.Item + ": decide"
		case build.NotGood:
			return b.Item + " set apart"
		case build.Expired:
			return b.Item + " expired"
		case build.Due, build.Owing:
			if r.By == build.NotCome {
				return phrase.Crate(r.Crate) + " not here"
			}
			return b.Item + " owed"
		}
	}
	return short(b)
}

// short is "AN3-5A: 6 short".
func short(b *build.Blocker) string {
	return fmt.Sprintf("%s: %s short", b.Item, measure.Quantity{Micro: b.Need.Micro - b.Free.Low.Micro, Unit: b.Need.Unit}.Number())
}

// stateOf is how a need stands, with where it is.
func stateOf(n build.Need, b *build.Blocker, places []string) notice.Mark {
	switch {
	case b != nil && b.CannotTell:
		return notice.Mark{Word: b.Reasons[0].Sentence, Tone: notice.Warn}
	case b != nil:
		return notice.Mark{Word: whereTheRestIs(b), Tone: notice.Stop}
	case n.Kind == build.AsRequired && n.Open.Sign() == 0:
		return notice.Mark{Word: "as required", Tone: notice.Quiet}
	case n.Open.Sign() == 0 && n.Pulled.Sign() == 0:
		return notice.Mark{Word: "fitted", Tone: notice.OK}
	case n.Open.Sign() == 0:
		return notice.Mark{Word: "in the tray", Tone: notice.OK}
	}
	return notice.Mark{Word: "in " + listed(places), Tone: notice.OK}
}

// whereTheRestIs is "28 here: 6 for SA-10, 20 for SA-21", or why nothing is here.
func whereTheRestIs(b *build.Blocker) string {
	var held, others []string
	for _, r := range b.Reasons {
		if r.Kind == build.Reserved {
			held = append(held, r.Sentence)
		} else {
			others = append(others, r.Sentence)
		}
	}
	words := ""
	if len(held) > 0 {
		words = b.Here.Figure() + " here: " + strings.Join(held, ", ")
	}
	if len(others) > 0 && words != "" {
		words += "; "
	}
	return words + strings.Join(others, "; ")
}

func neededWords(n build.Need) string {
	if n.Kind == build.AsRequired && n.Needed.IsZero() {
		return "A/R"
	}
	return n.Needed.Number()
}

// doneWords is what of a need is pulled or fitted already: "6 in tray".
func doneWords(n build.Need) string {
	var words []string
	if n.Pulled.Sign() > 0 {
		words = append(words, n.Pulled.Figure()+" in tray")
	}
	if n.Fitted.Sign() > 0 {
		words = append(words, n.Fitted.Figure()+" fitted")
	}
	if len(words) == 0 {
		return wording.ShortUnit(n.Needed.Unit)
	}
	return strings.Join(words, ", ")
}

func freeWords(n build.Need) string { return n.Free.Figure() }

// listed is "A-03", "A-03 and A-21" or "A-03, A-12 and A-21".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// noteOf says how many there are, and how many of them can be started.
func noteOf(s standing) string {
	words := fmt.Sprintf("%s in your order; ", wording.Plural(len(s.statuses), "sub-assembly", "sub-assemblies"))
	switch {
	case s.of == 0:
		return words + "all are closed"
	case s.ready == 0:
		return words + "none can be started yet"
	}
	return words + fmt.Sprintf("%d can be started", s.ready)
}

// hoursOf are the planned hours by how they stand: that can be worked, that counting may
// free, and all of those that are not closed.
func hoursOf(all []build.Status) (now, perhaps, of build.Hours) {
	for _, s := range all {
		switch {
		case s.State == build.Closed:
			continue
		case s.State.Startable():
			now += s.Hours
		case s.State == build.Estimate:
			perhaps += s.Hours
		}
		of += s.Hours
	}
	return now, perhaps, of
}

// freed is what an action would free, in words: "SA-10 can start, 20 h of work; costs SA-21, 8 h".
func freed(u build.Unblock) string {
	words := listed(u.Frees) + " can start"
	if u.Hours > 0 {
		words += ", " + u.Hours.String() + " of work"
	}
	if len(u.Costs) > 0 {
		words += "; then " + listed(u.Costs) + " cannot"
		if u.Lost > 0 {
			words += ", " + u.Lost.String()
		}
	}
	return words
}

// changed says what differs between how things stood and how they stand: what can be
// started now, and what cannot any more. It is empty for nothing.
func changed(was, is []build.Status) string {
	before := map[string]bool{}
	for _, s := range was {
		before[s.Code] = s.State.Startable()
	}
	var can, cannot []string
	for _, s := range is {
		now, known := s.State.Startable(), false
		if _, known = before[s.Code]; !known || now == before[s.Code] {
			continue
		}
		if now {
			can = append(can, s.Code)
		} else {
			cannot = append(cannot, s.Code)
		}
	}
	var words []string
	if len(can) > 0 {
		words = append(words, listed(can)+" can start now")
	}
	if len(cannot) > 0 {
		words = append(words, listed(cannot)+" cannot start any more")
	}
	return strings.Join(words, "; ")
}
