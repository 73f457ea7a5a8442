package care

// Answer of a rule that was asked whether it applies.
type Answer uint8

// Answers.
const (
	NotApplicable Answer = iota // this tank has no such thing
	Unmeasured                  // it would apply, had somebody measured or looked
	Judged                      // decide
)

// Meta describes a rule to people.
type Meta struct {
	ID       string
	Title    string
	Why      string
	Source   string
	Evidence string // A primary science or regulation, B science and judgement, C trade practice
	System   System
}

// Rule is data and two small functions. A Decide that returns nothing found
// all fine.
type Rule struct {
	Meta
	Applies func(*View) Answer
	Decide  func(*View) []Finding
}

// Rules lists all rules in the order in which they are asked. The caller must
// not change the slice.
func Rules() []Rule { return rules }
