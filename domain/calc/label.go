package calc

import (
	"scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
)

// Label is what stands on a stock bottle or on a can of change water.
type Label struct {
	Title      say.Sentence
	Lines      []say.Sentence // what is in it, and how it is used
	Statements []string       // hazards in the words of the regulation
	Cautions   []say.Sentence
}

// Labelled reports whether something can be labelled by this calculation.
func (d *Def) Labelled() bool { return d.Name == "stock" || d.Name == "change_water" }

// Label makes the label of what the inputs say. The fault is that of Run.
func (d *Def) Label(raw map[string]Value) (Label, error) {
	a, err := d.Run(raw)
	if err != nil {
		return Label{}, err
	}
	args, err := d.take(raw)
	if err != nil {
		return Label{}, err
	}
	var l Label
	var salts []*salt.Salt
	if d.Name == "stock" {
		l, salts, err = stockLabel(args, a)
	} else {
		l, salts, err = canLabel(args)
	}
	if err != nil {
		return Label{}, err
	}
	said := map[string]bool{}
	for _, s := range salts {
		for _, code := range s.Statements {
			if text, ok := salt.Statement(code); ok && !said[text] {
				said[text] = true
				l.Statements = append(l.Statements, text)
			}
		}
	}
	for _, w := range cautions(Answer{}, salts...).Warn {
		// What the law asks of the shop's books is nothing for a bottle.
		if w.ID != "caution."+string(salt.ReportLosses) && w.ID != "caution."+string(salt.NoFoodBottles) {
			if len(salts) == 1 {
				w = say.S(w.ID, say.Text("salt", "this")) // the title names it
			}
			l.Cautions = append(l.Cautions, w)
		}
	}
	return l, nil
}

// stockLabel is that of a bottle.
func stockLabel(a Args, ans Answer) (Label, []*salt.Salt, error) {
	s, err := salt.Find(a.Word("salt", ""))
	if err != nil {
		return Label{}, nil, err
	}
	dose, size := a.F("dose_mL"), a.F("bottle_L")
	return Label{
		Title: say.S("label.stock", say.Text("salt", upperFirst(s.Name))),
		Lines: []say.Sentence{
			say.S("label.stock.holds", say.Num("g", ans.Value, quantity.Gr, gramDigits(ans.Value)), say.Text("formula", s.ID), say.Num("size", size*1000, quantity.ML, 0)),
			say.S("label.stock.dose", say.Num("ml", dose, quantity.ML, mlDigits(dose)), say.Text("of", a.Word("of", "")), say.Num("rise", a.F("rise"), quantity.MgL, 2), say.Num("net", a.F("net_volume_L"), quantity.L, 0)),
			say.S("label.stock.doses", say.Num("n", size*1000/dose, quantity.ShareUnit, 0), say.Num("coldest", a.F("coldest_C"), quantity.DegC, 0)),
		},
	}, []*salt.Salt{s}, nil
}

// canLabel is that of change water.
func canLabel(a Args) (Label, []*salt.Salt, error) {
	o, err := orderOf(a)
	if err != nil {
		return Label{}, nil, err
	}
	w, err := salt.Mix(o)
	if err != nil {
		return Label{}, nil, err
	}
	l := Label{
		Title: say.S("label.can", say.Num("litres", float64(o.Litres), quantity.L, 0)),
		Lines: []say.Sentence{say.S("label.can.hardness", say.Num("gh", float64(w.GH), quantity.DGH, 1), say.Num("kh", float64(w.KH), quantity.DKH, 1))},
	}
	if w.Tap > 0 {
		l.Lines = append(l.Lines, say.S("label.can.blend", say.Num("tap", float64(w.Tap), quantity.L, 1), say.Num("ro", float64(w.RO), quantity.L, 1)))
	} else {
		l.Lines = append(l.Lines, say.S("label.can.pure", say.Num("ro", float64(w.RO), quantity.L, 1)))
	}
	var salts []*salt.Salt
	for _, x := range w.Weigh {
		if x.Mass > 0 {
			salts = append(salts, x.Salt)
			l.Lines = append(l.Lines, say.S("label.can.salt", say.Num("g", float64(x.Mass), quantity.Gr, gramDigits(float64(x.Mass))), say.Text("name", x.Salt.Name), say.Text("formula", x.Salt.ID)))
		}
	}
	if w.Slow {
		l.Lines = append(l.Lines, say.S("label.can.slow"))
	}
	l.Lines = append(l.Lines, say.S("label.can.warm"))
	return l, salts, nil
}

// gramDigits are as many digits as a balance shows of such an amount.
func gramDigits(g float64) int {
	switch {
	case g < 10:
		return 2
	case g < 100:
		return 1
	}
	return 0
}

func mlDigits(ml float64) int {
	if ml < 10 {
		return 1
	}
	return 0
}
