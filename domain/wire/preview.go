package wire

import (
	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/say"
)

// Preview writes what the foot strip of a form shows while one types: the same
// document from the server and on the tablet.
func Preview(a care.Assessment, faults fault.Fields, u say.Units) []byte {
	l := listOf(a, u)
	hash := Hash(a)
	c := writer()
	c.braces(func(c *codec) {
		c.must("hash", &hash)
		c.must("rules", &a.Rules)
		word(c, "status", &a.Status)
		word(c, "urgency", &a.Urgency)
		list(c, "now", &l.now, (*codec).told)
		list(c, "pour", &l.pour, (*codec).told)
		list(c, "findings", &l.findings, (*codec).told)
		list(c, "visit", &l.visit, (*codec).told)
		list(c, "next", &l.next, (*codec).told)
		c.key("customer")
		c.out = append(c.out, '[')
		for i, line := range l.customer {
			if i > 0 {
				c.out = append(c.out, ',')
			}
			c.out = appendText(c.out, line)
		}
		c.out = append(c.out, ']')
		list(c, "faults", (*[]fault.Field)(&faults), func(c *codec, f *fault.Field) {
			c.must("field", &f.Name)
			c.must("kind", &f.Kind)
			c.must("text", &f.Text)
			c.text("confirm", &f.Confirm)
		})
	})
	return c.out
}

type told struct{ id, text, why string }

func (c *codec) told(x *told) {
	c.must("id", &x.id)
	c.must("text", &x.text)
	c.text("why", &x.why)
}

// footList is what the foot strip shows, part by part.
type footList struct {
	now, pour, findings, visit, next []told
	customer                         []string
}

func listOf(a care.Assessment, u say.Units) footList {
	var l footList
	for _, t := range a.Tasks {
		if care.ActionOf(t.Action).Told {
			continue
		}
		x := told{id: t.Key(), text: care.TaskLine(t, u)}
		if len(t.Why) > 0 {
			x.why = say.Render(t.Why[0].Say, u)
		}
		switch {
		case t.Urgency == care.Now || t.When == care.WhenNow:
			l.now = append(l.now, x)
		case t.When == care.WhenThisVisit || t.When == care.WhenToday:
			l.visit = append(l.visit, x)
		case t.Who != care.Customer:
			l.next = append(l.next, x)
		}
	}
	for _, line := range care.RecipeLines(a.Recipe, u) {
		l.pour = append(l.pour, told{text: line})
	}
	for _, f := range a.Findings {
		if f.State.Trouble() {
			l.findings = append(l.findings, told{id: f.Rule, text: say.Render(f.Say, u)})
		}
	}
	if a.Top.ID != "" {
		l.customer = append(l.customer, say.Render(a.Top, u))
	}
	for _, line := range a.Customer {
		l.customer = append(l.customer, say.Render(line.Say, u))
	}
	return l
}
