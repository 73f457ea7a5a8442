package customer

import (
	"math"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
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

// What a site's numbers are measured in; the first unit is the one stored.
var (
	Lengths = typed.Dimension{Scales: []typed.Scale{{Unit: q.M, Factor: 1}, {Unit: q.CM, Factor: 0.01}, {Unit: q.Foot, Factor: q.MPerFoot}}, US: q.Foot}
	Rooms   = typed.Dimension{Scales: []typed.Scale{{Unit: q.M3, Factor: 1}, {Unit: q.Foot3, Factor: q.M3PerFoot3}}, US: q.Foot3}
	money   = typed.Plain("")
	minutes = typed.Plain(q.Minute)
)

var (
	altitudeMeasure = typed.Measure{Name: "altitude", What: "The altitude", Dim: Lengths, Possible: q.Range{Lo: -430, Hi: 6000}, Likely: q.Range{Lo: -10, Hi: 3000}}
	parkingMeasure  = typed.Measure{Name: "parking_minutes", What: "The way from the car", Dim: minutes, Possible: q.Range{Lo: 0, Hi: 240}, Likely: q.Range{Lo: 0, Hi: 60}}
	hoseMeasure     = typed.Measure{Name: "hose", What: "The hose", Dim: Lengths, Possible: q.Range{Lo: 0, Hi: 300}, Likely: q.Range{Lo: 1, Hi: 80}}
	roomMeasure     = typed.Measure{Name: "room", What: "The room", Dim: Rooms, Possible: q.Range{Lo: 0.5, Hi: 100000}, Likely: q.Range{Lo: 4, Hi: 5000}}
	limitMeasure    = typed.Measure{Name: "spending_limit", What: "The limit", Dim: money, Possible: q.Range{Lo: 0, Hi: 1e6}, Likely: q.Range{Lo: 0, Hi: 5000}}
)

// ParseSite reads the form of a site and says every fault of it. What is typed
// is read in the reader's units unless a unit stands beside or behind it. A
// measure that is typed as was would show it keeps its exact value. today is
// the shop's day. ID, Customer and Version are those of was.
func ParseSite(get Fields, units say.Units, was Site, today q.Date) (Site, fault.Fields) {
	f := typed.Form{Get: get, Units: units}
	s := Site{ID: was.ID, Customer: was.Customer, Version: was.Version, ArchivedAt: was.ArchivedAt}
	old, c := was.Card, &s.Card
	s.Name = f.Name("name", MaxName, "Type what you call this place among yourselves.")
	s.Address, s.Town = f.Line("address", MaxLine), f.Line("town", MaxName)
	s.Position = parsePosition(&f, was.Position)
	s.Altitude = as[q.Metre](f.Number(altitudeMeasure, plain(was.Altitude)))
	if v := f.Number(parkingMeasure, plain(old.ParkingMinutes)); v.OK {
		if v.V != math.Trunc(v.V) {
			f.Faults.Add("parking_minutes", fault.Impossible, "Type whole minutes.")
		}
		c.ParkingMinutes = q.Some(int(v.V))
	}
	c.Stairs = f.Line("stairs", MaxLine)
	s.Windows = parseWindows(&f.Faults, get)
	c.Stopcock, c.Breaker = f.Line("stopcock", MaxLine), f.Line("breaker", MaxLine)
	c.RCDTested = f.Past("rcd_tested", "A test that has been made", today)
	c.Hose = as[q.Metre](f.Number(hoseMeasure, plain(old.Hose)))
	c.Drain = f.Line("drain", MaxLine)
	c.Room = as[q.CubicMetre](f.Number(roomMeasure, plain(old.Room)))
	if alarm := typed.Choice(&f, "co2_alarm", "", []string{"yes", "no"}, "Choose yes, no or not known."); alarm != "" {
		c.CO2Alarm = q.Some(alarm == "yes")
	}
	c.SpendingLimit = f.Number(limitMeasure, old.SpendingLimit)
	if v := c.SpendingLimit; v.OK && math.Abs(v.V*100-math.Round(v.V*100)) > 1e-6 {
		f.Faults.Add("spending_limit", fault.Impossible, "A limit has at most two decimals.")
	}
	return s, f.Faults
}

// Typed is the site as its form shows it to a reader of the units: what
// ParseSite reads.
func (s Site) Typed(units say.Units) map[string]string {
	length, room := string(Lengths.Units(units.System)[0]), string(Rooms.Units(units.System)[0])
	c := s.Card
	out := map[string]string{
		"name": s.Name, "address": s.Address, "town": s.Town,
		"altitude": Lengths.Show(plain(s.Altitude), units), "altitude.unit": length,
		"stairs": c.Stairs, "stopcock": c.Stopcock, "breaker": c.Breaker, "drain": c.Drain,
		"hose": Lengths.Show(plain(c.Hose), units), "hose.unit": length,
		"room": Rooms.Show(plain(c.Room), units), "room.unit": room,
		"spending_limit":  money.Show(c.SpendingLimit, units),
		"parking_minutes": minutes.Show(plain(c.ParkingMinutes), units),
	}
	if s.Position.OK {
		out["position"] = s.Position.V.String()
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

func plain[T ~float64 | ~int](o q.Opt[T]) q.Opt[float64] {
	return q.Opt[float64]{V: float64(o.V), OK: o.OK}
}

func as[T ~float64](o q.Opt[float64]) q.Opt[T] { return q.Opt[T]{V: T(o.V), OK: o.OK} }
