package web

import (
	"maps"
	"net/http"
	"slices"
	"strings"
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/staff"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

// tankVerbs are the parts of a tank's record by the verb under which a change is
// noted. What the agreement says is not for everybody.
var tankVerbs = map[string]string{
	"set up": "the set-up", "dosing": "the dosing plan", "gear": "the gear", "moved stock": "plants and animals", "source water": "the source water",
	"target profile": "the target profile", "usual kit": "the usual kits", "state": "whether it runs", "changed": "its card", "placed": "where it stands",
	"shared care": "who does what in between", "agreed": "the agreement",
}

// meanwhileShown bounds how many changes are told of.
const meanwhileShown = 12

// mostFact bounds what is told of one, in bytes.
const mostFact = 400

// meanwhile says what came into the tank's record between the moment of which
// the form spoke and the visit's arrival: the person at the tank did not see it.
func (p visitPages) meanwhile(r *http.Request, rec visit.Record, fields []visit.Field, b care.Before) ([]string, error) {
	seen := formSaw(fields)
	if seen.IsZero() || !seen.Before(rec.Received) {
		return nil, nil
	}
	l := local(r)
	changes, _, err := p.cfg.Store.Changes(r.Context(), staff.ChangeFilter{Noun: "tank", NounID: rec.Tank, From: q.Some(seen), To: q.Some(rec.Received), Most: meanwhileShown})
	if err != nil {
		return nil, err
	}
	var out []string
	for _, c := range changes {
		if what := tankVerbs[c.Verb]; what != "" {
			out = append(out, "Changed while this was written down, "+l.DayClock(c.At)+joinedBy(c.By)+": "+what+factsText(c)+".")
		}
	}
	u := who(r).Shop.Reads(who(r).Person.Units)
	for _, h := range b.History {
		if h.Visit == rec.Visit || !h.Received.After(seen) || !h.Received.Before(rec.Received) {
			continue
		}
		line := "Another visit, of " + l.DayClock(h.Performed) + ", came in while this was written down. Both are kept."
		if d := differences(rec, h, u); d != "" {
			line += " " + d
		}
		out = append(out, line)
	}
	return out, nil
}

func joinedBy(name string) string {
	if name == "" {
		return ""
	}
	return " by " + name
}

// factsText is what a set-up or card says now, and said before.
func factsText(c staff.Change) string {
	if c.Verb != "set up" && c.Verb != "changed" && c.Verb != "state" {
		return ""
	}
	if len(c.Was) == 0 {
		return ""
	}
	was, now := factsBy(c.Was), factsBy(c.Now)
	var parts []string
	for _, name := range slices.Sorted(maps.Keys(now)) {
		if was[name] != now[name] && len(was[name])+len(now[name]) < mostFact {
			parts = append(parts, plainName(name)+" "+wordOr(now[name])+", was "+wordOr(was[name]))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(was)) {
		if _, there := now[name]; !there && len(was[name]) < mostFact {
			parts = append(parts, plainName(name)+" empty, was "+was[name])
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, "; ") + ")"
}

func factsBy(list []staff.ChangeFact) map[string]string {
	by := map[string]string{}
	for _, f := range list {
		by[f.Name] = f.Text
	}
	return by
}

func wordOr(s string) string {
	if strings.TrimSpace(s) == "" {
		return "empty"
	}
	return s
}

// differences are the readings that two visits of one day took and that lie
// further apart than what they were read with can explain.
func differences(here, there visit.Record, u say.Units) string {
	if here.Day != there.Day {
		return ""
	}
	var parts []string
	for _, x := range here.Readings {
		for _, y := range there.Readings {
			if x.Kind == y.Kind && x.Phase == y.Phase && (x.Hi < y.Lo || y.Hi < x.Lo) {
				m, _ := q.MeasureOf(x.Kind)
				parts = append(parts, m.Title+" "+asRead(x, u)+" here and "+asRead(y, u)+" there")
			}
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "They differ by more than the kits leave open: " + strings.Join(parts, "; ") + "."
}

// asRead is a number as it was typed, and what drops and colours mean.
func asRead(x visit.Reading, u say.Units) string {
	if x.TypedUnit == visit.CountedDrops || x.TypedUnit == visit.KitClass {
		return meaningText(x, u)
	}
	return typedText(x)
}

// sawAt is the moment of which a form speaks, for the post that comes of it; a
// form that is drawn again speaks of when it was drawn first.
func sawAt(first string, now time.Time) view.Pair {
	if t, ok := parseInstant(first); ok {
		now = t
	}
	return view.Pair{Name: "acted.at", Value: now.UTC().Format(time.RFC3339)}
}
