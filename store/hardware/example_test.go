package hardware_test

import (
	"fmt"

	"stowright/store/hardware"
	"stowright/store/measure"
)

func ExampleDecode() {
	r := hardware.Decode("an3-5 a")
	fmt.Println(r.Designation, "-", r.Title)
	if grip, ok := r.Field(hardware.Grip); ok {
		fmt.Printf("grip %s, by %s\n", grip, grip.Source)
	}
	fmt.Println(hardware.Decode("AN3-8").Problem)
	// Output:
	// AN3-5A - Bolt, steel, hex head, 10-32, grip 1/4, no cotter-pin hole
	// grip 1/4 (0.250) ±1/64, by NASM3-20 (AN3-AN20)
	// AN3-8 does not exist: dash numbers count eighths of an inch, 3 to 7, then 10 to 17, 20 to 27 and so on; the nearest are AN3-7 and AN3-10
}

func ExampleCatalog_Alike() {
	difference, ok := hardware.Standard().Alike("AN3-11", "AN3-11A")
	fmt.Println(ok, difference)
	// Output: true no cotter-pin hole
}

func ExampleCatalog_Identify() {
	id, err := hardware.Standard().Identify(hardware.Readings{
		Kind: hardware.Bolt, Diameter: measure.Inches(3, 16), Length: 656 * measure.Inch / 1000, ShankDrilled: hardware.No,
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(id.Candidates[0].Designation)
	for _, c := range id.Candidates {
		if c.Designation == "AN3-6A" {
			fmt.Println("not AN3-6A:", c.RuledOut)
		}
	}
	// Output:
	// AN3-5A
	// not AN3-6A: length 0.656: 6.9 tolerances from 25/32 (0.78125)
}

func ExampleCatalog_ChooseBolt() {
	answer, err := hardware.Standard().ChooseBolt(hardware.Joint{
		Series: "AN3", Nut: "AN365-1032A", Layers: []hardware.Ply{{Thickness: measure.Inches(1, 4)}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	b := answer.Choices[0]
	fmt.Println(b.Designation, "with", b.NutWashers[0].Designation)
	for _, f := range b.Findings[:2] {
		fmt.Println("-", f.Text)
	}
	// Output:
	// AN3-5A with NAS1149F0363P
	// - no thread in the hole: grip 1/4 reaches through 1/4
	// - the nut can be drawn up 0.063 past the shank
}
