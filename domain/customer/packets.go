package customer

import (
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Packets is how one tank is fed while its people are away: a packet a day, and
// nothing else.
type Packets struct {
	Tank, TankName string
	EveryDays      int           // 1: each day; 0: it is not fed
	Grams          q.Opt[q.Gram] // of food in a packet
	Feeder         bool          // an automatic feeder does it
	FeederTried    q.Opt[q.Date] // the day on which it was set up and watched
	Note           string        // for whoever stands in
	At             time.Time     // when it was settled
}

// FeederDays is how long before the absence a feeder is set up: long enough to
// see it fail once (trade practice).
const FeederDays = 7

// Feedings are the ways of feeding, by days, that a form offers.
var Feedings = []int{1, 2, 3, 4, 7, 0}

// FeedingTitle says how often in words.
func FeedingTitle(every int) string {
	switch every {
	case 0:
		return "No food while they are away"
	case 1:
		return "A packet each day"
	case 2:
		return "A packet every second day"
	case 3:
		return "A packet every third day"
	case 4:
		return "A packet every fourth day"
	}
	return "A packet each week"
}

// Days are those on which there is a packet. The people feed once more before
// they leave, so that the first packet waits its turn.
func (p Packets) Days(a Away) []q.Date {
	var out []q.Date
	if p.EveryDays < 1 {
		return nil
	}
	for d := a.From.Add(p.EveryDays - 1); d <= a.To; d = d.Add(p.EveryDays) {
		out = append(out, d)
	}
	return out
}

// FeederBy is the last day on which its feeder is to be tried.
func (p Packets) FeederBy(a Away) q.Date { return a.From.Add(-FeederDays) }

var packetGrams = typed.Measure{Name: "grams", What: "The food in a packet", Dim: typed.SmallMass, Possible: q.Range{Lo: 0.001, Hi: 500}, Likely: q.Range{Lo: 0.01, Hi: 20}}

// PacketField is the field of one tank's packets: every, grams, feeder, tried, note.
func PacketField(tankID, name string) string { return "tank." + tankID + "." + name }

// ParsePackets reads the fields of one tank; today is the shop's day.
func ParsePackets(f *typed.Form, tankID string, today q.Date) Packets {
	all := f.Get
	one := typed.Form{Units: f.Units, Get: func(name string) string {
		if name == "confirm" {
			return strings.ReplaceAll(all(name), PacketField(tankID, ""), "")
		}
		return all(PacketField(tankID, name))
	}}
	p := Packets{Tank: tankID, EveryDays: 1}
	if every := strings.TrimSpace(one.Get("every")); every != "" {
		p.EveryDays = -1
		for _, n := range Feedings {
			if every == string(rune('0'+n)) {
				p.EveryDays = n
			}
		}
		if p.EveryDays < 0 {
			p.EveryDays = 1
			one.Faults.Add("every", fault.NotChoice, "Choose how often it is fed.")
		}
	}
	p.Grams = typed.As[q.Gram](one.Number(packetGrams, q.Opt[float64]{}))
	p.Feeder, p.FeederTried, p.Note = one.Tick("feeder"), one.Past("tried", "The day on which the feeder was set up", today), one.Line("note", MaxLine)
	switch {
	case p.Feeder && p.EveryDays == 0:
		one.Faults.Add("feeder", fault.Impossible, "Either a feeder feeds it, or it gets no food while they are away.")
	case !p.Feeder && p.FeederTried.OK:
		one.Faults.Add("feeder", fault.Missing, "A feeder was set up, but none is to feed it. Tick it, or empty the day.")
	case p.EveryDays == 0 && p.Grams.OK:
		one.Faults.Add("grams", fault.Impossible, "There is no packet where it gets no food. Empty this, or choose how often.")
	}
	for _, x := range one.Faults {
		x.Name = PacketField(tankID, x.Name)
		f.Faults = append(f.Faults, x)
	}
	return p
}
