// Package customer says whom the shop works for and where: customers, their
// sites with what one must know to work there, keys, times, absences, and what
// was said on the phone.
package customer

import (
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Kind of customer.
type Kind string

// Kinds of customers, as they are stored.
const (
	Home       Kind = "home"
	Restaurant Kind = "restaurant"
	Office     Kind = "office"
	Other      Kind = "other"
)

// Kinds in the order in which a form offers them.
func Kinds() []Kind { return []Kind{Home, Restaurant, Office, Other} }

// Title is the kind in words.
func (k Kind) Title() string {
	switch k {
	case Home:
		return "Home"
	case Restaurant:
		return "Café or restaurant"
	case Office:
		return "Office or practice"
	}
	return "Other"
}

// Languages in which a customer may want to be spoken to, as BCP 47 tags. The
// care sheet is written in the first; the others tell whoever picks up the phone.
func Languages() []string { return []string{"en", "ga", "de", "fr", "es", "pl", "pt", "uk", "zh"} }

// LanguageTitle is the language's name in English; the tag itself where it is
// not one of Languages.
func LanguageTitle(tag string) string {
	switch tag {
	case "en":
		return "English"
	case "ga":
		return "Irish"
	case "de":
		return "German"
	case "fr":
		return "French"
	case "es":
		return "Spanish"
	case "pl":
		return "Polish"
	case "pt":
		return "Portuguese"
	case "uk":
		return "Ukrainian"
	case "zh":
		return "Chinese"
	}
	return tag
}

// Customer is one that the shop works for.
type Customer struct {
	ID         string // a UUID
	Name       string
	Kind       Kind
	Language   string   // BCP 47
	Phones     []string // as typed
	Email      string
	Notes      string
	ArchivedAt q.Opt[time.Time]
	ErasedAt   q.Opt[time.Time] // the personal fields were emptied; for good
	Version    int              // of the row; what an edit must name
}

// The longest texts that are kept, in characters, and the most phones.
const (
	MaxName  = 120
	MaxLine  = 200
	MaxText  = 4000
	MaxEmail = 254
	MaxPhone = 40
	MaxKey   = 40
	MaxCode  = 60
	Phones   = 6
)

// Fields gives the text typed in the named field, empty where there is none.
type Fields = typed.Fields

// ParseCustomer reads the fields name, kind, language, phones (one a line, or
// several with commas), email and notes, and says every fault of them. ID and
// Version are the caller's to set.
func ParseCustomer(get Fields) (Customer, fault.Fields) {
	f := typed.Form{Get: get}
	c := Customer{
		Name:     f.Name("name", MaxName, "Type the name under which you look for them."),
		Kind:     typed.Choice(&f, "kind", Home, Kinds(), "Choose what kind of customer this is."),
		Phones:   parsePhones(&f.Faults, get("phones")),
		Email:    parseEmail(&f.Faults, get("email")),
		Language: typed.Choice(&f, "language", "en", Languages(), "Choose one of the languages in the list."),
		Notes:    f.Text("notes", MaxText),
	}
	return c, f.Faults
}

func parseEmail(fs *fault.Fields, text string) string {
	email := strings.TrimSpace(text)
	local, host, ok := strings.Cut(email, "@")
	switch {
	case email == "":
	case utf8.RuneCountInString(email) > MaxEmail:
		fs.Add("email", fault.TooLong, "An e-mail address has at most %d characters.", MaxEmail)
	case !ok, local == "", strings.Contains(host, "@"), !strings.Contains(host, "."), strings.HasPrefix(host, "."),
		strings.HasSuffix(host, "."), strings.ContainsFunc(email, func(r rune) bool { return unicode.IsSpace(r) || typed.Unseen(r) }):
		fs.Add("email", fault.Impossible, "An e-mail address looks like name@example.org; “%s” does not.", short(email))
	}
	return email
}
