package demoshop

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// world is one tank while its nine months are lived through.
type world struct {
	spec  tankSpec
	way   way
	tale  tale
	pool  pool
	tap   source
	r     *rand.Rand
	today q.Date
	zone  *time.Location
	bag   bag

	setup      tank.Setup
	sinceClean int     // days
	full       float64 // kg of CO2 in a full cylinder
	tare       float64
	measured   int // visits so far, for the turn of the tests
}

// newWorld begins a tank's story on its first day of ours.
func newWorld(spec tankSpec, setup tank.Setup, netLitres float64, b bag, today q.Date, zone *time.Location, r *rand.Rand) *world {
	w := &world{spec: spec, way: ways[spec.way], tale: tales[spec.story], setup: setup, bag: b, r: r, today: today, zone: zone, tap: riverTap, full: 2, tare: 3.1}
	if places[spec.place].hardWater {
		w.tap = wellTap
	}
	if spec.way == "bee_shrimp" {
		w.tap, w.way.roShare = shrimpRO, 0
	}
	if netLitres > 250 {
		w.full, w.tare = 5, 6.4
	}
	// No two tanks of one way are alike.
	for _, rate := range []*float64{&w.way.uptakeNO3, &w.way.feed, &w.way.co2, &w.way.ppfd} {
		*rate *= 0.85 + 0.3*r.Float64()
	}
	s := w.tap.with(w.way.roShare)
	w.pool = pool{litres: netLitres, no3: 6 + 10*r.Float64(), po4: 0.6, k: 8 + 6*r.Float64(), fe: 0.04, kh: s.kh, gh: s.gh, co2: 3, temp: w.way.target,
		nitrifiers: [2]float64{1, 1}, flow: spec.filter, cylinder: w.full * (0.4 + 0.6*r.Float64())}
	if spec.way == "young" {
		w.pool.no3, w.pool.po4, w.pool.k, w.pool.nitrifiers = 2, 0.1, 3, [2]float64{0.004, 0.001}
		w.pool.cylinder = w.full
	}
	return w
}

// lived is the tank's day that lies ago days before today.
func (w *world) lived(ago int) {
	age := w.spec.weeks*7 - ago
	season := math.Cos(2 * math.Pi * float64(int(w.today)-ago-200) / 365.25) // 1 in July
	area := w.spec.length * w.spec.width / 10000
	d := day{
		feed: w.way.feed * w.pool.litres / 100 * (0.8 + 0.4*w.r.Float64()),
		no3:  w.way.doseNO3, po4: w.way.dosePO4, k: w.way.doseK, fe: w.way.doseFe,
		uptake: w.way.uptakeNO3 * math.Min(1, 0.4+float64(age)/70), evaporates: area * (0.7 + 0.5*w.r.Float64()),
		slowing: 0.006, setPoint: w.way.target, room: 20.5 + 3*season, co2Target: w.way.co2,
		co2GramsDay: w.pool.litres * 0.03,
		toppedOff:   w.way.topoff == tank.TopoffTap && w.way.customer.TopsUp || w.way.topoff == tank.TopoffRO,
	}
	if w.way.topoff == tank.TopoffTap {
		d.topoffKH, d.topoffGH = w.tap.kh, w.tap.gh
	}
	if w.way.substrate == tank.RichSoil && age < 56 {
		d.soilN = 0.45 * math.Exp(-float64(age)/20)
	}
	if w.tale.day != nil {
		w.tale.day(w, ago, &d)
	}
	w.pool.live(d, w.r)
	w.sinceClean++
}

// visited fills in the form of a visit that lies ago days before today; left
// visits follow it.
func (w *world) visited(ago, left int, ids [2]string, staff, stop string, open []care.Task) (*post, time.Time) {
	day := w.today - q.Date(ago)
	minute := int(w.way.visitMinute) + w.r.IntN(40) - 20
	at := time.Date(1970, 1, 1+int(day), 0, minute, 0, 0, w.zone)
	p := &post{}
	p.set("visit", ids[0])
	p.set("revision", ids[1])
	p.set("wire", visit.Wire)
	p.set("staff", staff)
	p.set("stop", stop)
	p.set("kind", w.kind(left))
	p.set("arrived", at.Format(time.RFC3339))
	p.set("performed", at.Add(25*time.Minute).Format(time.RFC3339))
	p.set("left", at.Add(time.Duration(45+w.r.IntN(25))*time.Minute).Format(time.RFC3339))
	p.set("drawn", at.Add(4*time.Minute).Format(time.RFC3339))
	if w.tale.visit != nil {
		w.tale.visit(w, left, p)
	}
	w.looks(p)
	w.measure(p, at, left)
	w.measureAsked(p, ago, open)
	w.work(p, left)
	w.answers(p, left, open)
	p.set("leave.asked", "1")
	p.set("leave.all", "checked")
	w.measured++
	return p, at.Add(25 * time.Minute)
}

