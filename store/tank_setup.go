package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

const setupColumns = `s.since, s.length_cm, s.width_cm, s.height_cm, s.level_cm, s.metered_l, s.substrate, s.substrate_cm, s.porosity,
s.stone_kg, s.wood_kg, s.light, s.light_on_minute, s.light_hours, s.light_percent, s.filter, s.filter_clean_lh, s.filter_l,
s.heater, s.heater_w, s.target_c, s.co2_injected, s.co2_on_minute, s.co2_hours, s.cylinder_kg, s.cylinder_tare_kg,
s.topoff, s.planting, s.drain_line, s.drain_line_l, s.can_l, s.note`

// scanSetup reads setupColumns, and whatever the query selects behind them,
// into the parts of s that a set-up row holds.
func scanSetup(row pgx.CollectableRow, s *tank.Setup, more ...any) error {
	return row.Scan(append([]any{&s.Since, maybe(&s.Length), maybe(&s.Width), maybe(&s.Height), maybe(&s.Level), maybe(&s.Metered),
		&s.Substrate, maybe(&s.SubstrateDepth), maybe(&s.Porosity), maybe(&s.Stone), maybe(&s.Wood),
		&s.Light.Name, maybeInt(&s.Light.On), maybe(&s.Light.Hours), maybe(&s.Light.Percent),
		&s.Filter.Name, maybe(&s.Filter.Clean), maybe(&s.Filter.Volume),
		&s.Heater.Name, maybe(&s.Heater.Power), maybe(&s.Heater.Target),
		&s.CO2.Injected, maybeInt(&s.CO2.On), maybe(&s.CO2.Hours), maybe(&s.CO2.Cylinder), maybe(&s.CO2.Tare),
		&s.Topoff, &s.Planting, &s.DrainLine, maybe(&s.DrainLitres), maybe(&s.CanLitres), &s.Note}, more...)...)
}

// AddSetup writes down what the tank is since then: the whole of shape, light,
// filter, heater, CO2, topping off, planting, marks and note. The rest of s is
// not looked at.
func AddSetup(ctx context.Context, tx Tx, by, tankID string, since time.Time, s tank.Setup) error {
	since, err := datedRow(ctx, tx, setupRows, tankID, since)
	if err != nil {
		return err
	}
	s = withDefaults(s)
	before, had, err := setupBefore(ctx, tx, tankID, since)
	if err != nil {
		return err
	}
	const sql = `
INSERT INTO tank_setup (id, tank, since, recorded_at, author,
    length_cm, width_cm, height_cm, level_cm, metered_l, substrate, substrate_cm, porosity,
    stone_kg, wood_kg, light, light_on_minute, light_hours, light_percent, filter, filter_clean_lh, filter_l,
    heater, heater_w, target_c, co2_injected, co2_on_minute, co2_hours, cylinder_kg, cylinder_tare_kg,
    topoff, planting, drain_line, drain_line_l, can_l, note)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22,
    $23, $24, $25, $26, $27, $28, $29, $30, $31, $32, $33, $34, $35, $36)`
	_, err = tx.Exec(ctx, sql, NewID(), tankID, since, tx.Now, nullText(by),
		null(s.Length), null(s.Width), null(s.Height), null(s.Level), null(s.Metered), s.Substrate, null(s.SubstrateDepth), null(s.Porosity),
		null(s.Stone), null(s.Wood), s.Light.Name, null(s.Light.On), null(s.Light.Hours), null(s.Light.Percent),
		s.Filter.Name, null(s.Filter.Clean), null(s.Filter.Volume),
		s.Heater.Name, null(s.Heater.Power), null(s.Heater.Target), s.CO2.Injected, null(s.CO2.On), null(s.CO2.Hours), null(s.CO2.Cylinder), null(s.CO2.Tare),
		s.Topoff, s.Planting, s.DrainLine, null(s.DrainLitres), null(s.CanLitres), s.Note)
	if err != nil {
		return asFault(err)
	}
	var was any
	if had {
		was = setupFacts(before, before.Since)
	}
	return Audit(ctx, tx, by, "set up", "tank", tankID, was, setupFacts(s, since))
}

// withDefaults gives what has no "not known" of its own its usual value.
func withDefaults(s tank.Setup) tank.Setup {
	if s.Substrate == "" {
		s.Substrate = tank.SubstrateUnknown
	}
	if s.Topoff == "" {
		s.Topoff = tank.TopoffNone
	}
	if s.Planting == "" {
		s.Planting = tank.PlantingMedium
	}
	return s
}

// setupBefore is the set-up in force just before the moment.
func setupBefore(ctx context.Context, db Querier, tankID string, at time.Time) (s tank.Setup, had bool, err error) {
	rows, err := db.Query(ctx, `SELECT `+setupColumns+` FROM tank_setup s WHERE tank = $1 AND since < $2 ORDER BY since DESC LIMIT 1`, tankID, at)
	if err != nil {
		return s, false, asFault(err)
	}
	defer rows.Close()
	for rows.Next() {
		had = true
		if err := scanSetup(rows, &s); err != nil {
			return s, false, asFault(err)
		}
	}
	return s, had, asFault(rows.Err())
}

// setupFacts is what a set-up row holds, for the audit.
func setupFacts(s tank.Setup, since time.Time) tank.Setup {
	return tank.Setup{Since: since, Note: s.Note, Shape: s.Shape, Light: s.Light, Heater: s.Heater,
		Filter: tank.Filter{Name: s.Filter.Name, Clean: s.Filter.Clean, Volume: s.Filter.Volume},
		CO2:    tank.CO2{Injected: s.CO2.Injected, On: s.CO2.On, Hours: s.CO2.Hours, Cylinder: s.CO2.Cylinder, Tare: s.CO2.Tare},
		Topoff: s.Topoff, Planting: s.Planting, DrainLine: s.DrainLine, DrainLitres: s.DrainLitres, CanLitres: s.CanLitres}
}
