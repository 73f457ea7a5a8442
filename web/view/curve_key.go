package view

import "slices"

// curveKey is one line of the legend: a mark as it is drawn, and what it stands for.
type curveKey struct {
	Class, Box string
	Strokes    []curveStroke
	Title      string
}

type curveStroke struct{ Class, Path string }

// curveKeys explains the marks that the curves carry, and no other.
func curveKeys(all []Curve) []curveKey {
	var out []curveKey
	point := func(title string, s Standing, odd bool) {
		path, hollow := markAt(s, 12, 12)
		k := curveKey{Box: "0 0 24 24", Strokes: []curveStroke{{"curve-shape", path}}, Title: title}
		if hollow || odd {
			k.Class = "hollow"
		}
		out = append(out, k)
	}
	for _, s := range []struct {
		state Standing
		title string
	}{{InBand, "in band"}, {Low, "below the band"}, {High, "above it"}, {Retest, "the kit cannot tell"}, {NotJudged, "not judged"}} {
		if anyPoint(all, func(p CurvePoint) bool { return p.State == s.state && !p.Odd }) {
			point(s.title, s.state, false)
		}
	}
	if anyPoint(all, func(p CurvePoint) bool { return p.Odd }) {
		point("hollow: does not fit what was done since", InBand, true)
	}
	if slices.ContainsFunc(all, func(c Curve) bool { return len(c.Ahead) > 1 }) {
		out = append(out, curveKey{Box: "0 0 40 24", Strokes: []curveStroke{{"curve-fan", "M2 10L38 2V22L2 14Z"}, {"curve-middle", "M2 12H38"}},
			Title: "what is to be expected: the dashes are the middle, and in eight cases of ten it stays within the fan"})
	}
	for _, m := range []struct{ kind, title string }{{MarkChange, "water changed"}, {MarkDose, "dosed"}, {MarkClean, "filter cleaned"}, {MarkOther, "other work"}} {
		if slices.ContainsFunc(all, func(c Curve) bool {
			return slices.ContainsFunc(c.Marks, func(x CurveMark) bool { return x.Kind == m.kind })
		}) {
			out = append(out, curveKey{Class: "mark-" + m.kind, Box: "0 216 24 24", Strokes: []curveStroke{{"curve-shape", markShape(m.kind, 12)}}, Title: m.title})
		}
	}
	return out
}

func anyPoint(all []Curve, is func(CurvePoint) bool) bool {
	return slices.ContainsFunc(all, func(c Curve) bool { return slices.ContainsFunc(c.Points, is) })
}
