package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/customer"
	"scaperound/web/webtest"
)

var card = []string{"version", "1", "name", "The mill", "address", "4 Weir Lane", "town", "Alderbrook", "position", "geo:53.35,-6.26", "altitude", "30", "altitude.unit", "m",
	"parking_minutes", "5", "stairs", "one flight", "window.1", "9-12, 14-17", "window.2", "9-12, 14-17", "window.7", "10-11", "stopcock", "under the sink", "breaker", "hall",
	"rcd_tested", "2024-03-01", "hose", "40", "hose.unit", "ft", "drain", "yard gully", "room", "40", "room.unit", "m3", "co2_alarm", "no", "spending_limit", "60"}

// with is the card with some fields otherwise.
func with(pairs ...string) []string {
	out := append([]string(nil), card...)
	for i := 0; i < len(pairs); i += 2 {
		found := false
		for j := 0; j < len(out); j += 2 {
			if out[j] == pairs[i] {
				out[j+1], found = pairs[i+1], true
			}
		}
		if !found {
			out = append(out, pairs[i], pairs[i+1])
		}
	}
	return out
}

func placedSite(t *testing.T) (s *webtest.Site, owner, tech *webtest.Visitor, path string) {
	t.Helper()
	s, owner, tech, c := placed(t)
	return s, owner, tech, owner.Post(c+"/sites", card...).Wants(http.StatusSeeOther).Header.Get("Location")
}

func TestSiteIsAddedAndShown(t *testing.T) {
	_, owner, tech, path := placedSite(t)
	page := tech.Get(path).Wants(http.StatusOK)
	for _, want := range []string{"4 Weir Lane, Alderbrook", "53.35, -6.26", "5 min", "one flight", "Mon–Tue 09:00–12:00, 14:00–17:00; Sun 10:00–11:00", "under the sink", "hall", "Fri 1 Mar 2024",
		"More than a year ago", "12 m", "yard gully", "40 m³", "none", "60.00", "No tank stands here", "The shop has no key"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not on the page:\n%s", want, page.Text("main"))
		}
	}
	if got := page.Attr(`a[href^="geo:"]`, "href"); got != "geo:53.350000,-6.260000" {
		t.Errorf("map link %q", got)
	}
	form := owner.Get(path + "/edit").Wants(http.StatusOK)
	if got := form.Attr("#f-position", "value"); got != "53.35, -6.26" {
		t.Errorf("position to edit %q", got)
	}
	if got := tech.Get("/sites").Wants(http.StatusOK).Text(".row-name"); got != "The mill" {
		t.Errorf("listed %q", got)
	}
}

func TestEveryFaultOfASiteStandsBesideItsField(t *testing.T) {
	_, owner, _, path := placedSite(t)
	bad := map[string]string{"name": "", "position": "here", "altitude": "high", "parking_minutes": "1.5", "window.3": "soon", "rcd_tested": "2999-01-01", "hose": "-4", "room": "12 kg",
		"co2_alarm": "maybe", "spending_limit": "1,250", "stairs": strings.Repeat("s", customer.MaxLine+1)}
	var pairs []string
	for name, v := range bad {
		pairs = append(pairs, name, v)
	}
	page := owner.Post(path, with(pairs...)...).Wants(http.StatusUnprocessableEntity)
	for name, typed := range bad {
		if page.Text(`[id="f-`+name+`-fault"]`) == "" {
			t.Errorf("nothing stands beside %s", name)
		}
		if name == "co2_alarm" {
			continue
		}
		if got := page.Attr(`[id="f-`+name+`"]`, "value"); got != typed {
			t.Errorf("%s: what was typed is lost: %q", name, got)
		}
	}
	if got := page.Attr(`input[name=confirm]`, "value"); got != "spending_limit=1,250" {
		t.Errorf("to confirm: %q", got)
	}
	// Once confirmed it is not asked again, also while another fault stands.
	page = owner.Post(path, with("spending_limit", "1,250", "confirm", "spending_limit=1,250", "hose", "x")...).Wants(http.StatusUnprocessableEntity)
	if got := page.Attr(`input[type=hidden][name=confirm]`, "value"); got != "spending_limit=1,250" {
		t.Errorf("the answer is lost: %q", got)
	}
	owner.Post(path, with("spending_limit", "1,250", "confirm", "spending_limit=1,250")...).Wants(http.StatusSeeOther)
	if got := owner.Get(path).Text("main"); !strings.Contains(got, "1250.00") {
		t.Error("the limit that was confirmed is not shown")
	}
}

func TestSecondEditorOfASiteLosesNothing(t *testing.T) {
	_, owner, tech, path := placedSite(t)
	owner.Post(path, with("drain", "street drain", "stopcock", "cellar")...).Wants(http.StatusSeeOther)
	page := tech.Post(path, with("drain", "garden", "was.drain", "yard gully", "was.stopcock", "under the sink", "spending_limit", "")...).Wants(http.StatusConflict)
	if typed, beside := page.Attr("#f-drain", "value"), page.Text("#f-drain-beside"); typed != "garden" || !strings.Contains(beside, "street drain") {
		t.Errorf("drain %q, beside it %q", typed, beside)
	}
	if typed, beside := page.Attr("#f-stopcock", "value"), page.Text("#f-stopcock-beside"); typed != "cellar" || !strings.Contains(beside, "under the sink") {
		t.Errorf("stopcock %q, beside it %q", typed, beside)
	}
}

