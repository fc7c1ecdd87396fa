package store_test

import (
	"fmt"

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
	shut := func(w world) error { return second(w.CloseSubAssembly("SA-10", w.answers("SA-10", "as it is"))) }
	mounted := func(w world) (string, error) {
		if err := second(w.PutAircraft(store.Aircraft{Name: "Q"})); err != nil {
			return "", err
		}
		c, _, err := w.PutComponent(store.Component{Item: "AN3-5A", Serial: "0007"})
		if err != nil {
			return "", err
		}
		return c.Name(), second(w.MountComponent(c.Name(), store.Mounting{Aircraft: "Q", Hours: hoursOf(0)}))
	}
	due := func(w world) (string, error) {
		d, _, err := w.PutDue(store.Due{What: "Check", Tool: "wrench 2", Rule: "12 months", Months: 12})
		return d.Name(), err
	}
	of := func(made func(w world) (string, error), do func(w world, name string) error) func(w world) error {
		return func(w world) error {
			name, err := made(w)
			if err != nil {
				return err
			}
			return do(w, name)
		}
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
		{"PutJoint", "of what is there", func(w world) error {
			name, err := list(w)
			if err != nil {
				return err
			}
			return second(w.PutJoint("SA-10", "hinge", []string{name}, []store.Layer{{Thickness: measure.Inches(1, 8)}}))
		}, nil, ""},
		{"OrderSubAssemblies", "the one there is", func(w world) error { return second(w.OrderSubAssemblies("SA-10")) }, nil, ""},
		{"LetGo", "of what is kept for it", func(w world) error { return second(w.LetGo("SA-10", true)) }, nil, ""},
		{"Decide", "that another one may be used", func(w world) error {
			_, _, err := w.Decide(store.Decision{Kind: store.OtherItem, Requirements: []string{"R-1"}, Item: "AN3-6A", Who: "the kit maker"})
			return err
		}, nil, ""},
		{"Note", "of torque", func(w world) error {
			_, _, err := w.Note(store.Note{Kind: store.TorqueNote, Requirement: "R-1", Text: "25 in-lb"})
			return err
		}, nil, ""},
		{"PutAircraft", "that is built", func(w world) error { return second(w.PutAircraft(store.Aircraft{Name: "Q", Build: true})) }, nil, ""},
		{"LogHours", "of one", func(w world) error {
			if err := second(w.PutAircraft(store.Aircraft{Name: "Q", Build: true})); err != nil {
				return err
			}
			return second(w.LogHours("Q", w.Today(), 120))
		}, nil, ""},
		{"PutPosition", "of the tail", func(w world) error { return second(w.PutPosition(store.Position{Name: "Tailplane/left"})) }, nil, ""},
		{"PutComponent", "with a serial number", func(w world) error {
			return third(w.PutComponent(store.Component{Item: "AN3-5A", Serial: "0007"}))
		}, nil, ""},
		{"MountComponent", "on an aircraft", func(w world) error { return second(mounted(w)) }, nil, ""},
		{"DismountComponent", "to a drawer", of(mounted, func(w world, name string) error {
			return second(w.DismountComponent(name, store.Mounting{Hours: hoursOf(20), Place: w.place["A-02"]}))
		}), nil, ""},
		{"CorrectComponent", "its beginning", of(mounted, func(w world, name string) error {
			return second(w.CorrectComponent(name, 1, hoursOf(5), nil))
		}), nil, ""},
		{"PutDue", "of a tool", func(w world) error { return second(due(w)) }, nil, ""},
		{"EnterDue", "of a tool", of(due, func(w world, name string) error {
			return second(w.EnterDue(name, store.DueDone{By: "Partner"}))
		}), nil, ""},
		{"EndDue", "of a tool", of(due, func(w world, name string) error { return second(w.EndDue(name, "sold")) }), nil, ""},
		{"ChangePlans", "of what is fitted", func(w world) error {
			_, _, err := w.ChangePlans(store.PlanChange{Title: "Bulletin 4"}, store.PlanEdit{End: []string{"R-1"}})
			return err
		}, nil, ""},
		{"CloseSubAssembly", "that things are fitted in", shut, nil, ""},
		{"ReopenSubAssembly", "that things are fitted in", func(w world) error {
			if err := shut(w); err != nil {
				return err
			}
			return second(w.ReopenSubAssembly("SA-10", "a look"))
		}, nil, ""},
	}
}

