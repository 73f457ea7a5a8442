package web

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/web/view"
)

// checkLines are the systems check: what stands out, worst first, each in a
// sentence; what is fine is one line.
func checkLines(a care.Assessment, u say.Units) []view.VisitCheck {
	var out []view.VisitCheck
	for level := range 4 {
		for _, f := range a.Findings {
			if f.Urgency.Level() == level && f.State.Trouble() {
				c := view.VisitCheck{Text: say.Render(f.Say, u), Word: render(say.S("state."+string(f.State)), u), Inside: f.Audience == care.ForShop, Urgent: level <= 1}
				if f.Calc != nil {
					c.Arithmetic, c.Source, c.Bench = calcText(*f.Calc, u), f.Calc.Source, calcHref(f.Calc, u)
				}
				out = append(out, c)
			}
		}
	}
	for _, f := range a.Followed {
		out = append(out, view.VisitCheck{Text: say.Render(f.Say, u), Word: "followed up", Inside: true})
	}
	for _, s := range a.Separate {
		out = append(out, view.VisitCheck{Text: say.Render(s.Say, u), Word: "would tell", Inside: true})
	}
	for _, state := range []care.State{care.Fine, care.InBand, care.NotJudged, care.NotMeasured} {
		var names []string
		for _, s := range a.Systems {
			if s.State == state {
				names = append(names, render(say.S("{system}", say.Word("system", "system."+string(s.System))), u))
			}
		}
		if len(names) > 0 {
			out = append(out, view.VisitCheck{Text: say.JoinAnd(names), Word: render(say.S("state."+string(state)), u)})
		}
	}
	return out
}

// systemLines tell of every part of the tank how it stands, how sure that is,
// since when, and what would change it.
func systemLines(a care.Assessment, u say.Units) []view.VisitSystem {
	out := make([]view.VisitSystem, 0, len(a.Systems))
	for _, s := range a.Systems {
		line := view.VisitSystem{
			Name: upperFirst(render(say.S("{system}", say.Word("system", "system."+string(s.System))), u)),
			Word: render(say.S("state."+string(s.State)), u),
		}
		if s.Say.ID != "system.fine" && s.Say.ID != "system.not_measured" { // the word says as much
			line.Text = upperFirst(render(s.Say, u))
		}
		var more []string
		for _, m := range s.More {
			more = append(more, render(m, u))
		}
		line.More = strings.Join(more, " ")
		out = append(out, line)
	}
	return out
}

// bringLines is what the next visit needs, in one line.
func bringLines(a care.Assessment, u say.Units) []string {
	var things []string
	for _, x := range a.Next.Bring {
		things = append(things, render(say.S("{thing}", say.Word("thing", "bring."+x)), u))
	}
	if len(things) == 0 {
		return nil
	}
	return []string{"Bring " + say.JoinAnd(things) + "."}
}

func customerLines(a care.Assessment, u say.Units) []string {
	out := []string{}
	for _, l := range a.Customer {
		out = append(out, say.Render(l.Say, u))
	}
	for _, l := range a.Donts {
		out = append(out, say.Render(l.Say, u))
	}
	return out
}

// flagLines say what was noticed about the record itself.
func flagLines(rec visit.Record) []string {
	var out []string
	for _, f := range rec.Flags {
		what, detail, _ := strings.Cut(f, ":")
		switch what {
		case "clock":
			seconds, _ := strconv.Atoi(detail)
			out = append(out, fmt.Sprintf("The tablet’s clock was %s; times were corrected by that.", skewWords(seconds)))
		case "unlikely":
			out = append(out, "Unusual and not asked about, because there was no signal: "+fieldWords(detail)+".")
		case "ambiguous":
			out = append(out, "Could be read in two ways, and both are kept: "+fieldWords(detail)+".")
		case "task-withdrawn":
			out = append(out, "A task was answered that had been withdrawn meanwhile.")
		case "tank-changed":
			out = append(out, "The tank’s record was changed between the form and its arrival.")
		case "before-set-up":
			out = append(out, "The visit lies before the day on which the tank was set up.")
		case "tank-ended":
			out = append(out, "The tank had ended by then.")
		}
	}
	return out
}

func skewWords(seconds int) string {
	way := "fast"
	if seconds < 0 {
		way, seconds = "slow", -seconds
	}
	if seconds < 120 {
		return fmt.Sprintf("%d seconds %s", seconds, way)
	}
	return fmt.Sprintf("%d minutes %s", (seconds+30)/60, way)
}

func fieldWords(field string) string {
	parts := strings.Split(field, ".")
	if len(parts) == 3 && parts[0] == "reading" {
		m, _ := q.MeasureOf(q.Kind(parts[1]))
		if when := phaseWords[visit.Phase(parts[2])]; when != "" {
			return m.Title + " " + when
		}
		return m.Title
	}
	return field
}

