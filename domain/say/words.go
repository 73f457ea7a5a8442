package say

// words turns stable ids into the words that a person reads.
var words = map[string]string{}
