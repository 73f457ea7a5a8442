package forecast

import (
	"math"
	"math/rand/v2"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// A wide tank is lived by other equations than the forecast's own: plants with
// stores of nitrogen and phosphorus, that grow by the scarcest of light and what
// they hold and are cut back; feed, nitrification and soil that work on alkalinity;
// iron that fades. Its hidden numbers are drawn as wide as the literature has them,
// and things happen to it that nobody writes down.
//
// Growth 0.007 to 0.109 a day: Nielsen and Sand-Jensen (1991). Critical tissue 1.3 %
// N, 0.13 % P: Gerloff and Krombholz (1966). N kept from feed 0.12 to 0.44, P 0.15
// to 0.54: Summerfelt and Penne (2007). Iron's loss, kits and habits: practice.
type wide struct {
	rnd   *rand.Rand
	setup tank.Setup
	plan  tank.Plan // in force until the next visit
	shop  bool      // the shop doses at its visits
	every int
	share float64

	net                            float64
	c                              [moves]float64 // of the full tank, mg/L and °d
	plants, most, grow             float64        // g dry mass a litre
	holdN, holdP                   float64        // mg/g
	maxN, maxP, takeN, takeP       float64
	partK, partFe, partCa          float64
	feed, madeN, madeP, madeK      float64 // mg/L a day
	fade, soil, soilLife, stone    float64
	source                         [moves]float64
	season, phase, evap, since     float64
	given, missed                  float64
	bias                           [moves]float64
	flow, clean, clog, restore     float64
	co2, co2Day, co2Walk           float64
	happens                        map[int]string
	hungry, away, dim, still, late int // days left of what happens
	age                            int
	luck                           float64
}

var habits = [...]string{"new soil", "lush", "low", "crowded", "hard", "shrimp"}

func newWide(seed uint64) *wide {
	r := rand.New(rand.NewPCG(seed, 4242))
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	lg := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }
	w := &wide{rnd: r, happens: map[int]string{}}
	habit := habits[seed%uint64(len(habits))]
	rich := habit == "new soil" || habit == "lush" || habit == "hard" && seed%4 == 0
	s := tank.Setup{State: tank.Running, SetUpOn: q.Some(q.Date(10400 - r.IntN(700)))}
	s.Substrate = tank.SandGravel
	if habit == "new soil" {
		s.SetUpOn, s.Substrate = q.Some(q.Date(10400)), tank.RichSoil
	}
	s.Topoff = [...]tank.Topoff{tank.TopoffRO, tank.TopoffNone, tank.TopoffTap}[r.IntN(3)]
	s.Length, s.Width, s.Level = q.Some(q.Centimetre(u(40, 140))), q.Some(q.Centimetre(u(30, 60))), q.Some(q.Centimetre(u(28, 55)))
	s.SubstrateDepth, s.Stone, s.Wood = q.Some(q.Centimetre(u(3, 8))), q.Some(q.Kilogram(u(0, 20))), q.Some(q.Kilogram(u(0, 5)))
	known, _ := NetVolume(s)
	w.net = float64(known.V) * math.Exp(0.03*r.NormFloat64())
	w.every, w.share = 14, u(0.2, 0.45)
	if rich || habit == "crowded" {
		w.every, w.share = 7, u(0.3, 0.6)
	}
	w.grow, w.plants, w.most = lg(0.01, 0.035), u(0.1, 0.3), u(0.3, 0.6)
	weekly := [nutrient]float64{u(0, 3), u(0, 0.3), u(1, 5), lg(0.05, 0.12)}
	if rich {
		w.grow, w.most = lg(0.03, 0.09), u(0.3, 0.8)
		weekly = [nutrient]float64{u(4, 25), u(0.4, 3), u(6, 25), lg(0.1, 0.5)}
		s.CO2.Injected = true
		s.CO2.Cylinder, s.CO2.Tare = q.Some(q.Kilogram([...]float64{2, 5}[r.IntN(2)])), q.Some(q.Kilogram(u(3, 8)))
		w.co2, w.co2Day = float64(s.CO2.Cylinder.V)*u(0.5, 1), lg(0.006, 0.03)
	}
	w.maxN, w.maxP = u(30, 45), u(4, 8)
	w.holdN, w.holdP = u(15, 0.8*w.maxN), u(1.8, 0.8*w.maxP)
	w.takeN, w.takeP = u(2, 6)*w.grow/0.03, u(0.2, 0.6)*w.grow/0.03
	w.partK, w.partFe, w.partCa = u(15, 35), u(0.2, 0.6), u(2, 8)
	w.feed = lg(0.1, 0.6) * float64(known.V) / 120
	if habit == "crowded" {
		w.feed *= 4
	}
	if habit == "new soil" {
		w.feed *= 0.3
	}
	protein, kept, solved := u(0.35, 0.5), u(0.12, 0.44), u(0.65, 0.9)
	w.madeN = w.feed * 1000 * protein / 6.25 * (1 - kept) * solved / w.net // mg N
	w.madeP = w.feed * u(10, 15) * u(0.15, 0.6) / w.net                    // mg P
	w.madeK = w.feed * u(4, 12) / w.net
	w.fade = lg(0.1, 0.5)
	if s.Substrate == tank.RichSoil {
		w.soil, w.soilLife = lg(0.02, 0.12), u(60, 160)
	}
	if r.IntN(3) == 0 {
		w.stone = u(0, 0.03)
	}
	src := [moves]float64{lg(1, 25), lg(0.02, 0.5), u(0.3, 4), 0, u(3, 9), u(2, 7)}
	if habit == "hard" {
		src[gh], src[kh] = u(12, 20), u(8, 14)
	}
	if habit == "shrimp" {
		src = [moves]float64{0.5, 0.01, 0.5, 0, u(4, 6), u(0.5, 3)}
	}
	w.source, w.season, w.phase = src, u(0, 0.1), u(0, 6)
	reported := tank.Source{Kind: tank.Tap}
	for i := range src {
		reported.Values = append(reported.Values, tank.Known{Kind: kinds[i], Value: src[i] * math.Exp(0.06*r.NormFloat64())})
	}
	s.Source = q.Some(reported)
	w.evap = lg(0.001, 0.008)
	by := "device"
	w.plan.By, w.missed = tank.DosedByDoser, 0.005
	switch {
	case habit == "shrimp" || habit == "crowded" && seed%4 < 2:
		w.shop = true
		w.plan.By = tank.DosedAtVisit
	case habit == "low" || !rich || seed%4 == 1:
		w.plan.By, by, w.missed = tank.DosedByOwner, "customer", u(0.02, 0.25)
	}
	for i, x := range weekly {
		perDay := q.Milligram(x / 7 * float64(known.V))
		if !w.shop {
			w.plan.Lines = append(w.plan.Lines, tank.DosingLine{Solute: kinds[i], PerDose: perDay, Weekdays: 127, ByWhom: by})
		} else {
			w.plan.Lines = append(w.plan.Lines, tank.DosingLine{Solute: kinds[i], PerDose: perDay * q.Milligram(w.every), Weekdays: 1, ByWhom: "shop"})
		}
	}
	s.Share = tank.CareShare{Feeds: true, Doses: by == "customer" && !w.shop, FeedPerDay: q.Some(q.Gram(w.feed * math.Exp(0.25*r.NormFloat64())))}
	w.given = math.Exp(0.05 * r.NormFloat64())
	for i, sd := range [moves]float64{0.08, 0.08, 0.08, 0.1, 0.02, 0.02} {
		w.bias[i] = math.Exp(sd * r.NormFloat64())
		w.c[i] = src[i]*u(0.8, 1.2) + weekly[min(i, 3)]*[moves]float64{1, 1, 1, 0.15, 0, 0}[i]*r.Float64()
	}
	w.c[lnNO3] += w.madeN * 4.43 * u(0, 20)
	w.clean = u(300, 1400)
	s.Filter.Clean = q.Some(q.LitrePerHour(w.clean * math.Exp(0.05*r.NormFloat64())))
	w.clog, w.restore = lg(0.004, 0.018), u(0.88, 0.99)
	w.flow = w.clean * math.Exp(-w.clog*u(5, 40))
	for _, what := range [...]string{"feast", "away", "lamp", "doser", "gas"} {
		if r.IntN(3) == 0 {
			w.happens[30+r.IntN(120)] = what
		}
	}
	w.setup = s
	return w
}

