package care

import (
	"testing"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

func TestDosesDiffer(t *testing.T) {
	line := func(action, text string) SheetLine { return SheetLine{Icon: action, Text: text} }
	base := Sheet{Lines: []SheetLine{line("dose_no3", "5 mL on Monday"), line("explain_normal", "The leaves melt; that is normal.")}, Note: "a"}
	reordered := Sheet{Lines: []SheetLine{line("explain_normal", "Leaves melt at first."), line("dose_no3", "5 mL on Monday")}, Note: "b"}
	if DosesDiffer(base, reordered) {
		t.Error("another order and other words elsewhere count as another dose")
	}
	for name, other := range map[string]Sheet{
		"another amount": {Lines: []SheetLine{line("dose_no3", "3 mL on Monday")}},
		"dropped":        {Lines: []SheetLine{line("explain_normal", "x")}},
		"less food":      {Lines: []SheetLine{line("dose_no3", "5 mL on Monday"), line("feed_less", "Half the food")}},
		"another day":    {Lines: []SheetLine{{Icon: "dose_no3", Text: "5 mL on Monday", Day: q.Some(q.NewDate(2026, 11, 30))}}},
	} {
		if !DosesDiffer(base, other) {
			t.Errorf("%s: not seen", name)
		}
	}
}

func TestPhoneTaskStaysOpenUntilTheOwnerAnswers(t *testing.T) {
	task := PhoneTask(Sheet{Day: q.NewDate(2026, 11, 24)}, Sheet{Customer: "Millrace Coffee"})
	if got, want := say.Render(task.Say, say.MetricUnits), "The sheet of Tuesday 24 November that Millrace Coffee has is wrong: the new one changes an amount."; got != want {
		t.Errorf("the task reads %q", got)
	}
	task.ID = "0193a5b2-7c4e-7def-8123-456789abcdef"
	a := Assess(Case{Open: []Task{task}})
	for _, kept := range a.Tasks {
		if kept.Action == PhoneCustomer {
			return
		}
	}
	t.Errorf("the next judgement dropped the task: %+v", a.Withdrawn)
}
