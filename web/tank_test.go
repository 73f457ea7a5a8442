package web_test

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/web/webtest"
)

// tanked is a running house with standards, a site and one tank on it.
type tanked struct {
	site        *webtest.Site
	owner, tech *webtest.Visitor
	place, path string
	id          string
	seeded      store.Seeded
}

func withTank(t *testing.T) tanked {
	t.Helper()
	s := webtest.Start(t)
	w := tanked{site: s, owner: s.SignIn(t, s.Owner), tech: s.SignIn(t, s.Technician), place: store.NewID()}
	customer := store.NewID()
	err := s.DB.Tx(t.Context(), func(ctx context.Context, tx store.Tx) (err error) {
		if _, err = tx.Exec(ctx, `INSERT INTO customer (id, name, search, sort_key, created_at, updated_at) VALUES ($1, 'Millrace Coffee', 'millrace coffee', 'a', $2, $2)`, customer, tx.Now); err != nil {
			return err
		}
		if _, err = tx.Exec(ctx, `INSERT INTO site (id, customer, name, search, sort_key, created_at, updated_at) VALUES ($1, $2, 'By the weir', 'by the weir', 'a', $3, $3)`, w.place, customer, tx.Now); err != nil {
			return err
		}
		w.seeded, err = store.SeedStandards(ctx, tx, s.Owner.ID, tx.Now.Add(-1000*time.Hour))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	made := w.tech.Post("/tanks", "name", "Window tank", "site", w.place, "state", "running", "set_up_on", "2025-03-01", "pinned", "the valve weeps\r\n\r\nnever touch the left outlet").Wants(http.StatusSeeOther)
	w.path = strings.TrimSuffix(made.Header.Get("Location"), "/setup")
	w.id = strings.TrimPrefix(w.path, "/tanks/")
	return w
}

func (w tanked) now(t *testing.T) (tank.Setup, tank.Profile, tank.Plan) {
	t.Helper()
	s, p, plan, err := w.site.DB.TankAt(t.Context(), w.id, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	return s, p, plan
}

// today is the shop's day; the tests' shop is in Dublin.
func today(t *testing.T) string {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Fatal(err)
	}
	return time.Now().In(zone).Format("2006-01-02")
}

func TestNewTankIsListedAndShown(t *testing.T) {
	w := withTank(t)
	list := w.tech.Get("/tanks").Wants(http.StatusOK)
	if got := list.Text(".row-name"); got != "Window tank" {
		t.Errorf("listed %q", got)
	}
	for _, find := range []string{"/tanks?q=mill", "/tanks?q=WEIR", "/tanks?state=running&order=site", "/tanks?order=next&q="} {
		if len(w.tech.Get(find).Wants(http.StatusOK).Find("a.row")) != 1 {
			t.Errorf("%s does not find it", find)
		}
	}
	for _, none := range []string{"/tanks?q=zzz", "/tanks?state=ended", "/tanks?page=9"} {
		if len(w.tech.Get(none).Wants(http.StatusOK).Find("a.row")) != 0 {
			t.Errorf("%s finds it", none)
		}
	}
	page := w.tech.Get(w.path).Wants(http.StatusOK)
	for _, want := range []string{"Millrace Coffee", "the valve weeps", "Nobody has written down yet what this tank is", "None: nothing is judged by a band"} {
		if !strings.Contains(page.Text("body"), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	if len(page.Find(`a[href$="/agreement"], a[href$="/profile"]`)) != 0 {
		t.Error("a technician is offered what the owner decides")
	}
	if len(w.owner.Get(w.path).Find(`a[href$="/agreement"], a[href$="/profile"]`)) != 2 {
		t.Error("the owner is not offered agreement and profile")
	}
	w.tech.Get("/tanks/" + store.NewID()).Wants(http.StatusNotFound)
	w.tech.Get("/tanks/nonsense").Wants(http.StatusNotFound)
}

func TestNewTankNamesEveryFault(t *testing.T) {
	w := withTank(t)
	page := w.tech.Post("/tanks", "name", " ", "site", "", "state", "sleepy", "set_up_on", "2999-01-01", "pinned", strings.Repeat("line\n", 7)).Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"name", "site", "state", "set_up_on", "pinned"} {
		if page.Text("#f-"+field+"-fault") == "" {
			t.Errorf("nothing stands beside %s", field)
		}
	}
	if got := page.Attr("#f-set_up_on", "value"); got != "2999-01-01" {
		t.Errorf("what was typed is lost: %q", got)
	}
	if a := w.tech.Post("/tanks", "name", "Nowhere", "site", store.NewID(), "state", "running"); a.Status != http.StatusNotFound {
		t.Errorf("a site that is not there: %d", a.Status)
	}
}

func TestSetupIsKeptAndReckoned(t *testing.T) {
	w := withTank(t)
	pairs := []string{"version", "0", "since", "2025-03-01", "length", "90", "width", "45,5", "height", "45", "level", "42 cm",
		"substrate", "rich_soil", "substrate_depth", "5", "porosity", "45", "stone", "12", "wood", "3", "filter_volume", "6",
		"light", "two bars", "light_on", "14:00", "light_hours", "8", "co2", "1", "target", "77 F", "note", "drawn <by hand>"}
	preview := w.tech.Post(w.path+"/setup", append([]string{"do", "preview"}, pairs...)...).Wants(http.StatusOK)
	// Gross 90·45.5·42/1000 = 171.99 L; net = 171.99 - 20.475·0.55 - 12/2.65 - 3/1.1 + 6 = 159.47 L, worked by hand.
	if got := preview.Text(".volumes"); !strings.Contains(got, "172 L") || !strings.Contains(got, "159 L") {
		t.Errorf("the preview reckons %q", got)
	}
	if s, _, _ := w.now(t); s.Length.OK {
		t.Error("a preview has kept something")
	}
	if got := preview.Attr("#f-width", "value"); got != "45,5" {
		t.Errorf("the preview loses what was typed: %q", got)
	}
	w.tech.Post(w.path+"/setup", pairs...).Wants(http.StatusSeeOther)
	s, _, _ := w.now(t)
	if s.Width.V != 45.5 || s.Level.V != 42 || s.Porosity.V != 0.45 || s.Heater.Target.V != 25 || !s.CO2.Injected || s.Light.On.V != 840 || s.Metered.OK {
		t.Errorf("kept as %+v", s)
	}
	page := w.tech.Get(w.path).Wants(http.StatusOK)
	for _, want := range []string{"159 L", "two bars", "drawn <by hand>", "set to 25.0 °C"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	form := w.tech.Get(w.path + "/setup").Wants(http.StatusOK)
	if got := form.Attr("#f-width", "value"); got != "45.5" {
		t.Errorf("the form opens with width %q", got)
	}
	if form.Attr("input[name=version]", "value") != "1" || form.Attr("#f-since", "value") != today(t) {
		t.Error("the form carries the version and opens with today")
	}
}

func TestSetupNamesEveryFaultAtOnce(t *testing.T) {
	w := withTank(t)
	page := w.tech.Post(w.path+"/setup", "version", "0", "since", "", "length", "long", "width", "-4", "height", "40", "level", "44", "stone", "5 °C",
		"wood", "900", "substrate", "lava", "light_on", "25:10", "filter_clean", "1,250", "light", strings.Repeat("x", 90)).Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"since", "length", "width", "level", "stone", "wood", "substrate", "light_on", "filter_clean", "light"} {
		if page.Text("#f-"+field+"-fault") == "" {
			t.Errorf("nothing stands beside %s", field)
		}
	}
	if got := page.Attr("#f-length", "value"); got != "long" {
		t.Errorf("what was typed is lost: %q", got)
	}
	if got := page.Attr(`#f-wood-fault input[name=confirm]`, "value"); got != "wood=900" {
		t.Errorf("the unlikely wood is asked about with %q", got)
	}
	w.tech.Post(w.path+"/setup", "version", "0", "since", "2025-03-01", "wood", "900", "confirm", "wood=900", "filter_clean", "1,250", "confirm", "filter_clean=1,250").Wants(http.StatusSeeOther)
	if s, _, _ := w.now(t); s.Wood.V != 900 || s.Filter.Clean.V != 1250 {
		t.Errorf("said to be meant, it is kept: %v kg, %v L/h", s.Wood, s.Filter.Clean)
	}
}

func TestSecondEditorSeesBothAndLosesNothing(t *testing.T) {
	w := withTank(t)
	w.owner.Post(w.path+"/setup", "version", "0", "since", "2025-03-01", "length", "90", "substrate", "rich_soil").Wants(http.StatusSeeOther)
	page := w.tech.Post(w.path+"/setup", "version", "0", "since", "2025-03-01", "length", "60", "substrate", "sand_gravel").Wants(http.StatusConflict)
	if got := page.Attr("#f-length", "value"); got != "60" {
		t.Errorf("the second editor's own value is lost: %q", got)
	}
	if got := page.Text("#f-length-beside"); !strings.Contains(got, "90") {
		t.Errorf("theirs is not shown: %q", got)
	}
	if got := page.Text("#f-substrate-beside"); !strings.Contains(got, "Rich soil") {
		t.Errorf("their choice is not named: %q", got)
	}
	if page.Attr("input[name=version]", "value") != "1" {
		t.Error("a second try would fail again")
	}
	if s, _, _ := w.now(t); s.Length.V != 90 {
		t.Errorf("the first editor's value is gone: %v", s.Length)
	}
	w.tech.Post(w.path+"/setup", "version", "1", "since", "2025-03-01", "length", "60").Wants(http.StatusSeeOther)
	// A fault in between must not wash the conflict away.
	page = w.owner.Post(w.path+"/setup", "version", "1", "since", "2025-03-01", "length", "x").Wants(http.StatusUnprocessableEntity)
	if got := page.Attr("input[name=version]", "value"); got != "1" {
		t.Errorf("after a fault the form carries version %s", got)
	}
}

func TestStockIsWrittenDown(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path+"/stock", "day", today(t), "group", "tetras", "species", "ember", "n", "12", "reason", "we_added", "pays", "to_bill").Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/stock", "day", today(t), "group", "tetras", "species", "ember", "n", "2", "reason", "died").Wants(http.StatusSeeOther)
	if s, _, _ := w.now(t); len(s.Animals) != 1 || s.Animals[0].Count != 10 {
		t.Errorf("12 came and 2 died: %+v", s.Animals)
	}
	page := w.tech.Get(w.path + "/stock").Wants(http.StatusOK)
	for _, want := range []string{"−2 Tetras, ember", "+12 Tetras, ember", "to bill", "Ilo Vance"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	page = w.tech.Post(w.path+"/stock", "day", today(t), "group", "tetras", "species", "ember", "n", "11", "reason", "died").Wants(http.StatusUnprocessableEntity)
	if got := page.Text("#f-n-fault"); !strings.Contains(got, "Only 10") {
		t.Errorf("more died than there were: %q", got)
	}
	page = w.tech.Post(w.path+"/stock", "day", "soon", "group", "unicorns", "n", "a few", "reason", "moved_to").Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"day", "group", "n", "other_tank"} {
		if page.Text("#f-"+field+"-fault") == "" {
			t.Errorf("nothing stands beside %s", field)
		}
	}
}

func TestDosingShowsWhatAWeekGives(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path+"/setup", "version", "0", "since", "2025-03-01", "metered", "100").Wants(http.StatusSeeOther)
	pairs := []string{"version", "0", "since", "2025-04-01", "line.0.solute", "no3", "line.0.mg", "120", "line.0.days", "1", "line.0.days", "3", "line.0.days", "5",
		"line.0.how", "pump", "line.0.ml", "3", "line.0.stroke", "1.5", "line.0.by", "customer"}
	preview := w.tech.Post(w.path+"/dosing", append([]string{"do", "preview"}, pairs...)...).Wants(http.StatusOK)
	if got := preview.Text("table"); !strings.Contains(got, "360 mg") || !strings.Contains(got, "3.60 mg/L") {
		t.Errorf("three times 120 mg in 100 L: %q", got)
	}
	w.tech.Post(w.path+"/dosing", pairs...).Wants(http.StatusSeeOther)
	_, _, plan := w.now(t)
	if len(plan.Lines) != 1 || plan.WeeklyMg(q.Nitrate) != 360 || plan.Lines[0].Weekdays != 0b10101 || plan.Lines[0].Strokes().V != 2 {
		t.Errorf("kept as %+v", plan)
	}
	page := w.tech.Get(w.path).Wants(http.StatusOK)
	if got := page.Text("main"); !strings.Contains(got, "NO3 120 mg (2 strokes), Mon, Wed and Fri") {
		t.Errorf("the plan on the page: %q", got)
	}
	form := w.tech.Get(w.path + "/dosing").Wants(http.StatusOK)
	if got := len(form.Find(`input[name="line.0.days"][checked]`)); got != 3 {
		t.Errorf("%d days are ticked", got)
	}
	bad := w.tech.Post(w.path+"/dosing", "version", "1", "since", today(t), "line.0.mg", "much", "line.2.solute", "gold", "line.2.how", "pump").Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"line.0.solute", "line.0.mg", "line.0.days", "line.2.solute", "line.2.mg", "line.2.stroke"} {
		if len(bad.Find(`.faults a[href="#f-`+field+`"]`)) == 0 {
			t.Errorf("%s is not named", field)
		}
	}
	w.tech.Post(w.path+"/dosing", "version", "1", "since", today(t)).Wants(http.StatusSeeOther)
	if _, _, plan := w.now(t); len(plan.Lines) != 0 {
		t.Errorf("emptied, the plan is %+v", plan)
	}
}

