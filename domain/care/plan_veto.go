package care

import (
	"slices"

	"scaperound/domain/say"
)

// refuseNever strikes out what the product never advises.
func (p *planner) refuseNever() {
	p.wishes = slices.DeleteFunc(p.wishes, func(w wished) bool {
		if w.Action == "" || !ActionOf(w.Action).Never {
			return false
		}
		p.refuse(Refusal{Action: w.Action, Rule: w.from.Rule, Rank: w.Rank, Asked: true, Why: say.S("refused.never")})
		p.step("vetoed", w.Action, say.S("refused.never"))
		return true
	})
}

// veto lets every ban of a wish's own rank or a higher one stand.
func (p *planner) veto() {
	type ban struct {
		Forbid
		rank Rank
		rule string
	}
	bans := map[string]ban{}
	for _, w := range p.wishes {
		for _, f := range w.Forbids {
			b, ok := bans[f.Action]
			if !ok || w.Rank < b.rank {
				bans[f.Action] = ban{f, w.Rank, w.from.Rule}
			}
		}
	}
	hit, standing := map[string]bool{}, map[string]bool{}
	p.wishes = slices.DeleteFunc(p.wishes, func(w wished) bool {
		if w.Action == "" {
			return true
		}
		b, ok := bans[w.Action]
		if ok && b.rank <= w.Rank {
			hit[w.Action] = true
			p.step("vetoed", w.Action, b.Why)
			return true
		}
		if ok {
			p.step("kept", w.Action, say.S("plan.outranks", say.Word("rank", "rank."+w.Rank.String())))
		}
		standing[w.Action] = true
		return false
	})
	// In the order of the actions, so that the list is the same every time.
	for i := range actions {
		if b, ok := bans[actions[i].ID]; ok && !standing[actions[i].ID] {
			p.refuse(Refusal{Action: b.Action, Rule: b.rule, Rank: b.rank, Asked: hit[b.Action], Why: b.Why})
		}
	}
}

// alone clears the list of all but the people's safety while that is at stake.
func (p *planner) alone() bool {
	if !slices.ContainsFunc(p.wishes, func(w wished) bool { return w.Alone }) {
		return false
	}
	p.wishes = slices.DeleteFunc(p.wishes, func(w wished) bool {
		if w.Alone || w.Rank == RankPeople && w.Action != "fix_cylinder" {
			return false // and nobody straps a cylinder where nobody may be
		}
		p.step("postponed", w.Action, say.S("plan.people_first"))
		return true
	})
	return true
}
