package say

import "maps"

// words turns stable ids into the words that a person reads; the parts are kept
// by subject.
var words = mergedWords()

func mergedWords() map[string]string {
	all := map[string]string{}
	for _, part := range []map[string]string{
		wordsActions, wordsCauses, wordsCare,
	} {
		maps.Copy(all, part)
	}
	return all
}