func (w *world) kind(left int) string {
	if w.spec.way == "young" && left > 10 {
		return string(visit.StartUp)
	}
	return string(visit.Routine)
}

func (p *post) has(name string) bool {
	for _, f := range p.fields {
		if f.Name == name {
			return true
		}
	}
	return false
}

// looks answers what the tale left unsaid.
func (w *world) looks(p *post) {
	if !p.has("since") {
		p.set("since", "nothing_new")
	}
	for _, look := range visit.Looks {
		if name := "look." + string(look); !p.has(name) && w.r.Float64() < 0.97 {
			p.set(name, "fine")
		}
	}
	if !p.has("flow.eye") && w.r.Float64() < 0.7 {
		p.set("flow.eye", "well")
	}
	if !p.has("dosed") && w.way.customer.Doses {
		p.set("dosed", "as_planned")
	}
}

// measure reads what is due: temperature always, and two or three tubes in turn.
func (w *world) measure(p *post, at time.Time, left int) {
	pool := &w.pool
	w.bag.read(p, q.Temperature, "before", pool.temp, w.r)
	turn := w.measured
	if turn%4 != 3 {
		w.bag.read(p, q.Nitrate, "before", pool.concentrated(pool.no3), w.r)
	}
	if turn%2 == 0 || w.way.injected {
		w.bag.read(p, q.KH, "before", pool.concentrated(pool.kh), w.r)
	}
	if turn%4 == 1 {
		w.bag.read(p, q.Phosphate, "before", pool.concentrated(pool.po4), w.r)
		w.bag.read(p, q.GH, "before", pool.concentrated(pool.gh), w.r)
	}
	if turn%5 == 2 && w.way.injected {
		w.bag.read(p, q.Potassium, "before", pool.concentrated(pool.k), w.r)
		w.bag.read(p, q.Iron, "before", pool.concentrated(pool.fe), w.r)
	}
	if w.spec.way == "bee_shrimp" {
		w.bag.read(p, q.GH, "after", pool.concentrated(pool.gh), w.r)
	}
	if w.spec.way == "young" || w.spec.story == "death" && left <= 1 {
		w.bag.read(p, q.TAN, "before", pool.tan, w.r)
		w.bag.read(p, q.Nitrite, "before", pool.no2, w.r)
	}
	w.measurePH(p, at)
	if w.way.injected && pool.cylinder > 0 {
		w.bag.read(p, q.CylinderGross, "before", pool.cylinder+w.tare, w.r)
	}
	if pool.short > 0.5 {
		p.set("reading.level_drop.before", whole(int(math.Round(pool.short*10000/(w.spec.length*w.spec.width)))))
	}
	if turn%3 == 0 {
		w.bucket(p, "before")
	}
	if turn == 0 || w.spec.story == "light_changed" && left == 6 {
		w.lightMap(p, left)
	}
}

// measureAsked reads the ammonia and nitrite that stand on the list, three times
// in four. It draws chances of its own, so that asking changes nothing else.
func (w *world) measureAsked(p *post, ago int, open []care.Task) {
	asked := slices.ContainsFunc(open, func(t care.Task) bool { return t.Action == "test_nh3_no2" })
	if !asked || p.has("reading.tan.before") || ago%4 == 0 {
		return
	}
	r := rand.New(rand.NewPCG(uint64(w.today)-uint64(ago), uint64(w.measured)))
	w.bag.read(p, q.TAN, "before", w.pool.tan, r)
	w.bag.read(p, q.Nitrite, "before", w.pool.no2, r)
}

