package wire

import (
	"hash/fnv"
	"slices"
	"strconv"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
)

// Hash names what an assessment says, so that a tablet can tell which one its
// technician acted on. What only keeping it adds does not count: the keys and
// the age of its tasks.
func Hash(a care.Assessment) string {
	a.Tasks, a.Later = unkept(a.Tasks), unkept(a.Later)
	sum := fnv.New64a()
	_, _ = sum.Write(EncodeAssessment(a)) // cannot fail
	return strconv.FormatUint(sum.Sum64(), 16)
}

func unkept(tasks []care.Task) []care.Task {
	out := slices.Clone(tasks)
	for i := range out {
		out[i].ID, out[i].Opened, out[i].Renewed, out[i].Skips = "", q.Opt[q.Date]{}, false, 0
	}
	return out
}
