package handbook

import (
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// Parts of the screen, as route.Part names them. The first one has no name.
const (
	LookUpPart  = ""
	MeasurePart = "measure"
	BoltPart    = "bolt"
	RivetPart   = "rivet"
	TablesPart  = "tables"
	TorquePart  = "torque"
	OwnPart     = "own"
)

// Parts are the parts in their order, with their words.
func Parts() (names, words []string) {
	return []string{LookUpPart, MeasurePart, BoltPart, RivetPart, TablesPart, TorquePart, OwnPart},
		[]string{"Look up", "Measure", "Bolt", "Rivet", "Tables", "Torque", "My figures"}
}

// Caution stands on every part.
const Caution = "The plans, the kit maker's instructions and the authority govern. This helps to check them and approves nothing; tell look-alikes apart by hand."

// fieldWords are names of facts as a person says them; others lose their underscores.
var fieldWords = map[string]string{
	hardware.CotterFromEnd: "cotter hole to end", hardware.HeadDrilled: "lockwire hole", hardware.ShankDrilled: "cotter-pin hole",
	hardware.Hole: "hole to drill", hardware.CotterHole: "size of that hole",
}

// fieldName is the name of a fact as a person says it.
func fieldName(name string) string {
	if words, ok := fieldWords[name]; ok {
		return words
	}
	return strings.ReplaceAll(name, "_", " ")
}

// sourceWords is a source with how many others agree.
func sourceWords(source string, checked int) string {
	switch {
	case source == "" || checked == 0:
		return source
	case checked == 1:
		return source + " · 1 source"
	}
	return fmt.Sprintf("%s · %d sources agree", source, checked)
}

// factOf is a figure of the tables as a line of the page.
// Where lengths are read in millimetres, that stands behind the published figure.
func factOf(f hardware.Field, in measure.System) card.Fact {
	fact := card.Fact{Name: fieldName(f.Name), Text: f.Text, Mark: f.Mark(), Source: sourceWords(f.Source, f.Checked)}
	if metric := f.Metric(); metric != "" && in == measure.InMillimetres {
		fact.Text += "; converted: " + metric
	}
	if f.Unknown {
		fact.Text = "unknown"
		fact.Mark = strings.TrimPrefix(f.Text, "unknown: ")
	}
	if fact.Mark != "" {
		fact.Tone = notice.Warn
	}
	return fact
}

func factsOf(fields []hardware.Field, in measure.System) []card.Fact {
	facts := make([]card.Fact, 0, len(fields))
	for _, f := range fields {
		facts = append(facts, factOf(f, in))
	}
	return facts
}

// findingFacts are things said of a choice, each with the paragraph it rests on.
func findingFacts(findings []hardware.Finding) []card.Fact {
	facts := make([]card.Fact, 0, len(findings))
	for _, f := range findings {
		fact := card.Fact{Name: "good", Text: wording.Upper(f.Text), Source: sourceWords(f.Source, f.Checked)}
		if f.Bad {
			fact.Name, fact.Mark, fact.Tone = "wrong", "this rules it out", notice.Stop
		}
		facts = append(facts, fact)
	}
	return facts
}

// cautionFacts are cautions, each with the paragraph it rests on.
func cautionFacts(findings []hardware.Finding) []card.Fact {
	facts := findingFacts(findings)
	for i := range facts {
		facts[i].Name = "careful"
	}
	return facts
}

// Alike is a look-alike and how that one differs by hand.
type Alike struct{ Designation, Difference string }

func alikesOf(list []hardware.LookAlike) []Alike {
	out := make([]Alike, 0, len(list))
	for _, l := range list {
		out = append(out, Alike(l))
	}
	return out
}

// titled puts the mark that must go with a piece behind its title.
func titled(title, mark string) string {
	if mark == "" {
		return title
	}
	return title + " (" + mark + ")"
}
