package web

import (
	"math"
	"strings"

	"scaperound/domain/calc"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// answerOf is an answer in words and figures for a reader.
func answerOf(d *calc.Def, raw map[string]calc.Value, a calc.Answer, units say.Units) view.BenchAnswer {
	out := view.BenchAnswer{Source: string(d.Source)}
	out.Said, out.With = saidOf(d, raw, units)
	out.Figure, out.Unit = benchFigure(a.Value, a.Unit, d.Share, units)
	if a.What != "" {
		out.Unit = strings.TrimSpace(out.Unit + " " + a.What)
	}
	lo, _ := benchFigure(a.Lo, a.Unit, d.Share, units)
	hi, unit := benchFigure(a.Hi, a.Unit, d.Share, units)
	switch {
	case math.IsInf(a.Hi, 1):
		out.Between = strings.TrimSpace("at least " + lo + " " + unit)
	case a.Hi > a.Lo:
		out.Between = strings.TrimSpace("between " + lo + " and " + hi + " " + unit + " by what the readings can mean")
	}
	for _, w := range a.Warn {
		text := upper(say.Render(w, units))
		if strings.HasPrefix(w.ID, "caution.") {
			out.Handling = append(out.Handling, text)
		} else {
			out.Heed = append(out.Heed, text)
		}
	}
	for _, s := range a.Steps {
		value, unit := benchFigure(s.Value, s.Unit, false, units)
		value = strings.TrimSpace(value + " " + unit)
		if s.Also {
			out.Also = append(out.Also, view.BenchAlso{Label: upper(s.Name), Value: value})
		}
		// The working stays in the units of the relation, which are written out.
		line := view.BenchStep{Name: s.Name, Formula: s.Formula, Value: plainFigure(s.Value, units)}
		if sign := s.Unit.Sign(); sign != "" {
			line.Value += " " + sign
		}
		if s.Filled != s.Formula {
			line.Numbers = s.Filled
		}
		out.Steps = append(out.Steps, line)
	}
	return out
}

// saidOf is the sentence as it was filled in, and what was said besides.
func saidOf(d *calc.Def, raw map[string]calc.Value, units say.Units) (said, with string) {
	of := strings.Join(raw["of"].Words, "")
	said, with = d.Said(func(in *calc.Input) string {
		v, given := raw[in.Key]
		if !given || in.Hidden {
			if in.Default.OK && strings.Contains(d.Sentence, "{"+in.Key+"}") {
				v = calc.Num(in.Default.V)
			} else {
				return ""
			}
		}
		switch {
		case in.YesNo && v.Nums[0] != 0:
			return "yes"
		case in.YesNo:
			return "no"
		case len(v.Words) > 0:
			return say.JoinAnd(v.Words)
		}
		text, unit := in.Write(v, of, units)
		return strings.TrimSpace(text + " " + typed.Sign(unit))
	})
	if said == "" {
		return d.Title + ":", with
	}
	if d.Sentence == "" || strings.HasSuffix(d.Sentence, "}") {
		said += ":"
	}
	return upper(said), with
}

// benchFigure is a number for a reader with the digits that count, and its unit.
func benchFigure(v float64, u q.Unit, share bool, units say.Units) (number, unit string) {
	if share {
		v, u = 100*v, q.Percent
	}
	var text string
	switch whole := v == math.Trunc(v) && math.Abs(v) < 1e6; {
	case whole && say.Amount(1, u, 3, units) == say.Amount(1, u, 3, say.Units{System: say.Metric, Decimal: units.Decimal}):
		text = say.Amount(v, u, 0, units)
	case u == q.PHUnit:
		text = say.Amount(v, u, 2, units)
	case u == q.DegC:
		text = say.Amount(v, u, 1, units)
	default:
		text = figure(v, u, units)
	}
	number, unit, _ = strings.Cut(text, " ")
	return number, unit
}

// plainFigure writes six digits in no particular unit, as the working does.
func plainFigure(v float64, units say.Units) string {
	for digits := range 7 {
		text := say.Number(v, digits, units)
		if digits == 6 || math.Abs(v-rounded(v, digits)) <= 5e-7*math.Abs(v) {
			return text
		}
	}
	return ""
}

func rounded(v float64, digits int) float64 {
	scale := 1.0
	for range digits {
		scale *= 10
	}
	return math.Round(v*scale) / scale
}

func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' || strings.HasPrefix(s, "pH") {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// answer is what the page shows where the answer stands.
func (a *benchAsk) shown() view.BenchAnswer {
	switch {
	case a.err != nil:
		return view.BenchAnswer{Fault: fault.Of(a.err).Msg, Source: string(a.def.Source)}
	case len(a.faults) > 0:
		return view.BenchAnswer{Open: "The answer comes when what is marked has been mended.", Source: string(a.def.Source)}
	case len(a.open) > 0:
		names := make([]string, len(a.open))
		for i, in := range a.open {
			names[i] = in.Title
		}
		return view.BenchAnswer{Open: "Still to fill in: " + say.JoinAnd(names) + ".", Source: string(a.def.Source)}
	}
	out := answerOf(a.def, a.raw, a.answer, a.units)
	out.Labels = a.labels()
	return out
}
