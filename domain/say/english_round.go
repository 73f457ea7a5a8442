package say

// englishRound are the planner's sentences: what it gave up, why a stop has no
// place, what would let it in.
var englishRound = map[string]string{
	"round.nobody":       "Nobody is at work in these days: no stop can be placed.",
	"round.no_start":     "{who} has no known place to start from or to end at on {day} and is left out that day.",
	"round.no_van":       "{who} drives a van that is not in the list ({van}); what it can carry is not checked.",
	"round.gave.late":    "{stop} is {days} later than asked for: {day} instead of {due}.",
	"round.gave.early":   "{stop} is {days} earlier than asked for: {day} instead of {due}.",
	"round.gave.weekday": "{stop} is on {day}, not on the usual {usual}.",
	"round.gave.moved":   "{stop} is moved from where it was to {day} with {who}.",
	"round.gave.prefer":  "{stop} gets {who}; {usual} is agreed with the customer.",
	"round.gave.last":    "{stop} gets {who}; last time {usual} came.",
	"round.why.full":     "No day has room for it.",
}
