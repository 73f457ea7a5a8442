package wire

import (
	"cmp"
	"encoding/base64"
	"math"
	"slices"
	"strconv"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/forecast"
	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// undatedDay stands in where a document names no day; nothing that follows from
// it is shown.
var undatedDay = q.NewDate(2000, time.January, 1)

// besides are fields of reference cases that are for people and scorers; they
// are accepted and never looked at.
var besides = []string{"text", "causes_ranked", "must", "must_not", "may", "urgency", "basis", "evidence_level"}

// DecodeCase reads what one assessment needs. dated is false where the document
// names no day.
func DecodeCase(b []byte) (c care.Case, dated bool, err error) {
	n, err := parse(b)
	if err != nil {
		return c, false, err
	}
	r := reader(&n)
	r.into(&n, "", func(d *codec) { dated = d.careCase(&c) })
	return c, dated, r.err()
}

func (c *codec) careCase(out *care.Case) (dated bool) {
	for _, k := range besides {
		c.find(k)
	}
	now := &out.Now
	c.text("id", &now.Visit)
	c.text("visit", &now.Visit)
	c.text("revision", &now.Revision)
	now.Kind = visit.Routine
	choose(c, "kind", &now.Kind, visit.Kinds)
	day := q.Opt[q.Date]{}
	c.maybeDay("day", &day)
	now.Day = day.Or(undatedDay)
	now.Minute = 12 * 60
	c.minute("time", func(m q.MinuteOfDay) { now.Minute = m })
	now.Performed = now.Day.Midnight().Add(time.Duration(now.Minute) * time.Minute)

	c.object("tank", func(c *codec) { c.setup(out) })
	c.living("plants", &out.Setup.Plants, tank.PlantGroups)
	c.living("animals", &out.Setup.Animals, tank.AnimalGroups)
	c.object("customer", func(c *codec) {
		s := &out.Setup.Share
		c.flag("feeds", &s.Feeds)
		c.flag("tops_up", &s.TopsUp)
		c.flag("doses", &s.Doses)
		c.flag("changes_water", &s.ChangesWater)
	})
	c.object("profile", func(c *codec) {
		c.text("name", &out.Profile.Name)
		opt(c, "light_need_umol_m2_s", &out.Profile.LightNeed)
		list(c, "bands", &out.Profile.Bands, (*codec).band)
	})
	list(c, "plan", &out.Plan.Lines, (*codec).dosing)
	list(c, "kits", &out.Setup.Kits, (*codec).kit)
	c.readings("readings", now)
	c.signs("signs", now)
	c.looks(now)
	c.happened(now)
	list(c, "work", &now.Work, (*codec).work)
	c.history("history", out)
	list(c, "open", &out.Open, (*codec).task)
	c.memory("memory", &out.Memory)
	list(c, "closed", &out.Closed, func(c *codec, x *care.Closed) {
		c.object("task", func(c *codec) { c.task(&x.Task) })
		choose(c, "state", &x.State, []string{"done", "not_needed", "declined"})
		ago := 0.0
		c.within("days_ago", 0, 36500, func(v float64) { ago = v })
		x.On = now.Day.Add(-int(ago))
		c.text("who", &x.Who)
	})
	var days []string
	c.texts("days", &days)
	for i, s := range days {
		d, ok := q.ParseDate(s)
		if !ok {
			c.fail(join(c.path, "days")+"."+strconv.Itoa(i), fault.NotDate, "A day is written 2026-11-24.")
			continue
		}
		out.Days = append(out.Days, d)
	}
	return day.OK
}

// memory reads a state of the forecast. One that cannot be used any more is as
// good as none: the history is folded anew.
func (c *codec) memory(key string, s *forecast.State) {
	text := base64.StdEncoding.EncodeToString(s.Bytes())
	c.text(key, &text)
	if !c.reading || text == "" {
		return
	}
	b, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		c.fail(join(c.path, key), fault.NotChoice, "This is not a memory as it was handed out.")
		return
	}
	*s, _ = forecast.StateOf(b)
}

// choose reads one of a list of ids.
func choose[T ~string](c *codec, key string, p *T, choices []T) {
	n := c.wanted(key, isText)
	if n == nil {
		return
	}
	if !slices.Contains(choices, T(n.text)) {
		c.fail(join(c.path, key), fault.NotChoice, "“%s” is not one of the choices.", shown(n.text))
		return
	}
	*p = T(n.text)
}

// shown keeps a fault's sentence short.
func shown(s string) string {
	r := []rune(s)
	if len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}

