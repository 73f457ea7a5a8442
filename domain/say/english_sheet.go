package say

// englishSheet are the sentences about sheets that were given.
var englishSheet = map[string]string{
	"task.phone_sheet": "Phone {customer}: the sheet of {day} is wrong. The new one changes an amount.",
}
