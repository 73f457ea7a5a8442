package demoshop

import (
	"context"
	"math/rand/v2"
	"sync"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/staff"
	"scaperound/domain/tank"
	"scaperound/domain/volume"
	"scaperound/store"
)

// Request says which shop to make. The same request makes the same shop, but
// for the keys of its records.
type Request struct {
	Seed  uint64
	Today q.Date         // the day that everything is dated from, in the shop's zone
	Staff []staff.Person // the people of People, in that order, with their keys
	// LinkKey is the key under the care-sheet links.
	LinkKey share.Key
}

// Made is what the demo tells about the shop that was made.
type Made struct {
	Tank      string `json:"tank"`       // key of a tank that is worth a first look
	Tank2     string `json:"tank2"`      // key of another one
	Tank2Name string `json:"tank2_name"` // its name
	Link      string `json:"link"`       // path of a customer's care sheet
	Print     string `json:"print"`      // path of its printed form
}

// Nine months, in days.
const past = 273

// loader carries what the parts of a load share.
type loader struct {
	db    *store.DB
	req   Request
	zone  *time.Location
	owner string
	seed  store.Seeded
	bag   bag
	sites []string // by index of places
	taps  map[string]string
}

// Load fills an empty shop that has its settings and its staff already.
func Load(ctx context.Context, db *store.DB, r Request) (Made, error) {
	if len(r.Staff) < len(People()) {
		return Made{}, fault.New(fault.Internal, "The made-up shop needs its %d people first.", len(People()))
	}
	zone, err := time.LoadLocation(Settings().Zone)
	if err != nil {
		return Made{}, err
	}
	l := &loader{db: db, req: r, zone: zone, owner: r.Staff[0].ID, sites: make([]string, len(places)), taps: map[string]string{}}
	if err := l.standards(ctx); err != nil {
		return Made{}, err
	}
	for i := range places {
		if l.sites[i], err = l.place(ctx, places[i]); err != nil {
			return Made{}, err
		}
	}
	made := make([]madeTank, len(tanks))
	if err := l.eachSite(ctx, func(ctx context.Context, site int) error { return l.site(ctx, site, made) }); err != nil {
		return Made{}, err
	}
	if err := l.office(ctx, made); err != nil {
		return Made{}, err
	}
	if err := l.rounds(ctx); err != nil {
		return Made{}, err
	}
	return l.finish(ctx, made)
}

// ago is the start of the shop's day that lies n days before today.
func (l *loader) ago(n int) time.Time {
	return time.Date(1970, 1, 1+int(l.req.Today)-n, 0, 0, 0, 0, l.zone).UTC()
}

// eachSite runs fn for every place, a few at a time: tanks of one site share
// their stops, sites share nothing.
func (l *loader) eachSite(ctx context.Context, fn func(context.Context, int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	work := make(chan int)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for site := range work {
				if ctx.Err() != nil {
					continue
				}
				if err := fn(ctx, site); err != nil {
					cancel(err)
				}
			}
		})
	}
	for site := range places {
		work <- site
	}
	close(work)
	all.Wait()
	return context.Cause(ctx)
}

// standards gives the shop its profiles, kits and waters.
func (l *loader) standards(ctx context.Context) error {
	return l.db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		var err error
		if l.seed, err = store.SeedStandards(ctx, tx, l.owner, l.ago(400)); err != nil {
			return err
		}
		l.bag = bag{}
		for _, k := range tank.StandardKits() {
			if _, has := l.bag[k.Measures]; !has {
				l.bag[k.Measures] = tank.Instrument{Lot: l.seed.Lots[k.Name], Measures: k.Measures, Type: k.Type, Unit: k.Unit, Step: k.Step, SD: k.SD, Classes: k.Classes}
			}
		}
		for name, s := range map[string]struct {
			title string
			kind  tank.SourceKind
			water source
		}{
			"river": {"River works, town supply", tank.Tap, riverTap}, "well": {"Copper Hill well supply", tank.Well, wellTap}, "shrimp": {"Osmosis with shrimp salts", tank.RO, shrimpRO},
		} {
			id, err := store.CreateSource(ctx, tx, l.owner, "", "", s.title, s.kind)
			if err != nil {
				return err
			}
			l.taps[name] = id
			v := tank.Source{Name: s.title, Kind: s.kind, Disinfectant: tank.NoDisinfectant, Values: []tank.Known{
				{Kind: q.KH, Value: s.water.kh}, {Kind: q.GH, Value: s.water.gh}, {Kind: q.Nitrate, Value: s.water.no3},
				{Kind: q.Phosphate, Value: s.water.po4}, {Kind: q.Potassium, Value: s.water.k}}}
			if name == "river" {
				v.Disinfectant, v.WinterMin = tank.Chlorine, q.Some(q.Celsius(7))
				v.Values = append(v.Values, tank.Known{Kind: q.TotalChlorine, Value: 0.4}, tank.Known{Kind: q.Acidity, Value: 7.6})
			}
			if name == "well" {
				v.WinterMin = q.Some(q.Celsius(10))
				v.Values = append(v.Values, tank.Known{Kind: q.Acidity, Value: 7.4})
			}
			if err := store.AddSourceVersion(ctx, tx, l.owner, id, l.ago(400), v); err != nil {
				return err
			}
		}
		return nil
	})
}

