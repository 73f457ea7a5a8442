package forecast

import (
	"math"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// longest is after how many days without a visit the water's past says nothing
// more.
const longest = 200

// Update folds one visit into the state: the days since the last one under the
// plan that was in force, then what was read before the work, then the work.
// The set-up is that of the visit's day. A visit earlier than the state's last
// leaves it as it is: fold the tank's visits anew, in the order in which they
// were performed.
func Update(s State, setup tank.Setup, plan tank.Plan, v visit.Record) State {
	if s.Version != Version || rebuilt(&s, &setup) {
		s = Start(setup)
	}
	if s.Visits > 0 && v.Day < s.Day {
		return s
	}
	days := 0.0
	if s.Visits > 0 {
		days = float64(v.Day - s.Day)
	}
	net := float64(volumeOf(&setup))
	s.Turn = Turn{}
	switch {
	case days > longest:
		s = afterSilence(s, setup)
	case days > 0:
		iv := between(&s, &setup, &plan, v.Doses, days, net, v.Day)
		before := s
		s.carry(&iv, &setup)
		trial := s
		doubt := trial.readings(&setup, &v)
		s = weighTurns(before, s, trial, doubt, &iv, &setup, &v)
	}
	if days == 0 || days > longest {
		s.readings(&setup, &v)
	}
	s.gearReadings(&setup, &v, days)
	s.work(&setup, &plan, &v, net)
	s.after(&setup, &v)
	if s.Visits > 0 && days > 0 {
		s.Every = usualOf(s.Every, days)
	}
	s.Day = v.Day
	s.Visits++
	return s
}

func rebuilt(s *State, setup *tank.Setup) bool {
	return setup.SetUpOn.OK && s.SetUpOn != 0 && setup.SetUpOn.V != s.SetUpOn
}

func usualOf(old, now float64) float64 {
	if old == 0 {
		return now
	}
	return old + float64(0.25*(now-old))
}

func volumeOf(setup *tank.Setup) q.Litre {
	net, _ := NetVolume(*setup)
	return q.Litre(clamp(float64(net.Or(usualNet)), 0.5, 1e5))
}

// afterSilence keeps what is learnt about kits and source and forgets the rest.
func afterSilence(s State, setup tank.Setup) State {
	n := Start(setup)
	for _, i := range [...]int{kitNO3, kitPO4, kitK, kitFe, kitGH, kitKH, evap} {
		n.Mean[i] = s.Mean[i]
		n.Cov[at(i, i)] = s.Cov[at(i, i)]
	}
	n.Visits, n.Share, n.Seen, n.Cylinder = s.Visits, s.Share, s.Seen, s.Cylinder
	n.Cylinder.forget()
	return n
}

// bound keeps terms where their meaning ends, whatever was read.
func (s *State) bound() {
	for i := range terms {
		top := 14.0
		if i == gh || i == kh || i == inGH || i == inKH {
			top = 300
		}
		if i == inNO3 {
			top = 5000
		}
		if i == driftK || i == driftGH || i == driftKH {
			top = 5
		}
		s.Mean[i] = clamp(s.Mean[i], -math.Min(top, 14), top)
	}
}