func sinceLines(rec visit.Record) []string {
	var out []string
	for _, s := range rec.Since {
		line := sinceWords[s.What]
		if s.Note != "" {
			line += ": " + s.Note
		}
		out = append(out, line)
	}
	if rec.Doses.How != "" {
		for _, o := range betweenChoices {
			if o.Value == rec.Doses.How {
				out = append(out, "Doses: "+strings.ToLower(o.Label))
			}
		}
	}
	return out
}

func seenLines(rec visit.Record) []string {
	var out []string
	for _, l := range looks {
		switch rec.Looks[l.id] {
		case visit.Fine:
			out = append(out, l.title+": "+strings.ToLower(l.fine))
		case visit.Trouble:
			out = append(out, l.title+": "+strings.ToLower(l.trouble))
		default:
			out = append(out, l.title+": not looked at")
		}
	}
	for _, s := range rec.Signs {
		line := visit.SignTitle(s.ID)
		for _, more := range []string{s.Place, s.Extent} {
			if more != "" {
				line += ", " + more
			}
		}
		out = append(out, line)
	}
	if rec.EyeMark != "" {
		out = append(out, "Plants at the far end move "+eyeWords[rec.EyeMark])
	}
	return out
}

func workLines(rec visit.Record, u say.Units) []string {
	var out []string
	for _, w := range rec.Work {
		line := workForm[w.Kind].label
		if w.Kind == visit.Dose {
			m, _ := q.MeasureOf(q.Kind(w.Solute))
			line = "Dose of " + m.Title
		}
		for _, x := range []struct {
			o    q.Opt[float64]
			unit q.Unit
		}{{opt(w.Litres), q.L}, {opt(w.Grams), q.Gr}, {opt(w.Ml), q.ML}, {w.Time, q.Minute}} {
			if x.o.OK {
				line += ", " + figure(x.o.V, x.unit, u)
			}
		}
		for _, more := range []string{w.Part, w.Note} {
			if more != "" {
				line += ", " + more
			}
		}
		out = append(out, line)
	}
	for _, m := range rec.Movements {
		out = append(out, fmt.Sprintf("%+d %s%s", m.N, groupName(m.Group), bracketed(m.Species)))
	}
	return out
}

func opt[T ~float64](o q.Opt[T]) q.Opt[float64] { return q.Opt[float64]{V: float64(o.V), OK: o.OK} }

func bracketed(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}

func groupName(id string) string {
	for _, gs := range [][]tank.Group{tank.AnimalGroups, tank.PlantGroups} {
		for _, g := range gs {
			if g.ID == id {
				return g.Name
			}
		}
	}
	return id
}

// stillToPour is the recipe of a change that the visit did not make.
func stillToPour(rec visit.Record, c care.Recipe, u say.Units) []string {
	if _, done := rec.Did(visit.WaterChange); done {
		return nil
	}
	return care.RecipeLines(c, u)
}

// typedText is a number as it was typed, with its unit where that was not typed
// along with it.
func typedText(x visit.Reading) string {
	if strings.ContainsFunc(x.Typed, unicode.IsLetter) || strings.ContainsAny(x.Typed, "°%") {
		return x.Typed
	}
	return strings.TrimSpace(x.Typed + " " + x.TypedUnit.Sign())
}

// rawLines are all readings as they were typed, with what they can mean.
func rawLines(rec visit.Record, u say.Units) []view.VisitRaw {
	var out []view.VisitRaw
	for _, x := range rec.Readings {
		m, _ := q.MeasureOf(x.Kind)
		line := view.VisitRaw{Label: m.Title, When: phaseWords[x.Phase], Typed: typedText(x), Means: meaningText(x, u)}
		switch x.TypedUnit {
		case visit.CountedDrops:
			line.Typed = plural(atoi(x.Typed), "drop", "drops")
		case visit.KitClass:
			line.Typed = strings.Replace(x.Typed, "..", " to ", 1) + " on the card"
		}
		out = append(out, line)
	}
	for i, pt := range rec.PPFD {
		out = append(out, view.VisitRaw{Label: "PPFD, point " + strconv.Itoa(i+1), Means: figure(float64(pt.PPFD), q.Umol, u)})
	}
	for _, b := range rec.Buckets {
		out = append(out, view.VisitRaw{Label: "Bucket", When: string(b.Phase) + " cleaning", Typed: figure(float64(b.Litres), q.L, u) + " in " + figure(float64(b.Seconds), "s", u), Means: figure(float64(b.Litres)/float64(b.Seconds)*3600, q.LH, u)})
	}
	return out
}

func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}
