package tank

import q "scaperound/domain/quantity"

// Plan is what is dosed between visits.
type Plan struct {
	Lines []DosingLine
	By    PlanBy // where it is known without lines
}

// PlanBy says who doses between visits.
type PlanBy string

// Who may dose; empty where nobody said.
const (
	DosedByNobody PlanBy = "none"
	DosedByOwner  PlanBy = "by_owner"
	DosedByDoser  PlanBy = "by_doser"
	DosedAtVisit  PlanBy = "at_visit"
)

// DosingHow is the way a dose is given.
type DosingHow string

// Ways of dosing.
const (
	ByDoser DosingHow = "doser"
	ByPump  DosingHow = "pump"
	BySpoon DosingHow = "spoon"
	ByHand  DosingHow = "hand"
)

// DosingLine is one solute of the plan.
type DosingLine struct {
	ID          string
	Solute      q.Kind      // the ion that counts
	PerDose     q.Milligram // of that ion
	Weekdays    uint8       // bit 0 is Monday
	Minute      q.Opt[q.MinuteOfDay]
	How         DosingHow
	ByWhom      string // shop, customer or device
	MlPerDose   q.Opt[q.Millilitre]
	MlPerStroke q.Opt[q.Millilitre]
	Note        string
}

// DosesPerWeek counts the days on which the line is given.
func (l DosingLine) DosesPerWeek() int {
	n := 0
	for b := l.Weekdays; b != 0; b >>= 1 {
		n += int(b & 1)
	}
	return n
}

// WeeklyMg is what the plan gives of a solute in a week.
func (p Plan) WeeklyMg(solute q.Kind) q.Milligram {
	var sum q.Milligram
	for _, l := range p.Lines {
		if l.Solute == solute {
			sum += l.PerDose * q.Milligram(l.DosesPerWeek())
		}
	}
	return sum
}
