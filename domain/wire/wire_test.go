package wire_test

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
)

// gasping is a visit with everything that a document may hold.
const gasping = `{
 "visit": "v1", "revision": "r1", "day": "2026-03-03", "time": "19:30",
 "tank": {"name": "Reed tank", "volume_net_l": 180, "co2_injected": true, "age_weeks": 40, "photoperiod_h": 10, "light_on": "11:00",
  "planting": "dense", "water_source": "tap", "visit_interval_days": 14, "tolerance_days": 2, "can_l": 10, "filter_turnover_h": 5},
 "plants": ["stems", {"group": "carpet", "count": 12}], "animals": [{"group": "tetras", "count": 30}, {"group": "dwarf_shrimp"}],
 "customer": {"feeds": true},
 "profile": {"name": "soft", "bands": [{"kind": "kh", "lo": 2, "hi": 5}]},
 "plan": [{"solute": "no3", "mg_per_dose": 900, "doses_per_week": 3, "how": "doser", "by": "device"}],
 "kits": [{"lot": "k1", "measures": "no3", "expires": "2027-01-01"}],
 "readings": {"ph_late": {"value": 6.15, "lo": 6.1, "hi": 6.2}, "kh_d": 4, "temp_c": 25, "tan_mg_n_l": 0, "no2_mg_l": 0, "no3.dosed": {"value": 12, "lot": "k1"}},
 "signs": ["fish_at_surface_late", "fish_rapid_gill_beat"], "looks": {"animals": "trouble", "plants": "fine"}, "eye_mark": "well",
 "since": ["altered"], "doses": {"how": "some_missed", "missed": 1}, "leave": {"tap_shut": "left_open"},
 "work": [{"kind": "water_change", "litres": 60}],
 "history": [{"days_ago": 14, "key": "no3_mg_l", "value": 10}, {"days_ago": 14, "work": "filter_clean"}, {"days_ago": 28, "key": "kh_d", "value": 4}],
 "open": [{"id": "t1", "action": "trim_old", "who": "technician", "urgency": "routine", "rank": "looks"}],
 "days": ["2026-03-17", "2026-03-18"]}`

func decoded(t *testing.T) care.Case {
	t.Helper()
	c, dated, err := wire.DecodeCase([]byte(gasping))
	if err != nil || !dated {
		t.Fatalf("dated %v: %v", dated, err)
	}
	return c
}

func TestCaseIsReadWhole(t *testing.T) {
	c := decoded(t)
	if c.Now.Day != q.NewDate(2026, time.March, 3) || c.Now.Minute != 19*60+30 || c.Setup.Metered.V != 180 || c.Setup.Filter.Clean.V != 900 {
		t.Errorf("day %v, minute %v, volume %v, flow %v", c.Now.Day, c.Now.Minute, c.Setup.Metered, c.Setup.Filter.Clean)
	}
	if age := c.Setup.AgeWeeks(c.Now.Day); !age.OK || age.V != 40 {
		t.Errorf("age %v", age)
	}
	if r, ok := c.Now.Reading(q.Acidity, visit.Late); !ok || r.Lo != 6.1 || r.Hi != 6.2 {
		t.Errorf("pH %+v", r)
	}
	if r, ok := c.Now.Reading(q.Nitrate, visit.Dosed); !ok || r.Lot != "k1" || r.Lo >= r.Value || r.Hi <= r.Value {
		t.Errorf("nitrate %+v", r)
	}
	if len(c.History) != 2 || c.History[0].Day != c.Now.Day-28 || len(c.History[1].Work) != 1 || len(c.History[1].Readings) != 1 {
		t.Errorf("history %+v", c.History)
	}
	if len(c.Plan.Lines) != 1 || c.Plan.Lines[0].DosesPerWeek() != 3 {
		t.Errorf("plan %+v", c.Plan)
	}
	if len(c.Open) != 1 || c.Open[0].ID != "t1" || c.Open[0].Rank != care.RankLooks || len(c.Days) != 2 || c.Now.Signs[1].ID != "fish_rapid_gill_beat" {
		t.Errorf("open %+v, days %v, signs %v", c.Open, c.Days, c.Now.Signs)
	}
}

