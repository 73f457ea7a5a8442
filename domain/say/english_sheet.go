package say

// englishSheet are the sentences about sheets that were given.
var englishSheet = map[string]string{
	"task.phone_sheet": "The sheet of {day} that {customer} has is wrong: the new one changes an amount.",
}
