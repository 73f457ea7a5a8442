package store

import (
	"math"
	"time"

	"scaperound/domain/visit"
)

// bufferColumns are the columns of the tables that a rowBuffer writes, in the
// order in which its rows hold them.
var bufferColumns = map[string][]string{
	"visit": {"id", "tank", "stop", "kind", "performer", "performed_at", "head", "created_at"},
	"visit_revision": {"id", "visit", "no", "base", "raw", "sha256", "wire", "performed_at", "sent_at", "received_at", "skew_seconds", "staff",
		"reason", "note_customer", "note_inside", "flags", "acted_hash", "acted_rules"},
	"reading":        {"id", "revision", "tank", "performed_at", "drawn_at", "kind", "phase", "value", "lo", "hi", "kit_lot", "typed", "typed_unit", "confirmed"},
	"ppfd_point":     {"revision", "ord", "x_cm", "y_cm", "depth_cm", "umol"},
	"bucket_run":     {"revision", "phase", "ord", "litres", "seconds"},
	"observation":    {"revision", "sign", "answer", "place", "extent"},
	"since_last":     {"revision", "what", "note"},
	"work":           {"revision", "ord", "kind", "solute", "g", "ml", "l", "minutes", "part", "pays", "note"},
	"between_visits": {"revision", "doses", "missed", "bottle_ml", "note"},
	"leave_check":    {"revision", "item", "state", "at", "note"},
	"movement":       {"id", "tank", "visit", "revision", "day", "living", "grp", "species", "n", "reason", "pays", "note", "staff", "recorded_at"},
	"gear_event":     {"id", "tank", "visit", "revision", "at", "gear", "what", "gross_kg", "note", "staff"},
	"finding":        {"evaluation", "ord", "rule", "subject", "system", "state", "urgency", "audience"},
	"stop":           {"id", "site", "arrived_at", "left_at", "outcome", "why", "made_by", "created_at"},
	"stop_staff":     {"stop", "staff"},
	"sheet_hold":     {"evaluation", "tank", "reason", "since"},
	"task_answer":    {"revision", "task", "state", "reason", "who", "words"},
	"evaluation": {"id", "revision", "tank", "performed_at", "at", "cause", "rules", "profile_version", "input_sha256", "status", "urgency",
		"next_on", "extra_on", "memory", "document"},
}

// Body is a post as it came.
type Body = visit.Body

// lookPrefix marks the four looks among the observations.
const (
	lookPrefix = "look:"
	eyePrefix  = "eye:"
)

// addVisit queues the visit's own row, the first time.
func (b *rowBuffer) addVisit(r *visit.Record, now time.Time) {
	b.add("visit", r.Visit, r.Tank, nullText(r.Stop), string(r.Kind), r.Staff, r.Performed, r.Revision, now)
}

// addRevision queues everything that one revision says.
func (b *rowBuffer) addRevision(r *visit.Record, no int, body Body) {
	flags := r.Flags
	if flags == nil {
		flags = []string{}
	}
	b.add("visit_revision", r.Revision, r.Visit, no, nullText(r.Base), body.Raw, body.SHA256, visit.Wire, r.Performed, null(r.Sent), r.Received,
		int(r.Skew/time.Second), r.Staff, r.Reason, r.NoteCustomer, r.NoteInside, flags, r.ActedHash, r.ActedRules)
	for _, x := range r.Readings {
		b.add("reading", NewID(), r.Revision, r.Tank, r.Performed, x.Drawn, string(x.Kind), string(x.Phase), x.Value, finite(x.Lo), finite(x.Hi),
			nullText(x.Lot), x.Typed, string(x.TypedUnit), x.Confirmed)
	}
	for i, p := range r.PPFD {
		b.add("ppfd_point", r.Revision, i, null(p.X), null(p.Y), null(p.Depth), float64(p.PPFD))
	}
	for i, run := range r.Buckets {
		b.add("bucket_run", r.Revision, string(run.Phase), i, float64(run.Litres), float64(run.Seconds))
	}
	b.addSeen(r)
	for i, w := range r.Work {
		b.add("work", r.Revision, i, string(w.Kind), w.Solute, null(w.Grams), null(w.Ml), null(w.Litres), null(w.Time), w.Part, w.Pays, w.Note)
	}
	if r.Doses.How != "" {
		b.add("between_visits", r.Revision, r.Doses.How, null(r.Doses.Missed), null(r.Doses.BottleMl), r.Doses.Note)
	}
	for _, l := range r.Leave {
		at := r.Performed
		if r.Left.OK {
			at = r.Left.V
		}
		b.add("leave_check", r.Revision, l.Item, l.State, at, l.Note)
	}
	b.addMoved(r)
}

func (b *rowBuffer) addSeen(r *visit.Record) {
	for _, look := range visit.Looks {
		switch r.Looks[look] {
		case visit.Fine:
			b.add("observation", r.Revision, lookPrefix+string(look), "looked_fine", "", "")
		case visit.Trouble:
			b.add("observation", r.Revision, lookPrefix+string(look), "seen", "", "")
		}
	}
	if r.EyeMark != "" {
		b.add("observation", r.Revision, eyePrefix+string(r.EyeMark), "seen", "", "")
	}
	for _, s := range r.Signs {
		b.add("observation", r.Revision, s.ID, "seen", s.Place, s.Extent)
	}
	for _, s := range r.Since {
		b.add("since_last", r.Revision, s.What, s.Note)
	}
}

// gearOf says which work is a mark in the life of a piece of gear.
var gearOf = map[visit.WorkKind]struct{ gear, what string }{
	visit.FilterClean:  {"filter", "cleaned"},
	visit.CylinderSwap: {"cylinder", "swapped"},
	visit.CO2Set:       {"co2", "set"},
	visit.LightSet:     {"light", "set"},
	visit.HeaterSet:    {"heater", "set"},
	visit.DoserRefill:  {"doser", "refilled"},
}

func (b *rowBuffer) addMoved(r *visit.Record) {
	for _, m := range r.Movements {
		b.add("movement", NewID(), r.Tank, r.Visit, r.Revision, r.Day.Midnight(), m.Living, m.Group, m.Species, m.N, m.Reason, m.Pays, m.Note, r.Staff, r.Received)
	}
	for _, w := range r.Work {
		g, ok := gearOf[w.Kind]
		if !ok {
			continue
		}
		// A cylinder weighed full at the swap, with the regulator on, needs no tare.
		var gross any
		if full, ok := r.Reading("cylinder_gross", visit.After); ok && w.Kind == visit.CylinderSwap {
			gross = full.Value
		}
		b.add("gear_event", NewID(), r.Tank, r.Visit, r.Revision, r.Performed, g.gear, g.what, gross, w.Note, r.Staff)
	}
}

// finite is NULL for an open end.
func finite(v float64) any {
	if math.IsInf(v, 0) {
		return nil
	}
	return v
}
