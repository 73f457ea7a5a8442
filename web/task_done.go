package web

import (
	"context"
	"net/http"

	"scaperound/web/view"
)

// taskStore closes the owner's own tasks; those of a tank are answered in a
// visit.
type taskStore interface {
	AnswerTask(ctx context.Context, by, id string, done bool) error
}

type taskPages struct {
	*shell
	store taskStore
}

// answered says that a task of the owner's is done, or takes it back.
func (p taskPages) answered(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id, back := r.PathValue("task"), values.Get("back") == "1"
	if err := p.store.AnswerTask(r.Context(), who(r).Person.ID, id, !back); err != nil {
		return err
	}
	if back {
		return p.done(w, r, "/counter", view.Notice{Text: "The task is open again."})
	}
	return p.done(w, r, "/counter", view.Notice{Text: "Done.", Undo: &view.Post{Label: "Undo", Action: "/tasks/" + id + "/done", Hidden: []view.Pair{{Name: "back", Value: "1"}}}})
}
