package num

import (
	"math"
	"strings"
	"testing"

	"scaperound/domain/fault"
)

func TestWithin(t *testing.T) {
	for _, c := range []struct {
		v    float64
		okay bool
	}{{0, true}, {100, true}, {-0.1, false}, {100.1, false}, {math.NaN(), false}, {math.Inf(1), false}, {math.Inf(-1), false}} {
		err := Within("Temperature", c.v, 0, 100, "°C")
		if (err == nil) != c.okay {
			t.Errorf("%v: %v", c.v, err)
		}
		if err != nil && (!fault.Is(err, fault.Invalid) || !strings.Contains(err.Error(), "from 0 to 100 °C")) {
			t.Errorf("%v reads %q", c.v, err)
		}
	}
	if Within("Anything", math.Inf(1), 0, math.Inf(1), "") == nil {
		t.Error("infinity is taken")
	}
	if Positive("Mass", 0, "g") == nil || Positive("Mass", 1e-9, "g") != nil || NotNegative("Mass", -1, "g") == nil || NotNegative("Mass", 0, "g") != nil {
		t.Error("signs are mistaken")
	}
	if _, err := Finite("It", math.NaN()); err == nil {
		t.Error("NaN is finite")
	}
}