func TestFaultsNameTheirPath(t *testing.T) {
	for _, c := range []struct{ doc, path, kind string }{
		{`{"tank": {"volume_net_l": "much"}}`, "tank.volume_net_l", fault.NotNumber},
		{`{"tank": {"volume_net_l": -3}}`, "tank.volume_net_l", fault.Impossible},
		{`{"tank": {"colour": "green"}}`, "tank.colour", fault.Unknown},
		{`{"tank": {"substrate": "snow"}}`, "tank.substrate", fault.NotChoice},
		{`{"tank": []}`, "tank", fault.NotChoice},
		{`{"readings": {"ph_late": 45}}`, "readings.ph_late", fault.Impossible},
		{`{"readings": {"ph_late": "6"}}`, "readings.ph_late", fault.NotNumber},
		{`{"readings": {"phosphor": 6}}`, "readings.phosphor", fault.Unknown},
		{`{"readings": {"kh_d": {"lo": 6}}}`, "readings.kh_d.value", fault.Missing},
		{`{"readings": {"kh_d": {"value": 4, "lo": 6, "hi": 9}}}`, "readings.kh_d", fault.Impossible},
		{`{"readings": {"kh_d": 4, "kh.before": 5}}`, "readings.kh.before", fault.Taken},
		{`{"signs": ["fish_sing"]}`, "signs.0", fault.NotChoice},
		{`{"animals": [{"group": "dragons"}]}`, "animals.0", fault.NotChoice},
		{`{"history": [{"key": "kh_d", "value": 4}]}`, "history.0.days_ago", fault.Missing},
		{`{"history": [{"days_ago": 4}]}`, "history.0.key", fault.Missing},
		{`{"day": "tomorrow"}`, "day", fault.NotDate},
		{`{"time": "25:00"}`, "time", fault.NotDate},
		{`{"looks": {"animals": "great"}}`, "looks.animals", fault.NotChoice},
		{`{"surprise": 1}`, "surprise", fault.Unknown},
	} {
		_, err := wire.Assess([]byte(c.doc))
		f := fault.Of(err)
		if f == nil || f.Kind != fault.Invalid || len(f.Fields) == 0 {
			t.Errorf("%s: %v", c.doc, err)
			continue
		}
		if f.Fields[0].Name != c.path || f.Fields[0].Kind != c.kind || f.Fields[0].Text == "" {
			t.Errorf("%s: fault %+v, want %s %s", c.doc, f.Fields[0], c.path, c.kind)
		}
	}
}

func TestEveryFaultAtOnce(t *testing.T) {
	_, err := wire.Assess([]byte(`{"tank": {"volume_net_l": "x", "heater_w": true}, "signs": ["a", "b"], "extra": 1}`))
	if f := fault.Of(err); len(f.Fields) != 5 {
		t.Errorf("%d faults: %v", len(f.Fields), f.Fields)
	}
	var out struct {
		Faults []struct{ Field, Kind, Text string }
	}
	if err := json.Unmarshal(wire.EncodeFaults(err), &out); err != nil || len(out.Faults) != 5 || out.Faults[4].Field != "extra" {
		t.Errorf("%v: %+v", err, out)
	}
}

func TestWhatIsNotJSONIsRefused(t *testing.T) {
	for _, doc := range []string{``, `{`, `{"a":1,}`, `[1,]`, `{"a":1}x`, `{"a":01}`, `{"a":.5}`, `{"a":1.}`, `{"a":1e}`, `{"a":+1}`, `{"a":1e999}`, `{"a":"` + "\n" + `"}`,
		`{"a":"\x"}`, `{"a":"\ud800"}`, `{"a":"\udc00\ud800"}`, `{"a":1,"a":2}`, `nul`, "{\"a\":\"\xff\"}", strings.Repeat("[", 100) + strings.Repeat("]", 100)} {
		_, err := wire.Assess([]byte(doc))
		if f := fault.Of(err); f == nil || f.Kind != fault.Malformed || f.Msg == "" {
			t.Errorf("%q: %v", doc, err)
		}
	}
	if _, err := wire.Assess(bytes.Repeat([]byte(" "), 1<<20+1)); !fault.Is(err, fault.TooLarge) {
		t.Errorf("too large: %v", err)
	}
}

// What is written is JSON to others too, and comes back as it was.
func TestAssessmentGoesThereAndBack(t *testing.T) {
	a := care.Assess(decoded(t))
	doc := wire.EncodeAssessment(a)
	if !json.Valid(doc) {
		t.Fatalf("not JSON: %s", doc)
	}
	back, err := wire.DecodeAssessment(doc)
	if err != nil {
		t.Fatal(err)
	}
	if again := wire.EncodeAssessment(back); !bytes.Equal(doc, again) {
		t.Errorf("written again it differs:\n%s\n%s", doc, again)
	}
	if len(back.Tasks) != len(a.Tasks) || back.Tasks[0].Action != a.Tasks[0].Action || len(back.Findings) != len(a.Findings) || back.HoldFor != a.HoldFor || back.Next.On != a.Next.On {
		t.Error("something was lost on the way")
	}
	if back.Findings[0].Calc == nil && a.Findings[0].Calc != nil {
		t.Error("the arithmetic was lost")
	}
}

func TestAssessmentHasItsNames(t *testing.T) {
	out, err := wire.Assess([]byte(gasping))
	if err != nil {
		t.Fatal(err)
	}
	var a map[string]any
	if err := json.Unmarshal(out, &a); err != nil {
		t.Fatal(err)
	}
	for _, k := range []string{"visit", "revision", "status", "urgency", "findings", "causes", "tasks", "customer", "next", "trace"} {
		if _, ok := a[k]; !ok {
			t.Errorf("there is no %s", k)
		}
	}
	first := func(k string) map[string]any {
		l := a[k].([]any)
		if len(l) == 0 {
			t.Fatalf("%s is empty", k)
		}
		return l[0].(map[string]any)
	}
	for k, names := range map[string][]string{"findings": {"rule", "system", "state", "audience", "text"}, "causes": {"id", "weight"}, "tasks": {"id", "action", "when", "who", "amount"}} {
		for _, n := range names {
			if _, ok := first(k)[n]; !ok {
				t.Errorf("%s has no %s", k, n)
			}
		}
	}
	if a["urgency"] != "now" || a["visit"] != "v1" {
		t.Errorf("urgency %v, visit %v", a["urgency"], a["visit"])
	}
}

