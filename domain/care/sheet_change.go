package care

import (
	"maps"

	"scaperound/domain/say"
)

// PhoneCustomer is the owner's task after a sheet whose doses are wrong.
const PhoneCustomer = "phone_customer"

// DosesDiffer reports whether two sheets ask the customer for other amounts:
// of a dose, of food, of new water or of water topped up. Wording elsewhere may
// change freely.
func DosesDiffer(before, after Sheet) bool {
	return !maps.Equal(dosesOf(before), dosesOf(after))
}

func dosesOf(s Sheet) map[string]int {
	out := map[string]int{}
	for _, l := range s.Lines {
		switch ActionOf(l.Icon).Share {
		case "doses", "leaves_out", "feeds", "changes_water", "tops_up":
			day := ""
			if l.Day.OK {
				day = l.Day.V.String()
			}
			out[l.Icon+"\x00"+l.Text+"\x00"+day]++
		}
	}
	return out
}

// PhoneTask is what the owner has to do when a sheet that was given is
// replaced by one with other doses: what hangs on the cabinet is wrong.
func PhoneTask(before, after Sheet) Task {
	return Task{
		Action: PhoneCustomer, Subject: "sheet", Who: Owner, When: WhenToday, Urgency: Today, Rank: RankAnimals, Minutes: 5,
		Say: say.S("task.phone_sheet", say.Day("day", before.Day), say.Text("customer", after.Customer)),
	}
}
