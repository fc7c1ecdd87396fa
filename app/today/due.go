package today

import (
	"fmt"

	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
)

// dueRoute is the list of all that is due.
var dueRoute = routes.Route{Screen: routes.Aircraft, Part: "due"}

// due is what is overdue or due soon, as one row that leads to the list of it: what presses
// most, and how many others there are. Of a shop where nothing presses nothing is said: that
// would be a claim that the rest is in order.
func due(s *session.Reader, _ []list) (Section, []routes.Route, error) {
	section := Section{ID: Due, Title: "Due"}
	dues, err := s.Dues()
	if err != nil {
		return section, nil, err
	}
	pressing := dues.Pressing()
	if len(pressing) == 0 {
		return section, nil, nil
	}
	first := pressing[0]
	sub := first.Rule
	if more := len(pressing) - 1; more > 0 {
		sub = fmt.Sprintf("and %s that %s due", wording.Plural(more, "other", "others"), map[bool]string{true: "is", false: "are"}[more == 1])
	}
	section.Rows = []table.Row{{ID: "due", Cells: []table.Cell{table.Name(first.What, sub), {Text: dues.Of(first), Sub: first.By()}, {Mark: dues.Mark(first)}}}}
	return section, []routes.Route{dueRoute}, nil
}