func TestTechnicianEditsTheCardAndNotThePrice(t *testing.T) {
	_, owner, tech, path := placedSite(t)
	form := tech.Get(path + "/edit").Wants(http.StatusOK)
	if len(form.Find(`[name=spending_limit]`)) != 0 {
		t.Error("a technician is asked for the limit")
	}
	tech.Post(path, with("drain", "garden", "spending_limit", "")...).Wants(http.StatusSeeOther)
	if got := owner.Get(path).Text("main"); !strings.Contains(got, "garden") || !strings.Contains(got, "60.00") {
		t.Error("the card was not kept, or the limit was lost")
	}
	tech.Post(path, with("version", "2", "spending_limit", "900")...).Wants(http.StatusForbidden)
	tech.Post(path + "/archive").Wants(http.StatusForbidden)
	owner.Post(path, with("version", "2", "spending_limit", "")...).Wants(http.StatusSeeOther)
	if got := owner.Get(path).Text("main"); !strings.Contains(got, "ask before spending") {
		t.Error("the owner cannot take the limit away")
	}
}

func TestFeetForWhoReadsFeet(t *testing.T) {
	s, _, tech, path := placedSite(t)
	if _, err := s.DB.Pool().Exec(t.Context(), `UPDATE staff SET units = 'us' WHERE id = $1`, s.Technician.ID); err != nil {
		t.Fatal(err)
	}
	if got := tech.Get(path).Text("main"); !strings.Contains(got, "40 ft") || !strings.Contains(got, "1413 ft³") { // 40 m³ / 0.0283168
		t.Errorf("shown as %q", got)
	}
	form := tech.Get(path + "/edit").Wants(http.StatusOK)
	if got := form.Attr("#f-hose", "value"); got != "40" {
		t.Errorf("hose %q", got)
	}
	if got := form.Attr(`select[name="hose.unit"] option[selected]`, "value"); got != "ft" {
		t.Errorf("its unit %q", got)
	}
}

func TestAccessIsOnItsOwnPageAlone(t *testing.T) {
	s, owner, tech, path := placedSite(t)
	tech.Post(path+"/access", "version", "0", "note", "through the yard", "alarm_code", "4711-blue").Wants(http.StatusSeeOther)
	page := owner.Get(path + "/access").Wants(http.StatusOK)
	if got := page.Attr("#f-alarm_code", "value"); got != "4711-blue" {
		t.Errorf("code %q", got)
	}
	if got := page.Header.Get("Cache-Control"); got != "no-store" {
		t.Errorf("the page is kept: %q", got)
	}
	conflict := owner.Post(path+"/access", "version", "0", "note", "by the front", "alarm_code", "").Wants(http.StatusConflict)
	if got := conflict.Text("#f-note-beside"); !strings.Contains(got, "through the yard") {
		t.Errorf("beside the note: %q", got)
	}
	if got := conflict.Header.Get("Cache-Control"); got != "no-store" {
		t.Errorf("the page of the conflict is kept: %q", got)
	}
	customerPage := owner.Get(path).Attr(".up a", "href")
	for _, other := range []string{path, path + "/edit", "/sites", "/search?q=mill", "/keys", customerPage, path + "/incidents"} {
		if body := string(owner.Get(other).Wants(http.StatusOK).Body); strings.Contains(body, "4711-blue") || strings.Contains(body, "through the yard") {
			t.Errorf("%s shows how to get in", other)
		}
	}
	if log := s.Log.String(); strings.Contains(log, "4711-blue") || strings.Contains(log, "through the yard") {
		t.Error("the log holds how to get in")
	}
	long := tech.Post(path+"/access", "version", "1", "note", "x", "alarm_code", strings.Repeat("9", customer.MaxCode+1)).Wants(http.StatusUnprocessableEntity)
	if long.Text("#f-alarm_code-fault") == "" {
		t.Error("nothing stands beside the code")
	}
}

