package forecast

// What is expected of a tank before it has shown anything, and how fast its
// ways change. Practice and judgement where no source is named; the readings
// soon outweigh all of it.

// offset is c0 of ln(c + c0), mg/L: about what a kit of the kind no longer tells
// from nothing.
var offset = [nutrient]float64{0.5, 0.05, 0.5, 0.006}

// half is where plants take up half of what they could, mg/L.
var half = [nutrient]float64{0.5, 0.06, 0.5, 0.01}

// appetite is the plants' uptake where there is plenty, mg/L a day: without and
// with CO2. NO3 to PO4 to K follow critical tissue contents (Gerloff and
// Krombholz 1966), the amounts weekly recipes of the trade; iron is 0.2 to 0.6 mg
// to a gram of plant, of which a dense tank makes some 0.03 g a litre in a day.
var appetite = [nutrient][2]float64{{0.5, 1.3}, {0.05, 0.12}, {0.085, 0.28}, {0.006, 0.016}}

// In mg per gram of dry feed.
const (
	feedMgPO4 = 15.0 // 1.0 to 1.5 % P, about half released
	feedMgK   = 8.0
)

// numbers are standard deviations unless they say otherwise. "Daily" ones grow
// with the root of days.
type numbers struct {
	Appetite, AppetiteShared   float64 // ln, of each alone and of all together
	Drift, DriftShared         float64 // daily, ln
	Jolt                       [nutrient]float64
	FeedNO3, FeedPO4           float64 // ln
	FeedUnknown                float64 // ln, where it is not on record
	FeedDrift, FeedJolt        float64
	Loss, LossMedian           float64 // ln; 1/d: between 0.1 and 0.5
	LossDrift                  float64
	Given, GivenOwner          float64 // ln
	GivenOwnerMean             float64
	GivenDrift                 float64
	Report                     [4]float64 // interval noise: doser, as planned, unknown, some missed
	SomeMissed                 float64    // ln, mean
	Change                     float64    // ln of the share changed
	EvapMedian, Evap           float64
	Stray                      [moves]float64 // per root of a week, of what moves; ln for nutrients
	Kit                        [moves]float64
	KitNoise                   [nutrient]float64
	KitFloor                   [nutrient]float64
	DropNoise, DropShare       float64
	DriftK, DriftKWalk         float64 // mg/L a day
	DriftGH, DriftKH           float64 // °d a day
	DriftGHWalk, DriftKHWalk   float64
	Sink                       float64
	SourceNO3, SourceHard      float64            // share of the value
	SourceWalk                 float64            // daily, share of the value
	Wrong                      float64            // probability of a wrong reading
	Spread                     [moves + 1]float64 // by which an answer's interval is set wider or narrower than the filter's own
	FlowClean, FlowRate        float64
	FlowRateWalk, FlowNoise    float64
	FlowRateMedian, FlowReset  float64
	FlowStray                  float64
	Fouling, FoulingSD         float64 // ln, lost for good from one cleaning to the next
	CylRate, CylRateMedian     float64
	CylWalk, CylScale, CylTurn float64
}

var usual = numbers{
	Appetite: 0.45, AppetiteShared: 0.35, Drift: 0.02, DriftShared: 0.03, Jolt: [nutrient]float64{0.2, 0.2, 0.1, 0.1},
	FeedNO3: 0.35, FeedPO4: 0.5, FeedUnknown: 1.2, FeedDrift: 0.015, FeedJolt: 0.12,
	Loss: 0.5, LossMedian: 0.25, LossDrift: 0.02,
	Given: 0.08, GivenOwner: 0.25, GivenOwnerMean: -0.15, GivenDrift: 0.005,
	Report: [4]float64{0.06, 0.15, 0.18, 0.2}, SomeMissed: -0.15,
	Change: 0.07, EvapMedian: 0.003, Evap: 0.6,
	Stray: [moves]float64{0.02, 0.04, 0.02, 0.04, 0.05, 0.03},
	Kit:   [moves]float64{0.08, 0.09, 0.09, 0.1, 0.025, 0.015}, KitNoise: [nutrient]float64{0.15, 0.15, 0.1, 0.2}, KitFloor: [nutrient]float64{0.4, 0.03, 0.5, 0.008},
	DropNoise: 0.15, DropShare: 0.005,
	DriftK: 0.03, DriftKWalk: 0.001,
	DriftGH: 0.009, DriftKH: 0.012, DriftGHWalk: 0.0007, DriftKHWalk: 0.0012, Sink: 0.35,
	SourceNO3: 0.12, SourceHard: 0.04, SourceWalk: 0.006, Wrong: 0.03,
	Spread:    [moves + 1]float64{1, 1.05, 0.93, 0.8, 1.02, 0.83, 0.9},
	FlowClean: 0.06, FlowRate: 0.4, FlowRateWalk: 0.008, FlowNoise: 0.037, FlowRateMedian: 0.0085, FlowReset: 0.015, FlowStray: 0.012, Fouling: 0.035, FoulingSD: 0.02,
	CylRate: 0.6, CylRateMedian: 0.012, CylWalk: 0.008, CylScale: 0.0085, CylTurn: 0.06,
}
