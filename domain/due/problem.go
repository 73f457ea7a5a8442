package due

import (
	"slices"
	"strings"
	"time"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
)

// Problem is the planner's problem: the jobs, and who there is. held says where
// jobs are kept. Ways are left empty; see Roads.Travel. What the owner should
// know of the input comes back in words; the rest is planned all the same.
func (f *Facts) Problem(jobs []Job, held map[string]round.Keep) (round.Problem, []say.Sentence) {
	b := builder{facts: f, places: map[string]int{}}
	first := f.first()
	b.p = round.Problem{From: first, Days: max(1, int(f.From.Add(f.Days)-first))}
	shop := f.Roads.Shop
	if !shop.OK {
		shop = f.middle()
		b.tell("due.no_shop")
	}
	b.place(round.Place{ID: "shop", Name: "the shop"}, shop)
	for _, v := range f.Vans {
		if !v.Archived {
			b.p.Vans = append(b.p.Vans, round.Van{ID: v.ID, Name: v.Name, Carries: v.load()})
		}
	}
	for i := range f.People {
		b.person(&f.People[i])
	}
	if len(b.p.People) == 0 {
		b.tell("due.nobody")
	}
	for _, j := range jobs {
		b.stop(j, held)
	}
	return b.p, b.said
}

// middle is the mean of the sites' positions.
func (f *Facts) middle() q.Opt[customer.Position] {
	var sum customer.Position
	n := 0.0
	for _, s := range f.Sites {
		if s.Position.OK {
			sum.Lat, sum.Lon, n = sum.Lat+s.Position.V.Lat, sum.Lon+s.Position.V.Lon, n+1
		}
	}
	if n == 0 {
		return q.Opt[customer.Position]{}
	}
	return q.Some(customer.Position{Lat: sum.Lat / n, Lon: sum.Lon / n})
}

// noLimit is what a van carries of which nobody wrote down how much.
const noLimit = 1 << 20

func (v Van) load() round.Load {
	l := round.Load{WaterL: noLimit, Cylinders: noLimit}
	if v.Water.OK {
		l.WaterL = int(v.Water.V)
	}
	if v.Cylinders.OK {
		l.Cylinders = v.Cylinders.V
	}
	return l
}

type builder struct {
	facts  *Facts
	p      round.Problem
	places map[string]int
	said   []say.Sentence
}

func (b *builder) tell(id string, args ...say.Arg) { b.said = append(b.said, say.S(id, args...)) }

func (b *builder) place(p round.Place, at q.Opt[customer.Position]) int {
	if i, ok := b.places[p.ID]; ok {
		return i
	}
	p.Lat, p.Lon, p.Unknown = at.V.Lat, at.V.Lon, !at.OK
	b.p.Places = append(b.p.Places, p)
	b.places[p.ID] = len(b.p.Places) - 1
	return len(b.p.Places) - 1
}

// end is where somebody starts or ends: a place of their own, or the shop.
func (b *builder) end(id, name string, at q.Opt[customer.Position]) int {
	if !at.OK {
		return b.places["shop"]
	}
	return b.place(round.Place{ID: id, Name: name}, at)
}

func seconds(m q.MinuteOfDay) round.Seconds { return round.Seconds(m) * round.Minute }

// weekday turns 1 for Monday, 7 for Sunday, into Go's.
func weekday(iso int) time.Weekday { return time.Weekday(iso % 7) }

func (b *builder) person(p *Person) {
	w := p.Working
	if len(w.Hours) == 0 {
		return
	}
	out := round.Person{ID: p.ID, Name: p.Name, Skills: w.Skills}
	shift := round.Shift{
		Start: b.end("start:"+p.ID, p.Name+"'s start", w.Start),
		End:   b.end("end:"+p.ID, p.Name+"'s end", w.End),
	}
	if slices.ContainsFunc(b.p.Vans, func(v round.Van) bool { return v.ID == w.Van }) {
		shift.Van = w.Van
	}
	if w.Break.Minutes > 0 {
		length := round.Seconds(w.Break.Minutes) * round.Minute
		shift.Break = round.Break{From: seconds(w.Break.From), To: seconds(w.Break.To) - length, Length: length}
	}
	for _, h := range w.Hours {
		s := shift
		s.From, s.To = seconds(h.From), seconds(h.To)
		if s.From > s.Break.To {
			s.Break = round.Break{} // whoever begins later than that had it at home
		}
		out.Hours = append(out.Hours, round.Hours{Weekday: weekday(h.Weekday), Shift: s})
		if weekday(h.Weekday) == b.facts.Today.Weekday() {
			if rest, begun := b.rest(p, s); begun {
				out.Special = append(out.Special, rest)
			}
		}
	}
	for _, l := range p.Leave {
		out.Leave = append(out.Leave, round.Leave{From: l.From, To: l.To})
	}
	b.p.People = append(b.p.People, out)
}

