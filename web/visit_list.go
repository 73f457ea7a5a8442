package web

import (
	"net/http"

	"scaperound/domain/care"
	"scaperound/web/view"
)

// visitsShown is how many visits a tank's page lists.
const visitsShown = 12

// tankVisits are a tank's newest visits and its open tasks, for the tank's page.
func (s *shell) tankVisits(r *http.Request, tankID string, into *view.TankPage) error {
	in, l := who(r), local(r)
	lines, err := s.cfg.Store.TankVisits(r.Context(), tankID, visitsShown)
	if err != nil {
		return err
	}
	for _, v := range lines {
		line := view.TankVisit{When: l.DayOf(v.Performed), Kind: kindWords[v.Kind], Who: v.By, Says: statusWords[care.Status(v.Status)], Href: "/visits/" + v.ID}
		if !v.Given {
			line.Says += ", no sheet given"
		}
		into.Visits = append(into.Visits, line)
	}
	tasks, err := s.cfg.Store.OpenTasks(r.Context(), tankID)
	if err != nil {
		return err
	}
	u := in.Shop.Reads(in.Person.Units)
	for _, t := range tasks {
		task := taskOf(t, u, l)
		line := view.TankTask{Text: task.Text, When: task.Who + ", " + task.When, Href: taskPath(t.ID)}
		if task.Amount != "" {
			line.Text += ": " + task.Amount
		}
		if len(task.Why) > 0 {
			line.Why = task.Why[0].Text
		}
		into.Tasks = append(into.Tasks, line)
	}
	return nil
}
