package tank

import (
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

// A number is a measure of a form and where its value lies in a record.
type number[R any] struct {
	typed.Measure
	get func(*R) q.Opt[float64]
	set func(*R, q.Opt[float64])
}

// in ties a measure to the place in the record.
func in[R any, T ~float64](name, what string, d typed.Dimension, possible, likely q.Range, at func(*R) *q.Opt[T]) number[R] {
	return number[R]{
		typed.Measure{Name: name, What: what, Dim: d, Possible: possible, Likely: likely},
		func(r *R) q.Opt[float64] { return typed.Float(*at(r)) },
		func(r *R, v q.Opt[float64]) { *at(r) = typed.As[T](v) },
	}
}

// readNumbers reads each number of the form into r; was is what the form was
// drawn with.
func readNumbers[R any](f *typed.Form, numbers []number[R], r, was *R) {
	for _, n := range numbers {
		n.set(r, f.Number(n.Measure, n.get(was)))
	}
}

// showNumbers writes each number as its field shows it, with its unit.
func showNumbers[R any](f Shown, numbers []number[R], r *R) {
	for _, n := range numbers {
		f.Text[n.Name] = n.Dim.Show(n.get(r), f.Units)
		f.Text[n.Name+".unit"] = string(n.Dim.Units(f.Units.System)[0])
	}
}

// measures lists what may be typed in which units.
func measures[R any](numbers []number[R]) []typed.Measure {
	out := make([]typed.Measure, len(numbers))
	for i, n := range numbers {
		out[i] = n.Measure
	}
	return out
}
