package customer

import (
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
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
	var fs fault.Fields
	n := strings.ToUpper(line(&fs, get, "number", MaxKey))
	if n == "" {
		fs.Add("number", fault.Missing, "Type the number on the key's tag.")
	}
	return n, fs
}
