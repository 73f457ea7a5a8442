package calc

import (
	"strings"

	"scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Units beyond those of readings.
const (
	plain      quantity.Unit = quantity.ShareUnit
	mgNL       quantity.Unit = "mg N/L"
	molL       quantity.Unit = "mol/L"
	gPerL      quantity.Unit = "g/L"
	gPerG      quantity.Unit = "g/g"
	gPerMol    quantity.Unit = "g/mol"
	mgPerG     quantity.Unit = "mg/g"
	meqPerG    quantity.Unit = "meq/g"
	mgLDay     quantity.Unit = "mg/L/d"
	perDay     quantity.Unit = "1/d"
	perHour    quantity.Unit = "1/h"
	perMetre   quantity.Unit = "1/m"
	hour       quantity.Unit = "h"
	second     quantity.Unit = "s"
	week       quantity.Unit = "weeks"
	watt       quantity.Unit = "W"
	kelvin     quantity.Unit = "K"
	molM2D     quantity.Unit = "mol/m2/d"
	m2         quantity.Unit = "m2"
	kgPerM2    quantity.Unit = "kg/m2"
	kNPerM2    quantity.Unit = "kN/m2"
	kgPerM3    quantity.Unit = "kg/m3"
	kgPerL     quantity.Unit = "kg/L"
	kgDay      quantity.Unit = "kg/d"
	lDay       quantity.Unit = "L/d"
	perHundred quantity.Unit = "g/100 g"
	mgPerMg    quantity.Unit = "mg/mg"
	wm2K       quantity.Unit = "W/m2/K"
	mjKg       quantity.Unit = "MJ/kg"
	metreSec   quantity.Unit = "m/s"
)

// in makes a required number.
func in(key, title string, u quantity.Unit, aliases ...string) Input {
	out := Input{Key: key, Title: title, Unit: u, Aliases: aliases}
	switch u {
	case quantity.DKH, quantity.DGH:
		out.Hi = 200
	case quantity.MgL, mgNL, quantity.L, quantity.ML, quantity.Gr, quantity.Kg, quantity.CM, quantity.MM, quantity.USCm, quantity.Umol, quantity.LH, quantity.Day, quantity.PPMAir,
		quantity.M3, quantity.GramDay, m2, hour, second, gPerG, kgPerL, kgDay, lDay, watt, molM2D:
		out.Hi = noLimit // there is no less than nothing of it
	}
	return out
}

// noLimit stands where only the lower end is the definition's to say.
const noLimit = 1e12

// or makes it optional with a default.
func (in Input) or(v float64) Input {
	in.Optional, in.Default = true, quantity.Some(v)
	return in
}

// opt makes it optional without one.
func (in Input) opt() Input { in.Optional = true; return in }

// share makes it a part of a whole.
func (in Input) share() Input { in.Share = true; return in }

// yesNo makes it a question.
func (in Input) yesNo() Input { in.YesNo = true; return in }

// of says of what its mg/L are.
func (in Input) of(k quantity.Kind) Input { in.Kind = k; return in }

// many lets it hold several numbers.
func (in Input) many() Input { in.Shape = Numbers; return in }

func word(key, title string, choices ...string) Input {
	return Input{Key: key, Title: title, Shape: Word, Choices: choices}
}

// Inputs that many calculations share.
var (
	inT      = in("T_C", "temperature", quantity.DegC, "t", "temp")
	inPH     = in("pH", "pH", quantity.PHUnit, "ph")
	inKH     = in("KH_d", "carbonate hardness", quantity.DKH, "kh")
	inIonic  = in("I_mol_L", "ionic strength", molL, "ionic").or(0.005)
	inEC     = in("EC_uS_cm", "conductivity at 25 °C, in place of the ionic strength", quantity.USCm, "ec").opt()
	inHeight = in("altitude_m", "height above the sea", quantity.M, "altitude").or(0)
	inNet    = in("net_volume_L", "net volume", quantity.L, "net", "V_L")
)

// one answers with a value and its steps.
func one(v float64, steps ...Step) Answer { return Answer{Value: v, Steps: steps} }

// between adds an interval.
func (a Answer) between(lo, hi float64) Answer { a.Lo, a.Hi = lo, hi; return a }

// warn adds a sentence where it applies.
func (a Answer) warn(when bool, id string, args ...say.Arg) Answer {
	if when {
		a.Warn = append(a.Warn, say.S(id, args...))
	}
	return a
}

// step writes a line of the working. The template holds symbols in braces, which
// the pairs of symbol and number that follow fill in. A template
// that begins with ~ is words rather than a formula.
func step(name, template string, v float64, u quantity.Unit, pairs ...any) Step {
	words, isWords := strings.CutPrefix(template, "~")
	clean, filled := words, words
	for i := 0; i+1 < len(pairs); i += 2 {
		sym, _ := pairs[i].(string)
		var text string
		switch n := pairs[i+1].(type) {
		case float64:
			text = figure(n)
		case int:
			text = figure(float64(n))
		case string:
			text = n
		}
		if strings.HasPrefix(text, "-") {
			text = "(" + text + ")"
		}
		clean = strings.ReplaceAll(clean, "{"+sym+"}", sym)
		filled = strings.ReplaceAll(filled, "{"+sym+"}", text)
	}
	if isWords {
		clean = ""
	}
	return Step{Name: name, Formula: clean, Filled: filled, Value: v, Unit: u}
}

// String writes the step as a line: name = formula = numbers = value unit.
func (s Step) String() string {
	var b strings.Builder
	b.WriteString(s.Name)
	if s.Formula != "" {
		b.WriteString(" = " + s.Formula)
	}
	switch {
	case s.Formula == "" && s.Filled != "":
		b.WriteString(", " + s.Filled + ",")
	case s.Filled != s.Formula:
		b.WriteString(" = " + s.Filled)
	}
	b.WriteString(" = " + figure(s.Value))
	if sign := s.Unit.Sign(); sign != "" {
		b.WriteString(" " + sign)
	}
	return b.String()
}
