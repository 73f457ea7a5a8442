package web

import (
	"math"
	"strings"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/share"
	"scaperound/domain/shop"
	"scaperound/domain/wire"
	"scaperound/static"
	"scaperound/web/view"
)

// readSheet reads a given sheet's frozen document, of whatever version.
func readSheet(g share.Given) (care.Sheet, error) {
	s, err := wire.DecodeSheet([]byte(g.Document))
	if err != nil {
		return s, fault.Wrap(fault.Internal, err, "This sheet cannot be read. It is kept as it was.")
	}
	return s, nil
}

// sheetView is a sheet as a page and on paper.
func sheetView(s care.Sheet, l view.Local, shopOf shop.Settings) view.Sheet {
	v := view.Sheet{
		Shop: s.Shop, Phone: s.Phone, Dial: dial(s.Phone), Mail: s.Mail, Tank: s.Tank, Customer: s.Customer, By: s.By,
		Day: l.Day(s.Day), Top: s.Top, Standing: statusWords[s.Status], Calls: s.Status == care.PleaseDo,
		Done: s.Done, Note: paragraphs(s.Note), NextText: s.NextText,
		Letter: shopOf.Paper == shop.Letter, Lang: shopOf.Locale,
		Assets: assets, Style: static.Path("sheet.css"),
	}
	if s.Next.OK {
		v.Next = l.Day(s.Next.V)
	}
	if s.Replaces.OK {
		v.Replaces = l.Day(s.Replaces.V)
	}
	for _, x := range s.Lines {
		line := view.SheetLine{Icon: iconOf(x.Icon), Text: x.Text}
		if x.Day.OK {
			line.Day = x.Day.V.Weekday().String()
		}
		v.Lines = append(v.Lines, line)
	}
	for _, x := range s.Donts {
		v.Donts = append(v.Donts, x.Text)
	}
	for _, f := range s.Figures {
		v.Figures = append(v.Figures, sheetStrip(f, shopOf))
	}
	return v
}

var statusWords = map[care.Status]string{care.AllWell: "All is well", care.Watching: "We are watching something", care.PleaseDo: "Please do this today"}

func paragraphs(s string) []string {
	var out []string
	for line := range strings.SplitSeq(s, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			out = append(out, line)
		}
	}
	return out
}

// dial is a number as a tel: address takes it.
func dial(phone string) string {
	var b strings.Builder
	for _, r := range phone {
		if r >= '0' && r <= '9' || r == '+' && b.Len() == 0 {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// iconOf chooses the little drawing beside a line from the action it is about.
func iconOf(action string) string {
	switch {
	case strings.Contains(action, "feed"):
		return "feed"
	case strings.HasPrefix(action, "wc_"), strings.Contains(action, "change"):
		return "change"
	case strings.HasPrefix(action, "dose_"), strings.HasPrefix(action, "salt"):
		return "dose"
	case strings.HasPrefix(action, "topoff"):
		return "top-up"
	case strings.HasPrefix(action, "light"):
		return "light"
	}
	return "note"
}

var sheetMarks = map[care.State]view.Standing{
	care.InBand: view.InBand, care.Low: view.Low, care.High: view.High, care.Retest: view.Retest, care.Borderline: view.Retest, care.NotDue: view.NotDue,
}

func sheetStrip(f care.Figure, shopOf shop.Settings) view.Strip {
	m, _ := q.MeasureOf(f.Kind)
	end := func(o q.Opt[float64]) *float64 {
		if !o.OK || math.IsInf(o.V, 0) || math.IsNaN(o.V) {
			return nil
		}
		return view.Figure(o.V)
	}
	return view.Strip{
		Label: f.Title, Unit: f.Unit, Word: f.StateText, State: sheetMarks[f.State], Value: view.Figure(f.Value),
		From: end(f.Lo), To: end(f.Hi), Lo: end(f.BandLo), Hi: end(f.BandHi), Last: end(f.Previous),
		Digits: m.DecimalsAt(f.Value), Comma: shopOf.DecimalMark() == ",",
	}
}

// stripOf is one reading of an assessment against its band, for the shop.
func stripOf(s care.Strip, u say.Units) view.Strip {
	m, _ := q.MeasureOf(s.Kind)
	end := func(v float64) *float64 {
		if math.IsInf(v, 0) || math.IsNaN(v) {
			return nil
		}
		return view.Figure(v)
	}
	opt := func(o q.Opt[float64]) *float64 {
		if !o.OK {
			return nil
		}
		return end(o.V)
	}
	out := view.Strip{
		Label: m.Title, Unit: m.Unit.Sign(), Word: say.Render(say.S("state."+string(s.State)), u), State: sheetMarks[s.State],
		Value: view.Figure(s.Value.Value), From: end(s.Value.Lo), To: end(s.Value.Hi), Lo: opt(s.Band.Lo), Hi: opt(s.Band.Hi), Last: opt(s.Previous),
		Digits: m.DecimalsAt(s.Value.Value), Comma: u.Decimal == ',',
	}
	if u.System == say.US && m.Unit == q.DegC {
		out.Unit, out.Digits = q.DegF.Sign(), 0
		for _, p := range []*float64{out.Value, out.From, out.To, out.Lo, out.Hi, out.Last} {
			if p != nil {
				*p = *p*9/5 + 32
			}
		}
	}
	return out
}
