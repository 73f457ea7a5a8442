package share

import "time"

// Link is one address under which a tank's sheets are read.
type Link struct {
	ID         string
	Tank, Site string // one of the two
	Generation int
	Made       time.Time
	Expires    time.Time // zero: never
	Revoked    time.Time // zero: not
}

// Open reports whether the link still leads somewhere at the moment.
func (l Link) Open(at time.Time) bool {
	return l.ID != "" && l.Revoked.IsZero() && (l.Expires.IsZero() || at.Before(l.Expires))
}

// Given is a care sheet as it was handed over: frozen.
type Given struct {
	ID, Tank, Visit, Evaluation string
	Document                    string // as Wire's version wrote it
	Wire                        string
	GivenAt                     time.Time
	GivenBy                     string // staff id
	ReleasedBy                  string // their name
	Replaces                    string // id of the sheet of the same visit that this one replaces
	Newer                       bool   // what is known by now differs from what it says
}

// Release is a sheet that somebody lets go to the customer.
type Release struct {
	Visit      string
	Evaluation string // the judgement that was shown; another one by now is a conflict
	Document   string
	Wire       string
	By         string // staff id
	Owner      bool   // only the owner lets a held sheet go
	// Phone is the document of the owner's task to phone, where the sheet
	// changes a dose that the customer has on paper; empty: none.
	Phone string
	// Photos are the ids of the photographs to print on it, in their order.
	Photos []string
}

// Print is a photograph on a given sheet.
type Print struct {
	Photo         string // id
	SHA256        []byte // of the print that was given
	TakenAt       time.Time
	Width, Height int  // pixels
	Gone          bool // taken back or erased since: not shown any more
}
