package say

// Rounds are planned in the shop and never on a tablet, which does not carry
// their sentences.
var englishRound, englishDue map[string]string