func TestTermsAreKept(t *testing.T) {
	w := withTank(t)
	profile := w.seeded.Profiles[tank.Standards()[0].Name]
	made := w.tech.Post("/sources", "name", "Kitchen tap", "site", w.place, "kind", "tap", "since", "2025-01-01", "source_kh", "8,5", "source_kh.unit", "dKH", "source_no3", "12", "disinfectant", "chlorine", "winter", "6").Wants(http.StatusSeeOther)
	source := strings.TrimPrefix(made.Header.Get("Location"), "/sources/")
	w.tech.Post(w.path+"/water", "version", "0", "since", "2025-03-01", "source", source, "ro_share", "40").Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/share", "version", "0", "since", "2025-03-01", "feeds", "1", "tops_up", "1", "pinch", "0.12").Wants(http.StatusSeeOther)
	w.owner.Post(w.path+"/agreement", "version", "0", "since", "2025-03-01", "every", "14", "tolerance", "3", "minutes", "45", "preferred", w.site.Technician.ID).Wants(http.StatusSeeOther)
	w.owner.Post(w.path+"/profile", "version", "0", "since", "2025-03-01", "profile", profile).Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/agreement", "version", "1", "since", "2025-03-01", "every", "7", "minutes", "45").Wants(http.StatusForbidden)

	s, p, _ := w.now(t)
	if s.Source.V.Get(q.KH).V != 8.5 || s.ROShare != 0.4 || !s.Share.Feeds || s.Share.Doses || s.Agreement.EveryDays.V != 14 || s.Agreement.Preferred != w.site.Technician.ID || p.ID != profile {
		t.Errorf("kept as %+v, %+v", s, p.Name)
	}
	page := w.owner.Get(w.path).Wants(http.StatusOK)
	for _, want := range []string{"Kitchen tap, KH 8.5 °dKH, NO3 12 mg/L, chlorine, 40 % pure water", "Every 2 weeks, give or take 3 days; 45 minutes", "Feeds and Tops up", tank.Standards()[0].Name} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	for segment, pairs := range map[string][]string{
		"agreement": {"every", "", "minutes", "0", "tolerance", "x"}, "water": {"source", "", "ro_share", "140"}, "share": {"pinch", "-1", "feed", "tons"}, "profile": {"profile", ""},
	} {
		bad := w.owner.Post(w.path+"/"+segment, append(pairs, "version", "1", "since", "2999-01-01")...).Wants(http.StatusUnprocessableEntity)
		for i := 0; i < len(pairs); i += 2 {
			if len(bad.Find(`.faults a[href="#f-`+pairs[i]+`"]`)) == 0 {
				t.Errorf("%s: %s is not named", segment, pairs[i])
			}
		}
		if len(bad.Find(`.faults a[href="#f-since"]`)) == 0 {
			t.Errorf("%s lies in the future unnoticed", segment)
		}
	}
	back := w.tech.Post(w.path+"/share", "version", "1", "since", "2025-02-01", "doses", "1").Wants(http.StatusSeeOther)
	if got := w.tech.Follow(back).Text(".notice"); !strings.Contains(got, "It holds until Sat 1 Mar 2025") {
		t.Errorf("what is older than the newest is said to hold: %q", got)
	}
	history := w.tech.Get(w.path + "/history").Wants(http.StatusOK)
	for _, want := range []string{"every 14 d", "feeds, tops up", "Kitchen tap, 40 % pure water", "Maren Tolland", "By the weir"} {
		if !strings.Contains(history.Text("table"), want) {
			t.Errorf("the history lacks %q", want)
		}
	}
}

