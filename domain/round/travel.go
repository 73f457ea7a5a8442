package round

import "math"

// clock is how driving goes through the hours of a day. A second of driving at
// pace p does 10000·100/p parts of a second's way at pace 100, rounded down;
// a way of n seconds is done with n·10000 parts. So times are whole numbers, and
// who leaves later never arrives earlier.
type clock struct {
	flat  bool
	parts [hoursKept]int64     // per second, in each hour
	each  [hoursKept]float64   // seconds for a part
	since [hoursKept + 1]int64 // parts done from midnight to the hour's start
}

const (
	hoursKept  = 48 // a day that runs late still has a pace: that of pace 100
	partsPerS  = 10000
	never      = Seconds(math.MaxInt32 / 4) // later than any day
	beforeTime = -never
)

func newClock(pace [24]int) clock {
	c := clock{flat: true}
	for h := range c.parts {
		p := 100
		if h < 24 && pace[h] > 0 {
			p = min(max(pace[h], 10), 1000)
		}
		c.flat = c.flat && p == 100
		c.parts[h] = int64(partsPerS * 100 / p)
		c.each[h] = 1 / float64(c.parts[h])
		c.since[h+1] = c.since[h] + 3600*c.parts[h]
	}
	return c
}

func (c *clock) hour(t Seconds) int { return min(max(int(t/Hour), 0), hoursKept-1) }

// arrive is the first second by which a way that takes drive at pace 100 is
// done when it is begun at t.
func (c *clock) arrive(t, drive Seconds) Seconds {
	if c.flat || t >= never || drive == 0 {
		return t + drive
	}
	h := c.hour(t)
	if c.parts[h] == partsPerS && t >= 0 && t+drive <= Seconds(h+1)*Hour {
		return t + drive
	}
	goal := c.since[h] + int64(t-Seconds(h)*Hour)*c.parts[h] + int64(drive)*partsPerS
	for h < hoursKept-1 && c.since[h+1] < goal {
		h++
	}
	return Seconds(h)*Hour + Seconds(c.over(goal-c.since[h]+c.parts[h]-1, h))
}

// leave is the last second at which a way can be begun that is to be done by t.
func (c *clock) leave(t, drive Seconds) Seconds {
	if c.flat || t <= beforeTime || drive == 0 {
		return t - drive
	}
	h := c.hour(t)
	if c.parts[h] == partsPerS && t < Seconds(h+1)*Hour && t-drive >= Seconds(h)*Hour {
		return t - drive
	}
	goal := c.since[h] + int64(t-Seconds(h)*Hour)*c.parts[h] - int64(drive)*partsPerS
	for h > 0 && c.since[h] > goal {
		h--
	}
	d := goal - c.since[h]
	if d < 0 {
		return Seconds(h)*Hour - Seconds(c.over(-d+c.parts[h]-1, h))
	}
	return Seconds(h)*Hour + Seconds(c.over(d, h))
}

// over is n parts divided by those of a second of the hour, rounded down: the
// division of whole numbers, by way of a product, which is quicker.
func (c *clock) over(n int64, h int) int64 {
	d := int64(float64(n) * c.each[h])
	if d*c.parts[h] > n {
		return d - 1
	}
	if (d+1)*c.parts[h] <= n {
		return d + 1
	}
	return d
}

// The default of driving where nothing better is known: the great circle, a
// little longer by road, at the speeds of a town.
const (
	earthRadiusM = 6_371_008.8 // mean radius, IUGG
	roadFactor   = 1.35
	nearMPerS    = 6.5  // over the first nearM: streets and lights
	farMPerS     = 14.0 // beyond: roads between places
	nearM        = 4000.0
	pullOutS     = 60 // to get in, out and going, where the way is not nothing
)

// DefaultPace is how long driving takes by the hour, in percent of the default
// speeds: slow in the two rush hours of a town.
func DefaultPace() [24]int {
	p := [24]int{}
	for h := range p {
		p[h] = 100
	}
	p[7], p[8], p[9] = 120, 135, 115
	p[15], p[16], p[17], p[18] = 110, 125, 135, 115
	return p
}

// GreatCircle works out driving from positions: the great-circle distance times
// a road factor, at speeds that grow with the way, slower in rush hours. A
// place without a position is reached from nowhere: its ways are zero and no
// stop is planned there.
func GreatCircle(places []Place) Travel {
	n := len(places)
	t := Travel{Drive: make([]Seconds, n*n), Metres: make([]int32, n*n), Pace: DefaultPace()}
	at := make([][3]float64, n)
	for i, p := range places {
		at[i] = onSphere(p)
	}
	for i := range places {
		for j := range i {
			if places[i].Unknown || places[j].Unknown {
				continue
			}
			m := roadFactor * arc(at[i], at[j])
			s := min(m, nearM)/nearMPerS + max(m-nearM, 0)/farMPerS
			if m >= 1 {
				s += pullOutS
			}
			s = min(s, float64(24*Hour))
			t.Drive[i*n+j], t.Metres[i*n+j] = Seconds(s+0.5), int32(min(m, 5e7)+0.5)
			t.Drive[j*n+i], t.Metres[j*n+i] = t.Drive[i*n+j], t.Metres[i*n+j]
		}
	}
	return t
}

// onSphere is the unit vector of a place.
func onSphere(p Place) [3]float64 {
	if p.Unknown {
		return [3]float64{1, 0, 0}
	}
	lat, lon := p.Lat*math.Pi/180, p.Lon*math.Pi/180
	return [3]float64{cosine(lat) * cosine(lon), cosine(lat) * sine(lon), sine(lat)}
}

// arc is the great-circle distance of two unit vectors in metres, from the
// chord: good for near points and for far ones.
func arc(a, b [3]float64) float64 {
	x, y, z := a[0]-b[0], a[1]-b[1], a[2]-b[2]
	return earthRadiusM * 2 * arcsine(min(math.Sqrt(x*x+y*y+z*z)/2, 1))
}

// sine by its series, after the angle is brought into a quarter turn; the
// compiler's own differs between targets in the last bits.
func sine(x float64) float64 {
	x -= 2 * math.Pi * math.Round(x/(2*math.Pi))
	switch {
	case x > math.Pi/2:
		x = math.Pi - x
	case x < -math.Pi/2:
		x = -math.Pi - x
	}
	sum, term := x, x
	for k := 2.0; k < 24; k += 2 {
		term *= -x * x / (k * (k + 1))
		sum += term
	}
	return sum
}

func cosine(x float64) float64 { return sine(math.Pi/2 - x) }

// arcsine for 0 to 1 by its series; the upper half by halving the angle.
func arcsine(x float64) float64 {
	if x > 0.5 {
		return math.Pi/2 - 2*arcsine(math.Sqrt((1-x)/2))
	}
	sum, term := x, x
	for k := 1.0; k < 60; k += 2 {
		term *= x * x * k / (k + 1)
		sum += term / (k + 2)
	}
	return sum
}
