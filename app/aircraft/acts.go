package aircraft

import (
	"fmt"
	"strconv"
	"strings"

	"stowright/app/operation"
	"stowright/store"
	"stowright/store/build"
)

// act is one thing that is done on a list: its key, what it asks for, and the operation
// that the answers come to. It is handed the chosen one where it is about one.
type act struct {
	id, label, key string
	form           func(d data, t thing) form
}

// form is what an act asks for.
type form struct {
	title  string
	note   string // under the fields
	yes    string // the button
	fields []field
	do     func(typed []string) operation.Operation
}

// field is one answer of a form.
type field struct {
	label string
	ghost string // seen while nothing is typed
	text  string // proposed
}

// newAct makes another one of a list: it needs no chosen one.
func newAct(part string) act {
	return map[string]act{
		AircraftPart:  {"new", "New aircraft", "N", func(data, thing) form { return craftForm(nil) }},
		ComponentPart: {"new", "New component", "N", func(data, thing) form { return componentForm(nil) }},
		DuePart:       {"new", "New due date", "N", func(d data, _ thing) form { return dueForm(nil, d.first) }},
		PositionPart:  {"new", "New position", "N", func(data, thing) form { return positionForm(nil) }},
	}[part]
}

// acts are what is done with the chosen one of a list, the most usual first.
func acts(part string, t thing) []act {
	switch part {
	case ComponentPart:
		return componentActs(t)
	case DuePart:
		if t.due == nil || t.due.Ended != nil {
			return nil
		}
		return []act{
			{"done", "It was done", "D", func(_ data, t thing) form { return doneForm(*t.due) }},
			{"change", "Change it", "E", func(d data, t thing) form { return dueForm(t.due, d.first) }},
			{"end", "Due no more", "X", func(_ data, t thing) form {
				return form{
					title: t.due.What + " of " + t.due.Of(), yes: "It is due no more", note: "The reason is kept; what was entered stays.",
					fields: []field{{label: "Why is it due no more?"}},
					do:     func(typed []string) operation.Operation { return operation.EndDue{Name: t.due.Name(), Why: typed[0]} },
				}
			}},
		}
	case PositionPart:
		label := "Describe"
		if t.position != nil && !t.position.recorded {
			label = "Record it"
		}
		return []act{{"describe", label, "E", func(_ data, t thing) form { return positionForm(t.position) }}}
	}
	return []act{
		{"hours", "Total time", "H", func(_ data, t thing) form { return hoursForm(*t.aircraft) }},
		{"describe", "Describe", "E", func(_ data, t thing) form { return craftForm(t.aircraft) }},
		{"due", "Due date", "U", func(_ data, t thing) form { return dueForm(nil, t.aircraft.Name) }},
	}
}

func componentActs(t thing) []act {
	mount := act{"mount", "Put on", "M", func(d data, t thing) form { return mountForm(*t.component, d.first) }}
	if t.component != nil {
		if _, on := t.component.On(); on {
			mount = act{"dismount", "Take off", "O", func(_ data, t thing) form { return dismountForm(*t.component) }}
		}
	}
	list := []act{
		mount,
		{"due", "Due date", "U", func(_ data, t thing) form { return dueForm(nil, t.component.Name()) }},
		{"describe", "Describe", "E", func(_ data, t thing) form { return componentForm(t.component) }},
	}
	if t.component != nil && len(t.component.Stretches) > 0 {
		list = append(list, act{"correct", "Correct", "K", func(_ data, t thing) form { return correctForm(*t.component) }})
	}
	return list
}

const today = "2026-04-30; today without it"

func craftForm(a *store.Aircraft) form {
	f := form{title: "New aircraft", yes: "Record it", note: "Certificate: experimental, standard, other, or none."}
	name, certificate := field{label: "Its name", ghost: "Type Q"}, field{label: "Certificate", ghost: "none", text: operation.None}
	var who, paper field
	if a != nil {
		f.title, name.text = "Aircraft "+a.Name, a.Name
		if a.Certificate != "" {
			certificate.text = string(a.Certificate)
		}
	}
	who.label, paper.label = "Who may inspect it", "By which paper"
	who.ghost, paper.ghost = "a name, or nothing", "letter, binder 2"
	f.fields = []field{name, certificate, who, paper}
	f.do = func(typed []string) operation.Operation {
		return operation.PutAircraft{Name: typed[0], Certificate: typed[1], Inspector: typed[2], Paper: typed[3]}
	}
	return f
}

func hoursForm(a store.Aircraft) form {
	return form{
		title: "Total time of " + a.Name, yes: "Record it", note: "To the tenth of an hour, as it was read on that day. A day that has a reading is corrected.",
		fields: []field{{label: "Hours", ghost: "112.4"}, {label: "On", ghost: today}},
		do: func(typed []string) operation.Operation {
			return operation.LogHours{Aircraft: a.Name, Hours: typed[0], On: typed[1]}
		},
	}
}

func componentForm(c *store.Component) form {
	f := form{title: "New component", yes: "Record it", note: "The hours are what it had when it came; by what they are known has to be said. Unknown stays empty."}
	is, name := store.Component{}, ""
	if c != nil {
		is, name = *c, c.Name()
		f.title, f.note = c.Words(), "What is emptied stays as it is; none takes it back."
	}
	f.fields = []field{
		{"Part number", "OQ-PROP", is.Item},
		{"Serial number", "0007", is.Serial},
		{"Hours since new", "not known", typedHours(is.SinceNew)},
		{"Hours since overhaul", "not known", typedHours(is.SinceOverhaul)},
		{"Known by", "log book, page 3", is.Known},
		{"Note", "", is.Note},
	}
	f.do = func(typed []string) operation.Operation {
		return operation.PutComponent{Name: name, Item: typed[0], Serial: typed[1], SinceNew: typed[2], SinceOverhaul: typed[3], Known: typed[4], Note: typed[5]}
	}
	return f
}

