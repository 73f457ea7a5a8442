package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Locale says how a shop writes numbers.
type Locale struct {
	Decimal byte // '.' or ','
}

// Typed is what a text said: the number as typed and the unit that stood
// behind it, if any.
type Typed struct {
	Value    float64
	Decimals int          // digits typed after the decimal mark
	Unit     Unit         // empty where the text names none
	Alt      Opt[float64] // the other reading of an ambiguous text such as "1,250"
}

// ParseFault says why a text is not a number.
type ParseFault int

// What can be wrong with a text.
const (
	NoFault ParseFault = iota
	NoNumber
	UnknownUnit
)

// ParseNumber reads one number and an optional unit: "4,5", "4.5 °dH", "−3",
// "1 250", "1'250", "1,250.5". A single mark followed by exactly three digits,
// after one to three digits that are not a lone zero, can be read both as a
// decimal and as a thousands mark; then Value follows the locale and Alt holds
// the other reading.
func ParseNumber(text string, loc Locale) (Typed, ParseFault) {
	s := strings.TrimSpace(text)
	for _, x := range [...][2]string{{"−", "-"}, {"–", "-"}, {"\u00a0", " "}, {"\u202f", " "}, {"\u2009", " "}, {"’", "'"}} {
		s = strings.ReplaceAll(s, x[0], x[1])
	}
	end := 0
	for end < len(s) {
		c := s[end]
		if c >= '0' && c <= '9' || c == '.' || c == ',' || c == '\'' || (c == '-' || c == '+') && end == 0 {
			end++
			continue
		}
		// A space groups digits only before exactly three of them.
		if c == ' ' && end > 0 && isDigits(s[end+1:], 3) {
			end++
			continue
		}
		break
	}
	number, rest := strings.TrimRight(s[:end], "'"), strings.TrimSpace(s[end:])
	t, ok := readNumber(number, loc)
	if !ok {
		return Typed{}, NoNumber
	}
	if rest != "" {
		u, known := readUnit(rest)
		if !known {
			return t, UnknownUnit
		}
		t.Unit = u
	}
	return t, NoFault
}

// isDigits reports whether s begins with exactly n digits.
func isDigits(s string, n int) bool {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return i == n
}

func readNumber(s string, loc Locale) (Typed, bool) {
	sign := 1.0
	if strings.HasPrefix(s, "-") {
		sign, s = -1, s[1:]
	} else if strings.HasPrefix(s, "+") {
		s = s[1:]
	}
	s = strings.ReplaceAll(strings.ReplaceAll(s, " ", ""), "'", "")
	if s == "" || strings.Trim(s, ".,") == "" {
		return Typed{}, false
	}
	lastDot, lastComma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case lastDot >= 0 && lastComma >= 0:
		mark, group := byte('.'), ","
		if lastComma > lastDot {
			mark, group = ',', "."
		}
		if strings.Count(s, string(mark)) > 1 || !grouped(s[:strings.IndexByte(s, mark)], group[0]) {
			return Typed{}, false
		}
		return plain(strings.ReplaceAll(s, group, ""), mark, sign)
	case lastDot < 0 && lastComma < 0:
		return plain(s, '.', sign)
	}
	mark := byte('.')
	if lastComma >= 0 {
		mark = ','
	}
	if strings.Count(s, string(mark)) > 1 {
		if !grouped(s, mark) {
			return Typed{}, false
		}
		return plain(strings.ReplaceAll(s, string(mark), ""), '.', sign)
	}
	at := strings.IndexByte(s, mark)
	whole, part := s[:at], s[at+1:]
	if len(part) != 3 || len(whole) < 1 || len(whole) > 3 || whole[0] == '0' {
		return plain(s, mark, sign)
	}
	decimal, ok1 := plain(s, mark, sign)
	thousands, ok2 := plain(whole+part, '.', sign)
	if !ok1 || !ok2 {
		return Typed{}, false
	}
	if mark == loc.Decimal {
		decimal.Alt = Some(thousands.Value)
		return decimal, true
	}
	thousands.Alt = Some(decimal.Value)
	return thousands, true
}

