package triage

import (
	"slices"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/typed"
)

// Death is what was seen of animals that died, written down while it is fresh.
// It stays inside the shop.
type Death struct {
	ID, Tank   string
	Seen       time.Time // when they were found, in UTC
	Group      string    // of tank.AnimalGroups
	Species    string
	N          int
	Gills      string
	Skin       string
	Posture    string
	Before     []string // ids of Befores: what happened in the last 72 hours
	Words      string   // about it
	WaterKept  bool     // half a litre of the old water was kept
	Body       string   // of Bodies
	Cause      string   // what it is believed to be; empty is "cause not known"
	By         string   // name
	RecordedAt time.Time
}

// DeathSteps is what comes first, in order.
var DeathSteps = []string{
	"The living first: do they breathe fast, hang at the surface, lie about?",
	"Half a litre of the old water into a clean bottle, before any change.",
	"Test: temperature, ammonia (TAN), nitrite, pH, chlorine, and the source water.",
	"Only then change water.",
	"The body into the cool bag or a fridge, wrapped, away from food, chilled and not frozen, for the vet. Then wash your hands.",
}

// Befores are what can have happened in the last 72 hours.
var Befores = []tank.Group{
	{ID: "new_animals", Name: "New animals"}, {ID: "new_plants", Name: "New plants"}, {ID: "dosed", Name: "Something was dosed"}, {ID: "medicine", Name: "Something against illness"},
	{ID: "water_change", Name: "Water changed"}, {ID: "filter", Name: "Filter cleaned or stopped"}, {ID: "power_cut", Name: "Power cut"}, {ID: "co2_light", Name: "CO2 or light altered"},
	{ID: "fed_more", Name: "Fed more, or by others"}, {ID: "sprayed", Name: "Sprayed, painted or cleaned nearby"}, {ID: "hot_cold", Name: "Heat or cold"}, {ID: "nothing", Name: "Nothing that anybody knows"},
}

// Bodies are what became of the body.
var Bodies = []tank.Group{
	{ID: "chilled", Name: "Chilled, for the vet"}, {ID: "given", Name: "Given to the vet"}, {ID: "gone", Name: "Not found, or eaten"}, {ID: "disposed", Name: "Thrown away"},
}

// Gills, skins and postures as one looks for them; any other word can be typed.
var (
	Gills    = []string{"as always", "bright red", "brown", "pale", "swollen or spread", "not looked"}
	Skins    = []string{"as always", "spots", "wounds or sores", "slime", "reddened", "bloated, scales stand off", "not looked"}
	Postures = []string{"lying on the ground", "at the surface, mouth open", "stiff and curved", "caught in the inlet", "outside the tank", "not looked"}
)

func idsOf(groups []tank.Group) []string {
	out := make([]string, len(groups))
	for i, g := range groups {
		out[i] = g.ID
	}
	return out
}

var deadCount = typed.Measure{Name: "n", What: "The number", Dim: typed.Plain(""), Possible: q.Range{Lo: 1, Hi: 5000}, Likely: q.Range{Lo: 1, Hi: 200}}

// ParseDeath reads the fields id, day, at, group, species, n, gills, skin,
// posture, before, words, water_kept, body and cause. wall turns a day and a
// minute of the shop's wall into an instant.
func ParseDeath(get typed.Fields, today q.Date, wall func(q.Date, q.MinuteOfDay) time.Time) (Death, fault.Fields) {
	f := typed.Form{Get: get}
	d := Death{ID: strings.TrimSpace(get("id"))}
	day, at := f.Past("day", "A death", today), f.Clock("at")
	if !day.OK && len(f.Faults.On("day")) == 0 {
		f.Faults.Add("day", fault.Missing, "On which day were they found?")
	}
	d.Seen = wall(day.Or(today), at.Or(12*60))
	d.Group = typed.Must(&f, "group", idsOf(tank.AnimalGroups), "Choose what kind of animal it was.")
	d.Species = f.Line("species", tank.MaxName)
	n := f.Whole(deadCount, q.Opt[int]{})
	if !n.OK && len(f.Faults.On("n")) == 0 {
		f.Faults.Add("n", fault.Missing, "Type how many died.")
	}
	d.N = n.V
	d.Gills, d.Skin, d.Posture = f.Line("gills", 200), f.Line("skin", 200), f.Line("posture", 200)
	for _, id := range strings.Fields(get("before")) {
		if !slices.Contains(idsOf(Befores), id) {
			f.Faults.Add("before", fault.NotChoice, "Choose from the list what happened before.")
			break
		}
		d.Before = append(d.Before, id)
	}
	if len(d.Before) > 1 && slices.Contains(d.Before, "nothing") {
		f.Faults.Add("before", fault.Impossible, "Either something happened, or nothing that anybody knows.")
	}
	d.Words = f.Text("words", MaxWords)
	d.WaterKept = f.Tick("water_kept")
	d.Body = typed.Choice(&f, "body", "", idsOf(Bodies), "Choose what became of the body.")
	d.Cause = f.Line("cause", 200)
	return d, f.Faults
}

// CauseText is the cause in words. That it is not known is a good answer.
func (d Death) CauseText() string {
	if d.Cause == "" {
		return "cause not known"
	}
	return d.Cause
}
