package say

// englishAhead are the sentences about what is ahead. They are for the shop.
var englishAhead = map[string]string{
	"find.ahead.cylinder":             "At its own use the CO2 cylinder is down to a fifth between {from} and {to}.",
	"find.ahead.cylinder.open":        "At its own use the CO2 cylinder is down to a fifth on {from} at the earliest.",
	"find.ahead.cylinder.before":      "At its own use the CO2 cylinder is down to a fifth between {from} and {to}, most likely before the next visit.",
	"find.ahead.cylinder.before.open": "At its own use the CO2 cylinder is down to a fifth from {from} on, most likely before the next visit.",
	"find.ahead.cylinder.weigh":       "By its own use the CO2 cylinder should be down to a fifth by now: weigh it.",
	"find.ahead.filter":               "At its own pace the filter falls below {limit} of its clean flow around {day}.",
	"find.ahead.filter.before":        "At its own pace the filter gives {lo} to {hi} by {day}, below the {limit} where it gets critical, and the agreed visit is later.",
	"find.ahead.filter.again":         "Cleaned today, the filter gives {lo} to {hi} again by {day}, below the {limit} where it gets critical, and the agreed visit is later.",
	"find.ahead.nitrate":              "Nitrate is expected at {lo} to {hi} by {day}, above the {limit} that these animals are kept at, and the agreed visit is later. A larger change today may spare the visit in between.",
	"find.ahead.kh":                   "KH is expected at {lo} to {hi} by {day}: used up, with ammonia free to gather, and the agreed visit is later.",
	"find.ahead.low":                  "Dosed as planned, {what} comes to {lo} to {hi} by {day}, below its band from {limit}: the plan brings less than the plants take.",
	"find.ahead.high":                 "Dosed as planned, {what} comes to {lo} to {hi} by {day}, above its band up to {limit}: the plan brings more than the plants take.",
	"due.open":                        "{what} may leave its band by {day}",
	"why.ahead_high":                  "the plan brings more than the plants take as it is",
}
