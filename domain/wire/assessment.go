package wire

import (
	"math"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// EncodeAssessment writes the whole assessment as one document.
func EncodeAssessment(a care.Assessment) []byte {
	c := writer()
	c.braces(func(c *codec) { c.assessment(&a) })
	return c.out
}

// DecodeAssessment reads what EncodeAssessment wrote.
func DecodeAssessment(b []byte) (care.Assessment, error) {
	var a care.Assessment
	n, err := parse(b)
	if err != nil {
		return a, err
	}
	c := reader(&n)
	c.into(&n, "", func(c *codec) { c.assessment(&a) })
	return a, c.err()
}

func (c *codec) assessment(a *care.Assessment) {
	c.must("visit", &a.Visit)
	c.must("revision", &a.Revision)
	c.text("tank", &a.Tank)
	c.must("rules", &a.Rules)
	c.day("day", &a.Day)
	word(c, "status", &a.Status)
	word(c, "urgency", &a.Urgency)
	c.sentence("top", &a.Top)
	list(c, "systems", &a.Systems, func(c *codec, s *care.SystemState) {
		word(c, "system", &s.System)
		word(c, "state", &s.State)
		c.sentence("say", &s.Say)
		some(c, "more", &s.More, func(c *codec, x *say.Sentence) { c.sentence("say", x) })
	})
	list(c, "findings", &a.Findings, (*codec).finding)
	list(c, "causes", &a.Causes, func(c *codec, k *care.Cause) {
		c.must("id", &k.ID)
		c.number("weight", &k.Weight)
		some(c, "for", &k.For, (*codec).evidence)
		some(c, "against", &k.Against, (*codec).evidence)
	})
	c.number("not_known", &a.NotKnown)
	some(c, "separate", &a.Separate, func(c *codec, s *care.Separator) {
		c.text("for", &s.For)
		c.text("against", &s.Against)
		c.text("sign", &s.Sign)
		word(c, "kind", &s.Kind)
		word(c, "phase", &s.Phase)
		c.plainText("text", s.Say)
		c.sentence("say", &s.Say)
	})
	list(c, "tasks", &a.Tasks, (*codec).task)
	some(c, "later", &a.Later, (*codec).task)
	some(c, "withdrawn", &a.Withdrawn, func(c *codec, w *care.Withdrawn) {
		c.object("task", func(c *codec) { c.task(&w.Task) })
		c.sentence("why", &w.Why)
	})
	some(c, "followed", &a.Followed, func(c *codec, f *care.FollowUp) {
		c.must("action", &f.Action)
		c.text("subject", &f.Subject)
		c.text("cause", &f.Cause)
		c.day("since", &f.Since)
		word(c, "verdict", &f.Verdict)
		c.plainText("text", f.Say)
		c.sentence("say", &f.Say)
	})
	some(c, "refused", &a.Refused, func(c *codec, r *care.Refusal) {
		c.must("action", &r.Action)
		c.text("rule", &r.Rule)
		c.rank("rank", &r.Rank)
		c.flag("asked", &r.Asked)
		c.sentence("why", &r.Why)
	})
	c.object("recipe", func(c *codec) { c.recipe(&a.Recipe) })
	list(c, "customer", &a.Customer, (*codec).line)
	some(c, "donts", &a.Donts, (*codec).line)
	c.text("hold_for", &a.HoldFor)
	c.object("next", func(c *codec) { c.next(&a.Next) })
	some(c, "strips", &a.Strips, (*codec).strip)
	list(c, "trace", &a.Trace, func(c *codec, s *care.Step) {
		c.must("at", &s.At)
		c.must("what", &s.What)
		c.text("on", &s.On)
		c.sentence("say", &s.Say)
	})
}

// plainText is the metric text of a sentence beside its id; it is written for
// people who read the document and is not read back.
func (c *codec) plainText(key string, s say.Sentence) {
	text := ""
	if !c.reading && s.ID != "" {
		text = say.Render(s, say.MetricUnits)
	}
	c.text(key, &text)
}

func (c *codec) evidence(e *care.Evidence) {
	c.must("what", &e.What)
	c.sentence("say", &e.Say)
}

func (c *codec) finding(f *care.Finding) {
	c.must("rule", &f.Rule)
	c.text("subject", &f.Subject)
	word(c, "system", &f.System)
	word(c, "state", &f.State)
	word(c, "urgency", &f.Urgency)
	word(c, "audience", &f.Audience)
	c.plainText("text", f.Say)
	c.sentence("say", &f.Say)
	some(c, "for", &f.For, (*codec).evidence)
	some(c, "against", &f.Against, (*codec).evidence)
	pointer(c, "calc", &f.Calc, (*codec).calc)
	c.text("hold", &f.Hold)
}

func (c *codec) calc(k *care.Calc) {
	c.must("name", &k.Name)
	some(c, "args", &k.Args, func(c *codec, a *care.Arg) {
		c.must("name", &a.Name)
		c.number("value", &a.Value)
		word(c, "unit", &a.Unit)
	})
	c.number("value", &k.Value)
	c.end("lo", &k.Lo, math.Inf(-1))
	c.end("hi", &k.Hi, math.Inf(1))
	word(c, "unit", &k.Unit)
	c.maybe("limit", &k.Limit)
	c.text("source", &k.Source)
}

func (c *codec) rank(key string, r *care.Rank) {
	text := r.String()
	c.text(key, &text)
	for i := care.RankPeople; i <= care.RankConvenience; i++ {
		if i.String() == text {
			*r = i
		}
	}
}

func (c *codec) task(t *care.Task) {
	id := t.ID
	if !c.reading && id == "" {
		id = t.Key()
	}
	c.must("id", &id)
	c.must("action", &t.Action)
	c.text("subject", &t.Subject)
	if c.reading && id != t.Key() {
		t.ID = id
	}
	word(c, "when", &t.When)
	c.maybeDay("day", &t.Day)
	word(c, "who", &t.Who)
	word(c, "urgency", &t.Urgency)
	c.rank("rank", &t.Rank)
	list(c, "amount", &t.Amount, (*codec).amount)
	c.whole("minutes", &t.Minutes)
	c.texts("bring", &t.Bring)
	c.texts("cautions", &t.Cautions)
	pointer(c, "expect", &t.Expect, func(c *codec, e *care.Expectation) {
		word(c, "kind", &e.Kind)
		c.texts("signs", &e.Signs)
		c.number("lo", &e.Lo)
		c.number("hi", &e.Hi)
		c.whole("days", &e.Days)
	})
	c.maybeDay("look_on", &t.LookOn)
	c.sentence("say", &t.Say)
	some(c, "why", &t.Why, func(c *codec, r *care.Reason) {
		c.must("rule", &r.Rule)
		c.sentence("say", &r.Say)
		pointer(c, "calc", &r.Calc, (*codec).calc)
		c.text("source", &r.Source)
	})
	c.maybeDay("opened", &t.Opened)
	c.flag("renewed", &t.Renewed)
	c.whole("skips", &t.Skips)
	c.text("cause", &t.Cause)
}

func (c *codec) amount(a *care.Amount) {
	c.must("what", &a.What)
	c.number("value", &a.Value)
	word(c, "unit", &a.Unit)
}

func (c *codec) line(l *care.Line) {
	c.text("action", &l.Action)
	c.maybeDay("day", &l.Day)
	c.text("icon", &l.Icon)
	c.plainText("text", l.Say)
	c.sentence("say", &l.Say)
}

func (c *codec) recipe(r *care.Recipe) {
	opt(c, "litres", &r.Litres)
	c.maybe("cans", &r.Cans)
	opt(c, "temp", &r.Temp)
	opt(c, "ro", &r.RO)
	some(c, "weigh", &r.Weigh, (*codec).amount)
	some(c, "steps", &r.Steps, func(c *codec, s *say.Sentence) { c.sentence("say", s) })
}

func (c *codec) next(n *care.Next) {
	c.maybeDay("on", &n.On)
	c.maybeDay("latest", &n.Latest)
	c.maybeDay("extra", &n.Extra)
	c.sentence("say", &n.Say)
	list(c, "tests", &n.Tests, func(c *codec, t *care.TestDue) {
		word(c, "kind", &t.Kind)
		c.text("phase", &t.Phase)
		c.sentence("why", &t.Why)
	})
	c.texts("bring", &n.Bring)
}

func (c *codec) strip(s *care.Strip) {
	word(c, "kind", &s.Kind)
	c.text("phase", &s.Phase)
	c.interval(&s.Value)
	c.maybe("band_lo", &s.Band.Lo)
	c.maybe("band_hi", &s.Band.Hi)
	c.maybe("previous", &s.Previous)
	word(c, "state", &s.State)
}

func (c *codec) interval(i *q.Interval) {
	c.number("value", &i.Value)
	c.end("lo", &i.Lo, math.Inf(-1))
	c.end("hi", &i.Hi, math.Inf(1))
}

// EncodeTask writes one task as the store keeps it.
func EncodeTask(t care.Task) []byte {
	c := writer()
	c.braces(func(c *codec) { c.task(&t) })
	return c.out
}

// DecodeTask reads what EncodeTask wrote.
func DecodeTask(b []byte) (care.Task, error) {
	var t care.Task
	n, err := parse(b)
	if err != nil {
		return t, err
	}
	c := reader(&n)
	c.into(&n, "", func(c *codec) { c.task(&t) })
	return t, c.err()
}
