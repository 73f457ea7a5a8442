package demoshop

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// way is how a tank is run; tanks of one way share profile, light and habits.
type way struct {
	profile     string // name of a standard profile
	substrate   tank.Substrate
	injected    bool
	co2         float64 // mg/L late in the light period when all is well
	ppfd        float64 // µmol/m²/s mean at the ground
	hours       float64
	lightOn     q.MinuteOfDay
	planting    tank.Planting
	uptakeNO3   float64 // mg/L a day that the plants could take
	doseNO3     float64 // mg/L a day given
	dosePO4     float64
	doseK       float64
	doseFe      float64
	feed        float64 // g a day per 100 L
	roShare     float64
	everyDays   int
	change      float64 // share of the water at a visit
	animals     []tank.Living
	plants      []tank.Living
	target      float64 // °C
	customer    tank.CareShare
	topoff      tank.Topoff
	visitMinute q.MinuteOfDay
}

func animals(pairs ...any) []tank.Living { return living(pairs...) }

func living(pairs ...any) []tank.Living {
	var ls []tank.Living
	for i := 0; i < len(pairs); i += 2 {
		ls = append(ls, tank.Living{Group: pairs[i].(string), Count: pairs[i+1].(int)})
	}
	return ls
}

// ways that the shop's tanks are run in.
var ways = map[string]way{
	"soil_co2": {profile: "Rich soil, CO2, strong light", substrate: tank.RichSoil, injected: true, co2: 25, ppfd: 105, hours: 8, lightOn: 8 * 60, planting: tank.PlantingDense,
		uptakeNO3: 2.6, doseNO3: 2.6, dosePO4: 0.2, doseK: 1.2, doseFe: 0.04, feed: 0.25, roShare: 0.4, everyDays: 7, change: 0.4,
		animals: animals("tetras_sensitive", 24, "dwarf_shrimp", 30, "algae_grazers", 4), plants: living("stems", 60, "red_stems", 25, "carpet", 40), target: 24,
		customer: tank.CareShare{Feeds: true, Doses: true}, topoff: tank.TopoffRO, visitMinute: 14*60 + 40},
	"co2_medium": {profile: "CO2, medium light", substrate: tank.SandGravel, injected: true, co2: 20, ppfd: 65, hours: 8, lightOn: 9 * 60, planting: tank.PlantingMedium,
		uptakeNO3: 1.5, doseNO3: 1.1, dosePO4: 0.07, doseK: 0.6, doseFe: 0.025, feed: 0.35, roShare: 0.2, everyDays: 14, change: 0.4,
		animals: animals("tetras", 20, "catfish", 8), plants: living("stems", 30, "swords", 6, "cryptocoryne", 14), target: 24.5,
		customer: tank.CareShare{Feeds: true, TopsUp: true, Doses: true}, topoff: tank.TopoffTap, visitMinute: 15 * 60},
	"late_light": {profile: "CO2, medium light", substrate: tank.SandGravel, injected: true, co2: 21, ppfd: 70, hours: 8, lightOn: 14 * 60, planting: tank.PlantingMedium,
		uptakeNO3: 1.5, doseNO3: 0.9, dosePO4: 0.06, doseK: 0.6, doseFe: 0.025, feed: 0.4, roShare: 0.2, everyDays: 14, change: 0.4,
		animals: animals("rasboras", 30, "algae_grazers", 3), plants: living("stems", 24, "ferns", 10, "moss", 6), target: 24.5,
		customer: tank.CareShare{Feeds: true}, topoff: tank.TopoffTap, visitMinute: 9*60 + 10},
	"low_tech": {profile: "Low-tech", substrate: tank.SandGravel, ppfd: 32, hours: 8, lightOn: 9 * 60, planting: tank.PlantingMedium,
		uptakeNO3: 0.45, doseK: 0.25, doseFe: 0.006, feed: 0.3, roShare: 0, everyDays: 14, change: 0.3,
		animals: animals("small_fish", 18, "catfish", 6, "snails", 12), plants: living("ferns", 12, "epiphytes", 16, "cryptocoryne", 12), target: 24,
		customer: tank.CareShare{Feeds: true, TopsUp: true}, topoff: tank.TopoffTap, visitMinute: 11 * 60},
	"bee_shrimp": {profile: "Soft-water shrimp", substrate: tank.RichSoil, ppfd: 38, hours: 7, lightOn: 10 * 60, planting: tank.PlantingMedium,
		uptakeNO3: 0.35, doseK: 0.15, doseFe: 0.004, feed: 0.12, roShare: 1, everyDays: 14, change: 0.15,
		animals: animals("bee_shrimp", 60), plants: living("moss", 20, "epiphytes", 8), target: 22.5,
		customer: tank.CareShare{Feeds: true, TopsUp: true}, topoff: tank.TopoffRO, visitMinute: 17 * 60},
	"hard_tap": {profile: "Hard tap water", substrate: tank.SandGravel, ppfd: 40, hours: 9, lightOn: 8 * 60, planting: tank.PlantingMedium,
		uptakeNO3: 0.6, doseK: 0.3, doseFe: 0.008, feed: 0.45, everyDays: 14, change: 0.35,
		animals: animals("livebearers", 26, "snails", 20), plants: living("strap_leaves", 18, "swords", 4, "epiphytes", 8), target: 25,
		customer: tank.CareShare{Feeds: true, TopsUp: true}, topoff: tank.TopoffTap, visitMinute: 10 * 60},
	"overstocked": {profile: "Low-tech", substrate: tank.SandGravel, ppfd: 30, hours: 10, lightOn: 8 * 60, planting: tank.PlantingSparse,
		uptakeNO3: 0.35, feed: 0.7, everyDays: 14, change: 0.3,
		animals: animals("community", 55, "livebearers", 30, "loaches", 6), plants: living("ferns", 5, "epiphytes", 4), target: 25.5,
		customer: tank.CareShare{Feeds: true, TopsUp: true}, topoff: tank.TopoffTap, visitMinute: 11 * 60},
	"young": {profile: "Starting tank", substrate: tank.RichSoil, injected: true, co2: 22, ppfd: 60, hours: 6, lightOn: 10 * 60, planting: tank.PlantingNew,
		uptakeNO3: 1.2, doseNO3: 0.3, dosePO4: 0.05, doseK: 0.5, doseFe: 0.02, roShare: 0.3, everyDays: 4, change: 0.5,
		plants: living("fast_stems", 40, "carpet", 30, "stems", 20), target: 24,
		customer: tank.CareShare{}, topoff: tank.TopoffRO, visitMinute: 15 * 60},
}

