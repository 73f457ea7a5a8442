package web

import (
	"net/http"
	"net/url"
	"strings"

	"scaperound/domain/calc"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

// benchTank is the tank from which the bench fills in what is known.
type benchTank struct {
	id, name string
	setup    tank.Setup
	last     map[q.Kind]tank.LastReading
	today    q.Date
	dayOf    func(tank.LastReading) string
	swapped  q.Opt[float64] // days since the cylinder was swapped
}

// tankOf reads the tank that the address names; nil where it names none.
func (p benchPages) tankOf(r *http.Request) (*benchTank, error) {
	id := strings.TrimSpace(r.URL.Query().Get("tank"))
	if id == "" {
		return nil, nil
	}
	card, err := p.store.TankCard(r.Context(), id)
	if err != nil {
		return nil, err
	}
	t := &benchTank{id: id, name: card.Name, last: map[q.Kind]tank.LastReading{}, today: p.today(r)}
	if t.setup, _, _, err = p.store.TankAt(r.Context(), id, p.cfg.Now()); err != nil {
		return nil, err
	}
	readings, err := p.store.LastReadings(r.Context(), id)
	if err != nil {
		return nil, err
	}
	for _, x := range readings {
		switch visit.Phase(x.Phase) {
		case visit.FromSource, visit.SourceDegassed, visit.SourceReport, visit.Degassed:
			continue
		}
		if old, ok := t.last[x.Kind]; !ok || x.At.After(old.At) {
			t.last[x.Kind] = x
		}
	}
	t.dayOf = func(x tank.LastReading) string { return local(r).DayOf(x.At) }
	if at := t.setup.CO2.Swapped; at.OK {
		t.swapped = q.Some(float64(t.today - dayIn(r)(at.V)))
	}
	return t, nil
}

// shown is the line that names the tank; path is the page it stands on.
func (t *benchTank) shown(path string) *view.BenchTank {
	if t == nil {
		return nil
	}
	return &view.BenchTank{ID: t.id, Name: t.name, Href: tankPath(t.id), Without: path}
}

// fill puts what is known of the tank into blanks that the address does not hold.
func (t *benchTank) fill(a *benchAsk) {
	of := a.query.Get("of")
	for i := range a.def.In {
		in := &a.def.In[i]
		if a.sent[in.Key] || in.Hidden {
			continue
		}
		v, note := t.known(a.def.Name, in, of)
		if !v.OK {
			continue
		}
		setInput(a.query, in, calc.Num(v.V), of, a.units)
		a.notes[in.Key] = note
	}
}

// known is what the tank has for an input, and where that comes from.
func (t *benchTank) known(name string, in *calc.Input, of string) (v q.Opt[float64], note string) {
	s := t.setup
	switch in.Key {
	case "net_volume_L", "V_L":
		return opt(netOf(s)), "net volume of the tank"
	case "water_L", "litres":
		if name == "kg_per_m2" {
			return opt(netOf(s)), "net volume of the tank"
		}
		return opt(s.DrainLitres), "down to the drain line"
	case "inner_L_cm":
		return opt(s.Length), "from the set-up"
	case "inner_W_cm":
		return opt(s.Width), "from the set-up"
	case "L_cm":
		return opt(s.Length), "inner length; add the glass"
	case "W_cm":
		return opt(s.Width), "inner width; add the glass"
	case "fill_cm":
		return opt(s.Level), "from the set-up"
	case "substrate_cm":
		return opt(s.SubstrateDepth), "from the set-up"
	case "porosity":
		return opt(s.Porosity), "from the set-up"
	case "stone_kg":
		return opt(s.Stone), "from the set-up"
	case "wood_kg":
		return opt(s.Wood), "from the set-up"
	case "filter_L":
		return opt(s.Filter.Volume), "from the set-up"
	case "clean_Lph":
		return opt(s.Filter.Clean), "the filter’s own clean flow"
	case "altitude_m":
		return opt(s.Room.Altitude), "where the tank stands"
	case "room_m3":
		return opt(s.Room.Volume), "the room of the tank"
	case "kg", "charge_kg":
		return opt(s.CO2.Cylinder), "a full cylinder of this tank"
	case "gross_then_kg":
		return opt(s.CO2.SwapMass), "weighed at the swap"
	case "days":
		if name == "cylinder_days" {
			return t.swapped, "since the swap"
		}
	case "hours":
		return opt(s.Light.Hours), "from the set-up"
	case "animals":
		if len(s.Animals) > 0 {
			return q.Some(1.0), "animals live in this tank"
		}
	case "water_C":
		if s.Heater.Target.OK {
			return opt(s.Heater.Target), "the heater’s set point"
		}
	}
	if k, ok := sourceOf[in.Key]; ok && s.Source.OK {
		return s.Source.V.Get(k), "from " + s.Source.V.Name
	}
	return t.read(kindFor(name, in, of))
}

// read is the last reading of a kind.
func (t *benchTank) read(k q.Kind) (q.Opt[float64], string) {
	x, ok := t.last[k]
	if !ok {
		if k == q.Temperature && t.setup.Heater.Target.OK {
			return opt(t.setup.Heater.Target), "the heater’s set point"
		}
		return q.Opt[float64]{}, ""
	}
	return q.Some(x.Value), "measured " + t.dayOf(x)
}

// sourceOf are inputs that the tank's source water answers.
var sourceOf = map[string]q.Kind{"source_KH_d": q.KH, "tap_dKH": q.KH, "tap_dGH": q.GH}

// readingOf are inputs that the last reading of a kind answers.
var readingOf = map[string]q.Kind{
	"T_C": q.Temperature, "water_C": q.Temperature, "pH": q.Acidity, "pH_tank": q.Acidity, "KH_d": q.KH, "from_KH": q.KH, "from_GH": q.GH,
	"TAN_mgN_L": q.TAN, "NO2_mg_L": q.Nitrite, "DO_mg_L": q.Oxygen, "EC_uS_cm": q.EC, "Ca_mg_L": q.Calcium, "Mg_mg_L": q.Magnesium, "Na_mg_L": q.Sodium,
	"Cl_mg_L": q.Chloride, "there_mg_L": q.Chloride, "SO4_mg_L": q.Sulfate, "flow_Lph": q.Flow, "gross_now_kg": q.CylinderGross, "level_drop_mm": q.LevelDrop, "g_per_day": q.Feed,
}

// kindFor is the kind of reading that an input asks for; none where it is not a
// reading, such as what a plan is to bring.
func kindFor(name string, in *calc.Input, of string) q.Kind {
	switch {
	case in.Key == "from":
		return map[string]q.Kind{"NO3": q.Nitrate, "PO4": q.Phosphate, "K": q.Potassium, "Mg": q.Magnesium, "Ca": q.Calcium, "Fe": q.Iron}[of]
	case name == "copper" || name == "dosing_plan" || name == "GH_from_Ca_Mg" || name == "NaCl_for_that":
		return ""
	case name == "EC_check" || name == "EC_from_ions" || name == "ion_balance":
		if k, ok := map[string]q.Kind{"K_mg_L": q.Potassium, "NO3_mg_L": q.Nitrate, "PO4_mg_L": q.Phosphate}[in.Key]; ok {
			return k
		}
	case in.Optional && in.Key == "EC_uS_cm":
		return "" // it stands in place of the ionic strength only where somebody says so
	}
	return readingOf[in.Key]
}

// benchHref is the bench for a tank.
func benchHref(tankID string) string {
	return "/bench?" + url.Values{"tank": {tankID}}.Encode()
}