// benchRows: what comes out of an aircraft keeps its lot and is no good before somebody
// looked; what goes back to its drawer joins what nobody counted with it.
func benchRows() []markRow {
	fitted := store.Fitted{SubAssembly: "SA-10", Item: "AN3-6A", Lot: "L2"}
	remove := func(n int64, to string) func(world) error {
		return func(w world) error {
			return second(w.Remove(store.Removal{Fitted: fitted, Quantity: measure.Pieces(n), To: w.place[to]}))
		}
	}
	back := func(n int64) func(w world) error {
		return func(w world) error {
			return second(w.PutBack("SA-10", some(w.heap("AN3-6A", "L2", "SA-10"), n, w.place["A-02"])))
		}
	}
	lose := func(w world) error { return second(w.Scrap(some(w.heap("AN3-6A", "L2", "SA-10"), 1, ""), "lost")) }
	lost := "+ AN3-6A lot L2 in SA-10: 3 ea, counted 14 March by First"
	return []markRow{
		{"Remove", "one to the tray", remove(1, "SA-10"), []string{"- " + fittedLine, "+ AN3-6A lot L2 (removed) in SA-10: 1 ea", "+ AN3-6A lot L2 fitted in SA-10: 1 ea"}, ""},
		{"Remove", "all to where none is", remove(0, "A-02"), []string{"- " + fittedLine, "+ AN3-6A lot L2 (removed) in A-02: 2 ea"}, ""},
		{"Remove", "as good", func(w world) error {
			return second(w.Remove(store.Removal{Fitted: fitted, AsGood: true}))
		}, nil, "AN3-6A that came out is looked at first: remove it, then release it and say who looked."},
		{"Release", "what came out", func(w world) error {
			if err := remove(0, "A-02")(w); err != nil {
				return err
			}
			k := w.heap("AN3-6A", "L2", "A-02")
			k.Condition = store.Removed
			return second(w.Release(some(k, 0, ""), "Partner"))
		}, []string{"- " + fittedLine, "+ AN3-6A lot L2 in A-02: 2 ea"}, ""},
		{"Release", "what is damaged", func(w world) error { return second(w.Release(some(w.bolts(store.Damaged), 1, ""), "Partner")) }, nil, "AN3-5A there did not come out of an aircraft: only what did is released so."},
		{"PutBack", "some", back(1), []string{"- " + trayLine, "+ AN3-6A lot L2 in A-02: 1 ea", lost}, ""},
		{"PutBack", "all", back(0), []string{"- " + trayLine, "+ AN3-6A lot L2 in A-02: 4 ea, counted 14 March by First"}, ""},
		{"Borrow", "all", func(w world) error {
			if err := second(w.PutSubAssembly(store.SubAssembly{Code: "SA-20"})); err != nil {
				return err
			}
			w.learnPlaces()
			return second(w.Borrow("SA-10", "SA-20", some(w.heap("AN3-6A", "L2", "SA-10"), 0, "")))
		}, []string{"- " + trayLine, "+ AN3-6A lot L2 in SA-20: 4 ea, counted 14 March by First"}, ""},
		{"Scrap", "what is lost", lose, []string{"- " + trayLine, lost}, ""},
		{"Found", "what was lost", func(w world) error {
			if err := lose(w); err != nil {
				return err
			}
			lost, err := w.LookedFor("SA-10")
			if err != nil || len(lost) != 1 {
				return fmt.Errorf("%v is looked for: %w", lost, err)
			}
			return second(w.Found(lost[0].Name(), measure.Quantity{}, w.place["A-02"], store.AskMeeting))
		}, []string{"- " + trayLine, "+ AN3-6A lot L2 in A-02: 1 ea", lost}, ""},
	}
}
