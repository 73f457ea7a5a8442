package web

import (
	"context"
	"net/http"

	"scaperound/domain/counter"
	"scaperound/web/view"
)

// taskStore closes tasks outside a visit, where most are answered.
type taskStore interface {
	AnswerTask(ctx context.Context, by, id string, done bool) error
	TaskStory(ctx context.Context, id string) (counter.Story, error)
	// CloseTask ends a task outside a visit; owner says that the owner does it.
	CloseTask(ctx context.Context, by, id string, c counter.Closing, owner bool) error
	ReopenTask(ctx context.Context, by, id string, owner bool) error
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