func TestPinsAndCard(t *testing.T) {
	w := withTank(t)
	form := w.tech.Get(w.path + "/pins").Wants(http.StatusOK)
	version := form.Attr("input[name=version]", "value")
	w.tech.Post(w.path+"/pins", "version", version, "pinned", "owner hates snails", "keep_apart_since", today(t)).Wants(http.StatusSeeOther)
	page := w.tech.Get(w.path).Wants(http.StatusOK)
	if !strings.Contains(page.Text(".apart"), "Kept apart since") || page.Text(".pins") != "owner hates snails" {
		t.Errorf("pins %q, apart %q", page.Text(".pins"), page.Text(".apart"))
	}
	again := w.owner.Post(w.path+"/pins", "version", version, "pinned", "something else").Wants(http.StatusConflict)
	if got := again.Text("#f-pinned-beside"); !strings.Contains(got, "owner hates snails") {
		t.Errorf("theirs is not shown: %q", got)
	}
	bad := w.tech.Post(w.path+"/pins", "version", version, "keep_apart_since", "2026-05-02", "keep_apart_until", "2026-05-01").Wants(http.StatusUnprocessableEntity)
	if bad.Text("#f-keep_apart_until-fault") == "" {
		t.Error("an end before its beginning is accepted")
	}
	card := w.tech.Get(w.path + "/card").Wants(http.StatusOK)
	w.tech.Post(w.path+"/card", "version", card.Attr("input[name=version]", "value"), "name", "Corner tank", "state", "resting", "since", today(t), "set_up_on", "2025-03-01").Wants(http.StatusSeeOther)
	if s, _, _ := w.now(t); s.Name != "Corner tank" || s.State != tank.Resting || len(s.Pinned) != 1 {
		t.Errorf("kept as %+v", s)
	}
}

