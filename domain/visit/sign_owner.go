package visit

// signsOfOwner are the signs of the owner.
var signsOfOwner = []SignDef{
	{"owner_worried_by_a_reading", SignOwner, OnOwner, "Worried by a figure"},
	{"owner_wants_animals_now", SignOwner, OnOwner, "Wants animals this week"},
	{"owner_wants_redder_plants", SignOwner, OnOwner, "Hopes for redder plants"},
	{"owner_wants_more_of_everything", SignOwner, OnOwner, "Wants more of everything"},
	{"owner_asks_for_algicide", SignOwner, OnOwner, "Asks for an algae killer"},
	{"owner_asks_for_peroxide", SignOwner, OnOwner, "Asks for peroxide"},
	{"owner_asks_for_antibiotic", SignOwner, OnOwner, "Wants an antibiotic"},
	{"owner_asks_for_ammonium", SignOwner, OnOwner, "Asks for ammonium or urea"},
	{"owner_asks_for_new_media", SignOwner, OnOwner, "Asks for all new filter media"},
	{"owner_blames_the_stock", SignOwner, OnOwner, "Puts it down to the animals"},
	{"owner_says_cylinder_full", SignOwner, OnOwner, "Sure that the cylinder is full"},
	{"owner_feeds_several_times_a_day", SignOwner, OnOwner, "Feeds again and again each day"},
	{"owner_tops_off_with_tap", SignOwner, OnOwner, "Tops off from the tap"},
}
