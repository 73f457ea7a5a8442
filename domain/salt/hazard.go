package salt

// Statement returns the text of a hazard statement of the salts here, as the
// regulation words it; false for a code that no salt here has.
//
// Source: Regulation (EC) 1272/2008, annex III.
func Statement(code string) (string, bool) {
	s, ok := statements[code]
	return s, ok
}

var statements = map[string]string{
	"H272":   "May intensify fire; oxidiser.",
	"H302":   "Harmful if swallowed.",
	"H315":   "Causes skin irritation.",
	"H318":   "Causes serious eye damage.",
	"H319":   "Causes serious eye irritation.",
	"H335":   "May cause respiratory irritation.",
	"H360FD": "May damage fertility. May damage the unborn child.",
	"H373":   "May cause damage to organs through prolonged or repeated exposure.",
	"H410":   "Very toxic to aquatic life with long lasting effects.",
	"H411":   "Toxic to aquatic life with long lasting effects.",
}

// Caution is an id of what to heed when handling a salt.
type Caution string

// Cautions, in the order in which they are said.
const (
	KeepFromFuel   Caution = "keep_from_fuel"  // oxidiser: away from sugar, urea, organics, acids
	EyesAndHands   Caution = "eyes_and_hands"  // goggles, gloves
	SaltIntoWater  Caution = "salt_into_water" // slowly: it heats or is caustic
	NotInDrains    Caution = "not_in_drains"   // toxic to water life
	TrainedOnly    Caution = "trained_only"    // reproductive toxin: not for customers, not when pregnant
	ReportLosses   Caution = "report_losses"   // suspicious sales and thefts are reported in the EU
	NoFoodBottles  Caution = "no_food_bottles" // label; never in a drink bottle
	HoursToResolve Caution = "hours_to_dissolve"
	DarkBottle     Caution = "dark_bottle" // light destroys iron chelates
	NotWithAnimals Caution = "not_with_animals"
)

// Cautions returns what to heed. The supplier's safety data sheet rules.
func (s *Salt) Cautions() []Caution {
	var out []Caution
	has := func(codes ...string) bool {
		for _, c := range codes {
			for _, st := range s.Statements {
				if st == c {
					return true
				}
			}
		}
		return false
	}
	add := func(when bool, c Caution) {
		if when {
			out = append(out, c)
		}
	}
	add(s.Has(Ammonium), NotWithAnimals)
	add(has("H360FD"), TrainedOnly)
	add(s.Has(Oxidiser), KeepFromFuel)
	add(has("H315", "H318", "H319", "H335"), EyesAndHands)
	add(s.Has(Caustic) || s.Has(HeatsWhenDissolved), SaltIntoWater)
	add(has("H410", "H411"), NotInDrains)
	add(s.Has(Reports), ReportLosses)
	add(s.Has(SlowToDissolve), HoursToResolve)
	add(s.Has(Chelate), DarkBottle)
	return append(out, NoFoodBottles)
}
