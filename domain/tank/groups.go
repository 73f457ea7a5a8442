package tank

// Group is a group of plants or animals that behaves alike for judgement.
type Group struct{ ID, Name string }

// PlantGroups in the order of the form.
var PlantGroups = []Group{
	{"stems", "Stem plants"}, {"fast_stems", "Fast stem plants"}, {"red_stems", "Red stem plants"},
	{"soft_leaved_stems", "Soft-leaved stem plants"}, {"demanding_stems", "Demanding stem plants"},
	{"carpet", "Carpet plants"}, {"grasses", "Grass-like plants"}, {"strap_leaves", "Strap-leaved plants"},
	{"swords", "Sword plants"}, {"cryptocoryne", "Cryptocorynes"}, {"slow_rosettes", "Slow rosette plants"},
	{"epiphytes", "Epiphytes on wood or stone"}, {"ferns", "Ferns"}, {"moss", "Mosses"}, {"liverworts", "Liverworts"},
	{"floating", "Floating plants"}, {"lily_bulbs", "Lilies and bulbs"}, {"mixed", "Mixed planting"},
}

// AnimalGroups in the order of the form.
var AnimalGroups = []Group{
	{"tetras", "Tetras"}, {"tetras_sensitive", "Soft-water tetras, sensitive"}, {"rasboras", "Rasboras and small danios"},
	{"small_fish", "Small fish"}, {"livebearers", "Livebearers"}, {"labyrinth_fish", "Labyrinth fish"},
	{"dwarf_cichlids", "Dwarf cichlids"}, {"catfish", "Small bottom catfish"}, {"loaches", "Loaches"},
	{"algae_grazers", "Algae-grazing fish"}, {"hardy_fish", "Hardy fish"}, {"community", "Mixed community"},
	{"tropical_community", "Warm-water community"}, {"bee_shrimp", "Soft-water dwarf shrimp"},
	{"dwarf_shrimp", "Dwarf shrimp"}, {"snails", "Snails"},
}

// Invertebrate reports whether the animal group is shrimp or snails.
func Invertebrate(group string) bool {
	return group == "bee_shrimp" || group == "dwarf_shrimp" || group == "snails"
}

// Shrimp reports whether the animal group is dwarf shrimp.
func Shrimp(group string) bool { return group == "bee_shrimp" || group == "dwarf_shrimp" }

// KnownGroup reports whether the id is a group of plants or animals.
func KnownGroup(id string) bool {
	for _, gs := range [][]Group{PlantGroups, AnimalGroups} {
		for _, g := range gs {
			if g.ID == id {
				return true
			}
		}
	}
	return false
}
