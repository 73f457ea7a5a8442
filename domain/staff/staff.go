// Package staff says who works at the shop and what each may do.
package staff

import (
	"strings"
	"time"
	"unicode/utf8"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/typed"
)

// Role is what a person is at the shop.
type Role string

// The roles, as they are stored.
const (
	Owner      Role = "owner"
	Technician Role = "technician"
)

// Roles lists every role, in the order in which a form offers them.
func Roles() []Role { return []Role{Technician, Owner} }

// Known reports whether the role is one of Roles.
func (r Role) Known() bool { return r == Owner || r == Technician }

// Title is the role in words, for a page.
func (r Role) Title() string {
	switch r {
	case Owner:
		return "Owner"
	case Technician:
		return "Technician"
	}
	return ""
}

// Act is something that only some roles may do.
type Act string

// What is not open to everybody on the staff.
const (
	SeeTanks      Act = "see tanks" // all staff see all tanks
	RecordVisits  Act = "record visits"
	EditProfiles  Act = "edit target profiles"
	ManagePeople  Act = "manage people"
	ManageLinks   Act = "manage care-sheet links"
	EditPrices    Act = "edit prices"
	EditShop      Act = "edit the shop"
	PlanRounds    Act = "plan rounds"
	ReleaseHarsh  Act = "release a sheet that tells of a death, a leak or damage"
	DecideBilling Act = "decide who pays"
)

// May reports whether the role covers the act. An unknown role covers nothing.
func (r Role) May(a Act) bool {
	switch r {
	case Owner:
		return true
	case Technician:
		return a == SeeTanks || a == RecordVisits
	}
	return false
}

// Person is one member of the staff.
type Person struct {
	ID    string // a UUID in its usual text form
	Email string // as typed; compared folded
	Name  string
	Role  Role
	Phone string
	Units say.System // empty: the shop's own
	// Epoch is raised by a new password, a new role and deactivation; a
	// session made under an older one is over.
	Epoch       int
	Deactivated bool
	Version     int // raised by each change; the one that a form was made from
}

// SignIn is a person at one device, and the shop they work at: what every page
// needs to know first.
type SignIn struct {
	ID     string
	Person Person
	Seen   time.Time // when last noted, in UTC; not at every request
	Shop   shop.Settings
}

// Listed is one line of the list of people.
type Listed struct {
	Person
	LastSeen time.Time // in UTC; zero: never signed in
}

// Invite is a one-time address that somebody was given and has not used yet.
// The address itself is not kept.
type Invite struct {
	ID      string
	Name    string // of whom it is for, as the owner typed it
	Role    Role
	For     string // the person whose password it renews; empty: a new person
	Expires time.Time
}

// Draft is what is typed about a person before it is known to be right.
type Draft struct {
	Name  string
	Email string
	Role  Role
}

// The longest texts that are kept, in characters.
const (
	MaxName  = 80
	MaxEmail = 254
)

// Check returns the draft with its spaces trimmed, and every fault of it. The
// fields are named name, email and role.
func (d Draft) Check() (Draft, fault.Fields) {
	var fs fault.Fields
	d.Name = strings.Join(strings.Fields(d.Name), " ")
	d.Email = strings.TrimSpace(d.Email)
	switch {
	case d.Name == "":
		fs.Add("name", fault.Missing, "Type the name that the others know.")
	case utf8.RuneCountInString(d.Name) > MaxName:
		fs.Add("name", fault.TooLong, "A name has at most %d characters.", MaxName)
	case typed.HasUnseen(d.Name):
		fs.Add("name", fault.Impossible, "This contains signs that cannot be seen. Please type it again.")
	}
	CheckEmail(&fs, "email", d.Email)
	if !d.Role.Known() {
		fs.Add("role", fault.NotChoice, "Choose technician or owner.")
	}
	return d, fs
}

// CheckEmail adds a fault of the named field unless email looks like an
// address: something, an at sign, and a host with a dot. Whether mail arrives
// there is not ours to know.
func CheckEmail(fs *fault.Fields, field, email string) {
	local, host, ok := strings.Cut(email, "@")
	switch {
	case email == "":
		fs.Add(field, fault.Missing, "Type the e-mail address to sign in with.")
	case len(email) > MaxEmail:
		fs.Add(field, fault.TooLong, "An e-mail address has at most %d characters.", MaxEmail)
	case !ok, local == "", !strings.Contains(host, "."), strings.Contains(host, "@"), strings.HasPrefix(host, "."),
		strings.HasSuffix(host, "."), strings.ContainsFunc(email, func(r rune) bool { return r <= ' ' || typed.Unseen(r) }):
		fs.Add(field, fault.Impossible, "An e-mail address looks like name@example.org.")
	}
}

// FoldEmail is the form in which two addresses are compared.
func FoldEmail(email string) string { return strings.ToLower(strings.TrimSpace(email)) }

// The shortest and longest password, in characters and bytes. The upper bound
// keeps hashing cheap for whoever sends a megabyte.
const (
	MinPassword      = 10
	MaxPasswordBytes = 256
)

// CheckPassword adds every fault of a new password to the named field. name and
// email are what the password must not merely repeat.
func CheckPassword(fs *fault.Fields, field, password string, name, email string) {
	folded := strings.ToLower(strings.TrimSpace(password))
	local, _, _ := strings.Cut(FoldEmail(email), "@")
	switch {
	case password == "":
		fs.Add(field, fault.Missing, "Type a password of at least %d characters. A few words in a row do well.", MinPassword)
	case utf8.RuneCountInString(password) < MinPassword:
		fs.Add(field, fault.Impossible, "A password has at least %d characters. A few words in a row do well.", MinPassword)
	case len(password) > MaxPasswordBytes:
		fs.Add(field, fault.TooLong, "A password has at most %d bytes.", MaxPasswordBytes)
	case folded == FoldEmail(email), folded == local, folded == strings.ToLower(name):
		fs.Add(field, fault.Impossible, "The password must not be your own name or address.")
	case oneRune(password):
		fs.Add(field, fault.Impossible, "A single character repeated is guessed at once.")
	}
}

func oneRune(s string) bool {
	first, _ := utf8.DecodeRuneInString(s)
	return !strings.ContainsFunc(s, func(r rune) bool { return r != first })
}
