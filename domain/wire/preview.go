package wire

import (
	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/say"
)

// Preview writes what the foot strip of a form shows while one types: the same
// document from the server and on the tablet.
func Preview(a care.Assessment, faults fault.Fields, u say.Units) []byte {
	var now, this, next, findings []told
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
			now = append(now, x)
		case t.When == care.WhenThisVisit || t.When == care.WhenToday:
			this = append(this, x)
		case t.Who != care.Customer:
			next = append(next, x)
		}
	}
	var pour []told
	for _, line := range care.RecipeLines(a.Recipe, u) {
		pour = append(pour, told{text: line})
	}
	for _, f := range a.Findings {
		if f.State.Trouble() {
			findings = append(findings, told{id: f.Rule, text: say.Render(f.Say, u)})
		}
	}
	var customer []string
	if a.Top.ID != "" {
		customer = append(customer, say.Render(a.Top, u))
	}
	for _, l := range a.Customer {
		customer = append(customer, say.Render(l.Say, u))
	}
	hash := Hash(a)
	c := writer()
	c.braces(func(c *codec) {
		c.must("hash", &hash)
		c.must("rules", &a.Rules)
		word(c, "status", &a.Status)
		word(c, "urgency", &a.Urgency)
		list(c, "now", &now, (*codec).told)
		list(c, "pour", &pour, (*codec).told)
		list(c, "findings", &findings, (*codec).told)
		list(c, "visit", &this, (*codec).told)
		list(c, "next", &next, (*codec).told)
		c.key("customer")
		c.out = append(c.out, '[')
		for i, line := range customer {
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
