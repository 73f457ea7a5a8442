package care_test

import (
	"testing"
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// evening is a tank with driven CO2 that is lit from 14 to 22.
func evening(minute q.MinuteOfDay, phase visit.Phase) care.Case {
	at := time.Date(2026, 11, 24, 0, int(minute), 0, 0, time.UTC)
	c := care.Case{
		Setup: tank.Setup{Name: "The bar", State: tank.Running, Light: tank.Light{On: q.Some(q.MinuteOfDay(14 * 60)), Hours: q.Some(q.Hours(8))},
			CO2: tank.CO2{Injected: true}, Animals: []tank.Living{{Group: "rasboras", Count: 30}}},
		Profile: tank.Profile{Bands: []tank.Band{{Kind: q.Acidity, Lo: q.Some(6.2), Hi: q.Some(7.1)}, {Kind: q.CO2, Lo: q.Some(15.0), Hi: q.Some(25.0)}}},
		Now:     visit.Record{Kind: visit.Routine, Performed: at, Minute: minute, Day: q.DateOf(at), Looks: map[visit.Look]visit.Answer{visit.LookAnimals: visit.Fine}},
	}
	for k, v := range map[q.Kind]float64{q.Acidity: 7.5, q.KH: 4, q.Temperature: 24.5} {
		c.Now.Readings = append(c.Now.Readings, visit.Reading{Kind: k, Phase: phase, Drawn: at, Interval: visit.MeaningOf(k, v)})
	}
	return c
}

func stateOf(a care.Assessment, k q.Kind) care.State {
	for _, s := range a.Strips {
		if s.Kind == k {
			return s.State
		}
	}
	return "no strip"
}

// CO2 late in the light period is out of a shop's hours where the lamp burns
// until ten at night; neither pH nor CO2 is judged at nine in the morning,
// whatever the form calls the sample.
func TestOutOfHoursIsNotJudged(t *testing.T) {
	for _, phase := range []visit.Phase{visit.Before, visit.Late} {
		a := care.Assess(evening(9*60+20, phase))
		if stateOf(a, q.Acidity) != care.NotJudged || stateOf(a, q.CO2) != care.NotJudged {
			t.Errorf("%s at 9:20: pH %s, CO2 %s", phase, stateOf(a, q.Acidity), stateOf(a, q.CO2))
		}
	}
	if a := care.Assess(evening(21*60, visit.Late)); stateOf(a, q.Acidity) != care.High {
		t.Errorf("at 21:00 pH 7.5 against 7.1 is %s", stateOf(a, q.Acidity))
	}
}

func TestNoSheetSaysAllIsWellWhereNobodyLooked(t *testing.T) {
	c := evening(9*60+20, visit.Before)
	c.Now.Readings = nil
	if a := care.Assess(c); a.Status != care.AllWell {
		t.Errorf("animals looked at and fine: %s, %s", a.Status, a.Top.ID)
	}
	c.Now.Looks = nil
	if a := care.Assess(c); a.Status == care.AllWell || a.Top.ID != "top.not_looked" {
		t.Errorf("nobody looked: %s, %s", a.Status, a.Top.ID)
	}
	c.Setup.Animals = nil
	if a := care.Assess(c); a.Status != care.AllWell {
		t.Errorf("no animals to look at: %s", a.Status)
	}
}
