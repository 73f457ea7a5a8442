package web

import (
	"net/http"
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
	"scaperound/static"
)

// boardReach is how far the shop's clock reaches that a board carries, in days
// before and after now: a tablet may be away for long.
const boardReach = 400

// board is what a tablet needs to judge a visit of the tank by itself.
func (p visitPages) board(w http.ResponseWriter, r *http.Request) error {
	now := p.cfg.Now()
	tankID := r.PathValue("tank")
	if _, err := p.store.VisitBefore(r.Context(), tankID, now); err != nil {
		return err
	}
	c, err := p.store.CaseFor(r.Context(), visit.Record{Tank: tankID, Performed: now})
	if err != nil {
		return err
	}
	c.Now = visit.Record{}
	s := visitContext(r, c.Setup)
	in := who(r)
	units := in.Shop.Reads(in.Person.Units)
	b := wire.Board{
		Rules: care.RulesVersion, At: now.UTC(), Case: c, Units: units, Decimal: string(s.Locale.Decimal),
		Zone: zoneAround(local(r).Zone, now), Typed: map[q.Kind]q.Unit{},
	}
	for _, m := range q.Measures() {
		if u := unitOf(m.Kind, units.System); u != m.Unit {
			b.Typed[m.Kind] = u
		}
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	_, _ = w.Write(wire.EncodeBoard(b))
	return nil
}

// zoneAround is a zone's clock for a good while before and after a moment.
func zoneAround(zone *time.Location, at time.Time) wire.Zone {
	var out wire.Zone
	last := at.AddDate(0, 0, boardReach)
	for t := at.AddDate(0, 0, -boardReach); !t.After(last); {
		out = append(out, wire.Shift{From: t.UTC(), Offset: offsetAt(zone, t)})
		_, end := t.In(zone).ZoneBounds()
		if end.IsZero() {
			break
		}
		t = end
	}
	return out
}

func boardPath(tank string) string { return "/tanks/" + tank + "/board" }

// browserBuild are the addresses of the browser build's two files; empty where
// this program has none.
func browserBuild() (exec, wasm string) {
	if !static.Has("assess.wasm") || !static.Has("wasm_exec.js") {
		return "", ""
	}
	return static.Path("wasm_exec.js"), static.Path("assess.wasm")
}
