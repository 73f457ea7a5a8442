package say

// englishFindings are what rules found, by rule.
var englishFindings = map[string]string{}
