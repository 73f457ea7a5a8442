package round

import (
	"slices"

	"scaperound/domain/num"
)

// Where a week is tight, what finds a place hinders what does not, and a step
// that gives up one stop for another is never taken: a stop without a place, or
// days late, weighs more than any temperature. So the search begins with the
// heavy weights made light, in their order, and gives them their weight back in
// stages.

// stages are up to which share of the first annealing costs are softened above
// some times the temperature that it begins with; with none they are not, but
// stops that stand badly are still urged.
var stages = []struct{ until, heat float64 }{{0.15, 2}, {0.3, 10}, {0.65, 60}, {0.9, 0}}

// One of these stages is held longer, up to some share, as long as something
// stands badly: what is to give way can then still be without a place for a
// while.
const (
	lingering  = 1
	lingerMost = 0.5
)

// light is a cost of which what is above a limit grows with its logarithm only;
// with no limit it is as it was.
func light(c int64, limit float64) int64 {
	if x := float64(c); limit > 0 && x > limit {
		return int64(limit * (1 + num.Log(x/limit)))
	}
	return c
}

// soften is a model of its own with costs above a limit made light.
func (m *model) soften(limit float64) *model {
	soft := *m
	soft.cost = slices.Clone(m.cost)
	for i, c := range m.cost {
		if c != forbid {
			soft.cost[i] = int32(light(int64(c), limit))
		}
	}
	soft.absent = slices.Clone(m.absent)
	for i, c := range m.absent {
		soft.absent[i] = light(c, limit)
	}
	soft.compileDays()
	soft.compileTried()
	return &soft
}

// softened says whether a model has weights that the temperature cannot reach.
func (s *search) softened() bool { return s.m.tried != nil && s.m.p.Known == nil }

// stage gives all chains the weights that go with a share of the first annealing.
func (s *search) stage(gone float64) {
	want := len(stages)
	for i, x := range stages {
		if gone < x.until {
			want = i
			break
		}
	}
	if !s.softened() {
		return
	}
	if s.divided && want > lingering && gone < lingerMost && s.staged-1 == lingering && len(s.badly()) > 0 {
		want = lingering
	}
	if want == s.staged-1 {
		return
	}
	s.staged = want + 1
	m := s.m
	s.limit = 0
	if want < len(stages) {
		s.limit = stages[want].heat * s.hot
		if s.limit > 0 || s.divided {
			m = s.m.soften(s.limit)
		}
		for v, n := range s.weary {
			if n > 0 {
				s.weigh(m, v)
			}
		}
	}
	var d draft
	for _, c := range s.chains {
		c.m, c.stale = m, true
		if s.divided {
			continue
		}
		c.take(&d)
		c.whole()
		c.begin(&d)
	}
}

// price is what a draft costs by the weights of the problem.
func (m *model) price(d *draft) int64 {
	sum, there := int64(0), make([]bool, m.nodes)
	for ri, seq := range d.seq {
		if len(seq) == 0 {
			continue
		}
		sum += int64(m.driveOf(ri, seq)) + m.unevenSeq(ri, seq)
		for _, v := range seq {
			there[v] = true
			sum += int64(m.cost[int(v)*len(m.cars)+ri])
		}
	}
	for v, ok := range there {
		if !ok {
			sum += m.absent[v]
		}
	}
	return sum
}
