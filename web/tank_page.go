package web

import (
	"math"
	"net/http"
	"slices"
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/static"
	"scaperound/web/view"
)

// show is the page of a tank: what it is and how it stands.
func (p tankPages) show(w http.ResponseWriter, r *http.Request) error {
	n, err := p.now(r)
	if err != nil {
		return err
	}
	readings, err := p.store.LastReadings(r.Context(), n.ID)
	if err != nil {
		return err
	}
	problems, err := p.store.TankProblems(r.Context(), n.ID)
	if err != nil {
		return err
	}
	sheets, err := p.store.SheetsOfTank(r.Context(), n.ID, 12)
	if err != nil {
		return err
	}
	body := p.tankBody(r, n)
	calls, err := p.cfg.Store.WaitingCalls(r.Context(), n.ID)
	if err != nil {
		return err
	}
	body.Calls = callRows(local(r), calls)
	body.Readings = readDays(readings, n.Profile, reads(r), local(r))
	for _, x := range problems {
		if x.ClosedAt.OK {
			continue
		}
		line := view.TankProblem{Title: x.Title, Belief: x.Belief, Next: x.Next, Since: local(r).DayOf(x.OpenedAt)}
		if p.hasPage("/problems/{problem}") {
			line.Href = "/problems/" + x.ID
		}
		body.Problems = append(body.Problems, line)
	}
	for _, g := range sheets {
		line := view.GivenLine{Given: local(r).DayOf(g.GivenAt), By: g.ReleasedBy, Newer: g.Newer}
		if p.hasPage("/visits/{visit}/sheet") {
			line.Href = "/visits/" + g.Visit + "/sheet"
		}
		body.Sheets = append(body.Sheets, line)
	}
	if err := p.tankVisits(r, n.ID, &body); err != nil {
		return err
	}
	if err := p.tankPhotos(r, n.ID, n.Name, &body); err != nil {
		return err
	}
	frame := view.Frame{Title: n.Name, Lead: dotted(n.CustomerName, n.SiteName), Up: &view.Link{Label: "Tanks", Href: "/tanks"}, Styles: []string{static.Path("photo.css")}}
	return p.page(w, r, http.StatusOK, frame, view.TankPageBody(body))
}

// tankBody is what the tank is, in words.
func (p tankPages) tankBody(r *http.Request, n tankNow) view.TankPage {
	units, when, path := reads(r), local(r), tankPath(n.ID)
	at := func(segment string) string { return path + "/" + segment }
	s := n.Setup
	b := view.TankPage{
		Pinned: n.Pinned, PinsHref: at("pins"), ProblemsHref: at("problems"), CardHref: at("card"), HistoryHref: at("history"), CurvesHref: at("curves"),
		State: n.State.Title(), FallsDue: n.State.FallsDue(), Age: ageText(n),
		Volume: volumeLines(s, units), SetupHref: at("setup"),
		Animals: livingLines(s.Animals, when), Plants: livingLines(s.Plants, when), StockHref: at("stock"),
		Weekly: weeklyLines(n.Plan, netOf(s), units), DosingHref: at("dosing"),
		WaterHref: at("water"), ProfileHref: at("profile"), AgreementHref: at("agreement"), ShareHref: at("share"), GearHref: at("gear"), KitsHref: at("kits"),
		Agreement: agreementText(s.Agreement), Does: shareText(s.Share), Profile: n.Profile.Name, CanDecide: isOwner(r),
	}
	if n.KeptApart(n.Today) {
		b.KeptApart = "since " + when.Day(n.KeepApartSince.V)
		if n.KeepApartUntil.OK {
			b.KeptApart += " until " + when.Day(n.KeepApartUntil.V)
		}
	}
	if n.Versions.Setup.Times > 0 {
		b.Facts = setupFacts(s, units)
		b.SetupSince = when.DayOf(s.Since)
	}
	for _, l := range n.Plan.Lines {
		b.Dosing = append(b.Dosing, doseText(l, units))
	}
	if s.Source.OK {
		b.Water = sourceText(s.Source.V, s.ROShare, units)
		b.SourceHref = "/sources/" + s.Source.V.ID
	}
	if n.Profile.ID != "" {
		b.ProfilePage = "/profiles/" + n.Profile.ID
	}
	if p.hasPage("/sites/{site}") && n.Site != "" {
		b.Ways = append(b.Ways, view.Link{Label: n.SiteName, Href: "/sites/" + n.Site})
	}
	if p.hasPage("/customers/{customer}") && n.Customer != "" {
		b.Ways = append(b.Ways, view.Link{Label: n.CustomerName, Href: "/customers/" + n.Customer})
	}
	b.Ways = append(b.Ways, view.Link{Label: "Bench", Href: benchHref(n.ID)})
	if p.hasPage("/tanks/{tank}/visits/new") {
		b.Visit, b.Arrive = path+"/visits/new", path+"/arrive"
	}
	if n.State != tank.Ended {
		b.Trouble = troublePath(n.ID)
	}
	return b
}

