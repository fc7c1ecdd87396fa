package measure_test

import (
	"errors"
	"fmt"

	"stowright/store/measure"
)

// A length is typed as it is read off a caliper, a ruler or a plan, and shown both ways.
func ExampleParseLength() {
	for _, typed := range []string{".5625", "9/16", "1-1/4", "#10", "14.3 mm"} {
		l, err := measure.ParseLength(typed)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s is %s, %d nm\n", typed, l, int64(l))
	}
	_, err := measure.ParseLength("0,19")
	var refused *measure.LengthError
	fmt.Println(errors.As(err, &refused))
	// Output:
	// .5625 is 9/16 (0.5625), 14287500 nm
	// 9/16 is 9/16 (0.5625), 14287500 nm
	// 1-1/4 is 1-1/4 (1.250), 31750000 nm
	// #10 is 0.190, 4826000 nm
	// 14.3 mm is 0.562992126, 14300000 nm
	// true
}

// Quantities of one unit are added; nothing is converted unasked.
func ExampleQuantity_Add() {
	tube, err := measure.ParseQuantity("12.5", measure.Feet)
	if err != nil {
		fmt.Println(err)
		return
	}
	more, err := tube.Add(measure.Of(3, measure.Feet))
	fmt.Println(more, err)
	_, err = tube.Add(measure.Pieces(3))
	fmt.Println(errors.Is(err, measure.ErrUnits))
	// Output:
	// 15.5 ft <nil>
	// true
}

// Rivets are counted by weight: 100 of them weigh 8.1 g, the bag 160.4 g and 24.3 g
// when it is empty. The scale shows tenths of a gram, so the number has a range.
func ExampleWeighing_Count() {
	g := func(tenths int64) measure.Quantity {
		return measure.Quantity{Micro: tenths * 100_000, Unit: measure.Gram}
	}
	w := measure.Weighing{Step: g(1), Tare: g(243), Gross: g(1604), Sample: measure.Sample{Pieces: 100, Net: g(81), Step: g(1)}}
	n, err := w.Count()
	fmt.Println(n.Pieces, n.Low, n.High, n.Net, err)
	fmt.Println("one piece:", w.Sample.Piece())

	listed, err := n.Beside(measure.Quantity{Micro: 300_000, Unit: measure.Pound})
	fmt.Println(listed, err)

	w.Sample.Pieces, w.Sample.Net = 10, g(8) // too few for this scale
	_, err = w.Count()
	var refused *measure.WeighError
	if errors.As(err, &refused) {
		fmt.Println(refused.Reading+":", refused)
	}
	// Output:
	// 1680 1668 1692 136.1 g <nil>
	// one piece: about 0.081 g
	// 0.3 lb were expected, which is 136.08 g: the scale agrees <nil>
	// sample: A sample of 10 is too small for this scale: half a step of 0.1 g is more than 2 % of 0.8 g. Weigh about 40 pieces.
}