// amount reads a number within what can be true.
func (c *codec) within(key string, lo, hi float64, set func(float64)) {
	n := c.wanted(key, isNumber)
	if n == nil {
		return
	}
	if n.number < lo || n.number > hi {
		c.fail(join(c.path, key), fault.Impossible, "This must lie from %g to %g.", lo, hi)
		return
	}
	set(n.number)
}

func (c *codec) minute(key string, set func(q.MinuteOfDay)) {
	n := c.wanted(key, isText)
	if n == nil {
		return
	}
	m, ok := q.ParseMinute(n.text)
	if !ok {
		c.fail(join(c.path, key), fault.NotDate, "A time of day is written 07:45.")
		return
	}
	set(m)
}

func (c *codec) living(key string, out *[]tank.Living, groups []tank.Group) {
	n := c.wanted(key, isList)
	if n == nil {
		return
	}
	for i := range n.list {
		path := join(c.path, key) + "." + strconv.Itoa(i)
		l := tank.Living{Count: 1}
		switch e := &n.list[i]; e.kind {
		case isText:
			l.Group = e.text
		default:
			c.into(e, path, func(c *codec) {
				c.text("group", &l.Group)
				c.text("species", &l.Species)
				c.within("count", 0, 1e6, func(v float64) { l.Count = int(v) })
			})
		}
		if !slices.ContainsFunc(groups, func(g tank.Group) bool { return g.ID == l.Group }) {
			c.fail(path, fault.NotChoice, "“%s” is not one of the groups.", shown(l.Group))
			continue
		}
		*out = append(*out, l)
	}
}

func (c *codec) readings(key string, r *visit.Record) {
	n := c.wanted(key, isObject)
	if n == nil {
		return
	}
	for i, k := range n.keys {
		n.used[i] = true
		c.oneReading(join(c.path, key)+"."+k, k, &n.list[i], r)
	}
}

// oneReading is a number, or a number with what the kit can mean.
func (c *codec) oneReading(path, key string, n *node, r *visit.Record) {
	def, ok := readingOf(key)
	if !ok {
		c.fail(path, fault.Unknown, "There is no such reading.")
		return
	}
	x := visit.Reading{Kind: def.Kind, Phase: def.Phase, Drawn: r.Performed}
	m, _ := q.MeasureOf(def.Kind)
	switch n.kind {
	case isNull:
		return
	case isNumber:
		x.Interval = visit.MeaningOf(def.Kind, n.number)
	case isObject:
		given := false
		c.into(n, path, func(c *codec) {
			if v := c.wanted("value", isNumber); v != nil {
				given = true
				x.Interval = visit.MeaningOf(def.Kind, v.number)
			}
			if c.find("lo") != nil || c.find("hi") != nil {
				c.end("lo", &x.Lo, math.Inf(-1))
				c.end("hi", &x.Hi, math.Inf(1))
			}
			c.text("lot", &x.Lot)
		})
		if !given {
			c.fail(join(path, "value"), fault.Missing, "A reading needs its value.")
			return
		}
	default:
		c.fail(path, fault.NotNumber, "A reading is a number, or an object with value, lo and hi.")
		return
	}
	switch {
	case !m.Range.Holds(x.Value):
		c.fail(path, fault.Impossible, "%s must lie from %g to %g %s.", m.Title, m.Range.Lo, m.Range.Hi, m.Unit)
		return
	case !(x.Lo <= x.Value && x.Value <= x.Hi):
		c.fail(path, fault.Impossible, "The value must lie between lo and hi.")
		return
	}
	if _, twice := r.Reading(x.Kind, x.Phase); twice {
		c.fail(path, fault.Taken, "This reading is there twice.")
		return
	}
	r.Readings = append(r.Readings, x)
}

func (c *codec) signs(key string, r *visit.Record) {
	var ids []string
	c.texts(key, &ids)
	for i, id := range ids {
		if _, ok := visit.SignOf(id); !ok {
			c.fail(join(c.path, key)+"."+strconv.Itoa(i), fault.NotChoice, "“%s” is not one of the signs.", shown(id))
			continue
		}
		if !r.Has(id) {
			r.Signs = append(r.Signs, visit.Sign{ID: id})
		}
	}
}

func (c *codec) looks(r *visit.Record) {
	c.object("looks", func(c *codec) {
		r.Looks = map[visit.Look]visit.Answer{}
		for _, l := range visit.Looks {
			var a visit.Answer
			choose(c, string(l), &a, []visit.Answer{visit.Fine, visit.Trouble})
			if a != visit.NotLooked {
				r.Looks[l] = a
			}
		}
	})
	choose(c, "eye_mark", &r.EyeMark, []visit.EyeMark{visit.EyeWell, visit.EyeLittle, visit.EyeNot})
}

