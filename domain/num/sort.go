package num

// fewToMerge is how many are put in their places one by one, for which no room is
// needed beside the list.
const fewToMerge = 12

// SortStable sorts what compare puts in an order and leaves the rest as it
// stands, by merging: of slices.SortStableFunc the browser build would carry ten
// kilobytes for each type that is sorted.
func SortStable[E any](list []E, compare func(a, b E) int) {
	if len(list) <= fewToMerge {
		for i := 1; i < len(list); i++ {
			one, at := list[i], i
			for ; at > 0 && compare(one, list[at-1]) < 0; at-- {
				list[at] = list[at-1]
			}
			list[at] = one
		}
		return
	}
	half := len(list) / 2
	left, right := append([]E(nil), list[:half]...), list[half:]
	SortStable(left, compare)
	SortStable(right, compare)
	for at := 0; len(left) > 0; at++ {
		if len(right) > 0 && compare(right[0], left[0]) < 0 {
			list[at], right = right[0], right[1:]
		} else {
			list[at], left = left[0], left[1:]
		}
	}
}
