package build_test

import (
	"fmt"

	"stowright/store/build"
	"stowright/store/measure"
)

// Two sub-assemblies ask for the same bolts: what the first one holds the second has not.
func ExampleNewBoard() {
	needs := func(n int64) []build.Requirement {
		return []build.Requirement{{ID: fmt.Sprint("R-", n), Called: "AN3-5A", Item: "AN3-5A", Needed: measure.Pieces(n)}}
	}
	board := build.NewBoard(&build.Reading{
		Today: measure.Date{Year: 2026, Month: 3, Day: 18},
		SubAssemblies: []build.SubAssembly{
			{Code: "SA-10", Name: "Fin", Requirements: needs(6)},
			{Code: "SA-21", Name: "Rudder hinges", Requirements: needs(20)},
		},
		Stock:  map[string][]build.Heap{"AN3-5A": {{Place: "P1", Amount: measure.Exact(measure.Pieces(24))}}},
		Places: map[string]build.Place{"P1": {ID: "P1", Name: "A-12"}},
	})
	for _, s := range board.Statuses() {
		fmt.Println(s.Code, s.Sentence)
	}
	list, err := board.Pull(nil, "SA-10", "SA-21")
	if err != nil {
		fmt.Println(err)
	}
	for _, stop := range list.Stops {
		fmt.Println(stop.Place.Name, stop.Quantity, stop.Item)
	}
	// Output:
	// SA-10 ready
	// SA-21 not ready: AN3-5A: need 20, free 18; 24 here, 6 for SA-10
	// A-12 24 ea AN3-5A
}

func ExampleParseExpression() {
	for _, text := range []string{"10 x 2 sides", "2 per hinge x 3", "A/R", "2 per hinge"} {
		e, err := build.ParseExpression(text, "")
		switch {
		case err != nil:
			fmt.Println(err)
		case e.Kind == build.AsRequired:
			fmt.Println(text, "is as required")
		default:
			fmt.Println(text, "is", e.Quantity)
		}
	}
	// Output:
	// 10 x 2 sides is 20 ea
	// 2 per hinge x 3 is 6 ea
	// A/R is as required
	// quantity "2 per hinge", at character 7: it does not say how many hinges there are: 2 per hinge x 3
}
