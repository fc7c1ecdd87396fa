package demo

import (
	"slices"

	"stowright/app/session"
	"stowright/assets/demo"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// Extend adds what the building stories need: the builder's order, planned hours, and
// sub-assemblies that ask for the same hardware.
func Extend(shop *store.Shop) error {
	var lists []store.Needs
	var order []string
	for _, w := range demo.Building() {
		i := slices.Index(order, w.SubAssembly)
		if i < 0 {
			i = len(order)
			order = append(order, w.SubAssembly)
			lists = append(lists, store.Needs{SubAssembly: store.SubAssembly{Code: w.SubAssembly, Name: w.Name, Hours: build.Hours(10 * w.Hours)}})
		}
		if w.Designation == "" {
			continue
		}
		unit, err := measure.ParseUnit(w.Unit)
		if err != nil {
			return err
		}
		need := store.Requirement{
			Called: session.Canonical(hardware.Standard(), w.Designation), Expression: w.Quantity, Needed: measure.Quantity{Unit: unit}, Joint: w.Joint,
		}
		if w.Stack != "" {
			plies, err := hardware.ParsePlies(w.Stack)
			if err != nil {
				return err
			}
			for _, p := range plies {
				need.Stack = append(need.Stack, store.Layer{Name: p.Name, Thickness: p.Thickness})
			}
		}
		lists[i].Requirements = append(lists[i].Requirements, need)
	}
	if _, _, err := shop.PutNeeds("", lists...); err != nil {
		return err
	}
	_, err := shop.OrderSubAssemblies(order...)
	return err
}
