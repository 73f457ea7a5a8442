package tank

import (
	"time"

	q "scaperound/domain/quantity"
)

// LivingKind tells plants from animals.
type LivingKind string

// Plants and animals.
const (
	Plant  LivingKind = "plant"
	Animal LivingKind = "animal"
)

// LivingOf says whether a group is of plants or of animals.
func LivingOf(group string) LivingKind {
	if Holds(PlantGroups, group) {
		return Plant
	}
	return Animal
}

// GroupTitle is a group's name in words.
func GroupTitle(id string) string {
	for _, gs := range [][]Group{PlantGroups, AnimalGroups} {
		for _, g := range gs {
			if g.ID == id {
				return g.Name
			}
		}
	}
	return id
}

// Reason of a movement.
type Reason string

// Reasons of movements.
const (
	WeAdded       Reason = "we_added"
	CustomerAdded Reason = "customer_added"
	Born          Reason = "born"
	MovedFrom     Reason = "moved_from"
	Died          Reason = "died"
	Missing       Reason = "missing"
	Given         Reason = "given"
	Removed       Reason = "removed"
	MovedTo       Reason = "moved_to"
	Counted       Reason = "counted" // a count corrects the record
)

// ReasonInfo describes a reason: its words, and whether it brings or takes.
type ReasonInfo struct {
	Reason Reason
	Title  string
	Sign   int // +1 brings, -1 takes, 0 either
	Other  bool
}

// Reasons in the order of the form.
var Reasons = []ReasonInfo{
	{WeAdded, "We added", 1, false},
	{CustomerAdded, "Customer added", 1, false},
	{Born, "Born or grown here", 1, false},
	{MovedFrom, "Moved in from another tank", 1, true},
	{Died, "Died", -1, false},
	{Missing, "Missing", -1, false},
	{Given, "Given away", -1, false},
	{Removed, "Taken out", -1, false},
	{MovedTo, "Moved to another tank", -1, true},
	{Counted, "Counted: the record was off", 0, false},
}

// InfoOf describes the reason; ok is false for one that nobody knows.
func (r Reason) InfoOf() (ReasonInfo, bool) {
	for _, i := range Reasons {
		if i.Reason == r {
			return i, true
		}
	}
	return ReasonInfo{Reason: r, Title: string(r)}, false
}

// Payers are who may pay for a part, an animal or an extra visit, in the order
// of the form; empty is not said.
var Payers = []Group{
	{"included", "Included"}, {"to_bill", "To bill"}, {"warranty", "Warranty"}, {"customers_own", "Customer's own"},
}

// PayerTitle is who pays, in words.
func PayerTitle(id string) string {
	for _, p := range Payers {
		if p.ID == id {
			return p.Name
		}
	}
	return ""
}

// Movement is plants or animals that came or went.
type Movement struct {
	ID        string
	Visit     string // id of the visit it was noted at; empty: none
	Day       q.Date
	Living    LivingKind
	Group     string
	Species   string
	N         int // plus or minus, never 0
	Reason    Reason
	OtherTank string // id; where it moved from or to
	OtherName string // that tank's name, when read
	Batch     string
	Pays      string
	Note      string
	Author    string // name, when read
	Recorded  time.Time
}