func ageText(n tankNow) string {
	weeks := n.Setup.AgeWeeks(n.Today)
	switch {
	case !weeks.OK:
		return ""
	case weeks.V < 26:
		return plural(int(weeks.V), "week", "weeks") + " old"
	case weeks.V < 104:
		return plural(int(weeks.V/4.348), "month", "months") + " old"
	}
	return plural(int(weeks.V/52.18), "year", "years") + " old"
}

// setupFacts are the parts of a set-up that are known, in words.
func setupFacts(s tank.Setup, units say.Units) []view.Fact {
	var out []view.Fact
	add := func(name string, parts ...string) {
		if text := strings.Join(slices.DeleteFunc(parts, func(x string) bool { return x == "" }), ", "); text != "" {
			out = append(out, view.Fact{Name: name, Text: text})
		}
	}
	behind := func(word, text string) string {
		if text == "" {
			return ""
		}
		return word + " " + text
	}
	sizes := ""
	if s.Length.OK && s.Width.OK && (s.Height.OK || s.Level.OK) {
		third := s.Height
		if !third.OK {
			third = s.Level
		}
		sizes = amount(s.Length, q.CM, 0, units) + " × " + amount(s.Width, q.CM, 0, units) + " × " + amount(third, q.CM, 0, units)
	}
	add("Inside", sizes, behind("water", amount(s.Level, q.CM, 0, units)))
	ground := tank.TitleIn(tank.Substrates, string(s.Substrate))
	if s.Substrate == tank.SubstrateUnknown {
		ground = ""
	}
	add("Ground", ground, amount(s.SubstrateDepth, q.CM, 1, units), behind("stone", amount(s.Stone, q.Kg, 0, units)), behind("wood", amount(s.Wood, q.Kg, 0, units)))
	add("Planted", tank.TitleIn(tank.Plantings, string(s.Planting)))
	hours := func(on q.Opt[q.MinuteOfDay], h q.Opt[q.Hours]) string {
		return joinSpace(behind("from", clockText(on)), behind("for", amount(h, "h", 1, units)))
	}
	add("Light", s.Light.Name, hours(s.Light.On, s.Light.Hours), amount(s.Light.Percent, q.Percent, 0, units))
	add("Filter", s.Filter.Name, behind("clean", amount(s.Filter.Clean, q.LH, 0, units)), amount(s.Filter.Volume, q.L, 1, units))
	add("Heater", s.Heater.Name, amount(s.Heater.Power, "W", 0, units), behind("set to", amount(s.Heater.Target, q.DegC, 1, units)))
	if s.CO2.Injected {
		add("CO2", "injected", hours(s.CO2.On, s.CO2.Hours), behind("cylinder of", amount(s.CO2.Cylinder, q.Kg, 1, units)))
	} else {
		add("CO2", "none")
	}
	add("Topped off", tank.TitleIn(tank.Topoffs, string(s.Topoff)))
	add("Drain line", s.DrainLine, amount(s.DrainLitres, q.L, 0, units))
	add("Their can", amount(s.CanLitres, q.L, 0, units))
	add("Note", s.Note)
	return out
}

