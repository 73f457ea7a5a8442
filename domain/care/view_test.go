package care

import (
	"math"
	"testing"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// tested is a case with a few readings by kind and phase.
func tested(set func(*Case), readings ...visit.Reading) *View {
	day := q.NewDate(2026, time.March, 3)
	c := Case{
		Setup: tank.Setup{SetUpOn: q.Some(day - 300), Animals: []tank.Living{{Group: "tetras", Count: 10}}},
		Now:   visit.Record{Day: day, Minute: 15 * 60, Performed: day.Midnight().Add(15 * time.Hour), Readings: readings},
	}
	if set != nil {
		set(&c)
	}
	return See(c)
}

func known(k q.Kind, p visit.Phase, x float64) visit.Reading {
	return visit.Reading{Kind: k, Phase: p, Interval: q.Interval{Value: x, Lo: x - 1e-9, Hi: x + 1e-9}}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %g, want %g within %g", what, got, want, within)
	}
}

// Stopping the CO2 lifts the pH: with TAN 2 at KH 4 and 25 °C free ammonia goes
// from 0.005 to 0.048 mg/L when CO2 falls from 30 to 3 (carbonate equilibrium,
// Emerson et al. 1975). The day's highest pH counts.
func TestFreeAmmoniaAtTheHighestPH(t *testing.T) {
	water := []visit.Reading{known(q.TAN, visit.Before, 2), known(q.KH, visit.Before, 4), known(q.Temperature, visit.Before, 25)}
	v := tested(func(c *Case) { c.Setup.CO2.Injected = true }, append(water, known(q.Acidity, visit.Late, 6.64))...)
	if !v.NH3.Guessed {
		t.Error("a pH by day in an injected tank is not the highest")
	}
	near(t, "pH without the CO2", v.NH3.PH.Value, 7.64, 0.02)
	near(t, "NH3-N", v.NH3.N.Value, 0.048, 0.003)

	v = tested(func(c *Case) { c.Setup.CO2.Injected = true }, append(water, known(q.Acidity, visit.Late, 6.64), known(q.Acidity, visit.Night, 7.2))...)
	if v.NH3.Guessed {
		t.Error("a pH at night was read")
	}
	near(t, "pH", v.NH3.PH.Value, 7.2, 1e-9)

	v = tested(nil, append(water, known(q.Acidity, visit.Before, 6.64))...)
	near(t, "NH3-N without injection", v.NH3.N.Value, 0.005, 0.0005)
}

// KH 0.2, TAN 3, source KH 8, aerated to 1 mg/L CO2 at 25 °C: already 5 % of the
// source leads to 0.030 mg/L NH3-N and 10 % to 0.047, above the guide of 0.02;
// blended to KH 0.5 even 30 % stays at 0.011 (mass balance, carbonate
// equilibrium, Emerson et al. 1975).
func TestChangeUnderAmmoniaIsWorkedOut(t *testing.T) {
	readings := []visit.Reading{known(q.TAN, visit.Before, 3), known(q.KH, visit.Before, 0.2), known(q.Temperature, visit.Before, 25), known(q.Acidity, visit.Before, 5.2)}
	c := tested(nil, append(readings, known(q.KH, visit.FromSource, 8))...).changeUnderAmmonia("wc_30_50")
	if c.Action != "wc_many_small" || !c.Blend || !c.Known {
		t.Errorf("hard source: %+v", c)
	}
	near(t, "10 % of it", c.After, 0.047, 0.003)
	c = tested(nil, append(readings, known(q.KH, visit.FromSource, 0.5))...).changeUnderAmmonia("wc_30_50")
	if c.Action != "wc_30_50" || !c.Known || c.After > nh3Guide {
		t.Errorf("blended source: %+v", c)
	}
}

// pH 6.15 and KH 4 at 25 °C hold about 93 mg/L by the full chemistry (Plummer and
// Busenberg 1982), where the shortcut says 85. pH 6.8±0.1 and KH 4±0.5 mean 14.4 to
// 29.4: no alarm.
func TestCO2IsAnAlarmOnlyBeyondDoubt(t *testing.T) {
	injected := func(c *Case) { c.Setup.CO2.Injected = true }
	at := func(ph float64) *View {
		return tested(injected, known(q.Temperature, visit.Before, 25), visit.Reading{Kind: q.KH, Phase: visit.Before, Interval: q.Interval{Value: 4, Lo: 3.5, Hi: 4.5}},
			visit.Reading{Kind: q.Acidity, Phase: visit.Late, Interval: q.Interval{Value: ph, Lo: ph - 0.1, Hi: ph + 0.1}})
	}
	v := at(6.15)
	near(t, "CO2", float64(v.CO2.Est.Value), 93, 2)
	if v.co2State() != High {
		t.Errorf("93 mg/L is %s", v.co2State())
	}
	if v = at(6.8); v.co2State() != InBand {
		t.Errorf("20.7 mg/L is %s", v.co2State())
	}
	if v = at(6.6); v.co2State() != Borderline {
		t.Errorf("%v mg/L, from %v, is %s", v.CO2.Est.Value, v.CO2.Est.Lo90, v.co2State())
	}
	v = tested(injected, known(q.Acidity, visit.Late, 5.2), known(q.KH, visit.Before, 0.2))
	if v.co2State() != NotJudged {
		t.Errorf("with hardly any KH it is %s", v.co2State())
	}
	v = tested(nil, known(q.Acidity, visit.Late, 6.0), known(q.KH, visit.Before, 4))
	if v.co2State() != NotJudged {
		t.Errorf("without injection it is %s", v.co2State())
	}
}

