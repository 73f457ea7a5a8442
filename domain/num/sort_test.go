package num

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"
)

func TestSortStableSortsAsTheStandardOneDoes(t *testing.T) {
	type card struct{ suit, at int }
	bySuit := func(a, b card) int { return cmp.Compare(a.suit, b.suit) }
	chance := rand.New(rand.NewPCG(3, 1))
	for n := range 60 {
		list := make([]card, n)
		for i := range list {
			list[i] = card{chance.IntN(1 + n/2), i}
		}
		want := slices.Clone(list)
		slices.SortStableFunc(want, bySuit)
		SortStable(list, bySuit)
		if !slices.Equal(list, want) {
			t.Fatalf("%v, want %v", list, want)
		}
	}
}
