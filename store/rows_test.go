package store

import (
	"slices"
	"testing"
)

func TestEveryBufferedTableHasItsPlace(t *testing.T) {
	if len(bufferOrder) != len(bufferColumns) {
		t.Errorf("%d tables in order, %d with columns", len(bufferOrder), len(bufferColumns))
	}
	for table := range bufferColumns {
		if !slices.Contains(bufferOrder, table) {
			t.Errorf("%s would never be written", table)
		}
	}
}
