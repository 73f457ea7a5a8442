package tank

import (
	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

var movementCount = typed.Measure{Name: "n", What: "The number", Dim: typed.Plain(""), Possible: span(-5000, 5000), Likely: span(-200, 200)}

// ParseMovement reads the form of one movement. The sign of the number follows
// from the reason; only a count may go either way. today is the shop's day.
func ParseMovement(f *typed.Form, today q.Date) Movement {
	var m Movement
	m.Day = f.Past("day", "A movement", today).Or(today)
	m.Group = typed.Must(f, "group", append(idsOf[string](AnimalGroups), idsOf[string](PlantGroups)...), "Choose the group it belongs to.")
	m.Living = LivingOf(m.Group)
	m.Species = f.Line("species", MaxName)
	m.Reason = typed.Must(f, "reason", reasonIDs(), "Choose why.")
	m.N = readCount(f, m.Reason)
	info, _ := m.Reason.InfoOf()
	m.OtherTank = f.Line("other_tank", MaxName)
	switch {
	case info.Other && m.OtherTank == "":
		f.Faults.Add("other_tank", fault.Missing, "Choose the other tank.")
	case !info.Other:
		m.OtherTank = ""
	}
	m.Batch = f.Line("batch", MaxName)
	m.Pays = typed.Choice(f, "pays", "", idsOf[string](Payers), "Choose who pays, or leave it open.")
	m.Note = f.Text("note", MaxNote)
	return m
}

// readCount reads how many came or went.
func readCount(f *typed.Form, why Reason) int {
	n := f.Whole(movementCount, q.Opt[int]{})
	info, known := why.InfoOf()
	switch {
	case !n.OK:
		if len(f.Faults.On("n")) == 0 {
			f.Faults.Add("n", fault.Missing, "Type how many.")
		}
		return 0
	case n.V == 0:
		f.Faults.Add("n", fault.Impossible, "None came or went: there is nothing to write down.")
	case !known || info.Sign == 0:
		return n.V
	case n.V < 0 && info.Sign > 0:
		f.Faults.Add("n", fault.Impossible, "“%s” brings animals or plants, so the number cannot be below nothing.", info.Title)
	case info.Sign < 0 && n.V > 0:
		return -n.V
	}
	return n.V
}

func reasonIDs() []Reason {
	out := make([]Reason, len(Reasons))
	for i, r := range Reasons {
		out[i] = r.Reason
	}
	return out
}

// Left reports how many of the group and species are there once the movement is
// counted, and whether that can be: fewer than none cannot.
func (s Setup) Left(m Movement) (n int, possible bool) {
	all := s.Animals
	if m.Living == Plant {
		all = s.Plants
	}
	for _, l := range all {
		if l.Group == m.Group && l.Species == m.Species {
			n = l.Count
		}
	}
	n += m.N
	return n, n >= 0
}
