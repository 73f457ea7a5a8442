package say

// englishCustomer is what the care sheet says: plain words, no figures that could
// be held against anybody.
var englishCustomer = map[string]string{
	"plain.state.in_band": "as it should be", "plain.state.low": "on the low side", "plain.state.high": "on the high side", "plain.state.borderline": "about at its limit; the test is not finer",
	"plain.state.retest": "to be read again", "plain.state.not_judged": "not judged at this hour", "plain.state.fine": "as it should be",

	"top.all_well": "All is well.", "top.reading_again": "All in hand; one test is repeated next time.", "top.not_looked": "What we looked at is in order; we look at the rest next time.", "top.watching": "All in hand; we are watching {what}.", "top.seeing_to": "We are seeing to {what} now, and will let you know how it goes.", "top.looking_after": "We are looking after {what}.", "top.tending": "Nothing pressing; we are looking after {what}.", "top.please_do": "Please do this today.", "top.please_keep": "Please keep to these lines until we are back.",

	"customer.no_feed":                "No food at all {until}.",
	"customer.no_feed.until":          "No food at all until {until}.",
	"customer.feed_less":              "Feed half of what you give now, once a day, {until}.",
	"customer.feed_less.again":        "Go on with the smaller amount of food, once a day, {until}.",
	"customer.feed_less.again.until":  "Go on with the smaller amount of food, once a day, until {until}.",
	"customer.feed_less.until":        "Feed half of what you give now, once a day, until {until}.",
	"customer.topoff_ro":              "Top up only with the pure water that we leave, never from the tap.",
	"customer.pause_dose.no3":         "No nitrate for now, {until}: leave out the bottle that it is in. The rest as agreed.",
	"customer.pause_dose.no3.until":   "No nitrate until we have read it again ({until}): leave out the bottle that it is in. The rest as agreed.",
	"customer.pause_dose.k":           "No potassium for now, {until}: leave out the bottle that it is in. The rest as agreed.",
	"customer.pause_dose.k.until":     "No potassium until we have read it again ({until}): leave out the bottle that it is in. The rest as agreed.",
	"customer.explain_normal":         "This is how such a tank lives at its age; nothing needs doing.",
	"customer.aerate_now":             "Leave the air pump running day and night {until}.",
	"customer.aerate_now.until":       "Leave the air pump running day and night until {until}.",
	"customer.quarantine_new_animals": "Tell us before you buy animals: they are kept apart first.",

	"dont.no_new_animals":      "No new animals before we say so.",
	"dont.no_new_animals.gate": "No animals yet. They may come once ammonia and nitrite, which a young tank makes and which poison animals, have been gone at two of our visits at least five days apart.",
	"dont.add_animals":         "Please add no animals before we say so.",
	"dont.dose_aldehyde":       "Please pour in nothing against algae.",
	"dont.dose_peroxide":       "Please pour in no peroxide.",
	"dont.dose_copper":         "Please use nothing with copper.",
	"dont.antibiotic":          "Please give no medicine without a vet.",
	"dont.media_replace_all":   "Please leave the filter shut; we see to it.",
	"dont.wc_large_once":       "Please change no large amount of water by yourself.",
	"dont.blackout":            "Please leave the light on its timer.",
	"dont.dose_nh4":            "Please give no plant food that was not agreed.",
	"dont.more_of_all":         "Please do not raise the doses.",
	"dont.touch_water":         "Please keep hands out of the water and away from the equipment.",
	"dont.co2_up.off":          "Please leave the CO2 off until we have been.",
	"dont.co2_up":              "Please leave the CO2 as it is set.",
}
