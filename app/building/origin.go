package building

import (
	"strings"

	"stowright/app/operation"
	"stowright/app/wording"
)

// askOrigin asks who decides on the origin of what is taken, and why, and then takes it by that.
func (m *WalkModel) askOrigin(refused error, o operation.Take) {
	m.ask(WalkPrompt{
		Question: wording.Error(refused), Hint: "Who decides, why, and by which paper, apart by commas: A. Mechanic, tested on the bench, form 77. It is kept as a decision.", Answer: "Decide and take it",
	}, func(text string) {
		parts := strings.SplitN(text, ",", paperField)
		if len(parts) < paperField-1 {
			m.refused("Type who decides and why, apart by a comma.")
			return
		}
		d := operation.TakeDecided{Take: o, Who: strings.TrimSpace(parts[0]), Why: parts[1]}
		if len(parts) == paperField {
			d.Paper = strings.TrimSpace(parts[2])
		}
		operation.Start(m.session, &m.doing, d, func(r operation.Result, err error) {
			if err != nil {
				m.refused(wording.Error(err))
				return
			}
			m.done(r.Words())
		})
	})
}
