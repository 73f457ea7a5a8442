package customer

import (
	"math"
	"strconv"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Site is a place with one or more tanks.
type Site struct {
	ID         string
	Customer   string // a customer's ID
	Name       string // as the shop speaks of it: the café with the big wood
	Address    string // street and number
	Town       string
	Position   q.Opt[Position]
	Altitude   q.Opt[q.Metre]
	Card       Card
	Windows    []Window // in order of weekday and time
	ArchivedAt q.Opt[time.Time]
	Version    int
}

// Card is what one must know to work at the site without asking. How to get in
// is apart: see AccessNote.
type Card struct {
	ParkingMinutes q.Opt[int] // from the car to the tank
	Stairs         string
	Stopcock       string // where the mains water is shut
	Breaker        string // where the power is cut
	RCDTested      q.Opt[q.Date]
	Hose           q.Opt[q.Metre]
	Drain          string
	Room           q.Opt[q.CubicMetre]
	CO2Alarm       q.Opt[bool]    // not known is not "none"
	SpendingLimit  q.Opt[float64] // in the shop's currency, per visit, without asking
}

// LengthUnits and RoomUnits are what a person may choose from, the person's own
// first.
func LengthUnits(sys say.System) []q.Unit { return pick(sys, q.M, q.Foot) }

// RoomUnits lists the units of a room's volume, the person's own first.
func RoomUnits(sys say.System) []q.Unit { return pick(sys, q.M3, q.Foot3) }

func pick(sys say.System, metric, us q.Unit) []q.Unit {
	if sys == say.US {
		return []q.Unit{us, metric}
	}
	return []q.Unit{metric, us}
}

var (
	lengths = map[q.Unit]float64{q.M: 1, q.CM: 0.01, q.Foot: q.MPerFoot}
	volumes = map[q.Unit]float64{q.M3: 1, q.Foot3: q.M3PerFoot3}

	altitudeMeasure = measure{"altitude", "The altitude", q.M, map[q.Unit]float64{q.M: 1, q.Foot: q.MPerFoot}, q.Range{Lo: -430, Hi: 6000}, q.Range{Lo: -10, Hi: 3000}}
	parkingMeasure  = measure{"parking_minutes", "The way from the car", q.Minute, map[q.Unit]float64{q.Minute: 1}, q.Range{Lo: 0, Hi: 240}, q.Range{Lo: 0, Hi: 60}}
	hoseMeasure     = measure{"hose", "The hose", q.M, lengths, q.Range{Lo: 0, Hi: 300}, q.Range{Lo: 1, Hi: 80}}
	roomMeasure     = measure{"room", "The room", q.M3, volumes, q.Range{Lo: 0.5, Hi: 100000}, q.Range{Lo: 4, Hi: 5000}}
	limitMeasure    = measure{"spending_limit", "The limit", "", map[q.Unit]float64{"": 1}, q.Range{Lo: 0, Hi: 1e6}, q.Range{Lo: 0, Hi: 5000}}
)

// ParseSite reads the form of a site and says every fault of it. What is typed
// is read in the reader's units unless a unit stands beside or behind it. A
// measure that is typed as was would show it keeps its exact value. today is
// the shop's day. ID, Customer and Version are those of was.
func ParseSite(get Fields, units say.Units, was Site, today q.Date) (Site, fault.Fields) {
	var fs fault.Fields
	s := Site{ID: was.ID, Customer: was.Customer, Version: was.Version, ArchivedAt: was.ArchivedAt}
	shown := was.Typed(units)
	num := func(m measure, old q.Opt[float64]) q.Opt[float64] {
		if unit := get(m.name + ".unit"); old.OK && strings.TrimSpace(get(m.name)) == shown[m.name] && (unit == "" || unit == shown[m.name+".unit"]) {
			return old
		}
		return number(&fs, get, m, units)
	}
	s.Name = line(&fs, get, "name", MaxName)
	if s.Name == "" {
		fs.Add("name", fault.Missing, "Type what you call this place among yourselves.")
	}
	s.Address = line(&fs, get, "address", MaxLine)
	s.Town = line(&fs, get, "town", MaxName)
	if p, ok := parsePosition(&fs, get); ok {
		s.Position = q.Some(p)
		if was.Position.OK && p.String() == was.Position.V.String() {
			s.Position = was.Position
		}
	}
	s.Altitude = as[q.Metre](num(altitudeMeasure, plain(was.Altitude)))
	c := &s.Card
	if v := num(parkingMeasure, plain(was.Card.ParkingMinutes)); v.OK {
		if v.V != math.Trunc(v.V) {
			fs.Add("parking_minutes", fault.Impossible, "Type whole minutes.")
		}
		c.ParkingMinutes = q.Some(int(v.V))
	}
	c.Stairs = line(&fs, get, "stairs", MaxLine)
	s.Windows = parseWindows(&fs, get)
	c.Stopcock = line(&fs, get, "stopcock", MaxLine)
	c.Breaker = line(&fs, get, "breaker", MaxLine)
	c.RCDTested = parseTested(&fs, get, today)
	c.Hose = as[q.Metre](num(hoseMeasure, plain(was.Card.Hose)))
	c.Drain = line(&fs, get, "drain", MaxLine)
	c.Room = as[q.CubicMetre](num(roomMeasure, plain(was.Card.Room)))
	switch alarm := choice(&fs, get, "co2_alarm", "", []string{"yes", "no"}, "Choose yes, no or not known."); alarm {
	case "yes", "no":
		c.CO2Alarm = q.Some(alarm == "yes")
	}
	c.SpendingLimit = num(limitMeasure, was.Card.SpendingLimit)
	if v := c.SpendingLimit; v.OK && math.Abs(v.V*100-math.Round(v.V*100)) > 1e-6 {
		fs.Add("spending_limit", fault.Impossible, "A limit has at most two decimals.")
	}
	return s, fs
}

// oldestTest is a year before which nobody in this trade has tested anything.
var oldestTest = q.NewDate(1980, time.January, 1)

func parseTested(fs *fault.Fields, get Fields, today q.Date) q.Opt[q.Date] {
	typed := strings.TrimSpace(get("rcd_tested"))
	if typed == "" {
		return q.Opt[q.Date]{}
	}
	d, ok := day(fs, get, "rcd_tested", "")
	switch {
	case !ok:
		return q.Opt[q.Date]{}
	case d > today:
		fs.Add("rcd_tested", fault.Impossible, "A test that has been made does not lie in the future.")
	case d < oldestTest:
		fs.Add("rcd_tested", fault.Impossible, "That is before %s; please check the year.", oldestTest)
	}
	return q.Some(d)
}

// Typed is the site as its form shows it to a reader of the units: what
// ParseSite reads.
func (s Site) Typed(units say.Units) map[string]string {
	length, room := LengthUnits(units.System)[0], RoomUnits(units.System)[0]
	c := s.Card
	out := map[string]string{
		"name": s.Name, "address": s.Address, "town": s.Town,
		"altitude": typedNumber(plain(s.Altitude), lengths[length], units), "altitude.unit": string(length),
		"stairs": c.Stairs, "stopcock": c.Stopcock, "breaker": c.Breaker, "drain": c.Drain,
		"hose": typedNumber(plain(c.Hose), lengths[length], units), "hose.unit": string(length),
		"room": typedNumber(plain(c.Room), volumes[room], units), "room.unit": string(room),
		"spending_limit": typedNumber(c.SpendingLimit, 1, units),
	}
	if s.Position.OK {
		out["position"] = s.Position.V.String()
	}
	if c.ParkingMinutes.OK {
		out["parking_minutes"] = strconv.Itoa(c.ParkingMinutes.V)
	}
	if c.RCDTested.OK {
		out["rcd_tested"] = c.RCDTested.V.String()
	}
	if c.CO2Alarm.OK {
		out["co2_alarm"] = map[bool]string{true: "yes", false: "no"}[c.CO2Alarm.V]
	}
	for day := 1; day <= 7; day++ {
		if l := WindowLine(s.Windows, day); l != "" {
			out[WindowField(day)] = l
		}
	}
	return out
}

// typedNumber writes a canonical value in a unit of that many canonical ones,
// with as many decimals as it needs, at most three.
func typedNumber(v q.Opt[float64], factor float64, units say.Units) string {
	if !v.OK {
		return ""
	}
	return plainNumber(v.V/factor, units)
}

func plain[T ~float64 | ~int](o q.Opt[T]) q.Opt[float64] {
	return q.Opt[float64]{V: float64(o.V), OK: o.OK}
}

func as[T ~float64](o q.Opt[float64]) q.Opt[T] { return q.Opt[T]{V: T(o.V), OK: o.OK} }
