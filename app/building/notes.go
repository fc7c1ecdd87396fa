package building

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stowright/app/operation"
	"stowright/store"
)

// notes are what is written down at the bench of the work itself.
func notes() []act {
	return []act{
		jointAct(),
		{"torque", "Torque", "T", false, torqueQuestion, torqueNote},
		{"look", "Somebody else looked", "E", true, func(m *BenchModel, _ benchLine) ask {
			return ask{Title: "Who else looked at " + m.code + "?", Hint: "The name; what was seen goes after a comma.", Yes: "Note it"}
		}, func(m *BenchModel, _ benchLine, text, _ string) (operation.Operation, error) {
			who, seen := cutAtComma(text)
			return operation.Note{For: m.code, Kind: string(store.LookNote), Second: who, Text: seen}, nil
		}},
		{"hours", "Hours worked", "N", true, func(m *BenchModel, _ benchLine) ask {
			return ask{Title: "How many hours were worked on " + m.code + "?", Hint: "Today, to the tenth of an hour, as in 3.5.", Yes: "Note it"}
		}, func(m *BenchModel, _ benchLine, text, _ string) (operation.Operation, error) {
			if strings.TrimSpace(text) == "" {
				return nil, refused("type how many hours, as in 3.5")
			}
			return operation.Note{For: m.code, Kind: string(store.HoursNote), Hours: text}, nil
		}},
	}
}

// torqueQuestion asks for a torque. Where several lines of the list call the item, the
// answer says of which it is.
func torqueQuestion(_ *BenchModel, l benchLine) ask {
	q := ask{Title: "What torque have " + l.item + "?", Hint: "As read, with its unit; the wrench goes after a comma: 25 in-lb, wrench 2.", Yes: "Note it"}
	if len(l.requirements) > 1 {
		q.Hint = fmt.Sprintf("First the line, %s: %s 25 in-lb, wrench 2.", strings.Join(l.requirements, " or "), l.requirements[0])
	}
	return q
}

// aValue is a figure with its unit behind it.
var aValue = regexp.MustCompile(`[0-9].*\pL`)

// torqueNote is the note of a torque of a line.
func torqueNote(m *BenchModel, l benchLine, text, _ string) (operation.Operation, error) {
	text = strings.TrimSpace(text)
	if len(l.requirements) == 0 {
		return nil, refused("no line of the list calls %s: note the torque of a line that does", l.item)
	}
	name := l.requirements[0]
	if len(l.requirements) > 1 {
		first, rest, _ := strings.Cut(text, " ")
		if name = strings.ToUpper(first); !slices.Contains(l.requirements, name) {
			return nil, refused("type first which line it is, %s", strings.Join(l.requirements, " or "))
		}
		text = rest
	}
	value, wrench := cutAtComma(text)
	if !aValue.MatchString(value) {
		return nil, refused("type the value with its unit, as in 25 in-lb")
	}
	return operation.Note{For: m.code, Kind: string(store.TorqueNote), Requirement: name, Text: value, Tool: wrench}, nil
}

// aComma is one that is not within a figure such as 2,8.
var aComma = regexp.MustCompile(`,([^0-9]|$)`)

// cutAtComma is what stands before and after the first comma that is not within a figure.
func cutAtComma(text string) (before, after string) {
	if at := aComma.FindStringIndex(text); at != nil {
		before, after = text[:at[0]], text[at[0]+1:]
	} else {
		before = text
	}
	return strings.TrimSpace(before), strings.TrimSpace(after)
}