// A tank lit from 14 to 22 is not judged at 11, nor by an early sample.
func TestLightClock(t *testing.T) {
	lit := func(minute q.MinuteOfDay) *View {
		return tested(func(c *Case) {
			c.Setup.CO2.Injected = true
			c.Setup.Light.On, c.Setup.Light.Hours = q.Some(q.MinuteOfDay(14*60)), q.Some(q.Hours(8))
			c.Now.Minute = minute
		}, known(q.Acidity, visit.Before, 7.4), known(q.KH, visit.Before, 4))
	}
	for _, x := range []struct {
		minute      q.MinuteOfDay
		late, early bool
	}{{11 * 60, false, true}, {15 * 60, false, true}, {20 * 60, true, false}, {22*60 + 30, false, false}} {
		v := lit(x.minute)
		if v.CO2.Late != x.late || v.CO2.Early != x.early {
			t.Errorf("at %s: late %v, early %v (position %g)", x.minute, v.CO2.Late, v.CO2.Early, v.Clock.Position)
		}
	}
	if v := lit(11 * 60); v.co2State() != NotJudged {
		t.Errorf("at 11 CO2 is %s", v.co2State())
	}
	// A light that burns past midnight.
	k := Clock{Known: true, On: 20 * 60, Hours: 8}
	near(t, "02:00 of a light from 20 to 4", k.at(2*60).Position, 0.75, 1e-9)
	// The sample counts, not the hour of typing.
	v := lit(20 * 60)
	r := known(q.Acidity, visit.Before, 7)
	r.Drawn = v.Now.Performed.Add(-5 * time.Hour)
	near(t, "drawn five hours before", v.drawnAt(r).Position, 1.0/8, 1e-9)
}

func TestNearestDay(t *testing.T) {
	due := q.Date(100)
	for _, x := range []struct {
		days      []q.Date
		tolerance int
		want      q.Date
	}{{nil, 2, 100}, {[]q.Date{90, 97, 103, 120}, 3, 97}, {[]q.Date{99, 101}, 1, 99}, {[]q.Date{110}, 2, 100}} {
		if got := nearest(x.days, due, x.tolerance); got != x.want {
			t.Errorf("%v within %d: %d, want %d", x.days, x.tolerance, got, x.want)
		}
	}
}

// A reading of KH is good for eight weeks, a little wider; an older one is not.
func TestKHOfLastTime(t *testing.T) {
	past := func(days int) *View {
		return tested(func(c *Case) {
			h := visit.Record{Day: c.Now.Day.Add(-days), Readings: []visit.Reading{{Kind: q.KH, Phase: visit.Before, Interval: q.Interval{Value: 4, Lo: 3.5, Hi: 4.5}}}}
			c.History = []visit.Record{h}
		})
	}
	if k, ok := past(20).khNow(); !ok || k.Value != 4 || k.Lo >= 3.5 || k.Hi <= 4.5 {
		t.Errorf("three weeks old: %v %v", k, ok)
	}
	if _, ok := past(80).khNow(); ok {
		t.Error("eleven weeks old still counts")
	}
}

// +93 mg/L NO3 alone adds at least 107 µS/cm (71.4 S cm²/eq, CRC): a conductivity
// that stood still says that the reading is wrong.
func TestConductivityContradicts(t *testing.T) {
	with := func(ec float64) *View {
		return tested(func(c *Case) {
			c.History = []visit.Record{{Day: c.Now.Day - 14, Readings: []visit.Reading{known(q.Nitrate, visit.Before, 7), known(q.EC, visit.Before, 250)}}}
		}, known(q.Nitrate, visit.Before, 100), known(q.EC, visit.Before, ec))
	}
	if !with(250).ecContradicts() || !with(250).Doubtful(q.Nitrate) {
		t.Error("it stood still")
	}
	if with(360).ecContradicts() {
		t.Error("it followed")
	}
}
