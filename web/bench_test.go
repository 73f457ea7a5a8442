package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"scaperound/domain/calc"
	"scaperound/domain/say"
	"scaperound/store"
	"scaperound/web/webtest"
)

// filled is the address of a calculation with its example, as somebody who writes a
// decimal point and metric units would type it.
func filled(d *calc.Def) string {
	query := url.Values{}
	ex := d.Example()
	of := strings.Join(ex["of"].Words, "")
	for i := range d.In {
		in := &d.In[i]
		v, ok := ex[in.Key]
		if !ok {
			continue
		}
		text, unit := in.Write(v, of, say.MetricUnits)
		query.Set(in.Key, text)
		query.Set(in.Key+".unit", string(unit))
	}
	return "/bench/" + url.PathEscape(d.Name) + "?" + query.Encode()
}

var notNumbers = regexp.MustCompile(`NaN|[+-]?Inf\b|∞|%!`)

func TestBenchListsAndFinds(t *testing.T) {
	s := webtest.Start(t)
	tech := s.SignIn(t, s.Technician)
	page := tech.Get("/bench").Wants(http.StatusOK)
	if n, want := len(page.Find("details a.row")), len(calc.All()); n != want {
		t.Errorf("%d calculations are listed, want %d", n, want)
	}
	if got := page.Text(".leaf:first-of-type .quiet"); !strings.Contains(got, "From 6 mg/L to 12 mg/L NO3 in 142 L net") || !strings.Contains(got, "1.39 g KNO3") {
		t.Errorf("the first of every day says %q", got)
	}
	for text, want := range map[string]string{"raise KH": "/bench/raise_KH", "how much nitrate": "/bench/dose", "light map": "/bench/light_map", "gallons": "/bench/net_volume_L"} {
		found := tech.Get("/bench?q=" + url.QueryEscape(text)).Wants(http.StatusOK)
		if len(found.Find(`a.row[href="`+want+`"]`)) != 1 {
			t.Errorf("%q does not find %s", text, want)
		}
		if got := found.Attr("#f-q", "value"); got != text {
			t.Errorf("what was looked for is lost: %q", got)
		}
	}
	if got := tech.Get("/bench?q=xyzzy").Wants(http.StatusOK).Text(".empty"); !strings.Contains(got, "No calculation answers to “xyzzy”") {
		t.Errorf("nothing found says %q", got)
	}
	if got := tech.Get("/bench?q=nitrate+xyzzy").Wants(http.StatusOK).Text("main"); !strings.Contains(got, "These come near") {
		t.Error("what comes near is not said to do so")
	}
}

// Every calculation has a page, works without script, and answers its example with
// working and source.
func TestEveryCalculationHasItsPage(t *testing.T) {
	s := webtest.Start(t)
	tech := s.SignIn(t, s.Technician)
	for i := range calc.All() {
		d := &calc.All()[i]
		page := tech.Get(filled(d)).Wants(http.StatusOK)
		if page.Text("h1") != d.Title || page.Text(".bench-figure .figure") == "" {
			t.Errorf("%s: %q answers %q", d.Name, page.Text("h1"), page.Text(".bench-figure"))
		}
		if got := page.Text(".bench-working"); !strings.Contains(got, "Source: "+string(d.Source)) {
			t.Errorf("%s: the source is not told: %q", d.Name, got)
		}
		text := page.Text("main")
		if bad := notNumbers.FindString(text); bad != "" {
			t.Errorf("%s shows %q", d.Name, bad)
		}
		for _, in := range d.In {
			if in.Hidden || in.Shape == calc.Words {
				continue
			}
			control := page.One(`.bench-form [name="` + in.Key + `"]`)
			id := webtest.AttrOf(control, "id")
			if len(page.Find(`label[for="`+id+`"]`)) != 1 {
				t.Errorf("%s: %s has no label", d.Name, in.Key)
			}
			if in.Shape == calc.Number && !in.YesNo && page.Text("[id='"+id+"-hint']") == "" {
				t.Errorf("%s: nothing says where %s may lie", d.Name, in.Key)
			}
		}
		blank := tech.Get("/bench/" + url.PathEscape(d.Name)).Wants(http.StatusOK)
		if len(blank.Find(".fault")) > 0 {
			t.Errorf("%s: an empty form has faults", d.Name)
		}
	}
}

