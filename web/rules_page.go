package web

import (
	"cmp"
	"context"
	"net/http"
	"slices"
	"strconv"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	"scaperound/domain/say"
	"scaperound/web/view"
)

// ruleStore counts how often rules fired.
type ruleStore interface {
	RuleCounts(ctx context.Context, since time.Time) (counter.RuleCounts, error)
}

type rulePages struct {
	*shell
	store ruleStore
}

// rulePeriods are the spans that can be counted, in days; 0 is all time.
var rulePeriods = []struct {
	days  int
	label string
}{{90, "Three months"}, {30, "30 days"}, {365, "A year"}, {0, "All time"}}

// list shows every rule in words with how often it fired.
func (p rulePages) list(w http.ResponseWriter, r *http.Request) error {
	query := r.URL.Query()
	days, by := rulePeriods[0].days, query.Get("by")
	for _, x := range rulePeriods {
		if query.Get("days") == strconv.Itoa(x.days) {
			days = x.days
		}
	}
	since := time.Time{}
	if days > 0 {
		since = p.cfg.Now().AddDate(0, 0, -days)
	}
	counts, err := p.store.RuleCounts(r.Context(), since)
	if err != nil {
		return err
	}
	at := func(days int, by string) string {
		to := "/rules?days=" + strconv.Itoa(days)
		if by != "" {
			to += "&by=" + by
		}
		return to
	}
	body := view.Rules{Visits: counted(counts.Visits, "visit", "visits")}
	for _, x := range rulePeriods {
		body.Periods = append(body.Periods, view.Link{Label: x.label, Href: at(x.days, by), Here: x.days == days})
	}
	body.Orders = []view.Link{{Label: "In the order they are asked", Href: at(days, ""), Here: by != "fired"}, {Label: "Most often first", Href: at(days, "fired"), Here: by == "fired"}}
	rules := slices.Clone(care.Rules())
	if by == "fired" {
		slices.SortStableFunc(rules, func(a, b care.Rule) int { return cmp.Compare(counts.Rules[b.ID].Fired, counts.Rules[a.ID].Fired) })
	}
	for _, x := range rules {
		c := counts.Rules[x.ID]
		system, _ := say.WordFor("system." + string(x.System))
		row := view.RuleRow{ID: x.ID, Title: x.Title, System: system, Evidence: evidenceWords[x.Evidence], Why: x.Why, Source: x.Source, Fired: "never"}
		if c.Fired > 0 {
			row.Fired, row.Last = times(c.Fired), "last "+local(r).DayOf(c.Last)
		}
		body.Rows = append(body.Rows, row)
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Rules", Lead: "By which visits are judged, version " + care.RulesVersion + "."}, view.RulesBody(body))
}

var evidenceWords = map[string]string{"A": "primary science or regulation", "B": "science and judgement", "C": "trade practice"}