func (w *wide) day(n int) {
	r := w.rnd
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	switch w.happens[n] {
	case "feast":
		w.hungry = 5 + r.IntN(10)
	case "away":
		if w.plan.By == tank.DosedByOwner {
			w.away = 5 + r.IntN(8)
		}
	case "lamp":
		w.grow *= u(0.6, 1.4)
	case "doser":
		if w.plan.By == tank.DosedByDoser {
			w.still = 5 + r.IntN(15)
		}
	case "gas":
		if w.setup.CO2.Injected {
			w.dim = 3 + r.IntN(8)
		}
	}
	w.age++
	given := w.given
	if r.Float64() < w.missed || w.away > 0 || w.still > 0 {
		given = 0
	}
	fed := math.Exp(0.3 * r.NormFloat64())
	if w.hungry > 0 {
		fed *= 2.5
	}
	if w.away > 0 {
		fed *= 0.3
	}
	grow := w.grow * math.Exp(0.1*w.mood())
	if w.dim > 0 {
		grow *= 0.4
	}
	for _, left := range [...]*int{&w.hungry, &w.away, &w.still, &w.dim} {
		*left = max(0, *left-1)
	}
	mg := func(i int) float64 {
		if w.shop {
			return 0
		}
		return given * float64(w.plan.Lines[i].PerDose) / w.net
	}
	nMade := w.madeN * fed
	w.c[lnNO3] += mg(0) + 4.4266*nMade
	w.c[lnPO4] += mg(1) + 3.0661*w.madeP*fed
	w.c[lnK] += mg(2) + 0.6305*mg(0) + 0.4117*mg(1) + w.madeK*fed
	w.c[lnFe] += mg(3)
	take := func(i int, most, half float64) float64 {
		x := math.Min(most*w.c[i]/(w.c[i]+half), 0.95*w.c[i])
		w.c[i] -= x
		return x
	}
	light := 1 - w.plants/w.most
	nTaken := take(lnNO3, 4.4266*w.takeN*w.plants*(1-w.holdN/w.maxN), 0.5) / 4.4266
	pTaken := take(lnPO4, 3.0661*w.takeP*w.plants*(1-w.holdP/w.maxP), 0.06) / 3.0661
	mu := grow * math.Max(0, light) * math.Max(0, math.Min(1-13/w.holdN, 1-1.3/w.holdP))
	made := mu * w.plants
	w.holdN = (w.holdN*w.plants + nTaken) / (w.plants + made)
	w.holdP = (w.holdP*w.plants + pTaken) / (w.plants + made)
	w.plants += made
	take(lnK, w.partK*made, 0.5)
	w.c[lnFe] *= math.Exp(-w.fade)
	take(lnFe, w.partFe*made, 0.01)
	w.c[gh] = math.Max(0, w.c[gh]+w.stone-w.partCa*made/7.147)
	sink := 0.0
	if w.soil > 0 {
		sink = w.soil * math.Exp(-float64(w.age)/w.soilLife)
	}
	w.c[kh] = math.Max(0.06, w.c[kh]*math.Exp(-sink)+w.stone-2.8039*(2*nMade-nTaken)/14.007)
	w.since++
	if w.setup.Topoff == tank.TopoffTap {
		for i := range w.c {
			w.c[i] += w.evap * w.now(i, n)
		}
		w.since = 0
	}
	w.flow *= math.Exp(-w.clog * math.Exp(0.3*r.NormFloat64()))
	w.co2Walk += 0.01 * r.NormFloat64()
	w.co2 = math.Max(0, w.co2-w.co2Day*math.Exp(w.co2Walk+0.1*r.NormFloat64()))
}