// place writes a customer with its site, its times and how one gets in.
func (l *loader) place(ctx context.Context, p place) (site string, err error) {
	who, err := l.db.AddCustomer(ctx, l.owner, customer.Customer{Name: p.customer, Kind: customer.Kind(p.kind), Language: "en", Phones: []string{p.phone}, Notes: p.note})
	if err != nil {
		return "", err
	}
	s := customer.Site{Customer: who, Name: p.site, Address: p.street, Town: "Alderbrook", Position: q.Some(customer.Position{Lat: p.lat, Lon: p.lon}),
		Card: customer.Card{ParkingMinutes: q.Some(p.parking), Stairs: p.stairs, Stopcock: "under the sink", Breaker: "by the meter", Hose: q.Some(q.Metre(8)),
			Drain: "sink", CO2Alarm: q.Some(!p.noAlarm), RCDTested: q.Some(l.req.Today - 140)}}
	if p.noAlarm {
		s.Card.Room = q.Some(q.CubicMetre(38))
	}
	for _, w := range p.windows {
		for day := w.from; day <= w.to; day++ {
			s.Windows = append(s.Windows, customer.Window{Weekday: day, From: q.MinuteOfDay(w.fromMinute), To: q.MinuteOfDay(w.toMinute)})
		}
	}
	if site, err = l.db.AddSite(ctx, l.owner, s, true); err != nil {
		return "", err
	}
	if p.access == "" && p.alarm == "" {
		return site, nil
	}
	return site, l.db.EditAccessNote(ctx, l.owner, customer.AccessNote{Site: site, Note: p.access, AlarmCode: p.alarm})
}

// madeTank is a tank with what its visits need.
type madeTank struct {
	id, newestVisit string
	setup           tank.Setup
	net             float64
}

// tank writes a tank with all its dated records as of the day we took it over.
func (l *loader) tank(ctx context.Context, i int) (madeTank, error) {
	spec := tanks[i]
	w := ways[spec.way]
	since := l.ago(min(spec.weeks*7, 400))
	var m madeTank
	err := l.db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		id, err := store.CreateTank(ctx, tx, l.owner, tank.New{Name: spec.name, Site: l.sites[spec.place], State: tank.Running,
			SetUpOn: q.Some(l.req.Today - q.Date(spec.weeks*7)), Pinned: lines(spec.pinned)}, since)
		if err != nil {
			return err
		}
		s := setup(spec, w)
		v, err := volume.Of(volume.Setup{Length: s.Length.V, Width: s.Width.V, Level: s.Level.V, Substrate: s.SubstrateDepth.V, Porosity: s.Porosity.V,
			Stone: s.Stone.V, Wood: s.Wood.V, Filter: s.Filter.Volume.V})
		if err != nil {
			return err
		}
		m = madeTank{id: id, setup: s, net: float64(v.Net)}
		return l.records(ctx, tx, id, since, s, spec, w, m.net)
	})
	return m, err
}

func lines(s string) []string {
	if s == "" {
		return nil
	}
	return []string{s}
}

// setup is what the tank is made of.
func setup(spec tankSpec, w way) tank.Setup {
	depth := 5.0
	if w.substrate == tank.RichSoil {
		depth = 7
	}
	footprint := spec.length * spec.width
	s := tank.Setup{Shape: tank.Shape{
		Length: q.Some(q.Centimetre(spec.length)), Width: q.Some(q.Centimetre(spec.width)), Height: q.Some(q.Centimetre(spec.height)),
		Level: q.Some(q.Centimetre(spec.height - 4)), Substrate: w.substrate, SubstrateDepth: q.Some(q.Centimetre(depth)), Porosity: q.Some(q.Share(0.4)),
		Stone: q.Some(q.Kilogram(footprint / 400)), Wood: q.Some(q.Kilogram(footprint / 1500)),
	}}
	s.Light = tank.Light{Name: "LED bar", On: q.Some(w.lightOn), Hours: q.Some(q.Hours(w.hours)), Percent: q.Some(70.0)}
	s.Filter = tank.Filter{Name: "Canister", Clean: q.Some(q.LitrePerHour(spec.filter)), Volume: q.Some(q.Litre(spec.filter / 180))}
	s.Heater = tank.Heater{Name: "Rod heater", Power: q.Some(q.Watt(footprint / 30)), Target: q.Some(q.Celsius(w.target))}
	s.Topoff, s.Planting = w.topoff, w.planting
	s.DrainLine, s.CanLitres = "to the third screw", q.Some(q.Litre(20))
	if w.injected {
		s.CO2 = tank.CO2{Injected: true, On: q.Some(max(0, w.lightOn-90)), Hours: q.Some(q.Hours(w.hours)), Cylinder: q.Some(q.Kilogram(2)), Tare: q.Some(q.Kilogram(3.1))}
	}
	return s
}

