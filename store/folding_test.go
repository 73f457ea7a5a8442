package store

import (
	"slices"
	"testing"
	"time"
)

func TestFold(t *testing.T) {
	for in, want := range map[string]string{
		"Café  Müßig":      "cafe mussig",
		"O’Shea's  -  bar": "osheas bar",
		"  ":               "",
		"Łódź, 12b":        "lodz 12b",
		"ＡＢＣ":              "abc",
	} {
		if got := Fold(in); got != want {
			t.Errorf("Fold(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestSortKeyOrder(t *testing.T) {
	want := []string{"Alder", "éclair", "Tank 2", "tank 10", "Zoo"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, func(a, b string) int {
		switch ka, kb := SortKey(a), SortKey(b); {
		case ka < kb:
			return -1
		case ka > kb:
			return 1
		}
		return 0
	})
	if !slices.Equal(got, want) {
		t.Errorf("sorted to %q, want %q", got, want)
	}
}

func TestNewIDIsVersion7InOrder(t *testing.T) {
	at := time.UnixMilli(0x017f22e279b0) // the worked example of RFC 9562, A.6
	a := newIDAt(at)
	if a[:13] != "017f22e2-79b0" || a[14] != '7' {
		t.Errorf("newIDAt = %s, want it to begin with 017f22e2-79b0-7", a)
	}
	if b := newIDAt(at.Add(time.Millisecond)); b <= a {
		t.Errorf("a later key %s does not sort behind %s", b, a)
	}
	if !ValidID(a) || ValidID("017f22e2-79b0") || ValidID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F") || ValidID("") {
		t.Error("ValidID accepts exactly the form that NewID writes")
	}
}
