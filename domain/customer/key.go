package customer

import (
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Key to a site. Without a holder it hangs in the shop.
type Key struct {
	ID         string
	Site       string
	SiteName   string
	Customer   string // name
	Number     string // on its tag; no two are alike
	Holder     string // a person's ID
	HolderName string
	OutAt      q.Opt[time.Time] // when it was last taken
	InAt       q.Opt[time.Time] // when it was last brought back
	RetiredAt  q.Opt[time.Time] // given back to the customer, or lost
}

// Out reports whether somebody has the key.
func (k Key) Out() bool { return k.Holder != "" }

// ParseKeyNumber reads the field number.
func ParseKeyNumber(get Fields) (string, fault.Fields) {
	f := typed.Form{Get: get}
	n := strings.ToUpper(f.Name("number", MaxKey, "Type the number on the key's tag."))
	return n, f.Faults
}