// tankSpec is one tank: where, how big and how it is run.
type tankSpec struct {
	place                 int // index of places
	name, way             string
	length, width, height float64 // cm, inner
	weeks                 int     // age today
	filter                float64 // L/h clean
	pinned                string
	story                 string // what goes wrong, see visits.go
}

// tanks are forty, of every kind the shop has.
var tanks = []tankSpec{
	{0, "Living room", "soil_co2", 118, 48, 50, 92, 1150, "", "missed_doses"},
	{0, "Desk cube", "low_tech", 38, 38, 40, 60, 320, "", ""},
	{1, "The bar", "late_light", 148, 58, 58, 130, 1800, "The valve weeps: a quarter turn past shut.", "dead_cylinder"},
	{1, "The passage", "low_tech", 88, 38, 45, 130, 700, "", ""},
	{1, "The cellar", "co2_medium", 98, 38, 45, 75, 900, "Never touch the left outlet.", "no_entry"},
	{2, "Waiting room", "co2_medium", 118, 48, 50, 88, 1100, "", ""},
	{3, "Conservatory", "hard_tap", 148, 48, 55, 210, 1300, "Owner tops up by the can.", "evaporation"},
	{4, "Reading room", "low_tech", 178, 58, 60, 164, 1900, "", "filter_slows"},
	{4, "Children's corner", "low_tech", 78, 38, 45, 164, 620, "", ""},
	{5, "Top floor", "soil_co2", 88, 43, 45, 71, 850, "Four floors: bring light cans.", ""},
	{6, "Reception", "soil_co2", 178, 58, 60, 120, 2200, "", "declined"},
	{6, "Meeting room", "co2_medium", 118, 48, 50, 120, 1100, "", ""},
	{7, "Shrimp one", "bee_shrimp", 58, 38, 36, 140, 420, "Own net only. Owner hates snails.", ""},
	{7, "Shrimp two", "bee_shrimp", 58, 38, 36, 96, 420, "Own net only.", ""},
	{7, "Shrimp three", "bee_shrimp", 43, 28, 30, 50, 300, "Own net only.", ""},
	{8, "Surgery", "hard_tap", 118, 48, 50, 180, 1000, "", ""},
	{9, "The long tank", "hard_tap", 178, 48, 50, 240, 1500, "", "old_kit"},
	{10, "Lobby left", "soil_co2", 148, 58, 58, 110, 1900, "", ""},
	{10, "Lobby right", "soil_co2", 148, 58, 58, 110, 1900, "", "light_changed"},
	{10, "Breakfast room", "low_tech", 98, 38, 45, 110, 800, "", ""},
	{11, "Study", "co2_medium", 98, 43, 45, 66, 950, "", ""},
	{12, "Ground floor", "overstocked", 118, 48, 50, 260, 780, "", "overfed"},
	{13, "School hall", "low_tech", 148, 48, 50, 84, 1250, "Lid has a lock, key in the office.", "holidays"},
	{14, "Osteria", "late_light", 118, 48, 50, 58, 1150, "", ""},
	{14, "Osteria bar", "low_tech", 58, 33, 36, 58, 380, "", ""},
	{15, "Kitchen", "co2_medium", 78, 43, 45, 47, 750, "", ""},
	{16, "Boardroom", "soil_co2", 158, 53, 55, 102, 1850, "", ""},
	{17, "The cube", "soil_co2", 58, 58, 58, 80, 1000, "", "algae"},
	{18, "The barge", "low_tech", 118, 38, 40, 77, 900, "Moves with the tide: level is never level.", ""},
	{18, "Wheelhouse", "low_tech", 58, 33, 36, 77, 400, "", ""},
	{19, "Hall", "co2_medium", 118, 43, 45, 90, 1050, "", ""},
	{20, "Physio", "low_tech", 98, 43, 45, 115, 820, "", ""},
	{20, "Treatment two", "low_tech", 58, 33, 36, 115, 380, "", ""},
	{21, "The new tank", "young", 118, 48, 50, 8, 1200, "", "cycling"},
	{21, "Nano", "low_tech", 33, 28, 30, 33, 250, "", ""},
	{22, "Day room", "low_tech", 158, 53, 55, 150, 1500, "Never move the chairs in front.", "death"},
	{22, "Corridor", "low_tech", 98, 38, 45, 150, 850, "", ""},
	{23, "Attic", "soil_co2", 88, 43, 45, 69, 900, "", "heat"},
	{9, "Side tank", "low_tech", 78, 38, 40, 130, 600, "", ""},
	{16, "Partner's office", "co2_medium", 78, 38, 45, 102, 700, "", ""},
}