// happened reads what happened since last time, how the doses were kept, and the
// leave list.
func (c *codec) happened(r *visit.Record) {
	var since []string
	c.texts("since", &since)
	for i, s := range since {
		if !slices.Contains(visit.SinceChoices, s) {
			c.fail(join(c.path, "since")+"."+strconv.Itoa(i), fault.NotChoice, "“%s” is not one of the choices.", shown(s))
			continue
		}
		r.Since = append(r.Since, visit.Since{What: s})
	}
	c.object("doses", func(c *codec) {
		choose(c, "how", &r.Doses.How, []string{"as_planned", "some_missed", "altered", "not_known"})
		c.within("missed", 0, 1000, func(v float64) { r.Doses.Missed = q.Some(int(v)) })
	})
	c.object("leave", func(c *codec) {
		for _, item := range visit.LeaveItems {
			state := ""
			choose(c, item, &state, []string{"checked", "not_here", "left_open"})
			if state != "" {
				r.Leave = append(r.Leave, visit.Leave{Item: item, State: state})
			}
		}
	})
}

func (c *codec) work(w *visit.Work) {
	choose(c, "kind", &w.Kind, visit.WorkKinds)
	c.text("solute", &w.Solute)
	opt(c, "grams", &w.Grams)
	opt(c, "ml", &w.Ml)
	opt(c, "litres", &w.Litres)
	opt(c, "minutes", &w.Time)
	c.text("part", &w.Part)
}

func (c *codec) band(b *tank.Band) {
	kind := string(b.Kind)
	c.text("kind", &kind)
	b.Kind = q.Kind(kind)
	if _, ok := q.MeasureOf(b.Kind); !ok {
		c.fail(join(c.path, "kind"), fault.NotChoice, "“%s” is not something that is measured.", shown(kind))
	}
	c.maybe("lo", &b.Lo)
	c.maybe("hi", &b.Hi)
	c.maybe("hard_lo", &b.HardLo)
	c.maybe("hard_hi", &b.HardHi)
}

func (c *codec) dosing(l *tank.DosingLine) {
	word(c, "solute", &l.Solute)
	c.within("mg_per_dose", 0, 1e6, func(v float64) { l.PerDose = q.Milligram(v) })
	l.Weekdays = 1
	c.within("doses_per_week", 0, 7, func(v float64) { l.Weekdays = 1<<uint(v) - 1 })
	choose(c, "how", &l.How, []tank.DosingHow{tank.ByDoser, tank.ByPump, tank.BySpoon, tank.ByHand})
	c.text("by", &l.ByWhom)
}

func (c *codec) kit(k *tank.Instrument) {
	c.text("lot", &k.Lot)
	c.text("name", &k.Name)
	word(c, "measures", &k.Measures)
	c.maybeDay("expires", &k.Expires)
}

// history reads earlier readings and work, {days_ago, key, value} or {days_ago,
// work, litres}, into one record a day.
func (c *codec) history(key string, out *care.Case) {
	n := c.wanted(key, isList)
	if n == nil {
		return
	}
	byDay := map[int]*visit.Record{}
	for i := range n.list {
		path := join(c.path, key) + "." + strconv.Itoa(i)
		c.into(&n.list[i], path, func(c *codec) {
			ago := -1
			c.within("days_ago", 0, 36500, func(v float64) { ago = int(v) })
			if ago < 0 {
				c.fail(join(path, "days_ago"), fault.Missing, "An earlier reading needs its days_ago.")
				ago = 0
			}
			r := byDay[ago]
			if r == nil {
				r = &visit.Record{Kind: visit.Routine, Day: out.Now.Day.Add(-ago), Minute: out.Now.Minute, Performed: out.Now.Performed.AddDate(0, 0, -ago)}
				byDay[ago] = r
			}
			k := ""
			c.text("key", &k)
			value := c.find("value")
			if k != "" && value != nil {
				c.oneReading(path, k, value, r)
			}
			var w visit.Work
			choose(c, "work", &w.Kind, visit.WorkKinds)
			opt(c, "litres", &w.Litres)
			if w.Kind != "" {
				r.Work = append(r.Work, w)
			}
			if k == "" && w.Kind == "" {
				c.fail(join(path, "key"), fault.Missing, "An entry needs a key and a value, or work.")
			}
		})
	}
	for _, r := range byDay {
		out.History = append(out.History, *r)
	}
	num.SortStable(out.History, func(a, b visit.Record) int { return cmp.Compare(a.Day, b.Day) })
}
