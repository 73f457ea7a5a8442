package due

import (
	"slices"
	"time"

	q "scaperound/domain/quantity"
)

// How much past stops may teach: priorStops is how many of them the agreed
// minutes weigh, and a lesson never more than halves or doubles what is agreed.
const (
	priorStops  = 3
	leastLesson = 0.5
	mostLesson  = 2
)

// Minutes is how long a stop with these tanks takes at the site: what is agreed
// for each of them, times what past stops there took beside what was agreed,
// with the way from the car. A single stop that ran over teaches little, many
// teach much: the middle of the ratios, weighed against the agreement.
func (f *Facts) Minutes(s *Site, tanks []string) int {
	agreed := f.agreed(tanks)
	var ratios []float64
	for _, p := range s.Past {
		planned := f.agreed(p.Tanks)
		if planned > 0 && p.Minutes > 0 {
			ratios = append(ratios, float64(p.Minutes)/float64(planned))
		}
	}
	ratio := 1.0
	if n := len(ratios); n > 0 {
		slices.Sort(ratios)
		middle := (ratios[(n-1)/2] + ratios[n/2]) / 2
		ratio = (priorStops + float64(n)*middle) / (priorStops + float64(n))
	}
	ratio = min(max(ratio, leastLesson), mostLesson)
	return int(float64(agreed)*ratio+0.5) + s.Parking
}

func (f *Facts) agreed(tanks []string) int {
	sum := 0
	for _, id := range tanks {
		if t := f.Tank(id); t != nil {
			sum += t.Agreement.Minutes
		}
	}
	return sum
}

// habitStops is how many of the newest stops a habit is read from, and habitAt
// how many of them must fall on one weekday.
const (
	habitStops = 6
	habitAt    = 4
)

// Habit is the weekday on which a site has got used to us: four of its last six
// stops. Fewer than four stops are no habit.
func (s *Site) Habit() q.Opt[time.Weekday] {
	var on [7]int
	for i, p := range s.Past {
		if i == habitStops {
			break
		}
		on[p.Day.Weekday()]++
	}
	for day, n := range on {
		if n >= habitAt {
			return q.Some(time.Weekday(day))
		}
	}
	return q.Opt[time.Weekday]{}
}
