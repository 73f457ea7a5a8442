package web

import (
	"net/http"
	"strings"

	"scaperound/domain/tank"
	"scaperound/web/view"
)

// openOnly are the problems of a tank that are open.
func openOnly(all []tank.Problem) []tank.Problem {
	var out []tank.Problem
	for _, x := range all {
		if !x.ClosedAt.OK {
			out = append(out, x)
		}
	}
	return out
}

func problemRows(open []tank.Problem) []view.OpenProblem {
	var out []view.OpenProblem
	for _, x := range open {
		row := view.OpenProblem{Title: x.Title, Href: problemPath(x.ID), Belief: x.Belief, Next: x.Next, Told: x.Told}
		if len(x.Tries) > 0 {
			row.Tried = joined(": ", x.Tries[0].Tried, x.Tries[0].Result)
		}
		out = append(out, row)
	}
	return out
}

// openProblems are the open problems of a tank, as a visit's pages tell of them.
func (p visitPages) openProblems(r *http.Request, tankID string) ([]view.OpenProblem, error) {
	all, err := p.cfg.Store.TankProblems(r.Context(), tankID)
	return problemRows(openOnly(all)), err
}

// withProblems puts what is believed before the visit's form. The form must not
// fail for want of it.
func (p visitPages) withProblems(r *http.Request, v *view.VisitForm) {
	var err error
	if v.Open, err = p.openProblems(r, v.Tank); err != nil {
		p.log.WarnContext(r.Context(), "a visit's form goes without the open problems", "request", note(r).id, "error", err)
	}
}

// oneStory is a sheet's note, begun by what the customer is told of the problems
// that are open: the same on each sheet, whoever came.
func oneStory(open []tank.Problem, written string) string {
	var lines []string
	for _, x := range open {
		if x.Told != "" {
			lines = append(lines, x.Told)
		}
	}
	if written != "" {
		lines = append(lines, written)
	}
	return strings.Join(lines, "\n")
}
