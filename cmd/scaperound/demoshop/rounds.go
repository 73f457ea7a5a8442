package demoshop

import (
	"context"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
	"scaperound/store"
)

// theShop is where rounds begin: the yard behind the mill.
var theShop = customer.Position{Lat: 53.4113, Lon: -6.3296}

// worker is how one of the people works; who is their place among the staff.
type worker struct {
	who      int
	van      string
	from, to q.MinuteOfDay
	days     int // from Monday on
	rest     due.Break
	skills   []string
}

var workers = []worker{
	{1, "the white van", 7*60 + 30, 16 * 60, 5, due.Break{Minutes: 30, From: 11*60 + 30, To: 13*60 + 30}, []string{"ladder", "large aquascapes"}},
	{2, "the small van", 11 * 60, 19*60 + 30, 5, due.Break{Minutes: 30, From: 14 * 60, To: 16 * 60}, []string{"ladder", "shrimp"}},
}

// skill is what a tank calls for that not everybody can.
func (t tankSpec) skill() string {
	if t.way == "bee_shrimp" {
		return "shrimp"
	}
	return ""
}

// rounds gives the people hours, vans and leave, promises a time, and hands out
// what is left of this week.
func (l *loader) rounds(ctx context.Context) error {
	err := l.db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		roads := due.UsualRoads()
		roads.Shop = q.Some(theShop)
		if err := store.KeepRoads(ctx, tx, l.owner, roads); err != nil {
			return err
		}
		vans := map[string]string{}
		for _, v := range []due.Van{
			{Name: "the white van", Water: q.Some(q.Litre(400)), Cylinders: q.Some(4), Note: "with the tail lift"},
			{Name: "the small van", Water: q.Some(q.Litre(220)), Cylinders: q.Some(2)},
		} {
			id, err := store.AddVan(ctx, tx, l.owner, v)
			if err != nil {
				return err
			}
			vans[v.Name] = id
		}
		for _, w := range workers {
			one := due.Working{Person: l.req.Staff[w.who].ID, Break: w.rest, Skills: w.skills, Van: vans[w.van]}
			for day := 1; day <= w.days; day++ {
				one.Hours = append(one.Hours, customer.Window{Weekday: day, From: w.from, To: w.to})
			}
			if err := store.KeepWorking(ctx, tx, l.owner, one); err != nil {
				return err
			}
		}
		monday := due.Monday(l.req.Today)
		if _, err := store.AddLeave(ctx, tx, l.owner, due.Leave{Person: l.req.Staff[2].ID, From: monday.Add(11), To: monday.Add(11), Why: "a wedding"}); err != nil {
			return err
		}
		promised := l.req.Today.Add(1)
		for promised.Weekday() == time.Saturday || promised.Weekday() == time.Sunday {
			promised++
		}
		_, err := store.AddPromise(ctx, tx, l.req.Staff[0].ID, due.Promise{Site: l.siteAt("Halloran Dental"), Day: promised, From: 12 * 60, To: 13*60 + 30, ToWhom: "the practice manager"})
		return err
	})
	if err != nil {
		return err
	}
	return l.thisWeek(ctx)
}

// weekTries is how many ways are weighed for the demo's own week: enough for a
// fair plan, and no wait at the start.
const weekTries = 1500

func (l *loader) thisWeek(ctx context.Context) error {
	monday := due.Monday(l.req.Today)
	facts, err := l.db.RoundFacts(ctx, monday, 7, l.req.Today)
	if err != nil {
		return err
	}
	facts.Now.OK = false // whatever the hour at which somebody tries the demo
	now := facts.Match(due.Book{})
	problem, _ := facts.Problem(now.Jobs, nil)
	problem.Travel = facts.Roads.Travel(problem.Places)
	units := Settings().Reads("")
	plan := round.Solve(problem, round.Options{Seed: l.req.Seed, Iterations: weekTries, Threads: 2})
	book := facts.Keep(due.Book{}, now, plan, nil, nil, units)
	book.Monday, book.What, book.How = monday, "The week was planned", say.Render(say.S("due.straight"), units)
	id, err := l.db.KeepBook(ctx, l.owner, book)
	if err != nil {
		return err
	}
	return l.db.HandOut(ctx, l.owner, monday, id)
}
