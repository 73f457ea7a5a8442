package web

import (
	"context"
	"net/http"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/triage"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

// counterStore is what the owner's first page asks for.
type counterStore interface {
	// DecideExtra keeps what was decided about an extra visit; UndecideExtra
	// takes it back.
	DecideExtra(ctx context.Context, by string, d counter.Decision) error
	UndecideExtra(ctx context.Context, by, visit string) error
	// Counter reads what waits for the owner, as of the shop's day.
	Counter(ctx context.Context, today q.Date) (counter.Counter, error)
}

type counterPage struct {
	*shell
	store counterStore
}

func (p counterPage) show(w http.ResponseWriter, r *http.Request) error {
	c, err := p.store.Counter(r.Context(), p.today(r))
	if err != nil {
		return err
	}
	l := local(r)
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Counter", Lead: l.DayOf(p.cfg.Now())}, view.CounterBody(counterParts(c, l, reads(r))))
}

// counterParts puts the lists into the order in which the owner works: people
// first, then what they wait for, then what is out of place.
func counterParts(c counter.Counter, l view.Local, units say.Units) view.Counter {
	var out view.Counter
	add := func(title string, rows []view.CounterRow) {
		if len(rows) > 0 {
			out.Parts = append(out.Parts, view.CounterPart{Title: title, Rows: rows})
		}
	}
	var calls, asked, often, agreed, phone, tasks, held, extra, keys, missed, late []view.CounterRow
	for _, x := range c.Calls {
		calls = append(calls, view.CounterRow{Name: x.TankName, Href: callPath(x.ID), Why: guideTitle(x.Guide) + ". " + goingText(x) + ".", Now: x.Going == triage.GoNow, Side: l.DayClock(x.At) + ", " + x.By})
	}
	for _, x := range c.Asked {
		asked = append(asked, view.CounterRow{Name: joined(", ", x.TankName, x.CustomerName), Href: taskPath(x.ID), Why: taskText(x.Task, units), Side: dueDay(x.Task, l)})
	}
	for _, x := range c.Often {
		why := taskText(x.Task, units) + ". Put off " + times(x.Task.Skips) + "; last: " + skipWords[x.SkipWhy] + "."
		if x.Task.Skips < 2 {
			why = taskText(x.Task, units) + ". Not done so far, and nobody said why."
		}
		often = append(often, view.CounterRow{Name: joined(", ", x.TankName, x.CustomerName), Href: taskPath(x.ID), Why: why, Side: "since " + l.DayOf(x.Opened)})
	}
	for _, x := range c.Agreed {
		agreed = append(agreed, view.CounterRow{Name: joined(", ", x.TankName, x.CustomerName), Href: "/visits/" + x.Visit + "/extra", Why: "Agreed with " + x.With + "; " + lowerFirst(payerTitle(x.Pays)) + ".", Side: "on " + l.Day(x.On.V)})
	}
	for _, x := range c.Phone {
		row := view.CounterRow{Name: x.CustomerName + ", " + x.TankName, Href: customerPath(x.Customer), Why: say.Render(x.Why, units),
			Now: x.Urgency == care.Now, Side: l.DayOf(x.Performed)}
		for _, n := range x.Phones {
			row.Phones = append(row.Phones, view.Phone{Text: n, Number: dial(n)})
		}
		phone = append(phone, row)
	}
	for _, x := range c.Tasks {
		row := view.CounterRow{Name: x.CustomerName + ", " + x.TankName, Href: "/tanks/" + x.Tank, Why: taskText(x.Task, units), Side: l.DayOf(x.Opened),
			Done: &view.Post{Label: "Done", Action: "/tasks/" + x.ID + "/done"}}
		for _, n := range x.Phones {
			row.Phones = append(row.Phones, view.Phone{Text: n, Number: dial(n)})
		}
		tasks = append(tasks, row)
	}
	for _, x := range c.Held {
		held = append(held, view.CounterRow{Name: x.TankName + ", " + x.CustomerName, Href: "/visits/" + x.Visit + "/sheet",
			Why: "Waits for your word: " + x.Reason + ".", Side: x.By + ", " + l.DayOf(x.Since)})
	}
	for _, x := range c.Extra {
		extra = append(extra, view.CounterRow{Name: x.TankName + ", " + x.CustomerName, Href: "/visits/" + x.Visit + "/extra",
			Why: say.Render(x.Why, units), Side: "by " + l.Day(x.On.V)})
	}
	for _, x := range c.KeysOut {
		keys = append(keys, view.CounterRow{Name: "Key " + x.Number, Href: "/keys/" + x.ID, Why: x.SiteName, Side: x.Holder + ", since " + l.DayOf(x.Out)})
	}
	for _, x := range c.Missed {
		why := "Begun and not left."
		if x.Outcome == visit.CouldNotEnter {
			why = "Could not get in. " + x.Why
		}
		missed = append(missed, view.CounterRow{Name: x.SiteName + ", " + x.Customer, Href: "/stops/" + x.ID, Why: why, Side: l.DayOf(x.Arrived.V)})
	}
	for _, x := range c.Overdue {
		late = append(late, view.CounterRow{Name: x.TankName + ", " + x.Customer, Href: "/tanks/" + x.Tank, Why: x.SiteName, Side: "was due " + l.Day(x.Due)})
	}
	var weeks []view.CounterRow
	for _, x := range c.Weeks {
		row := view.CounterRow{Name: "Week of " + l.Day(x.Monday), Href: weekPath(x.Monday), Why: "Not planned yet."}
		switch {
		case x.Changed:
			row.Why = "Changed since it was handed out: people still go by the old plan."
		case x.Planned:
			row.Why = "Planned, and not handed out yet."
		}
		weeks = append(weeks, row)
	}
	for _, x := range c.Skipped {
		missed = append(missed, view.CounterRow{Name: x.SiteName + ", " + x.Customer, Href: sitePath(x.Site), Why: "On the round of " + x.Person + ", and nobody was there.", Side: l.Day(x.Day)})
	}
	add("Calls for help", calls)
	add("To phone", phone)
	add("For you alone", tasks)
	add("Sheets held back", held)
	add("Extra visits wanted", extra)
	add("Rounds", weeks)
	add("Extra visits agreed", agreed)
	add("Asked for", asked)
	add("Put off again and again", often)
	add("Stops without a visit", missed)
	add("Overdue", late)
	add("Keys out", keys)
	return out
}