func TestGearEvents(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path+"/gear", "gear", "cylinder", "what", "swapped", "day", "2025-04-01", "at", "10:30", "gross", "9,42", "number", "K7", "tested_on", "2024-06-01").Wants(http.StatusSeeOther)
	w.tech.Post(w.path+"/gear", "gear", "filter", "what", "cleaned", "day", "2025-04-02").Wants(http.StatusSeeOther)
	s, _, _ := w.now(t)
	// Dublin is on summer time in April: 10:30 on the wall is 09:30 UTC.
	if s.CO2.SwapMass.V != 9.42 || s.CO2.Swapped.V.Format("2006-01-02 15:04") != "2025-04-01 09:30" || !s.Filter.Cleaned.OK {
		t.Errorf("kept as %+v, %+v", s.CO2, s.Filter)
	}
	page := w.tech.Get(w.path + "/gear").Wants(http.StatusOK)
	if got := page.Text("main"); !strings.Contains(got, "9.42 kg") || !strings.Contains(got, "number K7") {
		t.Errorf("shown as %q", got)
	}
	bad := w.tech.Post(w.path+"/gear", "gear", "heater", "what", "eaten", "day", "2999-01-01", "gross", "9").Wants(http.StatusUnprocessableEntity)
	for _, field := range []string{"gear", "what", "day"} {
		if len(bad.Find(`.faults a[href="#f-`+field+`"]`)) == 0 {
			t.Errorf("%s is not named", field)
		}
	}
}

