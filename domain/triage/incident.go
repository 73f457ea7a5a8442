package triage

import "slices"

// Incident is a kind of damage or danger, and what comes first.
type Incident struct {
	ID    string
	Title string
	Steps []string
}

// Incidents in the order of a form.
func Incidents() []Incident { return incidents }

// IncidentOf finds a kind of incident.
func IncidentOf(id string) (Incident, bool) {
	i := slices.IndexFunc(incidents, func(x Incident) bool { return x.ID == id })
	if i < 0 {
		return Incident{}, false
	}
	return incidents[i], true
}

const (
	peopleFirst = "People and power first: everybody out of the wet, breaker off, dry hands. Wet house wiring is for a licensed electrician."
	photograph  = "Photograph it before anything is moved: the whole, then close, with something for size."
	noPromise   = "Promise nothing, on cost or fault. Tell the owner now, then write it down here."
)

var incidents = []Incident{
	{"leak", "Leak", []string{peopleFirst, photograph, "Animals into tubs with air and a lid, in their own water.", "Lower the water below the leak: heater off first, then the hose.", noPromise}},
	{"bowed_seam", "Bowed seam or glass", []string{"Nobody stands in front of it; children and animals out of the room. Breaker off.", photograph, "Lower the water by half at once, heater off first: the force falls with the square of the depth.", "Animals into tubs with air and a lid.", "It is not filled again before somebody who builds tanks has looked at it.", noPromise}},
	{"cracked", "Cracked glass", []string{"Nobody stands in front of it; shoes and gloves for whoever comes near. Breaker off.", photograph, "Lower the water below the crack: heater off first, then the hose, from the side.", "Animals into tubs with air and a lid.", noPromise}},
	{"overflow", "Overflow", []string{peopleFirst, "Shut what runs: tap, top-off pump, hose, siphon.", photograph, "Dry the floor, look below it and into the cabinet; ask who lives underneath.", "Look at the water: what was let in cold or with chlorine is the next trouble.", noPromise}},
	{"stuck_heater", "Stuck heater", []string{"Breaker off, then unplug the heater and leave it in the water until it has cooled: hot glass cracks.", "Read the temperature and write it down with the time.", "Bring air in. Let it cool by a degree an hour at most: lid open, room air over it; no ice, no cold change.", photograph, "The heater is kept and labelled, not thrown away.", noPromise}},
	{"other", "Something else", []string{peopleFirst, photograph, "Animals, then the water level.", noPromise}},
}