// No text, however odd, gives an answer that is no number, a negative amount or a
// broken page.
func TestOddTextGivesNoOddNumbers(t *testing.T) {
	s := webtest.Start(t)
	tech := s.SignIn(t, s.Technician)
	negative := regexp.MustCompile(`^−`)
	for _, text := range []string{"-5", "1e400", "NaN", "999999999999999", "0", "1,250", "<b>"} {
		for i := range calc.All() {
			d := &calc.All()[i]
			query := url.Values{}
			for _, in := range d.In {
				query.Set(in.Key, text)
			}
			a := tech.Get("/bench/" + url.PathEscape(d.Name) + "?" + query.Encode())
			if a.Status != http.StatusOK && a.Status != http.StatusUnprocessableEntity {
				t.Errorf("%s with %q answers %d", d.Name, text, a.Status)
				continue
			}
			if bad := notNumbers.FindString(strings.ReplaceAll(a.Text(".bench-answer"), text, "")); bad != "" {
				t.Errorf("%s with %q shows %q", d.Name, text, bad)
			}
			unit := a.Text(".bench-unit")
			if negative.MatchString(a.Text(".bench-figure")) && (strings.HasPrefix(unit, "g") || strings.HasPrefix(unit, "L") || strings.HasPrefix(unit, "m") && !strings.Contains(unit, "a day")) {
				t.Errorf("%s with %q is %q", d.Name, text, a.Text(".bench-figure"))
			}
		}
	}
}

func TestDoseOnTheBench(t *testing.T) {
	s := webtest.Start(t)
	tech := s.SignIn(t, s.Technician)
	page := tech.Get("/bench/dose?from=6&to=12&of=NO3&net=142&salt=KNO3").Wants(http.StatusOK)
	if got := page.Text(".bench-said"); got != "From 6 mg/L to 12 mg/L NO3 in 142 L net, with KNO3:" {
		t.Errorf("it says %q", got)
	}
	// By hand: 6 mg/L x 142 L = 852 mg of NO3 are 13.74 mmol of 101.10 g/mol, and 13.74 mmol
	// of K in 142 L are 3.78 mg/L.
	if got := page.Text(".bench-figure"); got != "1.39 g KNO3" {
		t.Errorf("it comes to %q", got)
	}
	if got := page.Text(".bench-also"); !strings.Contains(got, "Brings along K") || !strings.Contains(got, "3.78 mg/L") {
		t.Errorf("what comes along: %q", got)
	}
	if got := page.Text(".bench-heed"); !strings.Contains(got, "Potassium nitrate feeds fire") {
		t.Errorf("what to heed: %q", got)
	}
	if got := page.Text(".bench-steps"); !strings.Contains(got, "6 · 142/(1000 · 0.613") {
		t.Errorf("the working is not filled in: %q", got)
	}
	var j struct {
		Calc, Unit, Text string
		Value            float64
		Warnings, Open   []string
		HTML             string
	}
	tech.Script("GET", "/bench/dose?from=6&to=12&of=NO3&net=142&salt=KNO3").Wants(http.StatusOK).JSON(&j)
	if j.Calc != "dose" || j.Unit != "g" || j.Text != "1.39 g KNO3" || j.Value < 1.389 || j.Value > 1.390 || len(j.Warnings) == 0 || !strings.Contains(j.HTML, "1.39") {
		t.Errorf("a script gets %+v", j)
	}
	tech.Script("GET", "/bench/dose?from=6&of=NO3").Wants(http.StatusOK).JSON(&j)
	if strings.Join(j.Open, " ") != "salt to net_volume_L" {
		t.Errorf("open is %v", j.Open)
	}
	tech.Get("/bench/nothing").Wants(http.StatusNotFound)
	tech.Get("/bench/co2?pH=6.8&kh=4&t=25").Wants(http.StatusOK)
	tech.Get("/bench?tank=" + store.NewID()).Wants(http.StatusNotFound)
}

