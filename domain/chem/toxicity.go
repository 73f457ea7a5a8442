package chem

// What half of the animals, or half of the growth, does not survive, mg/L. They
// say why biocides and copper are refused where shrimp live: algae are not the
// more sensitive ones.
//
// Sources: S. P. P. Pereira et al. (2014) for glutaraldehyde; R. Yang et al.
// (2008) for copper.
const (
	GlutaraldehydeZebrafish   = 5.5    // LC50, 96 h, adult Danio
	GlutaraldehydeDaphnia     = 6.6    // EC50, 48 h
	GlutaraldehydeFairyShrimp = 3.6    // EC50, 24 h, Thamnocephalus
	GlutaraldehydeLemna       = 73.8   // EC50, 7 d
	CopperShrimp              = 0.0313 // LC50, 96 h, Macrobrachium nipponense
)

// Growth rates of 14 submerged plants at saturating carbon and 14.4 mol/m²/d, per
// day.
//
// Source: S. L. Nielsen and K. Sand-Jensen (1991), Aquatic Botany 39, 109-122.
const (
	FastestMacrophyte = 0.109
	SlowestMacrophyte = 0.007
)
