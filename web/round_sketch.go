package web

import (
	"fmt"
	"math"
	"net/http"
	"strings"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/static"
	"scaperound/web/view"
)

// openMap is what opens the sketch as a map. Where the ground's pictures come from
// elsewhere, this page alone may load them from there.
func (p roundBook) openMap(w http.ResponseWriter) view.RoundMapOpen {
	open := view.RoundMapOpen{Script: static.Path("leaflet.js"), Style: static.Path("leaflet.css"), Tiles: p.cfg.Tiles.Address, Credit: p.cfg.Tiles.Credit}
	if from := p.cfg.Tiles.origin(); from != "" {
		w.Header().Set("Content-Security-Policy", strings.Replace(policy, "img-src 'self'", "img-src 'self' "+from, 1))
	}
	return open
}

// The sketch's size, in units of the drawing.
const (
	sketchWidth  = 680
	sketchHeight = 430
	sketchEdge   = 34
)

// sketch draws where the day's stops lie.
func (s *weekNow) sketch(day q.Date) *view.RoundMap {
	m := &view.RoundMap{Width: sketchWidth, Height: sketchHeight}
	box := newBox()
	if s.facts.Roads.Shop.OK {
		box.add(s.facts.Roads.Shop.V)
	}
	used := map[string]bool{}
	for _, r := range s.week.Draft.Routes {
		for _, x := range r.Stops {
			if site := s.facts.Site(x.Site); r.Day == day && site != nil && site.Position.OK {
				box.add(site.Position.V)
				used[x.Site] = true
			}
		}
	}
	if len(used) == 0 {
		return nil
	}
	for i := range s.facts.Sites {
		if site := &s.facts.Sites[i]; !used[site.ID] && site.Position.OK && box.holds(site.Position.V) {
			m.Others = append(m.Others, box.point(site.Position.V, "", site.Name))
		}
	}
	if s.facts.Roads.Shop.OK {
		at := box.point(s.facts.Roads.Shop.V, "", "the shop")
		m.Shop = &at
	}
	drawn := map[string]int{}
	for i := range s.facts.People {
		person := &s.facts.People[i]
		r := s.week.Draft.Route(person.ID, day)
		if r == nil {
			continue
		}
		way := view.RoundMapRoute{Person: person.Name, Kind: len(m.Routes)}
		end := func(own q.Opt[customer.Position]) {
			if !own.OK {
				own = s.facts.Roads.Shop
			}
			if own.OK {
				way.Path = append(way.Path, box.point(own.V, "", ""))
			}
		}
		end(person.Working.Start)
		for n, x := range r.Stops {
			if site := s.facts.Site(x.Site); site != nil && site.Position.OK {
				at := box.point(site.Position.V, fmt.Sprintf("%s%d", initial(person.Name), n+1), site.Name)
				at.Beside = drawn[x.Site]
				drawn[x.Site]++
				at.When = due.Clock(x.Begin) + "–" + due.Clock(x.End)
				way.Path, way.Stops = append(way.Path, at), append(way.Stops, at)
			}
		}
		end(person.Working.End)
		m.Routes = append(m.Routes, way)
	}
	m.Scale = box.scale()
	var marks []*view.RoundPoint
	for i := range m.Routes {
		for k := range m.Routes[i].Stops {
			marks = append(marks, &m.Routes[i].Stops[k])
		}
	}
	spread(marks, m.Shop)
	if m.Shop != nil {
		m.Shop.MarkX, m.Shop.MarkY = shopWord(m.Shop, marks)
	}
	return m
}

func initial(name string) string {
	for _, c := range name {
		return strings.ToUpper(string(c))
	}
	return ""
}

// box fits positions into the drawing, north up, as far apart east to west as
// they are at that latitude.
type box struct {
	lo, hi customer.Position
	any    bool
}

func newBox() *box { return &box{} }

func (b *box) add(p customer.Position) {
	if !b.any {
		b.lo, b.hi, b.any = p, p, true
		return
	}
	b.lo = customer.Position{Lat: min(b.lo.Lat, p.Lat), Lon: min(b.lo.Lon, p.Lon)}
	b.hi = customer.Position{Lat: max(b.hi.Lat, p.Lat), Lon: max(b.hi.Lon, p.Lon)}
}

func (b *box) holds(p customer.Position) bool {
	return b.lo.Lat <= p.Lat && p.Lat <= b.hi.Lat && b.lo.Lon <= p.Lon && p.Lon <= b.hi.Lon
}

// shrink is how much shorter a degree of longitude is than one of latitude.
func (b *box) shrink() float64 { return math.Cos((b.lo.Lat + b.hi.Lat) / 2 * math.Pi / 180) }

// perDegree is the drawing's units per degree of latitude.
func (b *box) perDegree() float64 {
	const least = 0.002 // degrees: some 200 m, so that a single stop is no point at infinity
	high, wide := max(b.hi.Lat-b.lo.Lat, least), max((b.hi.Lon-b.lo.Lon)*b.shrink(), least)
	return min((sketchHeight-2*sketchEdge)/high, (sketchWidth-2*sketchEdge)/wide)
}

func (b *box) point(p customer.Position, label, name string) view.RoundPoint {
	k := b.perDegree()
	midLat, midLon := (b.lo.Lat+b.hi.Lat)/2, (b.lo.Lon+b.hi.Lon)/2
	return view.RoundPoint{Lat: p.Lat, Lon: p.Lon, X: sketchWidth/2 + (p.Lon-midLon)*b.shrink()*k, Y: sketchHeight/2 - (p.Lat-midLat)*k, Label: label, Name: name}
}

// scale is a round distance of about a fifth of the drawing.
func (b *box) scale() *view.RoundScale {
	const kmPerDegree = 111.195 // of latitude, on a sphere of 6371 km
	unit := b.perDegree() / kmPerDegree
	for _, km := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100} {
		if km*unit > sketchWidth/8 {
			text := fmt.Sprintf("%g km", km)
			if km < 1 {
				text = fmt.Sprintf("%.0f m", km*1000)
			}
			return &view.RoundScale{Length: km * unit, Text: text}
		}
	}
	return nil
}