func TestKeyIsHandedOutAndHungBack(t *testing.T) {
	s, owner, tech, path := placedSite(t)
	tech.Post(path+"/keys", "number", "k-17").Wants(http.StatusSeeOther)
	page := tech.Post(path+"/keys", "number", "K-17").Wants(http.StatusUnprocessableEntity)
	if page.Text("#f-number-fault") == "" || page.Attr("#f-number", "value") != "K-17" {
		t.Errorf("a number that is taken: %q", page.Text("main"))
	}
	tech.Post(path+"/keys", "number", "").Wants(http.StatusUnprocessableEntity)
	page = tech.Get(path)
	take, me := page.Attr(`form[action$="/take"]`, "action"), page.Attr(`form[action$="/take"] input`, "value")
	undo := tech.Follow(tech.Post(take, "holder", me).Wants(http.StatusSeeOther)).Attr(`.notice form`, "action")
	if got := owner.Get("/keys").Wants(http.StatusOK).Text(".row"); !strings.Contains(got, "Ilo Vance has it") || !strings.Contains(got, "The mill") {
		t.Errorf("the keys say %q", got)
	}
	tech.Post(undo).Wants(http.StatusSeeOther)
	if got := tech.Get(path).Text(".row"); !strings.Contains(got, "hangs in the shop") {
		t.Errorf("undone: %q", got)
	}
	keyPage := strings.TrimSuffix(take, "/take")
	if n := len(owner.Get(keyPage).Wants(http.StatusOK).Find(`input[name=holder]`)); n != 2 {
		t.Errorf("offered to %d people", n)
	}
	owner.Post(take, "holder", "nobody").Wants(http.StatusUnprocessableEntity)
	owner.Post(take, "holder", s.Owner.ID).Wants(http.StatusSeeOther)
	owner.Post(keyPage + "/give-up").Wants(http.StatusSeeOther)
	owner.Post(take, "holder", s.Owner.ID).Wants(http.StatusConflict)
	owner.Post(keyPage + "/found").Wants(http.StatusSeeOther)
	tech.Post(keyPage + "/return").Wants(http.StatusSeeOther)
}

func TestAwayIsNotedEditedAndCalledOff(t *testing.T) {
	_, owner, tech, path := placedSite(t)
	if page := tech.Post(path+"/away", "from", dayFrom(t, 37), "to", dayFrom(t, 30)).Wants(http.StatusUnprocessableEntity); page.Text("#f-to-fault") == "" {
		t.Error("nothing stands beside the last day")
	}
	if page := tech.Post(path+"/away", "from", "", "to", "soon").Wants(http.StatusUnprocessableEntity); page.Text("#f-from-fault") == "" || page.Text("#f-to-fault") == "" {
		t.Error("not every fault is said at once")
	}
	tech.Post(path+"/away", "from", dayFrom(t, 30), "to", dayFrom(t, 37), "stand_in", "Bo next door").Wants(http.StatusSeeOther)
	away := tech.Get(path).Attr(`a[href^="/away/"]`, "href")
	if got := tech.Get(tech.Get(path).Attr(".up a", "href")).Text("dl"); !strings.Contains(got, "Bo next door") {
		t.Errorf("the phone call does not say who stands in: %q", got)
	}
	owner.Post(away, "version", "1", "from", dayFrom(t, 30), "to", dayFrom(t, 40)).Wants(http.StatusSeeOther)
	page := tech.Post(away, "version", "1", "from", dayFrom(t, 31), "to", dayFrom(t, 37), "was.from", dayFrom(t, 30), "was.to", dayFrom(t, 37)).Wants(http.StatusConflict)
	if page.Attr("#f-from", "value") != dayFrom(t, 31) || page.Attr("#f-to", "value") != dayFrom(t, 40) {
		t.Error("the two changes are not put together")
	}
	undo := tech.Follow(tech.Post(away+"/call-off").Wants(http.StatusSeeOther)).Attr(".notice form", "action")
	if got := tech.Get(path).Find(`a[href^="/away/0"]`); len(got) != 0 {
		t.Error("called off and still shown")
	}
	tech.Post(undo).Wants(http.StatusSeeOther)
	if got := tech.Get(path).Find(`a[href="` + away + `"]`); len(got) != 1 {
		t.Error("undone and not shown")
	}
}

func TestIncidentIsWrittenDown(t *testing.T) {
	_, _, tech, path := placedSite(t)
	if page := tech.Post(path+"/incidents", "what", "", "done", "mopped").Wants(http.StatusUnprocessableEntity); page.Text("#f-what-fault") == "" || page.Text("#f-done") != "mopped" {
		t.Error("the fault is not said, or what was typed is lost")
	}
	tech.Post(path+"/incidents", "what", "x", "tank", "0190f7a0-0000-7000-8000-000000000000").Wants(http.StatusUnprocessableEntity)
	tech.Post(path+"/incidents", "what", "a bowed seam", "told", "nobody yet").Wants(http.StatusSeeOther)
	if got := tech.Get(path + "/incidents").Wants(http.StatusOK).Text(".said"); !strings.Contains(got, "a bowed seam") {
		t.Errorf("shown as %q", got)
	}
	if got := tech.Get(path).Text("main"); !strings.Contains(got, "1 incident recorded") {
		t.Error("the site does not say so")
	}
}

func TestPlacesSayWhenTheDatabaseIsAway(t *testing.T) {
	_, owner, _, path := placedSite(t)
	away := owner.CarryTo(webtest.StartFailing(t))
	for _, p := range []string{"/customers", "/sites", "/keys", "/search?q=x", path} {
		if a := away.Get(p); a.Status != http.StatusServiceUnavailable || a.Header.Get("Retry-After") == "" {
			t.Errorf("%s: %d", p, a.Status)
		}
	}
}
