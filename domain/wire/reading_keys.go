package wire

import (
	"strings"

	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// readingKey is one name of a reading in a document.
type readingKey struct {
	Key   string
	Kind  q.Kind
	Phase visit.Phase
}

// readingKeys are the short names of readings; every other pair is written
// KIND.PHASE, such as no3.dosed. Values are in the canonical unit of the kind.
var readingKeys = []readingKey{
	{"bag_ec_us_cm", q.EC, visit.Bag},
	{"bag_gh_d", q.GH, visit.Bag},
	{"bag_kh_d", q.KH, visit.Bag},
	{"bag_ph", q.Acidity, visit.Bag},
	{"bag_tds_mg_l", q.TDS, visit.Bag},
	{"bag_temp_c", q.Temperature, visit.Bag},
	{"ca_mg_l", q.Calcium, visit.Before},
	{"cl_mg_l", q.Chloride, visit.Before},
	{"co2_bubbles_per_min", q.CO2Bubbles, visit.Before},
	{"co2_indicator_kh_d", q.IndicatorKH, visit.Setting},
	{"co2_indicator_ph", q.IndicatorPH, visit.Before},
	{"co2_mg_l", q.CO2, visit.Before},
	{"co2_use_g_day", q.CO2Use, visit.Between},
	{"cu_mg_l", q.Copper, visit.Before},
	{"cylinder_gross_kg", q.CylinderGross, visit.Before},
	{"cylinder_missing_kg", q.CylinderLoss, visit.Before},
	{"ec_us_cm", q.EC, visit.Before},
	{"evaporation_l_week", q.Evaporation, visit.Between},
	{"fe_mg_l", q.Iron, visit.Before},
	{"feed_g_day", q.Feed, visit.Between},
	{"flow_after_cleaning_l_h", q.Flow, visit.After},
	{"flow_clean_l_h", q.Flow, visit.Clean},
	{"flow_l_h", q.Flow, visit.Before},
	{"flow_percent_of_clean", q.FlowShare, visit.Before},
	{"free_chlorine_mg_l", q.FreeChlorine, visit.Before},
	{"gas_total_percent", q.GasTotal, visit.Before},
	{"gauge_bar", q.Gauge, visit.Before},
	{"gh_d", q.GH, visit.Before},
	{"k_mg_l", q.Potassium, visit.Before},
	{"kh_d", q.KH, visit.Before},
	{"last_change_days_ago", q.ChangeDaysAgo, visit.LastChange},
	{"last_change_fraction", q.ChangeFraction, visit.LastChange},
	{"level_drop_mm", q.LevelDrop, visit.Before},
	{"mg_mg_l", q.Magnesium, visit.Before},
	{"na_mg_l", q.Sodium, visit.Before},
	{"no2_mg_l", q.Nitrite, visit.Before},
	{"no3_mg_l", q.Nitrate, visit.Before},
	{"oxygen_late_percent", q.OxygenShare, visit.Late},
	{"oxygen_mg_l", q.Oxygen, visit.Before},
	{"oxygen_morning_mg_l", q.Oxygen, visit.Morning},
	{"oxygen_morning_percent", q.OxygenShare, visit.Morning},
	{"oxygen_percent", q.OxygenShare, visit.Before},
	{"ph", q.Acidity, visit.Before},
	{"ph_after_change", q.Acidity, visit.After},
	{"ph_degassed", q.Acidity, visit.Degassed},
	{"ph_late", q.Acidity, visit.Late},
	{"ph_morning", q.Acidity, visit.Morning},
	{"ph_night", q.Acidity, visit.Night},
	{"po4_mg_l", q.Phosphate, visit.Before},
	{"ppfd_max_umol_m2_s", q.PPFDMax, visit.Before},
	{"ppfd_min_umol_m2_s", q.PPFDMin, visit.Before},
	{"ppfd_umol_m2_s", q.PPFD, visit.Before},
	{"room_co2_ppm", q.CO2Air, visit.InRoom},
	{"room_temp_c", q.Temperature, visit.InRoom},
	{"sio2_mg_l", q.Silicate, visit.Before},
	{"so4_mg_l", q.Sulfate, visit.Before},
	{"source_ca_mg_l", q.Calcium, visit.FromSource},
	{"source_cu_mg_l", q.Copper, visit.FromSource},
	{"source_ec_us_cm", q.EC, visit.FromSource},
	{"source_free_chlorine_mg_l", q.FreeChlorine, visit.FromSource},
	{"source_gh_d", q.GH, visit.FromSource},
	{"source_kh_d", q.KH, visit.FromSource},
	{"source_mg_mg_l", q.Magnesium, visit.FromSource},
	{"source_na_mg_l", q.Sodium, visit.FromSource},
	{"source_no2_mg_l", q.Nitrite, visit.FromSource},
	{"source_no3_mg_l", q.Nitrate, visit.FromSource},
	{"source_ph", q.Acidity, visit.FromSource},
	{"source_ph_degassed", q.Acidity, visit.SourceDegassed},
	{"source_po4_mg_l", q.Phosphate, visit.FromSource},
	{"source_report_no3_mg_l", q.Nitrate, visit.SourceReport},
	{"source_report_no3_n_mg_l", q.NitrateN, visit.SourceReport},
	{"source_tan_mg_n_l", q.TAN, visit.FromSource},
	{"source_tds_mg_l", q.TDS, visit.FromSource},
	{"source_temp_c", q.Temperature, visit.FromSource},
	{"source_total_chlorine_mg_l", q.TotalChlorine, visit.FromSource},
	{"stray_voltage_v", q.StrayVoltage, visit.Before},
	{"tan_mg_n_l", q.TAN, visit.Before},
	{"tds_mg_l", q.TDS, visit.Before},
	{"temp_after_change_c", q.Temperature, visit.After},
	{"temp_c", q.Temperature, visit.Before},
	{"temp_max_c", q.TempMax, visit.Between},
	{"temp_min_c", q.TempMin, visit.Between},
	{"temp_morning_c", q.Temperature, visit.Morning},
	{"total_chlorine_mg_l", q.TotalChlorine, visit.Before},
	{"working_pressure_bar", q.WorkPressure, visit.Before},
	{"zn_mg_l", q.Zinc, visit.Before},
}

var readingByKey = func() map[string]readingKey {
	m := make(map[string]readingKey, len(readingKeys))
	for _, k := range readingKeys {
		m[k.Key] = k
	}
	return m
}()

// readingOf finds what a key names.
func readingOf(key string) (readingKey, bool) {
	if k, ok := readingByKey[key]; ok {
		return k, true
	}
	kind, phase, ok := strings.Cut(key, ".")
	if !ok {
		return readingKey{}, false
	}
	if _, known := q.MeasureOf(q.Kind(kind)); !known {
		return readingKey{}, false
	}
	for _, p := range visit.Phases {
		if string(p) == phase {
			return readingKey{key, q.Kind(kind), p}, true
		}
	}
	return readingKey{}, false
}
