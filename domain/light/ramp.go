package light

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Stage is one week of a ramp.
type Stage struct {
	Week    int // 0 is the first
	Hours   quantity.Hours
	Percent float64 // of the lamp's power
}

// Ramp is practice: half an hour or ten per cent a week, never both; at least ten
// hours of darkness.
const (
	HoursPerWeek   quantity.Hours = 0.5
	PercentPerWeek                = 10.0
	LongestDay     quantity.Hours = 14
)

// Ramp leads from hours and per cent now to those wanted, power before hours:
// each week moves one of the two by at most its step. Going down is done at once,
// in week 0: less light is the safe direction. It takes 0 to 14 h, 0 to 100 %.
//
// Source: practice.
func Ramp(hours, wantHours quantity.Hours, percent, wantPercent float64) ([]Stage, error) {
	for _, h := range [...]quantity.Hours{hours, wantHours} {
		if err := num.Within("Hours of light", float64(h), 0, float64(LongestDay), "h"); err != nil {
			return nil, err
		}
	}
	for _, p := range [...]float64{percent, wantPercent} {
		if err := num.Within("The lamp's power", p, 0, 100, "%"); err != nil {
			return nil, err
		}
	}
	s := Stage{Hours: min(hours, wantHours), Percent: min(percent, wantPercent)}
	out := []Stage{s}
	for s.Hours < wantHours || s.Percent < wantPercent {
		s.Week++
		if s.Percent < wantPercent {
			s.Percent = min(s.Percent+PercentPerWeek, wantPercent)
		} else {
			s.Hours = min(s.Hours+HoursPerWeek, wantHours)
		}
		out = append(out, s)
	}
	return out, nil
}

// StepBack returns hours and per cent after a trim or an outage of CO2: a quarter
// less power, the same hours. It is practice (20 to 30 %).
func StepBack(s Stage) Stage {
	s.Percent *= 0.75
	return s
}
