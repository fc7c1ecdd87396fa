package desktop

import (
	"errors"

	"stowright/app"
	"stowright/app/aircraft"
	"stowright/app/album"
	"stowright/app/alerts"
	"stowright/app/building"
	"stowright/app/copies"
	"stowright/app/find"
	"stowright/app/handbook"
	"stowright/app/labelling"
	"stowright/app/ordering"
	"stowright/app/photos"
	"stowright/app/places"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/today"
	"stowright/app/unpack"
	"stowright/app/viewfinder"
)

// entry is a screen with all that the desktop needs of it. Another screen is one more
// entry here, beside its package and, if it is on the rail, its icon.
type entry struct {
	app.Screen
	// page makes the page of a route of this screen.
	page func(d *Desktop, host app.Host, route routes.Route) app.Page
	// shots are its pictures on a demo shop, for the gallery: one at least.
	shots func(s *session.Session) ([]Shot, error)
}

// entries are all screens: those of the rail first, in its order.
func entries() []entry {
	return append(railEntries(), []entry{
		{
			app.Screen{Name: routes.Camera, Title: "Camera", Key: "F2", Help: "Show labels to a camera, or open a picture of them, and see what each one names."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return viewfinder.New(d.session, host, route, d.lookingOn())
			},
			firstPage("camera"),
		},
		{
			app.Screen{Name: routes.Aircraft, Title: "Aircraft", Key: "F11", Help: "Aircraft and their hours, pieces with a serial number, what is due by when, positions."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return aircraft.New(d.session, host, route)
			},
			shown(
				Shot{"aircraft", routes.Route{About: "T"}},
				Shot{"components", routes.Route{Part: aircraft.ComponentPart}},
				Shot{"due", routes.Route{Part: aircraft.DuePart}},
				Shot{"positions", routes.Route{Part: aircraft.PositionPart, About: "/Tailplane / left / hinge 2"}},
			),
		},
		{
			app.Screen{Name: routes.Copies, Title: "Safe copies", Key: "F12", Help: "Make, check, restore and export copies of the shop."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return copies.New(d.session, host, route, copies.Options{Replace: d.replace, Shown: d.shown})
			},
			firstPage("copies"),
		},
		{
			app.Screen{Name: routes.Photos, Title: "Photographs", Help: "Take, look at and describe the photographs of one thing."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return album.New(d.session, host, route, album.Options{Camera: d.looking.Camera, Open: album.Opener(d.looking.Open)})
			},
			photoShots,
		},
	}...)
}

