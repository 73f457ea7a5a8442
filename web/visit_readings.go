package web

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

type kindPhase struct {
	kind  q.Kind
	phase visit.Phase
}

// readingForm is everything that can be read at a tank. What is due is taken
// out of it and shown first; the rest is folded.
var readingForm = []struct {
	title string
	gear  bool // tells how the gear does
	all   []kindPhase
}{
	{"Temperature, pH and hardness", true, []kindPhase{{q.Temperature, visit.Before}, {q.Acidity, visit.Late}, {q.Acidity, visit.Before}, {q.Acidity, visit.Morning}, {q.Acidity, visit.Degassed},
		{q.KH, visit.Before}, {q.GH, visit.Before}, {q.Acidity, visit.After}, {q.Temperature, visit.After}, {q.Acidity, visit.Night}, {q.Temperature, visit.Morning}, {q.TempMin, visit.Between}, {q.TempMax, visit.Between}, {q.Temperature, visit.InRoom}}},
	{"Nitrogen", false, []kindPhase{{q.TAN, visit.Before}, {q.Nitrite, visit.Before}, {q.Nitrate, visit.Before}}},
	{"Nutrients", false, []kindPhase{{q.Phosphate, visit.Before}, {q.Potassium, visit.Before}, {q.Iron, visit.Before}, {q.Magnesium, visit.Before}, {q.Calcium, visit.Before}}},
	{"CO2 and its cylinder", true, []kindPhase{{q.CylinderGross, visit.Before}, {q.CylinderLoss, visit.Before}, {q.CO2Use, visit.Between}, {q.Gauge, visit.Before}, {q.WorkPressure, visit.Before}, {q.CO2Bubbles, visit.Before}, {q.IndicatorPH, visit.Before}, {q.IndicatorKH, visit.Setting}, {q.CO2, visit.Before}, {q.CO2Air, visit.InRoom}}},
	{"Salts and metals", false, []kindPhase{{q.EC, visit.Before}, {q.TDS, visit.Before}, {q.Chloride, visit.Before}, {q.Sodium, visit.Before}, {q.Sulfate, visit.Before}, {q.Silicate, visit.Before}, {q.Copper, visit.Before}, {q.Zinc, visit.Before}, {q.FreeChlorine, visit.Before}, {q.TotalChlorine, visit.Before}}},
	{"Oxygen and gas", false, []kindPhase{{q.Oxygen, visit.Before}, {q.Oxygen, visit.Morning}, {q.OxygenShare, visit.Before}, {q.OxygenShare, visit.Late}, {q.OxygenShare, visit.Morning}, {q.GasTotal, visit.Before}}},
	{"Level, food, flow and light by a number", true, []kindPhase{{q.LevelDrop, visit.Before}, {q.Evaporation, visit.Between}, {q.Feed, visit.Between}, {q.Flow, visit.Before}, {q.Flow, visit.After}, {q.Flow, visit.Clean}, {q.FlowShare, visit.Before}, {q.PPFD, visit.Before}, {q.PPFDMax, visit.Before}, {q.PPFDMin, visit.Before}, {q.StrayVoltage, visit.Before}}},
	{"Change water", false, []kindPhase{{q.Temperature, visit.FromSource}, {q.Acidity, visit.FromSource}, {q.Acidity, visit.SourceDegassed}, {q.KH, visit.FromSource}, {q.GH, visit.FromSource}, {q.EC, visit.FromSource}, {q.TDS, visit.FromSource}, {q.Nitrate, visit.FromSource},
		{q.Nitrite, visit.FromSource}, {q.Phosphate, visit.FromSource}, {q.TAN, visit.FromSource}, {q.Calcium, visit.FromSource}, {q.Magnesium, visit.FromSource}, {q.Sodium, visit.FromSource}, {q.Copper, visit.FromSource}, {q.FreeChlorine, visit.FromSource}, {q.TotalChlorine, visit.FromSource}}},
	{"Transport water", false, []kindPhase{{q.Temperature, visit.Bag}, {q.Acidity, visit.Bag}, {q.KH, visit.Bag}, {q.GH, visit.Bag}, {q.EC, visit.Bag}}},
}

var phaseWords = map[visit.Phase]string{
	visit.Late: "late in the light", visit.Morning: "in the morning", visit.Night: "in the night", visit.After: "after the change",
	visit.Dosed: "after dosing", visit.Degassed: "of an aerated sample", visit.FromSource: "of the change water",
	visit.SourceDegassed: "of the change water, aerated", visit.Clean: "of the clean filter", visit.Between: "since last time",
	visit.Bag: "in the bag", visit.InRoom: "of the room", visit.Setting: "as set",
}

