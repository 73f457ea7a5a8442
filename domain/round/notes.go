package round

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// notes are sentences about the problem itself, each said once.
type notes struct{ list []say.Sentence }

func (n *notes) add(s say.Sentence) {
	for _, other := range n.list {
		if say.Render(other, say.MetricUnits) == say.Render(s, say.MetricUnits) {
			return
		}
	}
	n.list = append(n.list, s)
}

func (n *notes) noStart(p *Person, d q.Date) {
	n.add(say.S("round.no_start", say.Text("who", p.Name), say.Day("day", d)))
}

func (n *notes) noVan(p *Person, van string) {
	n.add(say.S("round.no_van", say.Text("who", p.Name), say.Text("van", van)))
}

func (n *notes) nobody() { n.add(say.S("round.nobody")) }
