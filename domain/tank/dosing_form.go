package tank

import (
	"strconv"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/typed"

	q "scaperound/domain/quantity"
)

// Solutes that a plan may dose, in the order of the form: the ion that counts.
var Solutes = []q.Kind{q.Nitrate, q.Phosphate, q.Potassium, q.Iron, q.Magnesium, q.Calcium}

// Choices of the dosing form.
var (
	DosingHows = []Group{{"doser", "Doser"}, {"pump", "Pump strokes"}, {"spoon", "Spoon"}, {"hand", "Measured by hand"}}
	DosingBy   = []Group{{"customer", "Customer"}, {"device", "Device"}, {"shop", "Shop"}}
)

// SpareLines are the blank lines below a plan, and MaxLines is how many a form
// may send.
const (
	SpareLines = 3
	MaxLines   = 24
)

func dosingNumbers() []number[DosingLine] {
	return []number[DosingLine]{
		in("ml", "The amount of solution", typed.SmallDose, span(0.001, 10000), span(0.05, 200), func(l *DosingLine) *q.Opt[q.Millilitre] { return &l.MlPerDose }),
		in("stroke", "A pump stroke", typed.SmallDose, span(0.01, 500), span(0.3, 10), func(l *DosingLine) *q.Opt[q.Millilitre] { return &l.MlPerStroke }),
	}
}

var dosePerDay = typed.Measure{Name: "mg", What: "The dose", Dim: typed.Dimension{Scales: []typed.Scale{{Unit: "mg", Factor: 1}, {Unit: q.Gr, Factor: 1e3}}}, Possible: span(0, 1e6), Likely: span(0.05, 20000)}

// DosingField is the name of a field of one line.
func DosingField(line int, name string) string { return "line." + strconv.Itoa(line) + "." + name }

// inLine is the measure in one line of the form.
func inLine(m typed.Measure, line int) typed.Measure {
	m.Name = DosingField(line, m.Name)
	return m
}

// ParseDosing reads the form of the plan. Lines are numbered from 0; the first
// that holds nothing at all is passed over, and so are those behind the last. A
// line that was emptied is no longer in the plan. was is what the form was
// drawn with.
func ParseDosing(f *typed.Form, was Plan) []DosingLine {
	var out []DosingLine
	for i := range MaxLines {
		if f.Get(DosingField(i, "mg")) == "" && f.Get(DosingField(i, "solute")) == "" && f.Get(DosingField(i, "note")) == "" {
			continue
		}
		var old DosingLine
		if i < len(was.Lines) {
			old = was.Lines[i]
		}
		out = append(out, parseDosingLine(f, i, old))
	}
	return out
}

func parseDosingLine(f *typed.Form, i int, old DosingLine) DosingLine {
	var l DosingLine
	name := func(n string) string { return DosingField(i, n) }
	l.Solute = typed.Must(f, name("solute"), Solutes, "Choose what is dosed.")
	mg := f.Number(inLine(dosePerDay, i), q.Opt[float64]{V: float64(old.PerDose), OK: old.PerDose > 0})
	if !mg.OK && len(f.Faults.On(name("mg"))) == 0 {
		f.Faults.Add(name("mg"), fault.Missing, "Type how much goes in at one dose.")
	}
	l.PerDose = q.Milligram(mg.V)
	l.Weekdays = readWeekdays(f.Get(name("days")))
	if l.Weekdays == 0 {
		f.Faults.Add(name("days"), fault.Missing, "Choose the days on which it is dosed.")
	}
	l.Minute = f.Clock(name("at"))
	l.How = typed.Choice(f, name("how"), ByHand, idsOf[DosingHow](DosingHows), "Choose how it is dosed.")
	l.ByWhom = typed.Choice(f, name("by"), "shop", idsOf[string](DosingBy), "Choose who doses.")
	for _, n := range dosingNumbers() {
		n.set(&l, f.Number(inLine(n.Measure, i), n.get(&old)))
	}
	l.Note = f.Line(name("note"), 200)
	if l.How == ByPump && !l.MlPerStroke.OK && len(f.Faults.On(name("stroke"))) == 0 {
		f.Faults.Add(name("stroke"), fault.Missing, "Type how many mL one stroke gives; weigh ten strokes if nobody knows.")
	}
	return l
}

// readWeekdays turns "1\n3\n5" into bits; Monday is 1.
func readWeekdays(text string) uint8 {
	var bits uint8
	for part := range strings.SplitSeq(text, "\n") {
		if n, err := strconv.Atoi(strings.TrimSpace(part)); err == nil && n >= 1 && n <= 7 {
			bits |= 1 << (n - 1)
		}
	}
	return bits
}

// On reports whether the line is given on the weekday, 1 for Monday to 7.
func (l DosingLine) On(weekday int) bool { return l.Weekdays>>(weekday-1)&1 == 1 }

// Strokes is how many pump strokes make one dose, where that is known.
func (l DosingLine) Strokes() q.Opt[float64] {
	if !l.MlPerDose.OK || !l.MlPerStroke.OK || l.MlPerStroke.V <= 0 {
		return q.Opt[float64]{}
	}
	return q.Some(float64(l.MlPerDose.V / l.MlPerStroke.V))
}

// Show writes the plan as its form is drawn. The days of a line are in days,
// joined with line ends.
func (p Plan) Show(f Shown) Shown {
	for i, l := range p.Lines {
		set := func(name, text string) { f.Text[DosingField(i, name)] = text }
		set("solute", string(l.Solute))
		set("mg", dosePerDay.Dim.Show(q.Some(float64(l.PerDose)), f.Units))
		set("mg.unit", "mg")
		var days []string
		for d := 1; d <= 7; d++ {
			if l.On(d) {
				days = append(days, strconv.Itoa(d))
			}
		}
		set("days", strings.Join(days, "\n"))
		f.clock(DosingField(i, "at"), l.Minute)
		set("how", string(l.How))
		set("by", l.ByWhom)
		for _, n := range dosingNumbers() {
			set(n.Name, n.Dim.Show(n.get(&l), f.Units))
			set(n.Name+".unit", string(q.ML))
		}
		set("note", l.Note)
	}
	return f
}
