package web

import (
	"net/http"
	"slices"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	"scaperound/domain/say"
	"scaperound/web/view"
)

// answerLines tell what a visit said of the tasks that were open before it.
func answerLines(answers []counter.Answer, u say.Units) []view.VisitAnswer {
	out := make([]view.VisitAnswer, 0, len(answers))
	for _, a := range answers {
		out = append(out, view.VisitAnswer{Text: taskText(a.Task, u), Says: answerText(a), Href: taskPath(a.Task.ID)})
	}
	return out
}

// withAnswered puts the tasks that a visit has closed back among the open ones:
// a form that makes a new revision of it asks about them again, or their answers
// would be lost with the old one.
func (p visitPages) withAnswered(r *http.Request, b care.Before, visitID string) (care.Before, error) {
	answers, err := p.store.VisitAnswers(r.Context(), visitID)
	if err != nil {
		return b, err
	}
	var before []care.Task
	for _, a := range answers {
		if !slices.ContainsFunc(b.Open, func(t care.Task) bool { return t.ID == a.Task.ID }) {
			before = append(before, a.Task)
		}
	}
	b.Open = append(before, b.Open...)
	return b, nil
}

func answerText(a counter.Answer) string {
	text := "put off"
	switch a.State {
	case "skipped":
		if why := skipWords[a.Reason]; why != "" {
			text += ", " + why
		}
	case "declined":
		text = lowerFirst(endWords[a.State])
		if a.Who == "" && a.Words == "" {
			return text + "; who said so, and how, was not written down"
		}
		text = joined(": ", text, a.Who)
	default:
		text = lowerFirst(endWords[a.State])
	}
	if a.Words != "" {
		text += ", “" + a.Words + "”"
	}
	return text
}
