package round

import (
	"slices"

	"scaperound/domain/say"
)

// compileRivals finds shifts of one day that have the same van at the same time:
// only one of them can have a round. Shifts that follow each other share a van.
func (m *model) compileRivals() {
	for i := range m.cars {
		a := &m.cars[i]
		for k := range m.cars {
			b := &m.cars[k]
			if i == k || a.van == "" || a.van != b.van || a.day != b.day || a.from >= b.to || b.from >= a.to {
				continue
			}
			if m.rivals == nil {
				m.rivals = make([][]int32, len(m.cars))
			}
			m.rivals[i] = append(m.rivals[i], int32(k))
			if i < k {
				m.said.oneVan(m, a, b)
			}
		}
	}
}

func (n *notes) oneVan(m *model, a, b *car) {
	n.add(say.S("round.one_van", say.Text("who", m.p.People[a.person].Name), say.Text("other", m.p.People[b.person].Name), say.Text("van", m.vanName(a.van)), say.Day("day", m.p.From.Add(a.day))))
}

func (m *model) vanName(id string) string {
	for _, v := range m.p.Vans {
		if v.ID == id {
			return v.Name
		}
	}
	return id
}

// vanTaken says whether somebody else has a shift's van in a draft.
func (m *model) vanTaken(d *draft, ci int) bool {
	if m.rivals == nil {
		return false
	}
	for _, o := range m.rivals[ci] {
		if len(d.seq[o]) > 0 {
			return true
		}
	}
	return false
}

// oneVan says whether two shifts have the same van at the same time.
func (m *model) oneVan(a, b int32) bool { return m.rivals != nil && slices.Contains(m.rivals[a], b) }

// vanTaken is that for the solution at hand.
func (c *chain) vanTaken(ri int32) bool {
	if c.m.rivals == nil || len(c.routes[ri].at) > 2 {
		return false
	}
	for _, o := range c.m.rivals[ri] {
		if len(c.routes[o].at) > 2 {
			return true
		}
	}
	return false
}
