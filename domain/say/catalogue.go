package say

import "maps"

// english is the whole catalogue of sentences: the parts below are kept by
// subject, one file each, so that a rule's words are found by its noun.
var english = merged()

func merged() map[string]string {
	all := map[string]string{}
	for _, part := range []map[string]string{
		englishPlan, englishCustomer, englishFacts, englishFindings, englishCalc, englishSheet, englishRound, englishDue, englishAhead,
		englishFollow, englishRetired,
	} {
		maps.Copy(all, part)
	}
	return all
}

// Has reports whether the catalogue knows the sentence.
func Has(id string) bool { _, ok := english[id]; return ok }

// Pattern returns the sentence's pattern with its {arguments}, for the checks
// that hold sentences and callers together.
func Pattern(id string) string { return english[id] }

// WordFor returns the word for a key of the catalogue of words.
func WordFor(key string) (string, bool) { w, ok := words[key]; return w, ok }