func TestSheetGoesThereAndBack(t *testing.T) {
	c := decoded(t)
	s := care.MakeSheet(care.Assess(c), c.Now, care.SheetFor{Shop: "Fernweir Aquascapes", Phone: "+353 1 555 0123", Tank: "Reed <tank>", Customer: "The Millrace café", By: "Ilo Vance", Units: say.MetricUnits, Figures: true})
	doc := wire.EncodeSheet(s)
	if bytes.ContainsAny(doc, "<>&") {
		t.Error("a sheet must be safe inside a page")
	}
	back, err := wire.DecodeSheet(doc)
	if err != nil {
		t.Fatal(err)
	}
	// Numbers are written with six significant digits; these have fewer.
	if !reflect.DeepEqual(wire.EncodeSheet(back), doc) || back.Top != s.Top || back.Tank != s.Tank || len(back.Figures) != len(s.Figures) {
		t.Errorf("got %+v\nwant %+v", back, s)
	}
	if _, err := wire.DecodeSheet([]byte(`{"version": 99, "visit": "v", "revision": "r", "day": "2026-01-01", "top": "x", "lines": [], "donts": []}`)); !fault.Is(err, fault.Invalid) {
		t.Errorf("a later version was read: %v", err)
	}
}

func TestSixDigits(t *testing.T) {
	type numbers struct{ in, want string }
	for _, n := range []numbers{{"123456.789", "123457"}, {"0.000123456789", "0.000123457"}, {"1e20", "1e+20"}, {"25", "25"}, {"0.1", "0.1"}} {
		doc := `{"id":"x","action":"wait","amount":[{"what":"water","value":` + n.in + `,"unit":"L"}]}`
		task, err := wire.DecodeTask([]byte(doc))
		if err != nil {
			t.Fatal(err)
		}
		if out := string(wire.EncodeTask(task)); !strings.Contains(out, `"value":`+n.want+`,`) {
			t.Errorf("%s is written %s", n.in, out)
		}
	}
}

func TestSchemaIsJSON(t *testing.T) {
	var s struct {
		Tank, Readings, Signs, Rules []map[string]any
	}
	if err := json.Unmarshal(wire.Schema(), &s); err != nil {
		t.Fatal(err)
	}
	if len(s.Signs) != len(visit.Signs()) || len(s.Rules) != len(care.Rules()) || len(s.Readings) < 80 || len(s.Tank) < 20 {
		t.Errorf("signs %d, rules %d, readings %d, tank %d", len(s.Signs), len(s.Rules), len(s.Readings), len(s.Tank))
	}
}

func FuzzAssess(f *testing.F) {
	f.Add([]byte(gasping))
	f.Add([]byte(`{}`))
	f.Add([]byte(`{"readings":{"ph":7,"kh_d":0,"tan_mg_n_l":3},"animals":[{"group":"snails","count":0}],"tank":{"age_weeks":0}}`))
	f.Add([]byte(`[1,2,{"a":"\ud83d\ude00"}]`))
	for _, odd := range []string{
		`{"day": "2099-01-01", "readings": {"no3_mg_l": 5}, "history": [{"days_ago": 0, "key": "kh_d", "value": 4}]}`,
		`{"tank": {"volume_net_l": 0.1, "co2_injected": true}, "readings": {"ph_late": 4, "ph_degassed": 9, "kh_d": 0.1, "tan_mg_n_l": 50}, "animals": ["tetras"]}`,
		`{"readings": {"temp_c": 40, "temp_min_c": 1, "temp_max_c": 2}, "animals": ["tetras"], "signs": ["animals_normal", "fish_at_surface_all_day"]}`,
		`{"day": "2026-11-24", "closed": [{"task": {"id": "x", "action": "dose_no3", "expect": {"kind": "no3", "lo": 9, "hi": 1, "days": 3}}, "state": "done", "days_ago": 20}], "readings": {"no3_mg_l": 5}}`,
		`{"open": [{"id": "a", "action": "no such action"}, {"id": "", "action": "wc_30_50", "amount": [{"what": "water", "value": -1, "unit": "L"}]}], "work": [{"kind": "water_change"}]}`,
	} {
		f.Add([]byte(odd))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		out, err := wire.Assess(b)
		if err != nil {
			return
		}
		if !json.Valid(out) || !json.Valid(b) {
			t.Fatalf("%q led to %q", b, out)
		}
		if strings.Contains(string(out), `"state":"internal"`) {
			t.Fatalf("%q broke a rule: %s", b, out)
		}
		if _, err := wire.DecodeAssessment(out); err != nil {
			t.Fatalf("cannot be read back: %v", err)
		}
	})
}
