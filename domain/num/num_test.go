package num

import (
	"bufio"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Largest errors allowed, in units of the last place.
var allowed = map[string]float64{"exp": 0.9, "log": 0.6, "log10": 0.6, "exp10": 0.9, "pow": 0.95, "expm1": 1.7}

func TestAgainstLongReferences(t *testing.T) {
	f, err := os.Open("testdata/reference.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	worst, n := map[string]float64{}, 0
	for sc := bufio.NewScanner(f); sc.Scan(); {
		if strings.HasPrefix(sc.Text(), "#") {
			continue
		}
		part := strings.Fields(sc.Text())
		x, err1 := strconv.ParseFloat(part[1], 64)
		y, err2 := strconv.ParseFloat(part[2], 64)
		want, _, err3 := big.ParseFloat(part[3], 10, 200, big.ToNearestEven)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(sc.Text(), err1, err2, err3)
		}
		var got float64
		switch part[0] {
		case "exp":
			got = Exp(x)
		case "log":
			got = Log(x)
		case "log10":
			got = Log10(x)
		case "exp10":
			got = Exp10(x)
		case "pow":
			got = Pow(x, y)
		case "expm1":
			got = Expm1(x)
		}
		e := ulps(got, want)
		n++
		worst[part[0]] = max(worst[part[0]], e)
		if e > allowed[part[0]] {
			t.Errorf("%s(%v, %v) = %v, want %s: %.2f units of the last place", part[0], x, y, got, part[3], e)
		}
	}
	if n < 1000 {
		t.Fatalf("only %d references", n)
	}
	t.Log(worst)
}

// ulps is the distance in units of the last place of the reference.
func ulps(got float64, want *big.Float) float64 {
	w, _ := want.Float64()
	unit := math.Abs(math.Nextafter(w, math.Inf(1)) - w)
	d := new(big.Float).SetPrec(200).SetFloat64(got)
	d.Sub(d, want)
	e, _ := d.Float64()
	return math.Abs(e) / unit
}

func TestEdges(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"e^-inf", Exp(-inf), 0}, {"e^inf", Exp(inf), inf}, {"e^710", Exp(710), inf}, {"e^-746", Exp(-746), 0},
		{"e^0", Exp(0), 1}, {"ln 1", Log(1), 0}, {"ln 0", Log(0), -inf}, {"ln inf", Log(inf), inf}, {"ln -1", Log(-1), nan}, {"ln nan", Log(nan), nan},
		{"e^nan", Exp(nan), nan}, {"10^nan", Exp10(nan), nan}, {"10^inf", Exp10(inf), inf}, {"10^-inf", Exp10(-inf), 0}, {"10^-1000", Exp10(-1000), 0},
		{"0^0", Pow(0, 0), 1}, {"0^2", Pow(0, 2), 0}, {"0^-2", Pow(0, -2), inf}, {"inf^2", Pow(inf, 2), inf}, {"inf^-1", Pow(inf, -1), 0},
		{"(-2)^2", Pow(-2, 2), nan}, {"2^inf", Pow(2, inf), inf}, {"0.5^inf", Pow(0.5, inf), 0}, {"2^2000", Pow(2, 2000), inf}, {"2^-2000", Pow(2, -2000), 0},
		{"e^nan-1", Expm1(nan), nan}, {"2^10", Pow(2, 10), 1024}, {"9^0.5", Pow(9, 0.5), 3},
		{"ln 2^-1074, which the compiler's own gets wrong on one target", Log(0x1p-1074), -744.4400719213812},
	} {
		if c.got != c.want && !(math.IsNaN(c.got) && math.IsNaN(c.want)) {
			t.Errorf("%s = %v, want %v", c.what, c.got, c.want)
		}
	}
	for k := -300; k <= 300; k++ {
		ten, _ := strconv.ParseFloat("1e"+strconv.Itoa(k), 64)
		if got := Log10(ten); got != float64(k) {
			t.Errorf("log10 of 1e%d = %v", k, got)
		}
	}
}

func FuzzAgainstMath(f *testing.F) {
	f.Add(1.5, 2.5)
	f.Add(-3.0, 0.1)
	f.Fuzz(func(t *testing.T, x, y float64) {
		if math.Abs(x) < 1e-300 {
			return // the compiler's own logarithm fails on subnormals
		}
		near(t, "exp", Exp(x), math.Exp(x))
		near(t, "log", Log(x), math.Log(x))
		if x >= 0 && math.Abs(y) < 100 {
			near(t, "pow", Pow(x, y), math.Pow(x, y))
		}
	})
}

// near allows for the compiler's own power, which loses digits at large exponents;
// the long references are the sharp test.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if got == want || math.IsNaN(got) && math.IsNaN(want) {
		return
	}
	if math.Abs(want) < 1e-300 || math.Abs(want) > 1e307 { // subnormal results are rounded twice
		if math.Abs(got-want) <= 1e-300 || got > 1e307 {
			return
		}
	}
	if math.Abs(got-want) > 1e-12*math.Abs(want) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func BenchmarkExp(b *testing.B) {
	b.ReportAllocs()
	x := 0.3
	for b.Loop() {
		sink = Exp(x)
	}
}

func BenchmarkPow(b *testing.B) {
	b.ReportAllocs()
	x := 7.3
	for b.Loop() {
		sink = Pow(x, 3.7)
	}
}

var sink float64