// phaseNow is the phase of a sample drawn from the tank at a minute of the day:
// late in the last third of the light, morning before the light comes on and in
// its first hour, night from three hours after it has gone.
func phaseNow(l tank.Light, at q.MinuteOfDay) visit.Phase {
	if !l.On.OK || !l.Hours.OK || l.Hours.V <= 0 {
		return visit.Before
	}
	const day = 24 * 60
	light := int(math.Round(float64(l.Hours.V) * 60))
	since := (int(at) - int(l.On.V) + day) % day // minutes since the light came on
	switch {
	case since < min(60, light):
		return visit.Morning
	case since < light-light/3:
		return visit.Before
	case since < light:
		return visit.Late
	case since-light >= 180 && since < day-120:
		return visit.Night
	case since >= day-120:
		return visit.Morning
	}
	return visit.Before
}

// readingFields draws what can be read: what is due first, each with why, with
// this person's own kits and with the last value beside it.
type readingFields struct {
	before care.Before
	person string
	form   view.Form
	units  say.Units
	local  view.Local
	today  q.Date
	at     q.MinuteOfDay
}

func (f readingFields) due(k visit.Kind) []view.VisitReading {
	if k == visit.GearOnly {
		return nil
	}
	var out []view.VisitReading
	for _, t := range f.before.Tests {
		at := kindPhase{t.Kind, visit.Phase(t.Phase)}
		why := whyRead(t, f.units)
		if t.Kind == q.Acidity && (at.phase == visit.Late || at.phase == visit.Before || at.phase == visit.Morning) {
			at.phase = phaseNow(f.before.Setup.Light, f.at)
			if on := f.before.Setup.Light.On; at.phase != visit.Late && on.OK && f.before.Setup.CO2.Injected {
				why += "; not judged at this hour: the light comes on at " + on.V.String()
			}
		}
		r := f.reading(at)
		r.Why = why
		out = append(out, r)
	}
	return out
}

// whyRead is why a reading is due, without its own name in front.
func whyRead(t care.TestDue, u say.Units) string {
	m, _ := q.MeasureOf(t.Kind)
	return strings.TrimPrefix(render(t.Why, u), m.Title+": ")
}

func (f readingFields) folded(due []view.VisitReading) []view.VisitReadingGroup {
	var out []view.VisitReadingGroup
	for _, g := range readingForm {
		group := view.VisitReadingGroup{Title: g.title, Gear: g.gear}
		for _, at := range g.all {
			name := string(at.kind) + "." + string(at.phase)
			if !slices.ContainsFunc(due, func(r view.VisitReading) bool { return r.Name == name }) {
				group.Readings = append(group.Readings, f.reading(at))
			}
		}
		if len(group.Readings) > 0 {
			out = append(out, group)
		}
	}
	return out
}

func (f readingFields) reading(at kindPhase) view.VisitReading {
	m, _ := q.MeasureOf(at.kind)
	r := view.VisitReading{
		Name: string(at.kind) + "." + string(at.phase), Label: m.Title, When: phaseWords[at.phase], Last: f.last(at),
		Ways: f.ways(at.kind),
	}
	// What was posted keeps its instrument; otherwise it is the one that was
	// used here last, where it is at hand.
	want, said := lastLot(f.before.History, at.kind), false
	if lots := f.form.Values["kit."+r.Name]; len(lots) > 0 {
		want, said = lots[0], true
	}
	for i, w := range r.Ways {
		if w.Lot == want && (said || want != "") {
			r.Way = i
		}
	}
	return r
}

// lastLot is the instrument with which a kind was read here last.
func lastLot(history []visit.Record, k q.Kind) string {
	for i := len(history) - 1; i >= 0; i-- {
		for _, r := range history[i].Readings {
			if r.Kind == k && r.Lot != "" {
				return r.Lot
			}
		}
	}
	return ""
}

// exactness orders instruments by how much they tell.
var exactness = map[tank.InstrumentType]int{tank.Meter: 0, tank.Scale: 0, tank.Drops: 1, tank.Classes: 2}