func (l *loader) records(ctx context.Context, tx store.Tx, id string, since time.Time, s tank.Setup, spec tankSpec, w way, net float64) error {
	if w.injected && net > 250 {
		s.CO2.Cylinder, s.CO2.Tare = q.Some(q.Kilogram(5)), q.Some(q.Kilogram(6.4))
	}
	if err := store.AddSetup(ctx, tx, l.owner, id, since, s); err != nil {
		return err
	}
	if err := store.SetAgreement(ctx, tx, l.owner, id, since, tank.Agreement{EveryDays: q.Some(w.everyDays), ToleranceDays: max(1, w.everyDays/5), Minutes: usualMinutes(net), Preferred: l.regular(spec.place), Skill: spec.skill(), TwoPeople: spec.name == "Reading room"}); err != nil {
		return err
	}
	if err := store.SetCareShare(ctx, tx, l.owner, id, since, w.customer); err != nil {
		return err
	}
	tap := "river"
	switch {
	case spec.way == "bee_shrimp":
		tap = "shrimp"
	case places[spec.place].hardWater:
		tap = "well"
	}
	share := w.roShare
	if tap == "shrimp" {
		share = 0 // the remineralised water is its own source
	}
	if err := store.SetSource(ctx, tx, l.owner, id, since, l.taps[tap], share); err != nil {
		return err
	}
	if err := store.SetProfile(ctx, tx, l.owner, id, since, l.seed.Profiles[w.profile]); err != nil {
		return err
	}
	if plan := dosing(w, net); len(plan) > 0 {
		if err := store.SetDosing(ctx, tx, l.owner, id, since, plan); err != nil {
			return err
		}
	}
	return l.stock(ctx, tx, id, since, w)
}

func dosing(w way, net float64) []tank.DosingLine {
	var plan []tank.DosingLine
	for _, d := range []struct {
		kind  q.Kind
		daily float64
	}{{q.Nitrate, w.doseNO3}, {q.Phosphate, w.dosePO4}, {q.Potassium, w.doseK}, {q.Iron, w.doseFe}} {
		if d.daily == 0 {
			continue
		}
		line := tank.DosingLine{Solute: d.kind, PerDose: q.Milligram(d.daily * net), Weekdays: 127, How: tank.ByDoser, ByWhom: "device", MlPerDose: q.Some(q.Millilitre(5))}
		if w.customer.Doses {
			line.How, line.ByWhom, line.MlPerStroke = tank.ByPump, "customer", q.Some(q.Millilitre(1.2))
		}
		plan = append(plan, line)
	}
	return plan
}

func (l *loader) stock(ctx context.Context, tx store.Tx, id string, since time.Time, w way) error {
	on := q.DateOf(since.In(l.zone))
	for _, side := range []struct {
		living tank.LivingKind
		all    []tank.Living
	}{{tank.Plant, w.plants}, {tank.Animal, w.animals}} {
		for _, x := range side.all {
			if _, err := store.AddMovement(ctx, tx, l.owner, id, tank.Movement{Day: on, Living: side.living, Group: x.Group, N: x.Count, Reason: tank.WeAdded, Pays: "included"}); err != nil {
				return err
			}
		}
	}
	return nil
}

// regular is who usually comes to a place: where it opens in the morning or the
// evening only, whoever works then.
func (l *loader) regular(place int) string {
	w := places[place].windows
	switch {
	case len(w) > 0 && w[0].toMinute <= 13*60:
		return l.req.Staff[1].ID
	case len(w) > 0 && w[0].fromMinute >= 14*60:
		return l.req.Staff[2].ID
	}
	return l.req.Staff[1+place%2].ID
}

// dice is a stream of chance of its own for each tank, so that one tank's story
// does not depend on another's.
func (l *loader) dice(i int) *rand.Rand { return rand.New(rand.NewPCG(l.req.Seed, uint64(i)+1)) }
