package care

import (
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// TaskLine is what is to be done and how much of it.
func TaskLine(t Task, u say.Units) string {
	text := TaskText(t, u)
	if amount := AmountsText(t.Amount, u); amount != "" {
		text = strings.TrimSuffix(text, ".") + ": " + amount
	}
	return text
}

// TaskText is what is to be done: the action in its own words, and how where
// the rule said more; or the rule's words instead, where the action's do not fit.
func TaskText(t Task, u say.Units) string {
	text, _ := say.WordFor("action." + t.Action)
	how := ""
	if t.Say.ID != "" {
		how = say.Render(t.Say, u)
	}
	switch {
	case how == "":
		return text
	case strings.HasPrefix(t.Say.ID, "instead."):
		return how
	case strings.HasPrefix(how, text), t.Action == PauseDose, t.Action == "measure_late":
		return how // it says the same, and more
	}
	return text + ". " + how
}

// AmountsText is how much of what.
func AmountsText(as []Amount, u say.Units) string {
	var parts []string
	for _, a := range as {
		parts = append(parts, say.Render(say.S("{amount} {what}", say.Num("amount", a.Value, a.Unit, amountDecimals(a)), say.Word("what", a.What)), u))
	}
	return say.JoinAnd(parts)
}

// amountDecimals is how finely an amount is told: what a shop scale or a
// bucket can follow.
func amountDecimals(a Amount) int {
	switch {
	case a.Unit == q.L && a.Value >= 10 || a.Unit == "":
		return 0
	case a.Value < 10:
		return 2
	}
	return 1
}

// RecipeLines are what to weigh and pour for a visit's change, in the order of
// the work; the amount comes first.
func RecipeLines(c Recipe, u say.Units) []string {
	var out []string
	if c.Litres.OK {
		line := "Change " + say.Amount(float64(c.Litres.V), q.L, 0, u)
		if c.Cans.OK {
			line += ": " + say.Number(c.Cans.V, 1, u) + " of the customer’s cans"
		}
		out = append(out, line+".")
	}
	for _, s := range c.Steps {
		out = append(out, say.Render(s, u))
	}
	return out
}