func typedHours(h *build.Hours) string {
	if h == nil {
		return ""
	}
	return bare(*h)
}

// asRead is what is meant where no hours are typed.
const asRead = "as read that day or before"

func mountForm(c store.Component, first string) form {
	return form{
		title: "Put on: " + c.Words(), yes: "It is on", note: "Hours are the total time of the aircraft then.",
		fields: []field{{"Aircraft", "Type Q", first}, {"Position", "Nose / hub", ""}, {"Hours", asRead, ""}, {"On", today, ""}},
		do: func(typed []string) operation.Operation {
			return operation.Mount{Component: c.Name(), Aircraft: typed[0], Position: typed[1], Hours: typed[2], On: typed[3]}
		},
	}
}

func dismountForm(c store.Component) form {
	on, _ := c.On()
	return form{
		title: "Take off " + on.Aircraft + ": " + c.Words(), yes: "It is off", note: "Hours are the total time of the aircraft then.",
		fields: []field{{"Hours", asRead, ""}, {"On", today, ""}, {"It goes to", "a place, or nothing", ""}},
		do: func(typed []string) operation.Operation {
			return operation.Dismount{Component: c.Name(), Hours: typed[0], On: typed[1], To: typed[2]}
		},
	}
}

func correctForm(c store.Component) form {
	last := c.Stretches[len(c.Stretches)-1]
	off := ""
	if last.Off != nil {
		off = bare(last.Off.Hours)
	}
	return form{
		title: "Correct the hours of " + c.Words(), yes: "Correct them", note: "The journal keeps what stood there before.",
		fields: []field{{"Which time on an aircraft", "1 is the first", strconv.Itoa(len(c.Stretches))}, {"Hours when it went on", "as they are", bare(last.On.Hours)}, {"Hours when it came off", "as they are", off}},
		do: func(typed []string) operation.Operation {
			n, err := strconv.Atoi(strings.TrimSpace(typed[0]))
			if err != nil {
				n = 0 // which is no stretch, and is refused
			}
			return operation.CorrectMounting{Component: c.Name(), Stretch: n, On: typed[1], Off: typed[2]}
		},
	}
}

func dueForm(d *store.Due, of string) form {
	f := form{title: "New due date", yes: "Record it", note: "Of an aircraft by its name, a component as CO-1, or a tool as tool wrench 2. The day or the hours are for as long as it was not done here."}
	is := store.Due{}
	name := ""
	if d != nil {
		is, name, of = *d, d.Name(), d.Of()
		f.title, f.note = d.Name()+" "+d.What, "What is emptied stays as it is."
		if d.Tool != "" {
			of = operation.ToolWord + " " + d.Tool
		}
	}
	day := ""
	if !is.Day.IsZero() {
		day = fmt.Sprintf("%04d-%02d-%02d", is.Day.Year, is.Day.Month, is.Day.Day)
	}
	f.fields = []field{
		{"What is due", "Look at the brake lines", is.What},
		{"Of what", "Type Q, CO-1, tool wrench 2", of},
		{"The rule, in words", "12 calendar months", is.Rule},
		{"Where it stands", "manual, page 12", is.Source},
		{"Every so many months", "12, or nothing", positive(is.Months)},
		{"Every so many hours", "50, or nothing", typedPositive(is.Every)},
		{"First by the day", "2029-05-31, or nothing", day},
		{"First at hours", "500, or nothing", typedHours(is.At)},
		{"What it takes is listed for", "SA-90, or nothing", is.Job},
	}
	f.do = func(typed []string) operation.Operation {
		return operation.PutDue{Name: name, What: typed[0], Of: typed[1], Rule: typed[2], Source: typed[3], Months: typed[4], Every: typed[5], By: typed[6], At: typed[7], Job: typed[8]}
	}
	return f
}

func positive(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func typedPositive(h build.Hours) string {
	if h == 0 {
		return ""
	}
	return bare(h)
}

func doneForm(d store.Due) form {
	return form{
		title: d.What + " of " + d.Of(), yes: "Enter it", note: "It is entered that it was done, by whom and when, and nothing of what was found.",
		fields: []field{{"Who did it", "a name", ""}, {"On", today, ""}, {"Hours then", "not known", ""}, {"Note", "", ""}},
		do: func(typed []string) operation.Operation {
			return operation.EnterDue{Name: d.Name(), By: typed[0], On: typed[1], Hours: typed[2], Note: typed[3]}
		},
	}
}

func positionForm(p *position) form {
	f := form{title: "New position", yes: "Record it", note: "From the large to the small. Those that it is part of are recorded with it."}
	name, aircraft := field{label: "The position", ghost: "Tailplane / left / hinge 2"}, field{label: "Aircraft", ghost: "only where there are several"}
	access, note := field{label: "How one gets to it", ghost: "panel 3, 12 screws"}, field{label: "Note"}
	if p != nil {
		f.title, name.text, aircraft.text, access.text, note.text = p.Name, p.Name, p.Aircraft, p.Access, p.Note
	}
	f.fields = []field{name, aircraft, access, note}
	f.do = func(typed []string) operation.Operation {
		return operation.PutPosition{Name: typed[0], Aircraft: typed[1], Access: typed[2], Note: typed[3]}
	}
	return f
}
