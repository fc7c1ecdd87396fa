package today

import (
	"strings"

	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
)

// The pages of the alerts screen that rows lead to.
const (
	alertPart = "alert"
	lotsPart  = "lots"
)

// alerts are the alerts by which something is set apart, and the lots here that are expired, or
// expire soon, or of which nobody knows. Of a shop without any nothing is said: that would be a
// claim that the rest is in order.
func alerts(s *session.Reader, _ []list) (Section, []routes.Route, error) {
	section := Section{ID: Alerts, Title: "Set apart, and dates"}
	var leads []routes.Route
	all, err := s.Shop.Alerts()
	if err != nil {
		return section, nil, err
	}
	for _, a := range all {
		comes, err := s.Alerted(a)
		if err != nil {
			return section, nil, err
		}
		apart := comes.SetApart()
		if apart == "" {
			continue
		}
		words := apart + " set apart"
		if fitted := comes.Fitted(); fitted != "" {
			words += ", " + fitted + " fitted"
		}
		section.Rows = append(section.Rows, table.Row{ID: a.Name(), Cells: []table.Cell{
			table.Name(a.Name()+" "+a.Title, a.Newest().Words()), {Text: words, Sub: strings.Join(comes.Heaps(), ", ")}, table.State("open", notice.Stop),
		}})
		leads = append(leads, routes.Route{Screen: routes.Alerts, Part: alertPart, About: a.Name()})
	}
	dated, err := s.Dated()
	if err != nil {
		return section, nil, err
	}
	for _, l := range dated {
		if !l.Pressing() {
			continue
		}
		section.Rows = append(section.Rows, table.Row{ID: l.Lot.Item + " " + l.Lot.Name(), Cells: []table.Cell{
			table.Name(l.Lot.Item, l.Lot.Called()), {Text: l.InStock(), Sub: l.Expiry()}, {Mark: l.Mark},
		}})
		leads = append(leads, routes.Route{Screen: routes.Alerts, Part: lotsPart, About: l.Lot.Item + "/" + l.Lot.Name()})
	}
	return section.cut(leads)
}
