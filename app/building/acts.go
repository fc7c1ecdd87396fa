package building

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/region"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// act is one thing that is done at the bench: its key, what it asks for, and the operation
// that it comes to. The chosen line is handed to it where it is about one.
type act struct {
	id, label, key string
	whole          bool // about the whole tray, and not about a line
	question       func(m *BenchModel, l benchLine) ask
	operation      func(m *BenchModel, l benchLine, text, reason string) (operation.Operation, error)
}

// ask is the question of an act.
type ask struct {
	Title, Hint string
	Text        string  // proposed
	Unit        string  // of the amount that is asked for: "pounds"; "" where none is
	Yes         string  // the button
	Plain       bool    // nothing is to be typed
	Papers      []offer // what may be named in its third part
}

// refused is what is wrong with what was typed, as a sentence: no fault of the program,
// which its log would keep.
func refused(format string, args ...any) error {
	return &store.Error{Kind: store.Invalid, Message: wording.Sentence(fmt.Sprintf(format, args...))}
}

// acts are what is done at the bench. The first four have buttons of their own.
func acts() []act {
	return append(bookings(), notes()...)
}

// Hasty is what is said of a key that would begin an act, when it is the first one on the page.
// Nil for any other key, and for a line that the act has no use for.
func (m *BenchModel) Hasty(key string) *notice.Notice {
	i := slices.IndexFunc(acts(), func(a act) bool { return a.key == key })
	if i < 0 || m.Closed() {
		return nil
	}
	a, of := acts()[i], m.code
	if line, ok := m.line(); ok && !a.whole {
		of = line.item
	}
	return &notice.Notice{Tone: notice.Warn, Lead: "Nothing is done yet.", Text: key + " is for: " + a.label + ", of " + of + ". Press it again, or choose a line first."}
}

// bookings are those that move pieces, and what goes with them.
func bookings() []act {
	inTray := func(m *BenchModel, l benchLine) operation.Heap {
		return operation.Heap{Item: l.item, From: m.data.sub.Place}
	}
	return []act{
		{"fit", "Fit the tray", "F", true, func(m *BenchModel, _ benchLine) ask {
			return ask{Title: "Fit everything in the tray of " + m.code + "?", Hint: "What is estimated stays so. What is temporary stays in the tray.", Yes: "Fit it all", Plain: true}
		}, func(m *BenchModel, _ benchLine, _, reason string) (operation.Operation, error) {
			return operation.FitTray{For: m.code, Reason: reason}, nil
		}},
		{"some", "Fit some", "S", false, func(m *BenchModel, l benchLine) ask {
			return ask{Title: "How many " + l.item + " were fitted?", Text: plainAmount(m.session, l.tray), Yes: "Fitted", Unit: wording.Units(l.needed.Unit)}
		}, func(m *BenchModel, l benchLine, text, reason string) (operation.Operation, error) {
			return operation.Fit{Heap: operation.Heap{Item: l.item}, Amount: text, For: m.code, Reason: reason}, nil
		}},
		{"home", "Put back", "H", false, func(m *BenchModel, l benchLine) ask {
			return ask{Title: "How many " + l.item + " go back to where they were?", Text: plainAmount(m.session, l.tray), Yes: "Put back", Unit: wording.Units(l.needed.Unit)}
		}, func(m *BenchModel, l benchLine, text, _ string) (operation.Operation, error) {
			return operation.PutBack{Heap: operation.Heap{Item: l.item}, Amount: text, From: m.code}, nil
		}},
		{"close", "Close up", "C", true, func(m *BenchModel, _ benchLine) ask {
			return ask{Title: "Close " + m.code + "?", Hint: closingHint(m.data.open), Yes: "Close it"}
		}, func(m *BenchModel, _ benchLine, text, _ string) (operation.Operation, error) {
			return operation.Close{For: m.code, Unnoted: text}, nil
		}},
		{"all", "Put all back", "A", true, func(m *BenchModel, _ benchLine) ask {
			return ask{Title: "Put back all that is left in the tray of " + m.code + "?", Hint: "Each goes to where it was pulled from.", Yes: "Put it back", Plain: true}
		}, func(m *BenchModel, _ benchLine, _, _ string) (operation.Operation, error) {
			return operation.PutTrayBack{From: m.code}, nil
		}},
		{"spoiled", "Spoiled", "X", false, func(_ *BenchModel, l benchLine) ask {
			return ask{Title: "How many " + l.item + " are spoiled, and how?", Hint: "As in: 19 drilled out. They leave the shop for good.", Yes: "Spoiled"}
		}, func(m *BenchModel, l benchLine, text, _ string) (operation.Operation, error) {
			number, how, _ := strings.Cut(strings.TrimSpace(text), " ")
			return operation.Scrap{Heap: inTray(m, l), Amount: number, Reason: strings.TrimSuffix("spoiled: "+strings.TrimSpace(how), ": ")}, nil
		}},
		{"lost", "Lost, or found", "L", false, lostQuestion, lostOperation},
		{"borrow", "Borrow", "B", false, func(_ *BenchModel, l benchLine) ask {
			return ask{Title: "How many " + l.item + " come out of which tray?", Hint: "The number and the code of the lender, as in: 2 SA-21. It needs them again.", Yes: "Borrow"}
		}, func(m *BenchModel, l benchLine, text, reason string) (operation.Operation, error) {
			words := strings.Fields(text)
			if len(words) != 2 {
				return nil, refused("type the number and the code of the lender, as in 2 SA-21")
			}
			return operation.Borrow{Heap: operation.Heap{Item: l.item}, Amount: words[0], From: words[1], For: m.code, Reason: reason}, nil
		}},
		{"decide", "Decision", "D", false, func(m *BenchModel, l benchLine) ask {
			q := ask{Title: "What may be used in place of " + l.item + "?", Hint: "The number, who allowed it, and by which paper, apart by commas: AN3-12, kit maker, letter of 8 April 2026. PA-3, or the path of a file, names the paper itself.", Yes: "Record it", Papers: m.data.papers}
			if len(q.Papers) > 0 {
				q.Hint += " Those that were named before are listed from the second comma on."
			}
			return q
		}, decision},
		{"remove", "Remove", "R", false, func(m *BenchModel, l benchLine) ask {
			return ask{Title: "How many " + l.item + " came out of the aircraft?", Hint: "They are looked at before they are used again; what is used once is scrapped.", Text: plainAmount(m.session, l.fitted), Yes: "Removed", Unit: wording.Units(l.needed.Unit)}
		}, func(m *BenchModel, l benchLine, text, reason string) (operation.Operation, error) {
			return operation.Remove{Item: l.item, Amount: text, From: m.code, Reason: reason}, nil
		}},
	}
}