// measurePH reads pH where CO2 is driven: in the last third of the light
// period if the visit falls there, else at its own hour, which says little.
func (w *world) measurePH(p *post, at time.Time) {
	if !w.way.injected && w.measured%3 != 0 {
		return
	}
	minute := float64(at.Hour()*60+at.Minute()) + 4
	into := (minute - float64(w.way.lightOn)) / (w.way.hours * 60)
	co2, phase := w.pool.co2, "before"
	switch {
	case !w.way.injected:
	case into >= 2.0/3 && into <= 1:
		phase = "late"
	case into < 0 || into > 1:
		co2 = 4
	default:
		co2 *= 0.55 + 0.45*into
	}
	kh := math.Max(0.2, w.pool.concentrated(w.pool.kh))
	if ph, ok := acidity(co2, kh, w.pool.temp); ok {
		w.bag.read(p, q.Acidity, phase, ph, w.r)
	}
}

func (w *world) bucket(p *post, phase string) {
	for i := 1; i <= 3; i++ {
		flow := w.pool.flow * (1 + 0.03*w.r.NormFloat64())
		p.set("bucket."+phase+"."+whole(i)+".litres", "10")
		p.set("bucket."+phase+"."+whole(i)+".seconds", strconv.FormatFloat(36000/flow, 'f', 1, 64))
	}
}

func (w *world) lightMap(p *post, left int) {
	lift := 1.0
	if w.spec.story == "light_changed" && left == 6 {
		lift = 1.6
	}
	for i := range 9 {
		x, y := float64(i%3)-1, float64(i/3)-1
		shade := 1.12 - 0.16*(x*x+y*y)
		n := "ppfd." + whole(i+1)
		p.set(n+".x", whole(int(w.spec.length*(0.5+0.35*x))))
		p.set(n+".y", whole(int(w.spec.width*(0.5+0.35*y))))
		p.set(n+".umol", whole(int(math.Round(w.way.ppfd*lift*shade*(1+0.03*w.r.NormFloat64())))))
	}
}

// work is what the technician does, and what it does to the water.
func (w *world) work(p *post, left int) {
	share := w.way.change * (0.9 + 0.2*w.r.Float64())
	litres := math.Round(share*w.pool.litres/5) * 5
	p.set("work.water_change.litres", whole(int(litres)))
	w.pool.change(math.Min(0.9, litres/w.pool.litres), w.tap.with(w.way.roShare))
	if w.way.planting != tank.PlantingSparse && w.measured%2 == 1 {
		p.set("work.trim", "on")
	}
	if w.measured%2 == 0 {
		p.set("work.glass", "on")
	}
	slow := w.pool.flow < 0.62*w.spec.filter
	if slow && w.spec.story != "filter_slows" || w.sinceClean > 120 && left > 6 {
		p.set("work.filter_clean", "on")
		w.pool.flow = w.spec.filter * (0.95 + 0.05*w.r.Float64())
		w.sinceClean = 0
		w.bucket(p, "after")
	}
	if w.way.injected && (w.pool.cylinder < 0.12*w.full || p.has("work.cylinder_swap")) {
		if !p.has("work.cylinder_swap") {
			p.set("work.cylinder_swap", "on")
		}
		w.pool.cylinder = w.full
		w.bag.read(p, q.CylinderGross, "after", w.full+w.tare, w.r)
	}
}

// answers says what became of open tasks: most are done, some skipped.
func (w *world) answers(p *post, left int, open []care.Task) {
	for _, t := range open {
		state, reason, words := "", "", ""
		if w.tale.answer != nil {
			state, reason, words = w.tale.answer(left, t)
		}
		if state == "" && t.Who != care.Customer {
			switch x := w.r.Float64(); {
			case x < 0.75:
				state = "done"
			case x < 0.9:
				state, reason = "skipped", []string{"no_time", "no_part", "could_not_reach"}[w.r.IntN(3)]
			}
		}
		if state == "" {
			continue
		}
		p.set("task."+t.ID, state)
		p.set("task."+t.ID+".reason", reason)
		p.set("task."+t.ID+".words", words)
		if state == "declined" {
			p.set("task."+t.ID+".who", places[w.spec.place].customer)
		}
	}
}

// acidity is the pH that CO2 and KH give at this temperature.
func acidity(co2, kh, t float64) (float64, bool) {
	ph, err := chem.PHForCO2(q.MgPerLitre(co2), q.DegreeKH(kh), chem.UsualWater(q.Celsius(t)))
	return float64(ph), err == nil
}
