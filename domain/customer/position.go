package customer

import (
	"strconv"
	"strings"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Position on the Earth (WGS 84), in degrees: north and east are positive.
type Position struct{ Lat, Lon float64 }

// String is the position as one pastes it, "53.34981, -6.26031"; five decimals
// are about a metre.
func (p Position) String() string { return degrees(p.Lat) + ", " + degrees(p.Lon) }

// Geo is the position as a geo address (RFC 5870), made of the two numbers only.
func (p Position) Geo() string {
	return "geo:" + strconv.FormatFloat(p.Lat, 'f', 6, 64) + "," + strconv.FormatFloat(p.Lon, 'f', 6, 64)
}

func degrees(v float64) string {
	s := strconv.FormatFloat(v, 'f', 6, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// ParsePosition reads "53.35, -6.26", "53,35 -6,26", "53.35° N, 6.26° W" and
// geo addresses with or without parameters. An empty text is no position: ok is
// false and why is empty. Otherwise why is a sentence for the person.
func ParsePosition(text string) (p Position, ok bool, why string) {
	s := strings.TrimSpace(text)
	if s == "" {
		return p, false, ""
	}
	const howTo = "A position looks like 53.35, -6.26 or geo:53.35,-6.26; it may also stay empty."
	lat, lon, found := splitPosition(s)
	if !found {
		return p, false, "“" + short(text) + "” is not a position. " + howTo
	}
	var latOK, lonOK bool
	p.Lat, latOK = readDegrees(lat, 'N', 'S')
	p.Lon, lonOK = readDegrees(lon, 'E', 'W')
	switch {
	case !latOK || !lonOK:
		return p, false, "“" + short(text) + "” is not a position. " + howTo
	case p.Lat < -90 || p.Lat > 90:
		return p, false, "The first number is the latitude and lies between -90 and 90; " + degrees(p.Lat) + " does not. Are the two the wrong way round?"
	case p.Lon < -180 || p.Lon > 180:
		return p, false, "The second number is the longitude and lies between -180 and 180; " + degrees(p.Lon) + " does not."
	case p.Lat == 0 && p.Lon == 0:
		return p, false, "0, 0 lies in the ocean. Leave the position empty if it is not known."
	}
	return p, true, ""
}

func splitPosition(s string) (lat, lon string, ok bool) {
	if len(s) > 4 && strings.EqualFold(s[:4], "geo:") {
		path, query, _ := strings.Cut(s[4:], "?")
		if _, q, has := strings.Cut("&"+query, "&q="); has {
			// Some programs put the place itself behind q= and 0,0 before it.
			q, _, _ = strings.Cut(q, "&")
			q, _, _ = strings.Cut(q, "(")
			path = q
		}
		path, _, _ = strings.Cut(path, ";")
		parts := strings.Split(path, ",")
		if len(parts) != 2 && len(parts) != 3 { // the third is an altitude
			return "", "", false
		}
		return parts[0], parts[1], true
	}
	for _, sep := range []string{";", ", ", ","} {
		if parts := strings.Split(s, sep); len(parts) == 2 {
			return parts[0], parts[1], true
		}
	}
	if parts := strings.Fields(s); len(parts) == 2 {
		return strings.TrimSuffix(parts[0], ","), parts[1], true
	}
	return "", "", false
}

// readDegrees reads one angle; the letter of a direction may stand on either side.
func readDegrees(s string, plus, minus byte) (float64, bool) {
	s = strings.ToUpper(strings.TrimSpace(strings.NewReplacer("°", "", "−", "-", "–", "-").Replace(s)))
	sign := 1.0
	trim := func(letter byte) bool {
		l := string(letter)
		if strings.HasPrefix(s, l) {
			s = strings.TrimSpace(s[1:])
			return true
		}
		if strings.HasSuffix(s, l) {
			s = strings.TrimSpace(s[:len(s)-1])
			return true
		}
		return false
	}
	if trim(minus) {
		sign = -1
	} else {
		trim(plus)
	}
	s = strings.Replace(s, ",", ".", 1)
	if s == "" || strings.Trim(s, "+-.0123456789") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return sign * v, err == nil
}

// parsePosition reads the field position. One that is typed as was would show
// it keeps its exact value.
func parsePosition(f *typed.Form, was q.Opt[Position]) q.Opt[Position] {
	p, ok, why := ParsePosition(f.Get("position"))
	switch {
	case why != "":
		f.Faults.Add("position", fault.Impossible, "%s", why)
	case ok && was.OK && p.String() == was.V.String():
		return was
	}
	return q.Opt[Position]{V: p, OK: ok}
}

// short is a typed text as a fault repeats it.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
