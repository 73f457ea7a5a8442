package store

import (
	"context"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

const sourceColumns = `v.ph, v.kh_d, v.gh_d, v.ca_mg_l, v.mg_mg_l, v.na_mg_l, v.k_mg_l, v.no3_mg_l, v.po4_mg_l, v.cl_mg_l, v.so4_mg_l, v.fe_mg_l,
v.ec_us_cm, v.winter_min_c, v.disinfectant, v.disinfectant_mg_l, v.softener, v.note`

// sourceKinds are what the number columns of sourceColumns hold, in their order.
var sourceKinds = []q.Kind{q.Acidity, q.KH, q.GH, q.Calcium, q.Magnesium, q.Sodium, q.Potassium, q.Nitrate, q.Phosphate, q.Chloride, q.Sulfate, q.Iron, q.EC}

// sourceRow is a source water and, where there is one, its version.
type sourceRow struct {
	tank.Source
	numbers      [13]q.Opt[float64]
	disinfectant string
	strength     q.Opt[float64]
	softener     q.Opt[bool]
}

// targets are where sourceColumns are scanned to.
func (w *sourceRow) targets() []any {
	var to []any
	for i := range w.numbers {
		to = append(to, maybe(&w.numbers[i]))
	}
	return append(to, maybe(&w.WinterMin), textOr(&w.disinfectant), maybe(&w.strength), maybeBool(&w.softener), textOr(&w.Note))
}

func (w *sourceRow) source() tank.Source {
	s := w.Source
	for i, n := range w.numbers {
		if n.OK {
			s.Values = append(s.Values, tank.Known{Kind: sourceKinds[i], Value: n.V})
		}
	}
	s.Disinfectant = tank.DisinfectantNotKnown
	if w.disinfectant != "" {
		s.Disinfectant = tank.Disinfectant(w.disinfectant)
	}
	if w.strength.OK {
		s.Values = append(s.Values, tank.Known{Kind: q.TotalChlorine, Value: w.strength.V})
	}
	s.Softener = w.softener.V
	return s
}

// CreateSource makes a source water of a site, or of the shop where site is
// empty, and returns its id. It has no values until AddSourceVersion.
func CreateSource(ctx context.Context, tx Tx, by, id, site, name string, kind tank.SourceKind) (string, error) {
	if id == "" {
		id = NewID()
	}
	_, err := tx.Exec(ctx, `INSERT INTO source_water (id, site, name, kind, created_at) VALUES ($1, $2, $3, $4, $5)`,
		id, nullText(site), name, kind, tx.Now)
	if err != nil {
		return "", asFault(err)
	}
	return id, Audit(ctx, tx, by, "made", "source", id, nil, map[string]any{"Site": site, "Name": name, "Kind": kind})
}

// AddSourceVersion writes down what the source water is since then, whole:
// the known values, the winter minimum, disinfectant and softener. A value of
// kind TotalChlorine is the disinfectant's strength in mg/L as Cl2.
func AddSourceVersion(ctx context.Context, tx Tx, by, sourceID string, since time.Time, s tank.Source) error {
	since, err := datedRow(ctx, tx, sourceRows, sourceID, since)
	if err != nil {
		return err
	}
	if s.Disinfectant == "" {
		s.Disinfectant = tank.DisinfectantNotKnown
	}
	args := []any{NewID(), sourceID, since, tx.Now, nullText(by)}
	for _, k := range sourceKinds {
		args = append(args, null(s.Get(k)))
	}
	args = append(args, null(s.WinterMin), s.Disinfectant, null(s.Get(q.TotalChlorine)), s.Softener, s.Note)
	_, err = tx.Exec(ctx, `
INSERT INTO source_version (id, source, since, recorded_at, author, ph, kh_d, gh_d, ca_mg_l, mg_mg_l, na_mg_l, k_mg_l, no3_mg_l, po4_mg_l,
    cl_mg_l, so4_mg_l, fe_mg_l, ec_us_cm, winter_min_c, disinfectant, disinfectant_mg_l, softener, note)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23)`, args...)
	if err != nil {
		return asFault(err)
	}
	return Audit(ctx, tx, by, "measured", "source", sourceID, nil, withSince(s, since))
}