// grouped reports whether s is digits in groups of three behind the first.
func grouped(s string, sep byte) bool {
	parts := strings.Split(s, string(sep))
	for i, p := range parts {
		if i == 0 && (len(p) < 1 || len(p) > 3) || i > 0 && len(p) != 3 {
			return false
		}
	}
	return true
}

func plain(s string, mark byte, sign float64) (Typed, bool) {
	decimals := 0
	if i := strings.IndexByte(s, mark); i >= 0 {
		decimals = len(s) - i - 1
		s = s[:i] + "." + s[i+1:]
	}
	if len(s) > 24 {
		return Typed{}, false
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return Typed{}, false
	}
	return Typed{Value: sign * v, Decimals: decimals}, true
}

// unitWords maps what people write to symbols; keys are folded by foldUnit.
var unitWords = map[string]Unit{
	"ph":  PHUnit,
	"dkh": DKH, "°dkh": DKH, "°kh": DKH, "kh": DKH, "dgh": DGH, "°dgh": DGH, "°gh": DGH, "gh": DGH,
	"°dh": degreeAny, "dh": degreeAny, "°d": degreeAny, "d": degreeAny, "°": degreeAny,
	"mg/l": MgL, "mg/litre": MgL, "mgl": MgL, "ppm": MgL, "ppmcaco3": PPMCaCO3, "ppm_caco3": PPMCaCO3, "mg/lcaco3": PPMCaCO3,
	"meq/l": MeqL, "mval/l": MeqL, "mmol/l": MmolL,
	"c": DegC, "°c": DegC, "f": DegF, "°f": DegF,
	"us/cm": USCm, "us": USCm, "ms/cm": "mS/cm",
	"l/h": LH, "lph": LH, "l/hr": LH, "galus/h": GalUSH, "gph": GalUSH,
	"kg": Kg, "g": Gr, "lb": Lb, "lbs": Lb,
	"l": L, "litre": L, "litres": L, "liter": L, "liters": L, "ml": ML,
	"galus": GalUS, "gal": GalUS, "galuk": GalUK,
	"umol/m2/s": Umol, "umol": Umol, "par": Umol,
	"bar": BarUnit, "psi": Psi, "mm": MM, "cm": CM, "in": Inch, "\"": Inch,
	"m": M, "metre": M, "metres": M, "meter": M, "meters": M, "ft": Foot, "foot": Foot, "feet": Foot,
	"m3": M3, "ft3": Foot3, "cuft": Foot3, "cubicfeet": Foot3,
	"%": Percent, "g/d": GramDay, "g/day": GramDay, "v": Volt,
	"mg/ln": AsN, "mg/lno3-n": AsN, "mg/lno2-n": AsN, "mg/lnh4": AsNH4, "mg/lnh3": AsNH3,
	"mg/lp": AsP, "mg/lp2o5": AsP2O5, "mg/lk2o": AsK2O,
	"1/min": PerMinute, "l/week": LWeek,
}

// degreeAny is "°dH" without saying which hardness; it fits KH and GH alike.
const degreeAny Unit = "d"

func foldUnit(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case unicode.IsSpace(r):
		case r == 'µ' || r == 'μ':
			b.WriteByte('u')
		case r == 'º':
			b.WriteRune('°')
		case r == '²' || r == '₂':
			b.WriteByte('2')
		case r == '³' || r == '₃':
			b.WriteByte('3')
		case r == '₄':
			b.WriteByte('4')
		default:
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String()
}

func readUnit(s string) (Unit, bool) {
	u, ok := unitWords[foldUnit(s)]
	return u, ok
}

// InKind settles a unit that means different things for different kinds.
func InKind(k Kind, u Unit) Unit {
	m, _ := MeasureOf(k)
	switch {
	case u == degreeAny && (m.Unit == DKH || m.Unit == DGH):
		return m.Unit
	case u == degreeAny && m.Unit == DegC:
		return DegC
	case u == MgL && k == CO2Air:
		return PPMAir
	case u == MgL && (m.Unit == DKH || m.Unit == DGH):
		return PPMCaCO3
	}
	return u
}
