package round

// model is a problem as the search reads it: numbers in flat lists. A node is
// one person's part of a stop, so a job for two has two nodes; after the nodes
// come the points where shifts start and end.
type model struct {
	p    *Problem
	w    Weights
	clk  clock
	said notes

	nodes                     int     // parts of stops
	points                    int     // nodes, and starts and ends
	stopOf                    []int32 // stop of a node
	twin                      []int32 // the other node of a job for two, or -1
	work                      []Seconds
	load                      [][2]int32
	last                      []bool // must be the last of its route
	absent                    []int64
	drive                     []Seconds // points*points
	metres                    []int32
	cars                      []car
	cost                      []int32   // node*len(cars)+car: what going there costs beside driving; forbid where it must not be
	spans                     []span    // times in which the work may begin
	spanOf                    []uint32  // node*Days+day: where its spans start; the next entry is their end
	order                     []int32   // nodes, the most pressing first
	window                    []window  // day*nodes+node, where a shift is simple
	into                      []Seconds // drive the other way round: into[b*points+a] is from a to b
	near                      [][]int32 // the other nodes, the nearest first
	kin                       [][]int32 // the other nodes that go well before or after it, the best first; where all shifts cost the same
	out, width, opens, closes []uint32  // of nodes, to sort by: the way from the first start, and windows
	choice                    []uint32  // of a node, to sort by: see compileChoice
	keptApart                 bool
	carsOn                    [][]int32   // by day
	rivals                    [][]int32   // by shift: others that have its van at the same time; nil where there are none
	tried                     [][]int32   // by node: shifts, the cheapest first; nil where all cost the same
	half                      []int32     // of a node of a job for two: counts these
	meanOut                   int         // 64ths of a node that are taken out at a step on average
	daysOf                    [][]dayCost // by the first node of a job for two, the cheapest first
	halves                    int
	slowest                   bool // no hour is faster than pace 100
	twins                     bool
	breaks                    bool
	loads                     bool
	uneven                    bool
	days                      int
	free                      int32 // a node, plus one, that explain lets begin at any time from freeFrom on
	freeFrom                  Seconds
	byStop                    map[string]int
	persons                   map[string]int
}

// window is the time in which work may begin on a day, and how long it takes;
// many where not each second of it will do.
type window struct {
	lo, hi, work Seconds
	many         bool
}

// dayCost is what a job for two costs on a day at least, beside driving.
type dayCost struct {
	day           int
	least, leastA int64 // of both halves; of the first
}

const forbid = int32(-1)

// maxCost bounds one stop's cost on one day, so that sums stay far from overflow.
const maxCost = 1 << 30

func compile(p *Problem) *model {
	m := &model{p: p, w: p.Weights, byStop: map[string]int{}, persons: map[string]int{}}
	if m.w == (Weights{}) {
		m.w = DefaultWeights()
	}
	m.days = min(max(p.Days, 0), 62)
	for i := range p.People {
		if _, twice := m.persons[p.People[i].ID]; !twice {
			m.persons[p.People[i].ID] = i
		}
	}
	travel := p.Travel
	if len(travel.Drive) != len(p.Places)*len(p.Places) {
		travel = GreatCircle(p.Places)
	}
	m.clk = newClock(travel.Pace)
	m.compileCars()
	m.compileRivals()
	m.compileNodes()
	m.compileDrive(travel)
	m.compileSpans()
	m.compileCosts()
	m.compileOrder()
	m.compileSearch()
	return m
}

// compileDrive lays out driving between nodes, and renumbers the places where
// shifts start and end as points behind the nodes.
func (m *model) compileDrive(t Travel) {
	places := make([]int, m.nodes)
	for v, s := range m.stopOf {
		places[v] = m.p.Stops[s].Place
	}
	point := map[int32]int32{}
	for i := range m.cars {
		c := &m.cars[i]
		for _, end := range []*int32{&c.start, &c.end} {
			at, ok := point[*end]
			if !ok {
				at = int32(len(places))
				point[*end] = at
				places = append(places, int(*end))
			}
			*end = at
		}
	}
	m.points = len(places)
	m.drive, m.metres = make([]Seconds, m.points*m.points), make([]int32, m.points*m.points)
	n := len(m.p.Places)
	for a, i := range places {
		for b, j := range places {
			if i != j && m.usable(i) && m.usable(j) {
				m.drive[a*m.points+b] = min(max(t.Drive[i*n+j], 0), 24*Hour)
				if len(t.Metres) == n*n {
					m.metres[a*m.points+b] = t.Metres[i*n+j]
				}
			}
		}
	}
}
