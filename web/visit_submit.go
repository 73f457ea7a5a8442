package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

// moreSteps are how many rows a press of "more rows" adds.
const moreSteps = 3

// submit keeps a visit. A page gets the visit's page, a script 201 or 200 with
// the visit's id; what needs another look comes back with everything typed.
func (p visitPages) submit(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	kind := knownKind(values.Get("kind"))
	if more := values.Get("more"); more != "" && !wantsJSON(r) {
		return p.more(w, r, kind, values, more)
	}
	if staff := values.Get("staff"); staff != "" && !strings.EqualFold(staff, who(r).Person.ID) {
		return &fault.Error{Kind: fault.Conflict, Code: "other-person",
			Msg: "This visit was written by somebody else on this device. Sign in as them, and it is sent; until then it is kept."}
	}
	rec, err := p.record(r, values)
	var out care.Submitted
	if err == nil {
		out, err = p.store.SubmitVisit(r.Context(), rec, visit.BodyOf([]byte(values.Encode()), pairsOf(values)), care.Assess)
	}
	if err != nil {
		return p.refused(w, r, kind, values, err)
	}
	if wantsJSON(r) {
		status := http.StatusCreated
		if out.Replay {
			status = http.StatusOK
		}
		return p.json(w, r, status, submittedJSON{Visit: out.Visit, Revision: out.Revision, Replay: out.Replay, To: "/visits/" + out.Visit})
	}
	return p.done(w, r, "/visits/"+out.Visit, view.Notice{Text: "The visit is kept."})
}

type submittedJSON struct {
	Visit    string `json:"visit"`
	Revision string `json:"revision"`
	Replay   bool   `json:"replay"`
	To       string `json:"to"`
}

// record reads a post into a record, with every fault at once.
func (p visitPages) record(r *http.Request, values url.Values) (visit.Record, error) {
	b, err := p.store.VisitBefore(r.Context(), r.PathValue("tank"), p.cfg.Now())
	if err != nil {
		return visit.Record{}, err
	}
	c := visitContext(r, b.Setup)
	sub, faults := visit.Parse(pairsOf(values), c)
	rec, err := visit.New(sub, b.Setup, p.cfg.Now(), c)
	if err != nil {
		f := fault.Of(err)
		if f.Kind != fault.Invalid {
			return rec, err
		}
		faults = append(faults, f.Fields...)
	}
	if rec.Staff == "" {
		rec.Staff = who(r).Person.ID
	}
	return rec, leaveOnce(faults).Err()
}

func (p visitPages) refused(w http.ResponseWriter, r *http.Request, kind visit.Kind, values url.Values, err error) error {
	f := fault.Of(err)
	if wantsJSON(r) || f.Kind != fault.Invalid && f.Kind != fault.Conflict {
		return err
	}
	b, readErr := p.beforeAgain(r, values)
	if readErr != nil {
		return readErr
	}
	fields := f.Fields
	if len(fields) == 0 {
		fields.Add("", f.Kind.String(), "%s", f.Msg)
	}
	note(r).err = err
	frame, body := p.draw(r, b, kind, view.Form{Values: values, Faults: fields})
	return p.page(w, r, statuses[f.Kind], frame, body)
}

// beforeAgain is what is known of the tank for a form that comes back with what
// was typed.
func (p visitPages) beforeAgain(r *http.Request, values url.Values) (care.Before, error) {
	b, err := p.before(r)
	if id := values.Get("visit"); err == nil && values.Get("base") != "" && visit.IsID(id) {
		return p.withAnswered(r, b, id)
	}
	return b, err
}

// more draws the page again with what was asked for and everything typed. It
// keeps nothing.
func (p visitPages) more(w http.ResponseWriter, r *http.Request, kind visit.Kind, values url.Values, more string) error {
	b, err := p.beforeAgain(r, values)
	if err != nil {
		return err
	}
	if reading, lot, ok := wayOf(more); ok {
		values.Set("kit."+reading, lot)
		values.Del("reading." + reading)
	} else {
		had, _ := strconv.Atoi(values.Get("ui.rows." + more))
		values.Set("ui.rows."+more, strconv.Itoa(had+moreSteps))
	}
	frame, body := p.draw(r, b, kind, view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, body)
}

// wayOf reads "way:no3.before:LOT".
func wayOf(more string) (reading, lot string, ok bool) {
	parts := strings.SplitN(more, ":", 3)
	if len(parts) != 3 || parts[0] != "way" {
		return "", "", false
	}
	return parts[1], parts[2], true
}

func parseInstant(s string) (time.Time, bool) {
	t, err := time.Parse(time.RFC3339Nano, s)
	return t, err == nil
}
