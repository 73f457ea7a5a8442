package care_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

func TestAnyVisitLeadsToASafeList(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	suffers := func(c care.Case) bool {
		return slices.ContainsFunc(c.Now.Signs, func(s visit.Sign) bool { return slices.Contains(suffering, s.ID) })
	}
	for i := range 3000 {
		c := anyCase(r)
		a := care.Assess(c)
		bad := func(format string, args ...any) {
			t.Helper()
			t.Errorf("visit %d, signs %v: "+format, append([]any{i, c.Now.Signs}, args...)...)
		}
		work := 0
		for _, x := range a.Tasks {
			act := care.ActionOf(x.Action)
			if act.Never {
				bad("%s is on the list", x.Action)
			}
			if slices.ContainsFunc(a.Refused, func(f care.Refusal) bool { return f.Action == x.Action }) {
				bad("%s is on the list and refused", x.Action)
			}
			if text := care.TaskText(x, say.MetricUnits); text == "" || strings.ContainsAny(text, "{}_") {
				bad("%s reads %q", x.Action, text)
			}
			if x.Who == care.Customer && (act.ID == "dose_ca" || act.ID == "swap_cylinder" || act.ID == "filter_clean_gentle") {
				bad("a customer is asked for %s", x.Action)
			}
			if !act.Told && x.Who != care.Owner && x.Urgency.Level() > care.Today.Level() {
				work++
			}
		}
		if work > care.Ceiling {
			bad("%d tasks that could wait", work)
		}
		if slices.ContainsFunc(actionsOf(a), func(x string) bool { return strings.HasPrefix(x, "co2_") }) && !c.Setup.CO2.Injected {
			bad("CO2 is worked on where none is injected: %v", actionsOf(a))
		}
		for _, f := range a.Findings {
			if f.State == care.Internal {
				bad("the rule %s failed", f.Rule)
			}
		}
		if suffers(c) && c.Setup.HasAnimals() && (a.Status == care.AllWell || slices.Contains(actionsOf(a), "explain_normal")) {
			bad("%s, %v", a.Status, actionsOf(a))
		}
		if l := a.Recipe.Litres; l.OK && (l.V < 0 || l.V > max(c.Setup.Metered.Or(0), c.Setup.DrainLitres.Or(0))) {
			bad("the recipe takes %g L of %v", float64(l.V), c.Setup.Metered)
		}
		s := care.MakeSheet(a, c.Now, care.SheetFor{Shop: "Fernweir Aquascapes", Units: say.MetricUnits, Figures: true})
		if len(s.Lines) > 7 || len(s.Donts) > 3 {
			bad("%d lines, %d don'ts", len(s.Lines), len(s.Donts))
		}
		for _, l := range append(append(s.Lines, s.Donts...), care.SheetLine{Text: s.Top}) {
			if strings.ContainsAny(l.Text, "{}_") || strings.TrimSpace(l.Text) == "" {
				bad("the sheet reads %q", l.Text)
			}
		}
	}
}
