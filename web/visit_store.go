package web

import (
	"context"
	"net/http"
	"net/url"
	"slices"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// visitStore keeps visits and what was made of them.
type visitStore interface {
	// VisitBefore is what is known of a tank at the moment, for the form.
	VisitBefore(ctx context.Context, tank string, at time.Time) (care.Before, error)
	// SubmitVisit writes a visit or a revision with its judgement; Conflict
	// with a code where something else is in the way.
	SubmitVisit(ctx context.Context, rec visit.Record, body visit.Body, assess func(care.Case) care.Assessment) (care.Submitted, error)
	// CaseFor is what a judgement of a visit still being typed would see.
	CaseFor(ctx context.Context, rec visit.Record) (care.Case, error)
	VisitByID(ctx context.Context, id string) (visit.Record, error)
	// VisitFields are the fields of the visit's newest revision, as typed.
	VisitFields(ctx context.Context, id string) ([]visit.Field, error)
	TankVisits(ctx context.Context, tank string, limit int) ([]visit.Line, error)
	OpenTasks(ctx context.Context, tank string) ([]care.Task, error)
	// VisitAnswers is what the visit said of the tasks that were open before it.
	VisitAnswers(ctx context.Context, visit string) ([]counter.Answer, error)
	EvaluationOf(ctx context.Context, visit string) (care.Evaluation, error)
	VisitRevisions(ctx context.Context, id string) ([]visit.Revision, error)
	// WithdrawVisit takes a visit out of the tank's history, or brings it back.
	WithdrawVisit(ctx context.Context, by, visit string, withdrawn bool, assess func(care.Case) care.Assessment) error
	// MoveVisit takes a visit off a tank and enters it on another.
	MoveVisit(ctx context.Context, by, visit, tank string, assess func(care.Case) care.Assessment) error
}

type visitPages struct {
	*shell
	store visitStore
	links linkStore
	stops stopStore
}

// visitContext is what a post about the tank is read against.
func visitContext(r *http.Request, s tank.Setup) visit.Context {
	in := who(r)
	zone := local(r).Zone
	units := in.Shop.Reads(in.Person.Units)
	return visit.Context{
		Tank:   s.ID,
		Locale: q.Locale{Decimal: shop.LocaleOf(in.Shop.Locale).Decimal},
		UnitOf: func(k q.Kind) q.Unit { return unitOf(k, units.System) },
		Wall:   func(d q.Date, m q.MinuteOfDay) time.Time { return wall(zone, d, m) },
		Local:  func(t time.Time) (q.Date, q.MinuteOfDay) { return onWall(zone, t) },
		Kits:   s.Kits,
		Can:    s.CanLitres,
	}
}

// unitOf is the unit in which a person types a kind where no kit says otherwise.
func unitOf(k q.Kind, sys say.System) q.Unit {
	m, _ := q.MeasureOf(k)
	if sys == say.US && m.Unit == q.DegC {
		return q.DegF
	}
	return m.Unit
}

// pairsOf are a post's pairs in a settled order.
func pairsOf(values url.Values) []visit.Field {
	names := make([]string, 0, len(values))
	for name := range values {
		names = append(names, name)
	}
	slices.Sort(names)
	var out []visit.Field
	for _, name := range names {
		for _, v := range values[name] {
			out = append(out, visit.Field{Name: name, Value: v})
		}
	}
	return out
}

// leaveOnce says once that the whole leave list is missing, instead of once
// for each of its lines.
func leaveOnce(fs fault.Fields) fault.Fields {
	missing := 0
	for _, f := range fs {
		if isLeave(f) {
			missing++
		}
	}
	if missing < len(visit.LeaveItems) {
		return fs
	}
	out := slices.DeleteFunc(slices.Clone(fs), isLeave)
	out.Add("leave.all", fault.Missing, "The leave list is the one part that cannot be skipped: walk round once, then “All checked”, or say line by line.")
	return out
}

func isLeave(f fault.Field) bool {
	return f.Kind == fault.Missing && slices.Contains(visit.LeaveItems, trimmed(f.Name, "leave."))
}

func trimmed(s, prefix string) string {
	if len(s) > len(prefix) && s[:len(prefix)] == prefix {
		return s[len(prefix):]
	}
	return ""
}
