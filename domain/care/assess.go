package care

import (
	"scaperound/domain/say"
)

// Assess says what a visit means and what happens next. It never panics: a rule
// that does becomes one finding for the shop, and the rest stands.
func Assess(c Case) Assessment {
	v := desks.Get().(*View).cleared()
	defer desks.Put(v)
	v.see(&c)
	findings, trace := ask(v, rules)
	a := Assessment{
		Visit: c.Now.Visit, Revision: c.Now.Revision, Tank: c.Setup.ID, Rules: RulesVersion, Day: c.Now.Day,
		Findings: findings, Causes: v.Causes, NotKnown: v.NotKnown, Trace: trace, Memory: v.Learnt,
	}
	decide(v, &a)
	return a
}

// ask puts every rule to the view.
func ask(v *View, rules []Rule) ([]Finding, []Step) {
	findings := make([]Finding, 0, 8)
	trace := make([]Step, 0, len(rules)+11) // and room for the planner's usual steps
	for i := range rules {
		r := &rules[i]
		found, answer := askOne(v, r)
		step := Step{At: r.ID, What: "fine"}
		switch {
		case answer == NotApplicable:
			step.What = "not_applicable"
		case answer == Unmeasured:
			step.What = "not_measured"
		case len(found) > 0:
			step.What = "hit"
			step.Say = found[0].Say
		}
		trace = append(trace, step)
		findings = append(findings, found...)
	}
	return findings, trace
}

func askOne(v *View, r *Rule) (found []Finding, answer Answer) {
	defer func() {
		if p := recover(); p != nil {
			answer = Judged
			found = []Finding{{
				Rule: r.ID, System: r.System, State: Internal, Urgency: Routine, Audience: ForShop,
				Say: say.S("finding.internal", say.Text("rule", r.Title)),
			}}
		}
	}()
	if !r.Always && !v.ordinary() {
		return nil, NotApplicable
	}
	answer = r.Applies(v)
	if answer != Judged {
		return nil, answer
	}
	found = r.Decide(v)
	for i := range found {
		f := &found[i]
		f.Rule = r.ID
		if f.System == "" {
			f.System = r.System
		}
		if f.Urgency == "" {
			f.Urgency = Routine
		}
		if f.Audience == "" {
			f.Audience = ForCustomer
		}
	}
	return found, answer
}
