package web

import (
	"slices"

	"scaperound/domain/visit"
	"scaperound/web/view"
)

// The words of the visit's form. Everything that is stored is an id of the
// domain; these are what a person reads.

var kindWords = map[visit.Kind]string{
	visit.Routine: "Routine visit", visit.CallOut: "Call-out", visit.Build: "Build day", visit.StartUp: "Start-up",
	visit.Move: "Move or take-down", visit.GearOnly: "Gear only", visit.ByPhone: "Advice by phone",
}

var partTitles = map[string]string{
	"arrive": "Arrived", "since": "Since last time", "looks": "Four looks", "samples": "Samples drawn", "work": "Work",
	"read": "Read the tubes", "moved": "Plants and animals", "leave": "Before you go", "sheet": "Sheet and notes", "left": "Left",
}

// partsOf are the parts of each kind's form, in the order of the work.
var partsOf = map[visit.Kind][]string{
	visit.Routine:  {"arrive", "since", "looks", "samples", "work", "read", "moved", "leave", "sheet", "left"},
	visit.CallOut:  {"arrive", "since", "looks", "samples", "work", "read", "moved", "leave", "sheet", "left"},
	visit.Build:    {"arrive", "samples", "work", "read", "moved", "leave", "sheet", "left"},
	visit.StartUp:  {"arrive", "since", "looks", "samples", "work", "read", "moved", "leave", "sheet", "left"},
	visit.Move:     {"arrive", "since", "looks", "samples", "work", "read", "moved", "leave", "sheet", "left"},
	visit.GearOnly: {"arrive", "looks", "work", "read", "leave", "sheet", "left"},
	visit.ByPhone:  {"arrive", "since", "looks", "sheet", "left"},
}

func sectionsOf(k visit.Kind) []view.VisitSection {
	var out []view.VisitSection
	for _, id := range partsOf[k] {
		title := partTitles[id]
		switch {
		case k == visit.ByPhone && id == "arrive":
			title = "Call began"
		case k == visit.ByPhone && id == "left":
			title = "Call ended"
		case k == visit.GearOnly && id == "looks":
			title = "Look at the gear"
		case k == visit.GearOnly && id == "read":
			title = "Flow and readings"
		}
		out = append(out, view.VisitSection{ID: id, Title: title})
	}
	return out
}

var sinceWords = map[string]string{
	"nothing_new": "Nothing new", "died": "Something died", "new_animals": "New animals", "fed_by_others": "Fed by somebody else",
	"dosed_something": "Something was dosed", "altered": "CO2 or light altered", "power_cut": "Power cut",
	"spraying": "Spraying or painting nearby", "other": "Something else",
}

var betweenChoices = []view.Option{
	{Value: "as_planned", Label: "As planned"}, {Value: "some_missed", Label: "Some missed"},
	{Value: "altered", Label: "Altered"}, {Value: "not_known", Label: "Not known"},
}

var leaveWords = map[string]string{
	"filter_running": "Filter primed and running", "heater_plugged": "Heater plugged in, its lamp seen",
	"timers_right": "CO2 and light on their timers, clocks right", "valves_no_drip": "Valves open, no drip",
	"tap_shut": "Tap shut, hose out", "level_and_lid": "Level right, lid on", "floor_dry": "Floor dry", "key": "Key",
}

var moveWords = []view.Option{
	{Value: "we_added", Label: "We added"}, {Value: "customer_added", Label: "The customer added"}, {Value: "died", Label: "Died"},
	{Value: "missing", Label: "Missing"}, {Value: "removed", Label: "Taken out"}, {Value: "given", Label: "Given away"},
	{Value: "moved_to", Label: "Moved to another tank"}, {Value: "moved_from", Label: "Moved from another tank"},
	{Value: "born", Label: "Born here"}, {Value: "counted", Label: "Counted anew"},
}

var eyeWords = map[visit.EyeMark]string{visit.EyeWell: "well", visit.EyeLittle: "a little", visit.EyeNot: "not at all"}

type workWords struct {
	label, hint string
	ask         []string
	gear        bool // also on the short form for gear
}

var workForm = map[visit.WorkKind]workWords{
	visit.WaterChange:  {label: "Water change"},
	visit.FilterClean:  {label: "Filter cleaned", hint: "in tank water, never under the tap", ask: []string{"note"}, gear: true},
	visit.Trim:         {label: "Trimmed", hint: "trimmings bagged, never down the drain", ask: []string{"minutes", "note"}},
	visit.Glass:        {label: "Glass cleaned"},
	visit.Vacuum:       {label: "Ground vacuumed", ask: []string{"note"}},
	visit.PlantsIn:     {label: "Planted", ask: []string{"note", "pays"}},
	visit.PlantsOut:    {label: "Plants taken out", ask: []string{"note"}},
	visit.CylinderSwap: {label: "Cylinder swapped", hint: "weigh the full one with the regulator on", ask: []string{"full", "note", "pays"}, gear: true},
	visit.CO2Set:       {label: "CO2 set", ask: []string{"note"}, gear: true},
	visit.LightSet:     {label: "Light set", ask: []string{"note"}, gear: true},
	visit.HeaterSet:    {label: "Heater set", ask: []string{"note"}, gear: true},
	visit.DoserRefill:  {label: "Doser refilled", ask: []string{"ml", "note"}, gear: true},
	visit.TopOff:       {label: "Topped off"},
	visit.PartFitted:   {label: "Part fitted", ask: []string{"part", "pays"}, gear: true},
}

// asksWater reports whether the work is told in litres or cans.
func asksWater(k visit.WorkKind) bool { return k == visit.WaterChange || k == visit.TopOff }

// solutes that are dosed by hand, by the ion that counts.
var solutes = []string{"no3", "po4", "k", "fe", "mg", "ca"}

func options(ids []string, words map[string]string) []view.Option {
	out := make([]view.Option, len(ids))
	for i, id := range ids {
		out[i] = view.Option{Value: id, Label: words[id]}
	}
	return out
}

// knownKind reads a kind from an address; anything else is a routine visit.
func knownKind(s string) visit.Kind {
	if k := visit.Kind(s); slices.Contains(visit.Kinds, k) {
		return k
	}
	return visit.Routine
}
