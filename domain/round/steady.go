package round

import "slices"

// steady gives each shift the order of the known plan back, as far as it has the
// same stops, so that nobody is told another time for the sake of some minutes.
// What is new in a shift goes where it lengthens the way least.
func (m *model) steady(d *draft) {
	if m.p.Known == nil {
		return
	}
	known := m.draftOf(*m.p.Known)
	for ci, seq := range d.seq {
		next := make([]int32, 0, len(seq))
		for _, v := range known.seq[ci] {
			if slices.Contains(seq, v) {
				next = append(next, v)
			}
		}
		if len(next) == 0 {
			continue
		}
		ok := true
		for _, v := range seq {
			if ok && !slices.Contains(next, v) {
				next, ok = m.squeeze(d, ci, next, v)
			}
		}
		if !ok {
			continue
		}
		if _, _, _, _, ok := m.times(d, ci, next, nil); ok && m.lastIsLast(next) {
			d.seq[ci] = next
		}
	}
}

// squeeze puts a node where it lengthens the way least.
func (m *model) squeeze(d *draft, ci int, seq []int32, v int32) ([]int32, bool) {
	var best []int32
	for pos := range len(seq) + 1 {
		next := slices.Insert(slices.Clone(seq), pos, v)
		if _, _, _, _, ok := m.times(d, ci, next, nil); !ok || !m.lastIsLast(next) {
			continue
		}
		if best == nil || m.driveOf(ci, next) < m.driveOf(ci, best) {
			best = next
		}
	}
	return best, best != nil
}

func (m *model) lastIsLast(seq []int32) bool {
	for i, v := range seq {
		if m.last[v] && i < len(seq)-1 {
			return false
		}
	}
	return true
}
