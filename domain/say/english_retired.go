package say

// englishRetired are sentences that no rule says any more. Judgements from before
// are kept as ids, and are still read.
var englishRetired = map[string]string{
	"do.death.again": "Read ammonia and nitrite again in 24 and in 48 hours.",
}
