package handbook

import (
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/hardware"
)

// TorqueTitle says what the table is for.
const TorqueTitle = "AC 43.13-1B table 7-1: bolts loaded mainly in shear, clean dry cadmium-plated threads without oil"

// TorqueColumns are those of the torque table.
func TorqueColumns() []table.Column {
	return []table.Column{
		{Title: "thread", Kind: table.Names, Width: 118},
		{Title: "tension nuts, in-lb", Kind: table.Words},
		{Title: "shear nuts, in-lb", Kind: table.Words},
		{Title: "most, tension", Kind: table.Plain, Width: 104},
		{Title: "most, shear", Kind: table.Plain, Width: 96},
		{Title: "known by", Kind: table.Faint, Width: 150},
	}
}

// TorqueRows are the torque table, fine threads first.
func TorqueRows(c *hardware.Catalog) []table.Row {
	torques := c.Torques()
	rows := make([]table.Row, 0, len(torques))
	for _, t := range torques {
		series := "coarse"
		if t.Fine {
			series = "fine"
		}
		mark := table.Cell{Text: knownBy(t.Checked), Sub: t.Estimated}
		rows = append(rows, table.Row{ID: t.Thread, Cells: []table.Cell{
			table.Name(t.Thread, series), table.T(span(t.Tension)), table.T(span(t.Shear)), most(t.MaxTension), most(t.MaxShear), mark,
		}})
	}
	return rows
}

// The unit of the figures stands in the title of each column.
func span(r hardware.TorqueRange) string { return fmt.Sprintf("%d to %d", r.Low, r.High) }

func most(t hardware.InchPounds) table.Cell { return table.T(fmt.Sprint(int(t))) }

// knownBy is how well a row is known.
func knownBy(checked int) string {
	switch checked {
	case 0:
		return hardware.NotCrossChecked
	case 1:
		return "1 source"
	}
	return fmt.Sprintf("%d sources agree", checked)
}

// TorqueFirst is the caution that stands over the table; all of them stand beside it.
func TorqueFirst() notice.Notice {
	var all []string
	for _, c := range hardware.TorqueCautions()[:2] {
		all = append(all, wording.Sentence(c.Text))
	}
	return notice.Notice{Tone: notice.Warn, Text: strings.Join(all, " ")}
}

// TorqueFacts are the cautions of the table and where it is from.
func TorqueFacts(c *hardware.Catalog) []card.Fact {
	facts := cautionFacts(hardware.TorqueCautions())
	if torques := c.Torques(); len(torques) > 0 {
		t := torques[0]
		facts = append(facts, card.Fact{Name: "the table", Text: "Tension nuts are MS20365 and AN310, shear nuts MS20364 and AN320.", Source: sourceWords(t.Source, t.Checked)})
	}
	return facts
}
