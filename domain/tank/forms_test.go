package tank_test

import (
	"reflect"
	"strings"
	"testing"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/typed"
)

// readers are those whose way of writing differs most.
var readers = map[string]say.Units{
	"metric":        say.MetricUnits,
	"decimal comma": {System: say.Metric, Decimal: ','},
	"US":            {System: say.US, Decimal: '.'},
}

// sent is a form as it was shown, sent back untouched.
func sent(s tank.Shown) *typed.Form {
	return &typed.Form{Units: s.Units, Get: func(name string) string { return s.Text[name] }}
}

// A form that is opened and sent back untouched must change nothing, whatever
// the reader's units: else every look at a record would move it.
func TestAFormSentBackUntouchedChangesNothing(t *testing.T) {
	setup := tank.Setup{
		Shape: tank.Shape{Length: q.Some(q.Centimetre(90.7)), Width: q.Some(q.Centimetre(45)), Height: q.Some(q.Centimetre(45)), Level: q.Some(q.Centimetre(41.37)),
			Metered: q.Some(q.Litre(131.4)), Substrate: tank.RichSoil, SubstrateDepth: q.Some(q.Centimetre(5)), Porosity: q.Some(q.Share(1.0 / 3)), Stone: q.Some(q.Kilogram(0))},
		Light:  tank.Light{Name: "bars", On: q.Some(q.MinuteOfDay(840)), Hours: q.Some(q.Hours(7.5)), Percent: q.Some(70.0)},
		Filter: tank.Filter{Name: "canister", Clean: q.Some(q.LitrePerHour(1234.5678)), Volume: q.Some(q.Litre(5.1))},
		Heater: tank.Heater{Power: q.Some(q.Watt(150)), Target: q.Some(q.Celsius(24.3))},
		CO2:    tank.CO2{Injected: true, Hours: q.Some(q.Hours(8)), Cylinder: q.Some(q.Kilogram(2)), Tare: q.Some(q.Kilogram(3.217))},
		Topoff: tank.TopoffRO, Planting: tank.PlantingDense, DrainLine: "third screw", DrainLitres: q.Some(q.Litre(48)), CanLitres: q.Some(q.Litre(10)), Note: "two\nlines",
	}
	source := tank.Source{Values: []tank.Known{{Kind: q.Acidity, Value: 7.43}, {Kind: q.KH, Value: 100.0 / 17.848}, {Kind: q.TotalChlorine, Value: 0.3}},
		WinterMin: q.Some(q.Celsius(5.5)), Disinfectant: tank.Chloramine, Softener: true, Note: "report of spring"}
	plan := tank.Plan{Lines: []tank.DosingLine{
		{Solute: q.Nitrate, PerDose: 391.0352, Weekdays: 0b0010101, How: tank.ByPump, ByWhom: "customer", Minute: q.Some(q.MinuteOfDay(545)), MlPerDose: q.Some(q.Millilitre(3)), MlPerStroke: q.Some(q.Millilitre(1.23456))},
		{Solute: q.Iron, PerDose: 4, Weekdays: 127, How: tank.ByDoser, ByWhom: "device", Note: "dark bottle"}}}
	profile := tank.Profile{LightNeed: q.Some(q.Micromol(1000.0 / 13)), Bands: []tank.Band{
		{Kind: q.Temperature, Lo: q.Some(21.9), Hi: q.Some(26.1), HardHi: q.Some(30.0)}, {Kind: q.Nitrate, HardHi: q.Some(50.0)}}}
	agreement := tank.Agreement{EveryDays: q.Some(14), ToleranceDays: 3, Minutes: 45, Skill: "ladder", TwoPeople: true, Preferred: "p", Weekdays: 0b0010110}
	share := tank.CareShare{Feeds: true, ChangesWater: true, Pinch: q.Some(q.Gram(0.1234567))}
	use := tank.SourceUse{Source: "s", ROShare: 0.4}
	card := tank.Card{Name: "Window", State: tank.Resting, SetUpOn: q.Some(q.NewDate(2026, 3, 1)), Pinned: []string{"a", "b"}, KeepApartSince: q.Some(q.NewDate(2026, 4, 1))}

	for name, units := range readers {
		check := func(what string, f *typed.Form, got, want any) {
			t.Helper()
			if len(f.Faults) > 0 || !reflect.DeepEqual(got, want) {
				t.Errorf("%s, %s: became %+v (%v), was %+v", name, what, got, f.Faults, want)
			}
		}
		f := sent(setup.Show(tank.NewShown(units)))
		check("set-up", f, tank.ParseSetup(f, setup), setup)
		f = sent(source.Show(tank.NewShown(units)))
		check("source", f, tank.ParseSource(f, source), source)
		f = sent(plan.Show(tank.NewShown(units)))
		check("plan", f, tank.ParseDosing(f, plan), plan.Lines)
		f = sent(profile.Show(tank.NewShown(units)))
		check("profile", f, tank.ParseProfile(f, profile), profile)
		f = sent(agreement.Show(tank.NewShown(units)))
		check("agreement", f, tank.ParseAgreement(f, agreement), agreement)
		f = sent(share.Show(tank.NewShown(units)))
		check("care share", f, tank.ParseCareShare(f, share), share)
		f = sent(use.Show(tank.NewShown(units)))
		check("change water", f, tank.ParseSourceUse(f, use), use)
		f = sent(card.Show(tank.NewShown(units)))
		check("card", f, tank.ParseCard(f, card, q.NewDate(2026, 5, 1)), card)
		check("pins", f, tank.ParsePins(f, card, q.NewDate(2026, 5, 1)), card)
	}
}

