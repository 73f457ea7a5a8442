package main

import (
	"context"
	"encoding/json"
	"io"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
)

// largestWeek is what the document of a week may weigh.
const largestWeek = 64 << 20

// planJSON is a plan as it is printed, and as a week's known plan is read.
type planJSON struct {
	Routes   []routeJSON    `json:"routes"`
	Unplaced []unplacedJSON `json:"unplaced"`
	GaveUp   []gaveUpJSON   `json:"gave_up,omitempty"`
	Said     []string       `json:"said,omitempty"`
	Cost     *costJSON      `json:"cost,omitempty"`
	Broken   []string       `json:"broken,omitempty"`
}

type routeJSON struct {
	Day    dayJSON     `json:"day"`
	Person string      `json:"person"`
	Leave  clockJSON   `json:"leave"`
	Back   clockJSON   `json:"back"`
	Break  *clockJSON  `json:"break,omitempty"`
	Visits []visitJSON `json:"visits"`
	HomeS  int         `json:"home_drive_s"`
	HomeM  int         `json:"home_metres"`
}

type visitJSON struct {
	Stop   string    `json:"stop"`
	DriveS int       `json:"drive_s"`
	Metres int       `json:"metres"`
	Arrive clockJSON `json:"arrive"`
	Start  clockJSON `json:"start"`
	Done   clockJSON `json:"done"`
	With   string    `json:"with,omitempty"`
}

type unplacedJSON struct {
	Stop   string   `json:"stop"`
	Why    []string `json:"why,omitempty"`
	Remedy string   `json:"remedy,omitempty"`
}

type gaveUpJSON struct {
	Stop string `json:"stop"`
	Kind string `json:"kind"`
	Days int    `json:"days,omitempty"`
	Text string `json:"text"`
}

type costJSON struct {
	Total    int64 `json:"total"`
	Unplaced int64 `json:"unplaced"`
	Urgent   int64 `json:"urgent"`
	Due      int64 `json:"due"`
	Weekday  int64 `json:"weekday"`
	Moved    int64 `json:"moved"`
	Drive    int64 `json:"drive"`
	Uneven   int64 `json:"uneven"`
	Person   int64 `json:"person"`
	Metres   int64 `json:"metres"`
}

func planDocument(p round.Plan, broken []round.Breach) planJSON {
	cost := costJSON(p.Cost)
	out := planJSON{Routes: []routeJSON{}, Unplaced: []unplacedJSON{}, Said: sayAll(p.Said), Cost: &cost}
	for _, r := range p.Routes {
		to := routeJSON{Day: dayJSON(r.Day), Person: r.Person, Leave: clockJSON(r.Leave), Back: clockJSON(r.Back), Visits: []visitJSON{}, HomeS: int(r.HomeDrive), HomeM: int(r.HomeM)}
		if r.Break.OK {
			at := clockJSON(r.Break.V)
			to.Break = &at
		}
		for _, v := range r.Visits {
			to.Visits = append(to.Visits, visitJSON{Stop: v.Stop, DriveS: int(v.Drive), Metres: int(v.Metres), Arrive: clockJSON(v.Arrive), Start: clockJSON(v.Start), Done: clockJSON(v.Done), With: v.With})
		}
		out.Routes = append(out.Routes, to)
	}
	for _, u := range p.Unplaced {
		x := unplacedJSON{Stop: u.Stop, Why: sayAll(u.Why)}
		if u.Remedy.ID != "" {
			x.Remedy = say.Render(u.Remedy, say.MetricUnits)
		}
		out.Unplaced = append(out.Unplaced, x)
	}
	for _, g := range p.GaveUp {
		out.GaveUp = append(out.GaveUp, gaveUpJSON{g.Stop, g.Kind, g.Days, say.Render(g.Say, say.MetricUnits)})
	}
	for _, b := range broken {
		out.Broken = append(out.Broken, say.Render(b.Say, say.MetricUnits))
	}
	return out
}

// plan reads a known plan back; only who goes where and when counts.
func (p *planJSON) plan() round.Plan {
	var out round.Plan
	for _, r := range p.Routes {
		to := round.Route{Day: q.Date(r.Day), Person: r.Person, Leave: round.Seconds(r.Leave), Back: round.Seconds(r.Back)}
		for _, v := range r.Visits {
			to.Visits = append(to.Visits, round.Visit{Stop: v.Stop, Arrive: round.Seconds(v.Arrive), Start: round.Seconds(v.Start), Done: round.Seconds(v.Done), With: v.With})
		}
		out.Routes = append(out.Routes, to)
	}
	return out
}

// roundPlan plans the week that stands on standard input.
func roundPlan(ctx context.Context, e *env, s searchFlags) error {
	b, err := io.ReadAll(io.LimitReader(e.stdin, largestWeek+1))
	if err != nil {
		return fault.Wrap(fault.Unavailable, err, "Standard input could not be read.")
	}
	if len(b) > largestWeek {
		return fault.New(fault.TooLarge, "The document is larger than 64 MiB.")
	}
	p, err := readWeek(b)
	if err != nil {
		return firstFault(err)
	}
	o, err := s.options(ctx, e)
	if err != nil {
		return err
	}
	plan := round.Solve(p, o)
	out := json.NewEncoder(e.stdout)
	out.SetIndent("", " ")
	if err := out.Encode(planDocument(plan, round.Check(p, plan))); err != nil {
		return fault.Wrap(fault.Unavailable, err, "The plan could not be written.")
	}
	return nil
}