// ways are this person's own kits, then the shop's and the tank's, then a plain
// number.
func (f readingFields) ways(k q.Kind) []view.VisitWay {
	var mine, shared []view.VisitWay
	kits := slices.Clone(f.before.Setup.Kits)
	slices.SortStableFunc(kits, func(a, b tank.Instrument) int { return exactness[a.Type] - exactness[b.Type] })
	for _, kit := range kits {
		if kit.Measures != k || kit.Type == tank.Bucket {
			continue
		}
		switch kit.Keeper {
		case f.person:
			mine = append(mine, f.way(kit))
		case "":
			shared = append(shared, f.way(kit))
		}
	}
	u := unitOf(k, f.units.System)
	plain := view.VisitWay{Name: "no kit named", Type: "meter", Unit: string(u), Sign: u.Sign()}
	return append(append(mine, shared...), plain)
}

func (f readingFields) way(kit tank.Instrument) view.VisitWay {
	w := view.VisitWay{Lot: kit.Lot, Name: kit.Name, Type: string(kit.Type), Unit: string(kit.Unit), Sign: kit.Unit.Sign()}
	if kit.Expired(f.today) {
		w.Note = "Past its date since " + f.local.Day(kit.Expires.V) + "."
	}
	switch kit.Type {
	case tank.Drops:
		w.Unit = string(visit.CountedDrops)
		if kit.Step.OK {
			w.PerDrop = strconv.FormatFloat(kit.Step.V, 'g', -1, 64)
			w.Drop = say.Amount(kit.Step.V, kit.Unit, decimals(kit.Step.V), f.units)
		}
	case tank.Classes:
		w.Unit = string(visit.KitClass)
		w.Classes = f.classes(kit)
	case tank.Scale:
		w.Type = string(tank.Meter)
	}
	return w
}

// classes are the printed colours and what lies between two of them.
func (f readingFields) classes(kit tank.Instrument) []view.Option {
	var out []view.Option
	plain := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	shown := func(v float64) string { return say.Number(v, decimals(v), f.units) }
	for i, c := range kit.Classes {
		if i > 0 {
			lower := kit.Classes[i-1].Label
			out = append(out, view.Option{Value: plain(lower) + ".." + plain(c.Label), Label: shown(lower) + "–" + shown(c.Label), Hint: "between " + shown(lower) + " and " + shown(c.Label)})
		}
		out = append(out, view.Option{Value: plain(c.Label), Label: shown(c.Label)})
	}
	return out
}

// decimals is how many digits a printed value has behind its mark.
func decimals(v float64) int {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	if i := slices.Index([]byte(text), '.'); i >= 0 {
		return len(text) - i - 1
	}
	return 0
}

// last is what was read here the last time, and when. Samples of the tank's own
// water count alike, whatever their hour.
func (f readingFields) last(at kindPhase) string {
	own := func(p visit.Phase) bool { return p == visit.Late || p == visit.Before || p == visit.Morning }
	for i := len(f.before.History) - 1; i >= 0; i-- {
		rec := &f.before.History[i]
		for _, r := range rec.Readings {
			if r.Kind == at.kind && (r.Phase == at.phase || own(r.Phase) && own(at.phase)) {
				return valueText(r, f.units) + ", " + f.local.Day(rec.Day)
			}
		}
	}
	return ""
}

// valueText is a reading as it is told: what a colour card or counted drops can
// mean, else the value.
func valueText(r visit.Reading, u say.Units) string {
	m, _ := q.MeasureOf(r.Kind)
	wide := r.TypedUnit == visit.KitClass || r.TypedUnit == visit.CountedDrops
	switch {
	case wide && math.IsInf(r.Hi, 1):
		return "over " + say.Amount(r.Lo, m.Unit, m.DecimalsAt(r.Lo), u)
	case wide && r.Lo != r.Hi:
		return say.Number(r.Lo, m.DecimalsAt(r.Lo), u) + " to " + say.Amount(r.Hi, m.Unit, m.DecimalsAt(r.Hi), u)
	}
	return say.Amount(r.Value, m.Unit, m.DecimalsAt(r.Value), u)
}

// meaningText is all that a reading can mean, however it was taken.
func meaningText(r visit.Reading, u say.Units) string {
	m, _ := q.MeasureOf(r.Kind)
	switch {
	case math.IsInf(r.Hi, 1):
		return "over " + say.Amount(r.Lo, m.Unit, m.DecimalsAt(r.Lo), u)
	case r.Lo < r.Hi:
		return say.Number(r.Lo, m.DecimalsAt(r.Lo), u) + " to " + say.Amount(r.Hi, m.Unit, m.DecimalsAt(r.Hi), u)
	}
	return say.Amount(r.Value, m.Unit, m.DecimalsAt(r.Value), u)
}
