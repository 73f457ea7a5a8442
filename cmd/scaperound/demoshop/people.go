// Package demoshop makes the invented shop that the demo shows: its people, its
// town, the tanks it looks after and nine months of visits to them, all from
// one seed. Nobody and nothing in it exists, and the water obeys mass balance:
// what a reading shows was fed, dosed, changed, taken up or lost.
package demoshop

import (
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
)

// Settings is the made-up shop itself.
func Settings() shop.Settings {
	return shop.Settings{
		Name:        "Fernweir Aquascapes",
		Zone:        "Europe/Dublin",
		Locale:      "en-IE",
		Units:       say.Metric,
		Phone:       "+353 1 555 0140",
		Paper:       shop.A4,
		ShowFigures: true,
	}
}

// People is who works there, the owner first.
func People() []staff.Draft {
	return []staff.Draft{
		{Name: "Maren Tolland", Email: "maren@fernweir.example", Role: staff.Owner},
		{Name: "Ilo Vance", Email: "ilo@fernweir.example", Role: staff.Technician},
		{Name: "Bea Okafor-Lind", Email: "bea@fernweir.example", Role: staff.Technician},
	}
}