func joinSpace(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(x string) bool { return x == "" }), " ")
}

func clockText(m q.Opt[q.MinuteOfDay]) string {
	if !m.OK {
		return ""
	}
	return m.V.String()
}

// sourceText is a source water in a line.
func sourceText(s tank.Source, ro q.Share, units say.Units) string {
	parts := []string{s.Name}
	for _, k := range []q.Kind{q.KH, q.GH, q.Nitrate} {
		if v := s.Get(k); v.OK {
			m, _ := q.MeasureOf(k)
			parts = append(parts, m.Title+" "+say.Amount(v.V, m.Unit, m.DecimalsAt(v.V), units))
		}
	}
	switch s.Disinfectant {
	case tank.Chlorine, tank.Chloramine:
		parts = append(parts, strings.ToLower(tank.TitleIn(tank.Disinfectants, string(s.Disinfectant))))
	}
	if ro > 0 {
		parts = append(parts, say.Amount(float64(ro)*100, q.Percent, 0, units)+" pure water")
	}
	return strings.Join(parts, ", ")
}

// readDays are the newest readings against the tank's bands, the newest day
// first and in the order of the screens within it.
func readDays(readings []tank.LastReading, p tank.Profile, units say.Units, when view.Local) []view.ReadDay {
	place := map[q.Kind]int{}
	for i, m := range q.Measures() {
		place[m.Kind] = i
	}
	slices.SortFunc(readings, func(a, b tank.LastReading) int {
		if x, y := when.DayOf(a.At), when.DayOf(b.At); x != y {
			return b.At.Compare(a.At)
		}
		return place[a.Kind] - place[b.Kind]
	})
	var out []view.ReadDay
	for _, x := range readings {
		day := when.DayOf(x.At)
		if n := len(out); n == 0 || out[n-1].Day != day {
			out = append(out, view.ReadDay{Day: day})
		}
		last := &out[len(out)-1]
		last.Strips = append(last.Strips, lastStrip(x, p, units))
	}
	return out
}

// lastStrip judges one reading by its band alone: what else the tank says about
// it is told at the visit.
func lastStrip(x tank.LastReading, p tank.Profile, units say.Units) view.Strip {
	m, _ := q.MeasureOf(x.Kind)
	in, decimals := m.Unit, m.DecimalsAt(x.Value)
	if units.System == say.US && m.Unit == q.DegC {
		in, decimals = q.DegF, 0
	}
	figure := func(v float64) *float64 {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return nil
		}
		c, _ := q.FromCanonical(x.Kind, v, in)
		return view.Figure(c)
	}
	known := func(o q.Opt[float64]) *float64 {
		if !o.OK {
			return nil
		}
		return figure(o.V)
	}
	s := view.Strip{Label: m.Title, Unit: in.Sign(), Digits: decimals, Comma: units.Decimal == ',', Value: figure(x.Value), Last: known(x.Before)}
	if x.Lo != x.Value || x.Hi != x.Value {
		s.From, s.To = figure(x.Lo), figure(x.Hi)
	}
	b, ok := p.Band(x.Kind)
	if ok {
		s.Lo, s.Hi, s.HardLo, s.HardHi = known(b.Lo), known(b.Hi), known(b.HardLo), known(b.HardHi)
	}
	lo, hi := math.Inf(-1), math.Inf(1)
	if b.Lo.OK {
		lo = b.Lo.V
	}
	if b.Hi.OK {
		hi = b.Hi.V
	}
	switch {
	case !ok || !b.Lo.OK && !b.Hi.OK:
		s.State, s.Word = view.NotJudged, "no band"
	case x.Value >= lo && x.Value <= hi:
		s.State, s.Word = view.InBand, "in band"
	case x.Value < lo && x.Hi < lo || x.Value < lo && x.Hi == x.Value:
		s.State, s.Word = view.Low, "low"
	case x.Value > hi && x.Lo > hi || x.Value > hi && x.Lo == x.Value:
		s.State, s.Word = view.High, "high"
	default:
		s.State, s.Word = view.Retest, "cannot tell"
	}
	return s
}
