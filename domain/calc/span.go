package calc

import (
	"math"
	"slices"
	"strconv"

	"scaperound/domain/fault"
)

// Span is where an input may lie, the other inputs being what they are.
type Span struct {
	Lo, Hi float64 // an end that was not found is infinite
	OK     bool    // false where nothing that was tried is taken
}

const (
	spanEnd   = 1e7 // beyond it an input is not said to be bounded
	spanTurns = 40  // halvings of an interval, to a part in a million million
)

// Span finds where one number may lie by asking the calculation itself, so that
// what the bench says of an input cannot differ from what is computed. Inputs that
// raw lacks are taken from the example. Between two values that are taken, all are.
func (d *Def) Span(key string, raw map[string]Value) Span {
	in := d.named(key)
	if in == nil || in.Shape != Number && in.Shape != Numbers {
		return Span{}
	}
	vals := d.Example()
	for k, v := range raw {
		if other := d.named(k); other != nil {
			vals[other.Key] = v
		}
	}
	takes := func(v float64) bool {
		vals[in.Key] = d.withOne(in, vals[in.Key], v)
		_, err := d.Run(vals)
		return err == nil
	}
	from, ok := d.start(in, vals, takes)
	if !ok {
		return Span{}
	}
	s := Span{Lo: math.Inf(-1), Hi: math.Inf(1), OK: true}
	for step, last := math.Max(1, math.Abs(from)), from; last < spanEnd; step *= 4 {
		if next := from + step; takes(next) {
			last = next
		} else {
			s.Hi = inward(edge(last, next, takes), takes, -1)
			break
		}
	}
	switch {
	case !takes(0) && from > 0:
		s.Lo = inward(edge(from, 0, takes), takes, 1)
	case !takes(-1e-9):
		s.Lo = 0
	default:
		for step, last := 1.0, math.Min(0, from); last > -spanEnd; step *= 4 {
			if next := math.Min(0, from) - step; takes(next) {
				last = next
			} else {
				s.Lo = inward(edge(last, next, takes), takes, 1)
				break
			}
		}
	}
	return s
}

// withOne puts a number in the place of the value, or of one of several.
func (d *Def) withOne(in *Input, was Value, v float64) Value {
	if in.Shape == Number || len(was.Nums) < 2 {
		return Num(v)
	}
	nums := slices.Clone(was.Nums)
	nums[len(nums)-1] = v
	return Value{Nums: nums}
}

// start is a value that is taken: the one that is there, or the example's.
func (d *Def) start(in *Input, vals map[string]Value, takes func(float64) bool) (float64, bool) {
	var tries []float64
	for _, v := range []Value{vals[in.Key], d.Example()[in.Key]} {
		if n := len(v.Nums); n > 0 {
			tries = append(tries, v.Nums[n-1])
		}
	}
	for _, v := range append(tries, in.Default.V, 1, 0, 0.1, 6.5, 7, 10, 25, 100) {
		if takes(v) {
			return v, true
		}
	}
	return 0, false
}

// edge is the last value towards no that is taken, yes being one that is.
func edge(yes, no float64, takes func(float64) bool) float64 {
	for range spanTurns {
		middle := yes + (no-yes)/2
		if takes(middle) {
			yes = middle
		} else {
			no = middle
		}
	}
	return yes
}

// inward rounds an end to few digits so that it is still taken; way is 1 for the
// lower end and -1 for the upper one.
func inward(v float64, takes func(float64) bool, way float64) float64 {
	for digits := 1; digits <= 6; digits++ {
		r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
		if err == nil && takes(r) && math.Abs(r-v) <= 1e-6*math.Max(1e-3, math.Abs(v)) {
			return r
		}
	}
	if v == 0 {
		return 0
	}
	// Four digits, pushed inward by more than they may be rounded by.
	r, err := strconv.ParseFloat(strconv.FormatFloat(v+way*math.Abs(v)*5e-4, 'g', 4, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// Blame puts a fault of the whole beside the input that causes it: the one that,
// put back to the example's value, lets the rest through. A fault that names its
// inputs, or that no single one causes, stays as it is.
func (d *Def) Blame(raw map[string]Value, err error) error {
	f := fault.Of(err)
	if err == nil || len(f.Fields) > 0 || f.Kind != fault.Invalid {
		return err
	}
	example := d.Example()
	var culprits []string
	for i := range d.In {
		in := &d.In[i]
		was, given := raw[in.Key]
		if !given {
			continue
		}
		tried := make(map[string]Value, len(raw))
		for k, v := range raw {
			tried[k] = v
		}
		if v, ok := example[in.Key]; ok {
			tried[in.Key] = v
		} else if in.Optional {
			delete(tried, in.Key)
		} else {
			continue
		}
		if _, err := d.Run(tried); err == nil && !same(was, tried[in.Key]) {
			culprits = append(culprits, in.Key)
		}
	}
	if len(culprits) != 1 {
		return err
	}
	var fields fault.Fields
	fields.Add(culprits[0], fault.Impossible, "%s", f.Msg)
	return &fault.Error{Kind: fault.Invalid, Msg: f.Msg, Fields: fields, Err: f.Err}
}

func same(a, b Value) bool { return slices.Equal(a.Nums, b.Nums) && slices.Equal(a.Words, b.Words) }