func TestReadingsStandOnTheirBands(t *testing.T) {
	w := withTank(t)
	w.owner.Post(w.path+"/profile", "version", "0", "since", "2025-03-01", "profile", w.seeded.Profiles[tank.Standards()[1].Name]).Wants(http.StatusSeeOther)
	err := w.site.DB.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
		visit, revision := store.NewID(), store.NewID()
		at := tx.Now.Add(-2 * time.Hour)
		if _, err := tx.Exec(ctx, `INSERT INTO visit (id, tank, kind, performer, performed_at, head, created_at) VALUES ($1, $2, 'routine', $3, $4, $5, $4)`, visit, w.id, w.site.Technician.ID, at, revision); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `INSERT INTO visit_revision (id, visit, no, raw, sha256, wire, performed_at, received_at, staff) VALUES ($1, $2, 1, '', '', '1', $3, $3, $4)`, revision, visit, at, w.site.Technician.ID); err != nil {
			return err
		}
		for _, x := range []struct {
			kind          string
			value, lo, hi float64
		}{{"no3", 10, 7.5, 17.5}, {"gh", 2, 2, 2}, {"k", 25, 15, 30}, {"ph", 7.9, 7.85, 7.95}} {
			if _, err := tx.Exec(ctx, `INSERT INTO reading (id, revision, tank, performed_at, drawn_at, kind, phase, value, lo, hi, typed, typed_unit) VALUES ($1, $2, $3, $4, $4, $5, 'before', $6, $7, $8, '', '')`,
				store.NewID(), revision, w.id, at, x.kind, x.value, x.lo, x.hi); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	page := w.tech.Get(w.path).Wants(http.StatusOK)
	got := map[string]string{}
	for _, n := range page.Find(".strip") {
		text := webtest.TextOf(n)
		for _, word := range []string{"in band", "cannot tell", "low", "high"} {
			if strings.Contains(text, word) {
				got[strings.Fields(text)[0]] = word
				break
			}
		}
	}
	for label, want := range map[string]string{"NO3": "in band", "GH": "low", "K": "cannot tell", "pH": "high"} {
		if got[label] != want {
			t.Errorf("%s is %q, want %q", label, got[label], want)
		}
	}
}