// railEntries are the screens of the rail in their order.
func railEntries() []entry {
	return []entry{
		{
			app.Screen{Name: routes.Today, Title: "Today", Icon: "today", Help: "See what waits: crates, stock to put away, shortages, the last entries."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page { return today.New(d.session, host, route) },
			firstPage("today"),
		},
		{
			app.Screen{Name: routes.Unpack, Title: "Unpack", Icon: "unpack", Help: "Bring a packing list in, check it off, stow what came, write the claim."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return unpack.New(d.session, host, route)
			},
			firstPage("unpack"),
		},
		{
			app.Screen{Name: routes.Find, Title: "Find", Icon: "find", Help: "Find a part by number, words or size: how many there are, and where."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page { return find.New(d.session, host, route) },
			shown(Shot{"find", routes.Route{About: "an3 5"}}),
		},
		{
			app.Screen{Name: routes.Places, Title: "Places", Icon: "places", Help: "Make rooms, cabinets and drawers, move them, and see what is in each."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return places.New(d.session, host, route)
			},
			placeShots,
		},
		{
			app.Screen{Name: routes.Labels, Title: "Labels", Icon: "labels", Help: "Pick what needs a label, see the sheet as it prints, save it as PDF."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return labelling.New(d.session, host, route)
			},
			firstPage("labels"),
		},
		{
			app.Screen{Name: routes.Build, Title: "Build", Icon: "build", Help: "See which sub-assemblies can be started, what stops the others, and pull what one needs."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return building.New(d.session, host, route)
			},
			shown(
				Shot{"build", routes.Route{}},
				Shot{"pull", routes.Route{Part: building.PullPart, About: "SA-20,SA-21"}},
				Shot{"bench", routes.Route{Part: building.BenchPart, About: "SA-10"}},
				Shot{"joint", routes.Route{Part: building.BenchPart, About: "SA-41"}},
				Shot{"list", routes.Route{Part: building.ListPart}},
				Shot{"changes", routes.Route{Part: building.ChangesPart}},
				Shot{"change", routes.Route{Part: building.ChangePart, About: "C-1"}},
			),
		},
		{
			app.Screen{Name: routes.Order, Title: "Order", Icon: "order", Help: "See what is to be bought and of whom, save the list, mark it as ordered, and see what is owed."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return ordering.New(d.session, host, route)
			},
			shown(Shot{Name: "order"}, Shot{"owed", routes.Route{Part: ordering.OwedPart}}),
		},
		{
			app.Screen{Name: routes.Handbook, Title: "Handbook", Icon: "handbook", Help: "Look a number up, measure a piece, choose a bolt or a rivet, read the tables."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return handbook.New(d.session, host, route)
			},
			shown(
				Shot{"handbook", routes.Route{About: "an3 5a"}},
				Shot{"measure", routes.Route{Part: handbook.MeasurePart, About: ".190"}},
				Shot{"bolt", routes.Route{Part: handbook.BoltPart, About: "spar .125, rib 3/16"}},
				Shot{"rivet", routes.Route{Part: handbook.RivetPart, About: ".032, .040"}},
				Shot{"tables", routes.Route{Part: handbook.TablesPart}},
				Shot{"torque", routes.Route{Part: handbook.TorquePart}},
				Shot{"figures", routes.Route{Part: handbook.OwnPart}},
			),
		},
		{
			app.Screen{Name: routes.Alerts, Title: "Alerts", Icon: "alerts", Help: "See what bulletins and makers warn of and where it is, what expires when, and the lots of an item."},
			func(d *Desktop, host app.Host, route routes.Route) app.Page {
				return alerts.New(d.session, host, route)
			},
			alertShots,
		},
	}
}

// screens are what the frame knows of them.
func screens() []app.Screen {
	var all []app.Screen
	for _, e := range entries() {
		all = append(all, e.Screen)
	}
	return all
}

// firstPage is one picture of a screen's first page.
func firstPage(name string) func(*session.Session) ([]Shot, error) { return shown(Shot{Name: name}) }

// shown are pictures that need nothing of the shop.
func shown(shots ...Shot) func(*session.Session) ([]Shot, error) {
	return func(*session.Session) ([]Shot, error) { return shots, nil }
}

func alertShots(*session.Session) ([]Shot, error) {
	return []Shot{
		{Name: "alerts"},
		{"alert", routes.Route{Part: alerts.AlertPart, About: "A-1"}},
		{"dates", routes.Route{Part: alerts.DatesPart}},
		{"lots", routes.Route{Part: alerts.LotsPart, About: "NAS1149F0332P"}},
	}, nil
}

func placeShots(s *session.Session) ([]Shot, error) {
	drawers, err := s.PlacesMatching("A-07")
	if err != nil || len(drawers) == 0 {
		return nil, errors.Join(err, errors.New("the shop has no drawer A-07 to draw"))
	}
	return []Shot{{"places", routes.Route{About: drawers[0].ID}}}, nil
}

func photoShots(s *session.Session) ([]Shot, error) {
	taken, err := s.Shop.AllPhotos()
	if err != nil || len(taken) == 0 {
		return nil, errors.Join(err, errors.New("the shop has no photograph to draw"))
	}
	return []Shot{{"photographs", routes.Route{About: photos.About(taken[0].Of)}}}, nil
}
