package unpack

import (
	"fmt"

	"stowright/app/operation"
	"stowright/store"
)

// offerOrdered asks whether what was found of a line is what was ordered: by its number it
// may be, and only a person can say that it is.
func (m *Model) offerOrdered(of store.LineID) {
	o, may := m.data.offers[of]
	if !may || m.prompt != nil || o.Line.Finding == nil || o.Line.Finding.Found.Sign() <= 0 {
		return
	}
	var offers []offer
	for _, w := range o.Orders {
		offers = append(offers, offer{id: w.Ref().String(), name: fmt.Sprintf("%s is owed %s", w.Ref(), w.Owed), sub: "ordered on " + w.Ordered.String(), more: "it is owed no more"})
	}
	offers = append(offers, offer{id: operation.None, name: "Something else", sub: "it was not ordered", more: "what is owed stays owed"})
	m.choose(Prompt{
		Question: "Is this the " + o.Line.Designation + " that was ordered?", Hint: fmt.Sprintf("%s came on line %d.", o.Line.Finding.Found, o.Line.Number()), Answer: "Next",
	}, offers, func(id string) {
		m.do(operation.MatchOrder{List: o.Ship.ID, Line: o.Line.Number(), Orders: []string{id}}, nil)
	})
}
