package web

import (
	"net/http"
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/staff"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
	"scaperound/web/view"
)

// listPartWords say where on the list a line stands.
var listPartWords = map[string]string{
	"now": "Now", "pour": "To weigh and pour", "findings": "What the readings say", "visit": "At this visit", "next": "Next time", "customer": "For the customer",
}

// withActed puts beside each other what the form's list said when the visit was
// sent and what the shop says now. Lists that say the same show nothing; a form
// that told of no list is told of by its hash alone.
func (p visitPages) withActed(r *http.Request, rec visit.Record, fields []visit.Field, b care.Before, e care.Evaluation, by staff.Person, v *view.Visit) error {
	if rec.ActedHash == "" || rec.ActedHash == wire.Hash(e.Assessment) {
		return nil
	}
	acted := visit.ActedOnIn(fields)
	if !acted.Given {
		v.Flags = append(v.Flags, "The technician had a somewhat different judgement before them than the one kept here. This one counts.")
		return nil
	}
	// In the units of whoever read the list: others would make every figure differ.
	changes := visit.ListChanges(acted.Lines, wire.ListOf(e.Assessment, who(r).Shop.Reads(by.Units)))
	if len(changes) == 0 {
		return nil
	}
	out := view.VisitActed{Here: acted.Here}
	for _, c := range changes {
		line := view.VisitActedLine{Part: listPartWords[c.Is.Part], Was: c.Was.Text, Is: c.Is.Text}
		switch {
		case c.Added():
			out.Added = append(out.Added, line)
		case c.Gone():
			line.Part = listPartWords[c.Was.Part]
			out.Gone = append(out.Gone, line)
		default:
			line.WasPart = listPartWords[c.Was.Part]
			out.Changed = append(out.Changed, line)
		}
	}
	var err error
	out.Record, out.Why, err = p.whyApart(r, rec, acted, fields, b, e)
	v.Acted = &out
	return err
}

// whyApart says of when the record was by which the form's list was drawn, and
// what may have made the two lists differ.
func (p visitPages) whyApart(r *http.Request, rec visit.Record, acted visit.ActedOn, fields []visit.Field, b care.Before, e care.Evaluation) (record string, why []string, err error) {
	l := local(r)
	seen := acted.Record.V
	if !acted.Record.OK {
		seen = formSaw(fields)
	}
	if !seen.IsZero() {
		record = l.DayClock(seen)
		if why, err = p.recordSince(r, rec, b, seen, e.At); err != nil {
			return record, why, err
		}
	}
	if rec.ActedRules != "" && rec.ActedRules != e.Assessment.Rules {
		why = append(why, "The list was drawn by rules of version "+clipped(rec.ActedRules)+"; here they are of version "+e.Assessment.Rules+".")
	}
	if acted.Late {
		why = append(why, "Something more was typed after the list was drawn.")
	}
	if rec.Skew != 0 && acted.Here {
		why = append(why, "The tablet’s clock was "+skewWords(int(rec.Skew/time.Second))+", and its list went by that.")
	}
	return record, why, nil
}

// recordSince are what came into the tank's record between two moments.
func (p visitPages) recordSince(r *http.Request, rec visit.Record, b care.Before, from, to time.Time) ([]string, error) {
	if !from.Before(to) {
		return nil, nil
	}
	l := local(r)
	var out []string
	for _, h := range b.History {
		if h.Visit == rec.Visit || !h.Received.After(from) || h.Received.After(to) || h.Performed.After(rec.Performed) {
			continue
		}
		by, err := p.cfg.Store.Person(r.Context(), h.Staff)
		if err != nil {
			return out, err
		}
		out = append(out, "A visit"+joinedBy(by.Name)+" on "+l.DayClock(h.Performed)+", which came in on "+l.DayClock(h.Received)+".")
	}
	changes, _, err := p.cfg.Store.Changes(r.Context(), staff.ChangeFilter{Noun: "tank", NounID: rec.Tank, From: q.Some(from), To: q.Some(to), Most: meanwhileShown})
	for _, c := range changes {
		if what := tankVerbs[c.Verb]; what != "" {
			out = append(out, "A change"+joinedBy(c.By)+" on "+l.DayClock(c.At)+": "+what+factsText(c)+".")
		}
	}
	return out, err
}

// formSaw is the moment of which a form spoke; zero where it did not say.
func formSaw(fields []visit.Field) (at time.Time) {
	for _, f := range fields {
		if f.Name == "acted.at" {
			at, _ = parseInstant(f.Value)
		}
	}
	return at
}

// clipped keeps what somebody sent short enough for a sentence.
func clipped(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