// now is the source on a day.
func (w *wide) now(i, n int) float64 {
	return w.source[i] * (1 + w.season*math.Sin(float64(n)/58+w.phase))
}

func (w *wide) left() float64 {
	if w.setup.Topoff == tank.TopoffNone {
		return 1 - w.evap*w.since
	}
	return 1
}

func (w *wide) read(i int, c float64) visit.Reading {
	r := visit.Reading{Kind: kinds[i], Phase: visit.Before, Lot: "kit"}
	if i >= nutrient {
		res := [...]float64{1, 0.5}[i-nutrient]
		n := math.Max(0, math.Ceil((c*w.bias[i]+0.13*w.rnd.NormFloat64())/res))
		r.Value, r.Lo, r.Hi = n*res, math.Max(0, n-1)*res, n*res
		return r
	}
	m := madeUp{rnd: w.rnd}
	for j := range m.bias {
		m.bias[j] = w.bias[j]
	}
	return m.read(i, c)
}

// live is so many visits; thin reads little, and what the customer says about the
// doses is known, wrong or not.
func (w *wide) live(visits int, thin bool) lived {
	var out lived
	on, n := q.Date(10400), 0
	r := w.rnd
	missed := 0
	for v := range visits {
		if v > 0 {
			days := max(3, w.every+r.IntN(5)-2)
			if r.IntN(12) == 0 {
				days += w.every
			}
			missed = 0
			for range days {
				if w.away > 0 || w.still > 0 {
					missed++
				}
				w.day(n)
				n++
			}
			on = on.Add(days)
		}
		c := w.c
		for i := range c {
			c[i] /= w.left()
		}
		rec := visit.Record{Visit: string(rune('A' + v)), Kind: visit.Routine, Day: on, Minute: 600, Performed: on.Midnight().Add(10 * time.Hour)}
		for i := range moves {
			if !thin || i == lnNO3 && r.IntN(4) > 0 || i != lnNO3 && r.IntN(10) < 3 {
				rec.Readings = append(rec.Readings, w.read(i, c[i]))
			}
		}
		if v%4 == 0 {
			for _, i := range [...]int{lnNO3, gh, kh} {
				x := w.read(i, w.now(i, n))
				x.Phase = visit.FromSource
				rec.Readings = append(rec.Readings, x)
			}
		}
		if thin {
			rec.Doses.How = [...]string{"not_known", "as_planned", "not_known"}[r.IntN(3)]
			if missed > 2 && r.IntN(2) == 0 {
				rec.Doses.How = "some_missed"
			}
		}
		cleaning := w.flow < 0.5*w.clean
		exact := func(k q.Kind, x float64) {
			rec.Readings = append(rec.Readings, visit.Reading{Kind: k, Phase: visit.Before, Lot: "s", Interval: q.Interval{Value: x, Lo: x, Hi: x}})
		}
		if !thin || cleaning || w.late > 0 {
			exact(q.Flow, w.flow*(1+0.04*r.NormFloat64()))
			w.late = 0
		}
		if w.setup.CO2.Injected && (!thin || v%2 == 0) {
			exact(q.CylinderGross, math.Round((w.co2+float64(w.setup.CO2.Tare.V)+0.008*r.NormFloat64())*100)/100)
		}
		out.truth = append(out.truth, [Tracked]float64{c[0], c[1], c[2], c[3], c[4], c[5], w.flow, w.co2})
		share := w.share * math.Exp(0.06*r.NormFloat64())
		rec.Work = append(rec.Work, visit.Work{Kind: visit.WaterChange, Litres: q.Some(q.Litre(w.share * w.net))})
		old := math.Max(0, w.left()-share)
		mixed := math.Exp(0.04 * r.NormFloat64())
		for i := range w.c {
			w.c[i] = old*c[i] + (1-old)*w.now(i, n)*mixed
		}
		w.since = 0
		if w.plants > 0.75*w.most {
			w.plants *= 0.55 + 0.25*r.Float64()
			rec.Work = append(rec.Work, visit.Work{Kind: visit.Trim})
		}
		if cleaning {
			w.flow, w.late = w.clean*w.restore*(1+0.03*r.NormFloat64()), 1
			rec.Work = append(rec.Work, visit.Work{Kind: visit.FilterClean})
		}
		if w.co2 > 0 && w.co2 < 0.2*float64(w.setup.CO2.Cylinder.V) {
			w.co2 = float64(w.setup.CO2.Cylinder.V)
			rec.Work = append(rec.Work, visit.Work{Kind: visit.CylinderSwap})
			x := w.co2 + float64(w.setup.CO2.Tare.V)
			rec.Readings = append(rec.Readings, visit.Reading{Kind: q.CylinderGross, Phase: visit.After, Lot: "s", Interval: q.Interval{Value: x, Lo: x, Hi: x}})
		}
		if w.shop {
			for i, l := range w.plan.Lines {
				rec.Work = append(rec.Work, visit.Work{Kind: visit.Dose, Solute: string(kinds[i]), Grams: q.Some(q.Gram(float64(l.PerDose) / 1000))})
				mg := w.given * float64(l.PerDose) / w.net
				w.c[i] += mg
				w.c[lnK] += mg * [nutrient]float64{0.6305, 0.4117}[i]
			}
		}
		out.steps = append(out.steps, Step{w.setup, w.plan, rec})
	}
	return out
}

// mood is a day's luck, which lasts.
func (w *wide) mood() float64 {
	w.luck = 0.9*w.luck + 0.44*w.rnd.NormFloat64()
	return w.luck
}
