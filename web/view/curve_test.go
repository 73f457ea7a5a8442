package view_test

import (
	"strings"
	"testing"

	"scaperound/web/view"
)

func TestCurveTellsEveryNumberInItsTable(t *testing.T) {
	var b strings.Builder
	if err := view.CurveFigure(nitrateCurve).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	html := b.String()
	for _, want := range []string{
		"10.0 mg/L, could be 7.0 to 13.0", "25.0 mg/L, could be above 18.0", "high, does not fit", "Water change, 60 L",
		"about 7.0, likely 3.0 to 11.0 mg/L", `href="/visits/3"`, "NO3: 5 readings; the last on Mon 23 Nov 2026, 11.0 mg/L, could be 8.0 to 14.0, in band",
	} {
		if !strings.Contains(html, want) {
			t.Errorf("the curve does not tell %q", want)
		}
	}
	if strings.Contains(html, "style=") || strings.Contains(html, "NaN") || strings.Contains(html, "Inf") {
		t.Error("the drawing carries a style or a number that is none")
	}
}

// A higher value stands higher, a later one further right, and what lies outside
// the drawing is held at its edge.
func TestCurveIsDrawnToScale(t *testing.T) {
	c := view.Curve{ID: "c", Label: "K", Days: 10, Points: []view.CurvePoint{{Day: -3, Value: 0}, {Day: 5, Value: 5}, {Day: 40, Value: 10}}}
	var b strings.Builder
	if err := view.CurveFigure(c).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	// The plot spans 14 to 662 across and 214 up to 26, as the axis says.
	if want := `d="M14.0 214.0L338.0 120.0L662.0 26.0"`; !strings.Contains(b.String(), want) {
		t.Errorf("the line is not %s in %s", want, b.String())
	}
}

func TestCurveOfNothingIsDrawn(t *testing.T) {
	for _, c := range []view.Curve{{}, {Points: []view.CurvePoint{{Value: 0}}}, {Days: 1, Lo: num(7), Hi: num(7)}, {Days: 2, Points: []view.CurvePoint{{Day: 1, Value: 1e-12}, {Day: 2, Value: 1e9}}}} {
		var b strings.Builder
		if err := view.CurveFigure(c).Render(t.Context(), &b); err != nil {
			t.Fatal(err)
		}
		if s := b.String(); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.Count(s, "curve-rung") > 12 {
			t.Errorf("%+v is drawn as %.600s", c, s)
		}
	}
}