func post(pairs ...string) *typed.Form {
	m := map[string][]string{}
	for i := 0; i < len(pairs); i += 2 {
		m[pairs[i]] = append(m[pairs[i]], pairs[i+1])
	}
	return &typed.Form{Units: say.MetricUnits, Get: func(name string) string { return strings.Join(m[name], "\n") }}
}

func TestTheSignOfAMovementFollowsFromWhy(t *testing.T) {
	today := q.NewDate(2026, 5, 1)
	for _, c := range []struct {
		reason, typed string
		want          int
		fault         string
	}{
		{"we_added", "6", 6, ""}, {"died", "2", -2, ""}, {"died", "-2", -2, ""}, {"counted", "-3", -3, ""}, {"counted", "3", 3, ""},
		{"we_added", "-6", 0, "n"}, {"died", "0", 0, "n"}, {"died", "1.5", 0, "n"}, {"died", "", 0, "n"}, {"moved_to", "2", 0, "other_tank"}, {"vanished", "2", 0, "reason"},
	} {
		f := post("group", "tetras", "n", c.typed, "reason", c.reason)
		m := tank.ParseMovement(f, today)
		switch {
		case c.fault == "" && (len(f.Faults) > 0 || m.N != c.want || m.Living != tank.Animal || m.Day != today):
			t.Errorf("%s %q: %+v, %v", c.reason, c.typed, m, f.Faults)
		case c.fault != "" && len(f.Faults.On(c.fault)) == 0:
			t.Errorf("%s %q: faults %v, want one of %s", c.reason, c.typed, f.Faults, c.fault)
		}
	}
	f := post("group", "moss", "n", "1", "reason", "we_added")
	if m := tank.ParseMovement(f, today); m.Living != tank.Plant {
		t.Errorf("moss is %q", m.Living)
	}
}

func TestAKitReadsItsCardWithSpacesOrLines(t *testing.T) {
	f := post("name", "NO3", "measures", "no3", "type", "classes", "classes", "0 5\n10;25 | 50")
	k := tank.ParseKit(f)
	if len(f.Faults) > 0 || len(k.Classes) != 5 || k.Classes[3].Lo != 17.5 || k.Unit != q.MgL {
		t.Errorf("%+v, %v", k, f.Faults)
	}
	for _, bad := range []string{"0 5 five", "5 0", "0 0", "-1 0"} {
		f := post("name", "NO3", "measures", "no3", "type", "classes", "classes", bad)
		tank.ParseKit(f)
		if len(f.Faults.On("classes")) == 0 {
			t.Errorf("%q is taken for a card", bad)
		}
	}
}

func TestACheckIsHeldAgainstWhatTheKitCanRead(t *testing.T) {
	k := tank.Kit{Measures: q.Acidity, Unit: q.PHUnit}
	f := post("check_L_against", "7", "check_L_read", "45")
	tank.ParseMeterCheck(f, k, "L")
	if len(f.Faults.On("check_L_read")) != 1 {
		t.Errorf("a pH of 45: %v", f.Faults)
	}
	f = post("check_L_against", "7.01", "check_L_read", "6.9", "check_L_calibrated", "1")
	if c := tank.ParseMeterCheck(f, k, "L"); len(f.Faults) > 0 || !c.Calibrated || c.Off() > -0.1 || c.Off() < -0.12 {
		t.Errorf("%+v, %v", c, f.Faults)
	}
}
