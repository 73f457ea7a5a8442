package counter

import (
	"time"

	"scaperound/domain/care"
)

// Effect is how one tank's newest visit would be judged by other bands.
type Effect struct {
	Tank, TankName, CustomerName string
	Visit                        string // empty: nobody has visited it yet
	Performed                    time.Time
	Was, Would                   care.Assessment
}

// RuleCount is how often one rule was asked and fired in a period.
type RuleCount struct {
	Judged int // visits in which it said anything
	Fired  int // visits in which it called for attention
	Last   time.Time
}

// RuleCounts are the counts of a period, by the rule's id.
type RuleCounts struct {
	Rules  map[string]RuleCount
	Visits int // judged in the period
}
