package say

// englishFollow say what became of tasks that were done, refused or put off.
var englishFollow = map[string]string{
	"follow.reading.worked":  "{action} ({day}): {what} expected {lo} to {hi}, read {read}. It worked.",
	"follow.reading.not_yet": "{action} ({day}): {what} expected {lo} to {hi}, read {read}. Too early to tell.",
	"follow.reading.did_not": "{action} ({day}): {what} expected {lo} to {hi}, read {read}. It did not work; the next cause is looked at.",
	"follow.below.worked":    "{action} ({day}): {what} expected at {hi} or below, read {read}. It worked.",
	"follow.below.not_yet":   "{action} ({day}): {what} expected at {hi} or below, read {read}. Too early to tell.",
	"follow.below.did_not":   "{action} ({day}): {what} expected at {hi} or below, read {read}. It did not work; the next cause is looked at.",
	"follow.signs.worked":    "{action} ({day}): what it was for is no longer seen. It worked.",
	"follow.signs.not_yet":   "{action} ({day}): what it was for is still seen. Too early to tell.",
	"follow.signs.did_not":   "{action} ({day}): what it was for is still seen. It did not help; the next cause is tried.",
	"follow.declined":        "{action}: the customer said no.",
	"follow.skipped":         "{action}: put off {n} times. Ask why.",
	"fact.dose_in_vain":      "a dose was given and its reading did not move",
}
