package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"scaperound/domain/share"
	"scaperound/web"
	"scaperound/web/webtest"
)

// Two servers on one database plan one week at a time between them, and each
// can stop what the other began; the best so far is kept.
func TestTwoServersPlanOneWeekAtATime(t *testing.T) {
	p := newRound(t, func(c *web.Config) { c.PlanFor = time.Hour })
	other := webtest.Serve(t, p.DB, func(c *web.Config) {
		c.Now, c.LinkKey, c.PlanFor = func() time.Time { return theNow }, share.Key{7}, time.Hour
	})
	here, there := p.SignIn(t, p.Owner), other.SignIn(t, p.Owner)
	here.Post(roundWeek + "/plan").Wants(http.StatusSeeOther)
	there.Post(roundWeek + "/plan").Wants(http.StatusConflict)
	there.Post("/round-book/weeks/2026-11-30/plan").Wants(http.StatusConflict)
	if text := there.Get(roundWeek).Wants(http.StatusOK).Text("main"); !strings.Contains(text, "Planning since") || strings.Contains(text, "Plan the week") {
		t.Errorf("the other server says: %.400s", text)
	}
	there.Post(roundWeek + "/stop").Wants(http.StatusSeeOther)
	p.rests(t, here)
	var now struct{ Text string }
	there.Script("GET", "/round-book/run").Wants(http.StatusOK).JSON(&now)
	if now.Text != "The planner rests." {
		t.Errorf("at rest it says %q", now.Text)
	}
	if w := p.draft(t); !w.Planned || len(w.Draft.Left) > 0 {
		t.Errorf("stopped, and the best so far is %+v", w.Draft)
	}
	there.Post(roundWeek + "/plan").Wants(http.StatusSeeOther)
	here.Post(roundWeek + "/stop").Wants(http.StatusSeeOther)
	p.rests(t, there)
}
