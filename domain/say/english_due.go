//go:build !js

package say

// englishDue are the sentences about what a round is planned from.
var englishDue = map[string]string{
	"due.no_shop":      "The shop has no position yet; rounds are reckoned from the middle of its sites. Write it down under Roads.",
	"due.nobody":       "Nobody has working hours written down, so nothing can be planned. Write them down under Shop, People.",
	"due.not_heard":    "Nobody has heard of {who} today: what is left of the day is planned from where it begins.",
	"due.no_agreement": "{count} have no agreement and never fall due.",
	"due.call.none":    "Not on {day}; no other day is set yet.",
	"due.call.day":     "{day} at {at} instead of {was}.",
	"due.call.promise": "At {at}, not when it was promised.",
	"due.call.person":  "{who} comes, at {at}, instead of {was}.",
	"due.call.time":    "At {at} instead of {was}, on the same day.",
	"due.aside":        "Taken out by hand.",
	"due.straight":     "Ways are reckoned from the straight line.",
	"due.no_service":   "The routing service did not answer, so ways are reckoned from the straight line.",
	"due.by_service":   "Ways come from the routing service.",
}
