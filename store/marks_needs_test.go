package store_test

import (
	"stowright/store"
	"stowright/store/measure"
)

// needRows: what is needed, and in which order things are built, does nothing to what is
// there.
func needRows() []markRow {
	four := store.Requirement{Called: "AN3-5A", Needed: measure.Pieces(4)}
	list := func(w world) (string, error) {
		made, _, err := w.PutNeeds("", store.Needs{SubAssembly: store.SubAssembly{Code: "SA-10"}, Requirements: []store.Requirement{four}})
		if err != nil {
			return "", err
		}
		return made[0].Name(), nil
	}
	return []markRow{
		{"PutNeeds", "of what is there", func(w world) error { return second(list(w)) }, nil, ""},
		{"ReplaceRequirement", "of what is there", func(w world) error {
			name, err := list(w)
			if err != nil {
				return err
			}
			_, _, err = w.ReplaceRequirement(name, four)
			return err
		}, nil, ""},
		{"EndRequirement", "of what is there", func(w world) error {
			name, err := list(w)
			if err != nil {
				return err
			}
			return second(w.EndRequirement(name, "bulletin 4"))
		}, nil, ""},
		{"OrderSubAssemblies", "the one there is", func(w world) error { return second(w.OrderSubAssemblies("SA-10")) }, nil, ""},
		{"LetGo", "of what is kept for it", func(w world) error { return second(w.LetGo("SA-10", true)) }, nil, ""},
	}
}