// reopen has a closed sub-assembly be worked on again.
func reopen(code, reason string) operation.Operation {
	return operation.Reopen{For: code, Reason: reason}
}

// plainAmount is an amount as it is typed, empty for nothing and for an estimate: all of
// it goes then, its range included.
func plainAmount(s *session.Session, a store.Amount) string {
	if a.IsZero() || a.Estimate() {
		return ""
	}
	return s.Typed(a.Quantity)
}

// closingHint is what is open, and what an answer is for.
func closingHint(open []build.Open) string {
	var words []string
	for _, o := range open {
		words = append(words, o.Sentence)
	}
	if len(words) == 0 {
		return "Nothing is open. It changes only after it was reopened."
	}
	return wording.Sentence(strings.Join(words, "; ")) + " What nobody noted goes with a reason, which is kept: type it. The rest has to be done first."
}

// lostQuestion asks how many are lost, or, where some are looked for, how many were found.
func lostQuestion(m *BenchModel, l benchLine) ask {
	if l.lost.Sign() > 0 {
		return ask{Title: "How many " + l.item + " were found?", Hint: "They go to where they were pulled from.", Text: m.session.Typed(l.lost), Yes: "Found", Unit: wording.Units(l.needed.Unit)}
	}
	return ask{Title: "How many " + l.item + " are lost?", Hint: "They are looked for: the sub-assembly is not closed before they are found.", Text: "1", Yes: "Lost", Unit: wording.Units(l.needed.Unit)}
}

func lostOperation(m *BenchModel, l benchLine, text, _ string) (operation.Operation, error) {
	if l.lost.Sign() > 0 {
		return operation.Found{Name: l.item, From: m.code, Amount: text}, nil
	}
	return operation.Scrap{Heap: operation.Heap{Item: l.item, From: m.data.sub.Place}, Amount: text, Reason: "lost"}, nil
}

// decision records that another item may be used.
func decision(m *BenchModel, l benchLine, text, _ string) (operation.Operation, error) {
	parts := strings.SplitN(text, ",", paperField)
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	if len(parts) < paperField || parts[0] == "" || parts[1] == "" || parts[2] == "" {
		return nil, refused("type the number, who allowed it and by which paper, apart by commas")
	}
	d := store.Decision{Kind: store.OtherItem, Item: parts[0], Who: parts[1], Paper: parts[2], Day: m.session.Shop.Today()}
	called := l.called
	if called == "" {
		called = l.item
	}
	o := operation.Decide{Decision: d, For: m.code, Called: called}
	if operation.IsPaperName(d.Paper) || filepath.IsAbs(d.Paper) {
		o.Decision.Paper, o.Document = "", d.Paper
	}
	return o, nil
}

// WeighTray holds the tray against its weight: gross, tare and the step of the scale, as
// in "26.0 24.3 0.1 g".
func (m *BenchModel) WeighTray(text string, back func(words string, err error)) {
	words := strings.Fields(text)
	if len(words) < 3 || len(words) > 4 {
		back("", refused("type the weight with the tray, the empty tray and the step of the scale, as in 26.0 24.3 0.1 g"))
		return
	}
	unit := measure.Gram
	if len(words) == 4 {
		u, err := measure.ParseUnit(words[3])
		if err != nil || !u.IsWeight() {
			back("", refused("%q is no unit of weight: write g, oz or lb", words[3]))
			return
		}
		unit = u
	}
	var q [3]measure.Quantity
	for i := range q {
		var err error
		if q[i], err = m.session.ParseAmount(words[i], unit); errors.Is(err, region.ErrTwoReadings) {
			back("", err)
			return
		}
		if err != nil {
			back("", refused("%q is no weight: type it as the scale shows it", words[i]))
			return
		}
	}
	code := m.code
	session.Do(m.session, func() (string, error) {
		return session.Answer(m.session, func(r *session.Reader) (string, error) { return auditOf(r, code, q) })
	}, back)
}

// auditOf holds what should be in a tray against a weighing.
func auditOf(r *session.Reader, code string, q [3]measure.Quantity) (string, error) {
	d, err := readBench(r, code)
	if err != nil {
		return "", err
	}
	var content []build.TrayContent
	for _, l := range d.lines {
		if l.tray.IsZero() {
			continue
		}
		if l.tray.Unit != measure.Each || l.tray.Estimate() {
			return "", refused("cannot tell: count %s first", l.item)
		}
		content = append(content, build.TrayContent{Item: l.item, Pieces: l.tray.Micro / 1_000_000, Sample: d.items[l.item].Sample})
	}
	if len(content) == 0 {
		return "", refused("nothing should lie in the tray of %s: pull what it needs first", code)
	}
	audit, err := build.WeighTray(content, q[0], q[1], q[2])
	return audit.Sentence, err
}
