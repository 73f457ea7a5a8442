package round

import "scaperound/domain/say"

// explain says for each stop without a place why, and what would let it in.
func (m *model) explain(d *draft, p *Plan) {
	for i := range p.Unplaced {
		u := &p.Unplaced[i]
		u.Why = append(u.Why, say.S("round.why.full"))
	}
}
