package web

import (
	"encoding/json"
	"net/http"

	"scaperound/domain/care"
	"scaperound/domain/say"
	"scaperound/domain/wire"
)

// preview says what the readings mean so far. It keeps nothing, and whatever
// cannot be read yet is left out and named.
func (p visitPages) preview(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	b, err := p.store.VisitBefore(r.Context(), r.PathValue("tank"), p.cfg.Now())
	if err != nil {
		return err
	}
	rec, faults := wire.ReadSoFar(pairsOf(values), care.Case{Setup: b.Setup}, p.cfg.Now(), visitContext(r, b.Setup))
	cs, err := p.store.CaseFor(r.Context(), rec)
	if err != nil {
		return err
	}
	in := who(r)
	return p.json(w, r, http.StatusOK, json.RawMessage(wire.Preview(care.Assess(cs), faults, in.Shop.Reads(in.Person.Units))))
}

// taskText is what is to be done.
func taskText(t care.Task, u say.Units) string { return care.TaskText(t, u) }