func TestFaultsStandBesideTheBlank(t *testing.T) {
	s := webtest.Start(t)
	tech := s.SignIn(t, s.Technician)
	page := tech.Get("/bench/CO2_full?pH=acid&KH_d=4+furlongs&T_C=").Wants(http.StatusUnprocessableEntity)
	for field, want := range map[string]string{"pH": "not a number", "KH_d": "unit"} {
		if got := page.Text("#f-" + field + "-fault"); !strings.Contains(got, want) {
			t.Errorf("beside %s stands %q", field, got)
		}
	}
	if got := page.Attr("#f-pH", "value"); got != "acid" {
		t.Errorf("what was typed is lost: %q", got)
	}
	page = tech.Get("/bench/CO2_full?pH=6.8&KH_d=4&T_C=").Wants(http.StatusUnprocessableEntity)
	if got := page.Text("#f-T_C-fault"); !strings.Contains(got, "fill this in") {
		t.Errorf("a blank that was sent: %q", got)
	}
	page = tech.Get("/bench/CO2_full?pH=6.8&KH_d=4&T_C=75").Wants(http.StatusUnprocessableEntity)
	if got := page.Text("#f-T_C-fault"); !strings.Contains(got, "from 0 to 60") {
		t.Errorf("beyond where it holds: %q", got)
	}
	if got := page.Text(".bench-figure"); got != "" {
		t.Errorf("an answer all the same: %q", got)
	}
	page = tech.Get("/bench/dose?from=20&to=12&of=NO3&net=142&salt=KNO3").Wants(http.StatusUnprocessableEntity)
	if got := page.Text("main"); !strings.Contains(got, "change water") {
		t.Errorf("nothing lowers nitrate by weighing: %q", got)
	}
	// A number that can be read in two ways is asked about, and can be confirmed.
	page = tech.Get("/bench/turnover_per_h?flow_Lph=1,250&V_L=125").Wants(http.StatusUnprocessableEntity)
	if got := page.Attr(`input[name="confirm"]`, "value"); got != "flow_Lph=1,250" {
		t.Errorf("nothing confirms it: %q", got)
	}
	page = tech.Get("/bench/turnover_per_h?flow_Lph=1,250&V_L=125&confirm=flow_Lph%3D1,250").Wants(http.StatusOK)
	if got := page.Text(".bench-figure .figure"); got != "10" {
		t.Errorf("1250 L/h in 125 L turn over %q times", got)
	}
	var j struct {
		Faults []struct{ Field, Kind, Text string }
	}
	tech.Script("GET", "/bench/CO2_full?pH=6.8&KH_d=4&T_C=75").Wants(http.StatusUnprocessableEntity).JSON(&j)
	if len(j.Faults) != 1 || j.Faults[0].Field != "T_C" {
		t.Errorf("a script gets %+v", j)
	}
}

func TestBenchInTheReadersUnits(t *testing.T) {
	s := webtest.Start(t)
	owner := s.SignIn(t, s.Owner)
	me := owner.Get("/me").Wants(http.StatusOK)
	owner.Post("/me", "name", "Maren Tolland", "phone", "", "units", "us", "version", me.Attr(`form[action="/me"] input[name="version"]`, "value")).Wants(http.StatusSeeOther)
	if got := owner.Get("/bench/drain_time_s").Text(`select[name="A_tank_m2.unit"] option:first-child`); got != "ft²" {
		t.Errorf("an area is asked in %q first", got)
	}
	page := owner.Get("/bench/litres_to_line?drop_cm=4&inner_L_cm=48&inner_W_cm=20").Wants(http.StatusOK)
	// By hand: 4 x 48 x 20 in3 of 231 in3 a gallon.
	if got := page.Text(".bench-figure"); got != "16.6 gal" {
		t.Errorf("4 in of 48 by 20 in are %q", got)
	}
}