func (b *builder) stop(j Job, held map[string]round.Keep) {
	f := b.facts
	s := f.Site(j.Site)
	if s == nil {
		return
	}
	out := round.Stop{
		ID: j.ID, Name: s.Name, Place: b.place(round.Place{ID: s.ID, Name: s.Name}, s.Position),
		Work: round.Seconds(f.Minutes(s, j.Tanks)) * round.Minute,
		Due:  j.Due, EarlyDays: int(j.Due - j.From), LateDays: int(j.Until - j.Due), Press: j.Press,
		NotBefore: q.Some(f.first()), Weekday: s.Habit(),
	}
	if len(s.Phones) > 0 {
		out.Phone = s.Phones[0]
	}
	for _, a := range s.Away {
		out.Away = append(out.Away, round.Leave{From: a.From, To: a.To})
	}
	for _, w := range s.Windows {
		out.Windows = append(out.Windows, round.Window{Weekday: weekday(w.Weekday), From: seconds(w.From), To: seconds(w.To)})
	}
	f.fromTanks(&out, j)
	if p := j.Promise; p.OK {
		out.Promised = q.Some(round.Promise{Day: p.V.Day, From: seconds(p.V.From), To: seconds(p.V.To)})
	}
	if k, ok := held[j.ID]; ok {
		out.Keep = q.Some(k)
	}
	b.p.Stops = append(b.p.Stops, out)
}

// fromTanks takes over what the agreements of a stop's tanks ask.
func (f *Facts) fromTanks(out *round.Stop, j Job) {
	allowed := 0
	wish := map[string]int{} // minutes for which somebody is preferred
	var last q.Date
	for _, id := range j.Tanks {
		t := f.Tank(id)
		if t == nil {
			continue
		}
		a := t.Agreement
		if skill := Skill(a.Skill); skill != "" && !slices.Contains(out.Skills, skill) {
			out.Skills = append(out.Skills, skill)
		}
		if a.TwoPeople {
			out.People = 2
		}
		if a.Weekdays != 0 {
			if allowed == 0 {
				allowed = 127
			}
			allowed &= a.Weekdays
		}
		if a.Preferred != "" {
			wish[a.Preferred] += a.Minutes
		}
		if t.LastBy != "" && t.Last.OK && t.Last.V >= last {
			last, out.LastBy = t.Last.V, t.LastBy
		}
		if t.ApartUntil.OK && t.ApartUntil.V >= f.first() {
			out.KeptApart = true
		}
		out.Load.WaterL += t.WaterL
		out.Load.Cylinders += t.Cylinders
	}
	out.Prefer = most(wish)
	if allowed != 0 {
		out.Windows = within(out.Windows, Weekdays(allowed))
	}
}

// most is the key with the largest value; the first by name among equals.
func most(of map[string]int) string {
	best := ""
	for k, n := range of {
		if best == "" || n > of[best] || n == of[best] && strings.Compare(k, best) < 0 {
			best = k
		}
	}
	return best
}

// within keeps the windows of the allowed weekdays; a site without windows is
// open all day on these.
func within(ws []round.Window, allowed Weekdays) []round.Window {
	if len(ws) == 0 {
		for iso := 1; iso <= 7; iso++ {
			ws = append(ws, round.Window{Weekday: weekday(iso), To: 24 * round.Hour})
		}
	}
	return slices.DeleteFunc(ws, func(w round.Window) bool { return int(allowed)&(1<<((int(w.Weekday)+6)%7)) == 0 })
}
