package care

import (
	"scaperound/domain/say"
)

// Ceiling is the most tasks that a list may hold; what must be done now or
// today is never cut.
const Ceiling = 8

// wished is a wish with the finding that made it.
type wished struct {
	*Wish
	from *Finding
}

// planner turns wishes into tasks. It alone decides: by rank it vetoes, within
// a family it chooses, it merges, puts in order, and follows up what was open.
type planner struct {
	v      *View
	a      *Assessment
	wishes []wished
	tasks  []Task
}

func decide(v *View, a *Assessment) {
	p := &planner{v: v, a: a}
	n := 0
	for i := range a.Findings {
		n += len(a.Findings[i].Wishes)
	}
	p.wishes = make([]wished, 0, n)
	for i := range a.Findings {
		f := &a.Findings[i]
		for j := range f.Wishes {
			p.wishes = append(p.wishes, wished{&f.Wishes[j], f})
		}
		if f.Hold != "" && a.HoldFor != "death" {
			a.HoldFor = f.Hold
		}
	}
	p.refuseNever()
	p.veto()
	alone := p.alone()
	p.merge()
	p.followUp(alone)
	p.chooseInFamilies()
	p.sampleFirst()
	p.dropIdle()
	p.dropExtra()
	p.oneChangeAtATime()
	p.order()
	p.ceiling()
	a.Tasks = p.tasks
	p.conclude()
}

func (p *planner) step(what, on string, s say.Sentence) {
	p.a.Trace = append(p.a.Trace, Step{At: "planner", What: what, On: on, Say: s})
}

func (p *planner) refuse(r Refusal) {
	for i := range p.a.Refused {
		if p.a.Refused[i].Action == r.Action {
			p.a.Refused[i].Asked = p.a.Refused[i].Asked || r.Asked
			if r.Rank < p.a.Refused[i].Rank {
				p.a.Refused[i].Rank, p.a.Refused[i].Why, p.a.Refused[i].Rule = r.Rank, r.Why, r.Rule
			}
			return
		}
	}
	p.a.Refused = append(p.a.Refused, r)
}
