package round

import (
	"slices"
	"testing"

	"scaperound/domain/say"
)

// pairDay is a Monday with a job for two, which Ada and Ben do first, and a tank
// kept apart that is Ben's last. From the shop it is 20 minutes to the pair's
// site, from there 20 to the other, and 30 home; back from the pair's site it is
// 10. So Ben would drive less if he came to the pair's site last:
// 30 + 20 + 10 = 60 minutes instead of 20 + 20 + 30 = 70, but kept apart is last.
func pairDay() (Problem, Plan) {
	const none, ten, twenty, thirty = 0, 10 * Minute, 20 * Minute, 30 * Minute
	p := Problem{From: monday, Days: 1, Places: line(3), Travel: Travel{Drive: []Seconds{
		none, twenty, thirty,
		ten, none, twenty,
		thirty, twenty, none,
	}}}
	for _, name := range []string{"Ada", "Ben", "Cal"} {
		p.People = append(p.People, Person{ID: name, Name: name, Hours: nine(0)})
	}
	p.Stops = []Stop{
		{ID: "pair", Name: "the hall", Place: 1, Work: Hour, People: 2, Prefer: "Ada", Due: monday},
		{ID: "apart", Name: "the sick tank", Place: 2, Work: Hour, KeptApart: true, Prefer: "Ben", Due: monday},
	}
	begin := 9*Hour + 20*Minute
	pair := func(with string) Visit {
		return Visit{Stop: "pair", With: with, Drive: twenty, Arrive: begin, Start: begin, Done: begin + Hour}
	}
	apart := Visit{Stop: "apart", Drive: twenty, Arrive: begin + Hour + twenty, Start: begin + Hour + twenty, Done: begin + 2*Hour + twenty}
	return p, Plan{Routes: []Route{
		{Day: monday, Person: "Ada", Leave: 9 * Hour, Back: begin + Hour + ten, HomeDrive: ten, Visits: []Visit{pair("Ben")}},
		{Day: monday, Person: "Ben", Leave: 9 * Hour, Back: apart.Done + thirty, HomeDrive: thirty, Visits: []Visit{pair("Ada"), apart}},
		{Day: monday, Person: "Cal"},
	}}
}

// A job for two that is put where it stands costs nothing, breaks nothing and
// gives nothing up, whoever of the two it is put to.
func TestAJobForTwoFitsWhereItStands(t *testing.T) {
	p, plan := pairDay()
	for _, mv := range []Move{
		{Stop: "pair", Day: monday, Person: "Ada", With: "Ben"},
		{Stop: "pair", Day: monday, Person: "Ben", With: "Ada"},
	} {
		c, ok := Price(p, plan, mv)
		if !ok || !c.Allowed || len(c.Words) > 0 || c.Change != (Cost{}) {
			t.Errorf("%s with %s: %v, breaks %v, says %v, costs %+v", mv.Person, mv.With, ok, c.Breaks, c.Words, c.Change)
			continue
		}
		ben := routeOf(c.Plan, "Ben", monday)
		if order(ben) != "pair apart " || ben.Visits[0].Start != 9*Hour+20*Minute || ben.Visits[0].With != "Ada" {
			t.Errorf("%s with %s: Ben's day is %+v", mv.Person, mv.With, ben.Visits)
		}
	}
}

// What a customer is used to is given up only where neither of the two is it, and
// both are named. Each of the two who is not the agreed person costs half of 900.
func TestWhoComesToAJobForTwo(t *testing.T) {
	p, plan := pairDay()
	c, ok := Price(p, plan, Move{Stop: "pair", Day: monday, Person: "Ben", With: "Cal"})
	if !ok || !c.Allowed || c.Change.Person != 450 {
		t.Fatalf("%v, breaks %v, costs %+v", ok, c.Breaks, c.Change)
	}
	if got := said(c.Words); !slices.Contains(got, "the hall gets Ben and Cal; Ada is agreed with the customer.") {
		t.Errorf("with two others: %q", got)
	}
	c, ok = Price(p, c.Plan, Move{Stop: "pair", Day: monday, Person: "Cal", With: "Ada"})
	if !ok || c.Change.Person != -450 {
		t.Fatalf("%v, costs %+v", ok, c.Change)
	}
	if got := said(c.Words); !slices.Contains(got, "the hall gets the person agreed with the customer again.") {
		t.Errorf("with her again: %q", got)
	}
}

// The second person is one who can go. Cal, who came last time, would cost less
// while that is worth more than driving; but Ben is out with the van of both, or
// Cal's van carries too little.
func TestTheSecondPersonOfAMoveCanGo(t *testing.T) {
	for name, hinder := range map[string]func(p *Problem){
		"van": func(p *Problem) {
			p.Vans = []Van{{ID: "v", Name: "the van"}}
			p.People[1].Hours[0].Van, p.People[2].Hours[0].Van = "v", "v"
		},
		"load": func(p *Problem) {
			p.Vans = []Van{{ID: "small", Name: "the small van", Carries: Load{WaterL: 39}}}
			p.People[2].Hours[0].Van = "small"
			p.Stops[0].Load.WaterL = 40
		},
	} {
		t.Run(name, func(t *testing.T) {
			p, plan := pairDay()
			p.Stops[0].LastBy, p.Weights = "Cal", DefaultWeights()
			p.Weights.NotLast = int64(2 * Hour)
			free, ok := Price(p, plan, Move{Stop: "pair", Day: monday, Person: "Ada"})
			if !ok || routeOf(free.Plan, "Ada", monday).Visits[0].With != "Cal" {
				t.Fatalf("unhindered it is with %+v", routeOf(free.Plan, "Ada", monday).Visits)
			}
			hinder(&p)
			c, ok := Price(p, plan, Move{Stop: "pair", Day: monday, Person: "Ada"})
			if !ok || !c.Allowed || routeOf(c.Plan, "Ada", monday).Visits[0].With != "Ben" {
				t.Errorf("breaks %v, with %+v", c.Breaks, routeOf(c.Plan, "Ada", monday).Visits)
			}
		})
	}
}

func said(list []say.Sentence) []string {
	var out []string
	for _, s := range list {
		out = append(out, say.Render(s, say.MetricUnits))
	}
	return out
}