func TestBenchKnowsTheTank(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path+"/setup", "version", "0", "since", "2025-03-01", "length", "90", "width", "45", "height", "45", "level", "40", "substrate", "sand_gravel", "substrate_depth", "5", "stone", "12", "metered", "142",
		"target", "24").Wants(http.StatusSeeOther)
	if got := w.tech.Get(w.path).Attr(`a[href="/bench?tank=`+w.id+`"]`, "href"); got == "" {
		t.Error("the tank's page does not lead to the bench")
	}
	if got := w.tech.Get("/bench?tank="+w.id).Wants(http.StatusOK).Attr(`.leaf:first-of-type a[href^="/bench/dose?"]`, "href"); got != "/bench/dose?tank="+w.id {
		t.Errorf("the list leads to %q", got)
	}
	page := w.tech.Get("/bench/dose?tank=" + w.id).Wants(http.StatusOK)
	if got := page.Attr("#f-net_volume_L", "value"); got != "142" {
		t.Errorf("net volume is %q", got)
	}
	if got := page.Text("#f-net_volume_L-hint"); !strings.Contains(got, "net volume of the tank") {
		t.Errorf("where it comes from: %q", got)
	}
	page = w.tech.Get("/bench/litres_to_line?drop_cm=10&tank=" + w.id).Wants(http.StatusOK)
	if got := page.Text(".bench-figure"); got != "40.5 L" {
		t.Errorf("10 cm of 90 by 45 cm are %q", got)
	}
	if got := w.tech.Get("/bench/CO2_full?tank="+w.id).Attr("#f-T_C", "value"); got != "24" {
		t.Errorf("the temperature is %q, want the heater's set point", got)
	}
	// What was emptied stays empty, what was typed stays as typed.
	page = w.tech.Get("/bench/dose?net_volume_L=&tank=" + w.id)
	if got := page.Attr("#f-net_volume_L", "value"); got != "" {
		t.Errorf("what was emptied is filled in again: %q", got)
	}
}

const bottle = "/bench/stock?salt=KNO3&of=NO3&rise=2&net=120&dose_mL=10"

func TestLabelsArePrinted(t *testing.T) {
	s := webtest.Start(t)
	tech := s.SignIn(t, s.Technician)
	page := tech.Get(bottle).Wants(http.StatusOK)
	href := page.Attr(`.bench-answer a[href*="/label?"]`, "href")
	if href == "" {
		t.Fatal("the bottle's page leads to no label")
	}
	label := tech.Get(href).Wants(http.StatusOK)
	got := label.Text(".label")
	for _, want := range []string{"Potassium nitrate", "19.6 g KNO3", "500 mL", "10 mL raise NO3", "Not for drinking", "May intensify fire; oxidiser.", "made ", "Ilo Vance", "Fernweir Aquascapes", "+353 1 555 0100"} {
		if !strings.Contains(got, want) {
			t.Errorf("the label lacks %q: %s", want, got)
		}
	}
	if n := len(label.Find(".label")); n != 1 {
		t.Errorf("%d labels, want one", n)
	}
	label = tech.Get(href + "&copies=sheet&made=2026-01-05&for=Window+%3Ctank%3E").Wants(http.StatusOK)
	if n := len(label.Find(".label")); n != 8 {
		t.Errorf("%d labels on a sheet, want 8", n)
	}
	if got := label.Text(".label:first-of-type .label-foot"); !strings.Contains(got, "5 Jan") || !strings.Contains(got, "for Window <tank>") {
		t.Errorf("day and use: %q", got)
	}
	if got := label.Attr(`input[name="dose_mL"]`, "value"); got != "10" {
		t.Errorf("the numbers do not stay with the form: %q", got)
	}
	label = tech.Get(href + "&made=2199-01-01").Wants(http.StatusUnprocessableEntity)
	if got := label.Text("#f-made-fault"); !strings.Contains(got, "future") {
		t.Errorf("a bottle made in the future: %q", got)
	}
	if got := tech.Get("/bench/stock/label").Wants(http.StatusOK).Text(".empty"); !strings.Contains(got, "Fill in the whole sentence first") {
		t.Errorf("no numbers: %q", got)
	}
	tech.Get("/bench/DLI/label").Wants(http.StatusNotFound)
	can := tech.Get("/bench/change_water/label?water_L=40&target_dGH=5&target_dKH=2").Wants(http.StatusOK).Text(".label")
	if !strings.Contains(can, "Change water, 40 L") || !strings.Contains(can, "Not for drinking") {
		t.Errorf("the can's label: %s", can)
	}
}
