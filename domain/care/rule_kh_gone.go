package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var ruleKHGone = Rule{
	Meta: Meta{
		ID: "kh_gone", Title: "KH used up", System: Water, Evidence: "A",
		Why:    "Nitrification takes two equivalents of alkalinity per mole of nitrogen and stalls without it. The ammonia that then gathers is harmless at a low pH and deadly once KH and pH are lifted: it is brought down first.",
		Source: "Brewer and Goldman 1976 for the balance; Emerson et al. 1975; mass balance of the mixture",
	},
	Applies: func(v *View) Answer {
		if _, ok := v.Tank(q.KH); !ok {
			return Unmeasured
		}
		if b := v.bandOf(q.KH); b.Lo.OK && b.Lo.V <= 0 && !v.Fact("tan_present") && (v.Injected || v.softShrimp()) || v.softAndSound() {
			return NotApplicable // soft on purpose
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		kh, _ := v.Tank(q.KH)
		b := v.bandOf(q.KH)
		stalled := v.Fact("kh_gone") && (v.Fact("tan_present") || v.Fact("ph_crashed"))
		if !stalled && !(kh.Value < noTankKH) && !(b.Lo.OK && b.Lo.V > 0 && kh.Hi < b.Lo.V) {
			return nil
		}
		_, tanRead := v.Tank(q.TAN)
		f := Finding{State: Low, Urgency: ThisVisit, Calc: v.held(kh, 1, "balance of nitrification"), Say: say.S("find.kh_gone", say.Reading("kh", q.KH, kh.Value))}
		switch {
		case v.Animals && v.Fact("tan_present"):
			f.Urgency = Today
			f.Say.ID = "find.kh_gone.ammonia"
			f.Wishes = all(
				v.changeWishes(v.changeUnderAmmonia("wc_30_50"), "why.ph_up_frees_ammonia"),
				do(RankAnimals, "predict_nh3_before_change", "feed_less", "no_new_animals", "test_nh3_no2"),
				ban(RankAnimals, "why.ph_up_frees_ammonia", "kh_up_fast", "kh_up_slow"), noMoreLoad())
		case v.Animals && !tanRead:
			f.Urgency = Today
			f.Say.ID = "find.kh_gone.test_first"
			f.Wishes = v.testThenChange()
		default:
			if v.Fact("tan_zero") && !v.distressed() {
				f.Urgency = Routine // the filter works and nobody suffers
			}
			f.Wishes = all(
				[]Wish{{Action: "kh_up_slow", Rank: RankAnimals, Amount: v.khSalt(0.5)}}, do(RankAnimals, "test_source"),
				when(v.Animals, ban(RankAnimals, "why.small_steps", "kh_up_fast", "wc_large_once")))
		}
		return found(f)
	},
}

// khSalt is potassium bicarbonate for a rise of KH.
func (v *View) khSalt(rise float64) []Amount {
	if !v.Net.OK {
		return nil
	}
	return v.forHardness(0, rise)
}

// softAndSound reports animals that are kept without KH in water whose filter works
// all the same: neither ammonia nor nitrite is there.
func (v *View) softAndSound() bool {
	b := v.bandOf(q.KH)
	return v.Animals && b.Lo.OK && b.Lo.V <= 0 && v.Fact("tan_zero") && v.Fact("no2_zero")
}
