package demo

import (
	"time"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// Fleet adds what a shop has that keeps a second aircraft flying: hours, pieces with a
// serial number, what is due, positions, and a bulletin that changed a list. It is for
// pictures: what the stories count does not have it.
func Fleet(shop *store.Shop) error {
	for _, add := range []func(*store.Shop) error{addAircraft, addComponents, addDues, addPositions, addBulletin} {
		if err := add(shop); err != nil {
			return err
		}
	}
	return nil
}

// hours are tenths of an hour.
func hours(tenths int) *build.Hours {
	h := build.Hours(tenths)
	return &h
}

func on(year, month, day int) store.Date {
	return store.Date{Year: year, Month: time.Month(month), Day: day}
}

func addAircraft(shop *store.Shop) error {
	for _, a := range []store.Aircraft{
		{Name: "Q"},
		{Name: "T", Certificate: store.StandardCategory, Inspectors: []store.Inspector{{Who: "A. Mechanic", Paper: "certificate copy, binder 2"}}},
	} {
		if _, err := shop.PutAircraft(a); err != nil {
			return err
		}
	}
	for _, r := range []struct {
		day   store.Date
		hours int
	}{{on(2024, 5, 11), 11020}, {on(2025, 4, 2), 11713}, {on(2026, 3, 7), 12045}} {
		if _, err := shop.LogHours("T", r.day, *hours(r.hours)); err != nil {
			return err
		}
	}
	return nil
}

func addComponents(shop *store.Shop) error {
	for _, c := range []store.Component{
		{Item: "OT-PROP", Serial: "0007", SinceNew: hours(120), Known: "log book, page 3", Note: "three blades"},
		{Item: "OT-MAG-L", Serial: "L114"},
	} {
		if _, _, err := shop.PutComponent(c); err != nil {
			return err
		}
	}
	for _, m := range []struct {
		name string
		on   store.Mounting
		off  *store.Mounting
	}{
		{"CO-1", store.Mounting{Aircraft: "T", Position: "Nose / hub", Day: on(2024, 5, 11)}, &store.Mounting{Day: on(2025, 4, 2), Hours: hours(11713)}},
		{"CO-1", store.Mounting{Aircraft: "T", Position: "Nose / hub", Day: on(2025, 6, 1), Hours: hours(11790)}, nil},
		{"CO-2", store.Mounting{Aircraft: "T", Position: "Engine / left", Day: on(2024, 5, 11)}, &store.Mounting{Day: on(2026, 3, 7)}},
	} {
		if _, err := shop.MountComponent(m.name, m.on); err != nil {
			return err
		}
		if m.off == nil {
			continue
		}
		if _, err := shop.DismountComponent(m.name, *m.off); err != nil {
			return err
		}
	}
	return nil
}

func addDues(shop *store.Shop) error {
	for _, d := range []store.Due{
		{What: "Condition inspection", Aircraft: "T", Rule: "12 calendar months", Source: "operating limitations, page 2", Months: 12, Day: on(2026, 4, 30)},
		{What: "Overhaul", Component: "CO-1", Rule: "500 hours", Source: "the maker's manual, page 12", Every: 5000, At: hours(5000)},
		{What: "Held against a known weight", Tool: "wrench 2", Rule: "24 calendar months", Months: 24, Day: on(2026, 2, 28)},
	} {
		if _, _, err := shop.PutDue(d); err != nil {
			return err
		}
	}
	_, err := shop.EnterDue("DU-1", store.DueDone{Day: on(2025, 4, 2), By: "A. Mechanic", Hours: hours(11713)})
	return err
}

func addPositions(shop *store.Shop) error {
	for _, p := range []store.Position{{Name: "Tailplane / left / hinge 2", Access: "panel 3, 12 screws"}, {Name: "Tailplane / right / hinge 2"}} {
		if _, err := shop.PutPosition(p); err != nil {
			return err
		}
	}
	picture, err := drawPhoto(dentedSkin)
	if err != nil {
		return err
	}
	_, _, err = shop.AddPhoto(store.OfPosition(store.PositionOf("", "Tailplane / left / hinge 2")), "before it is closed", picture)
	return err
}

// addBulletin changes what the tailplane needs.
func addBulletin(shop *store.Shop) error {
	listed, err := shop.Requirements("SA-30")
	if err != nil || len(listed) == 0 {
		return err
	}
	old := listed[0]
	with := old
	with.Number, with.Revision, with.Position = 0, "B", "Tailplane / left"
	_, _, err = shop.ChangePlans(
		store.PlanChange{Title: "Bulletin 4", Paper: "letter of 2 March, binder 2", Day: on(2026, 3, 16)},
		store.PlanEdit{
			Replace: map[string]store.Requirement{old.Name(): with},
			Add:     []store.Requirement{{SubAssembly: "SA-30", Called: "AN960-10", Needed: measure.Pieces(4), Position: "Tailplane / left / hinge 2"}},
		},
	)
	return err
}
