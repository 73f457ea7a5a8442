// Package shop says how the one shop of a database writes and reckons: its
// name, its clock, its units, its paper.
package shop

import (
	"strings"
	"unicode/utf8"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// Paper is the size that sheets are printed on.
type Paper string

// Paper sizes.
const (
	A4     Paper = "A4"
	Letter Paper = "Letter"
)

// Settings is the shop's one record.
type Settings struct {
	Name        string
	Zone        string // IANA name, such as Europe/Dublin
	Locale      string // one of Locales' tags
	Units       say.System
	Phone       string // empty: none given
	Paper       Paper
	ShowFigures bool // strips and figures on the care sheet
	Version     int  // raised by each change; the one that the form was made from
}

// Locale is how dates and numbers are written.
type Locale struct {
	Tag     string // BCP 47
	Name    string
	Decimal byte // '.' or ','
	Date    DateOrder
}

// DateOrder is the order in which a date's parts stand.
type DateOrder int

// Orders of a date.
const (
	DayFirst   DateOrder = iota // Tue 24 Nov 2026
	MonthFirst                  // Tue, Nov 24, 2026
	YearFirst                   // 2026-11-24 Tue
)

var locales = []Locale{
	{"en-IE", "English, Ireland", '.', DayFirst},
	{"en-GB", "English, United Kingdom", '.', DayFirst},
	{"en-US", "English, United States", '.', MonthFirst},
	{"en-CA", "English, Canada", '.', YearFirst},
	{"en-AU", "English, Australia", '.', DayFirst},
	{"en-NZ", "English, New Zealand", '.', DayFirst},
	{"en-ZA", "English, South Africa", ',', YearFirst},
	{"en-DE", "English, Germany: decimal comma", ',', DayFirst},
	{"en-NL", "English, Netherlands: decimal comma", ',', DayFirst},
	{"en-DK", "English, Denmark: decimal comma", ',', DayFirst},
}

// Locales lists what a shop can choose from.
func Locales() []Locale { return append([]Locale(nil), locales...) }

// LocaleOf is the locale with the tag. A tag that is not known reads like the
// first of Locales.
func LocaleOf(tag string) Locale {
	for _, l := range locales {
		if l.Tag == tag {
			return l
		}
	}
	return locales[0]
}

// DecimalMark is "." or ",", as the locale writes numbers.
func (s Settings) DecimalMark() string { return string(LocaleOf(s.Locale).Decimal) }

// Reads says how somebody on the staff reads numbers: in their own units, or
// the shop's where own is empty.
func (s Settings) Reads(own say.System) say.Units {
	u := say.Units{System: s.Units, Decimal: LocaleOf(s.Locale).Decimal}
	if own != "" {
		u.System = own
	}
	return u
}

// The longest texts that are kept, in characters.
const (
	MaxName  = 80
	MaxPhone = 40
)

// Check returns the settings with their spaces trimmed, and every fault. The
// fields are named name, zone, locale, units, phone and paper. Whether the zone
// exists is for whoever has a table of zones to say.
func (s Settings) Check() (Settings, fault.Fields) {
	var fs fault.Fields
	s.Name = strings.Join(strings.Fields(s.Name), " ")
	s.Phone = strings.Join(strings.Fields(s.Phone), " ")
	s.Zone = strings.TrimSpace(s.Zone)
	switch {
	case s.Name == "":
		fs.Add("name", fault.Missing, "Type the shop's name; customers read it on every sheet.")
	case utf8.RuneCountInString(s.Name) > MaxName:
		fs.Add("name", fault.TooLong, "A shop's name has at most %d characters.", MaxName)
	case typed.HasUnseen(s.Name):
		fs.Add("name", fault.Impossible, "This contains signs that cannot be seen. Please type it again.")
	}
	if s.Zone == "" {
		fs.Add("zone", fault.Missing, "Choose the time zone of the shop's clock, such as Europe/Dublin.")
	}
	if LocaleOf(s.Locale).Tag != s.Locale {
		fs.Add("locale", fault.NotChoice, "Choose how dates and numbers are written.")
	}
	if s.Units != say.Metric && s.Units != say.US {
		fs.Add("units", fault.NotChoice, "Choose metric or US units.")
	}
	if s.Paper != A4 && s.Paper != Letter {
		fs.Add("paper", fault.NotChoice, "Choose A4 or Letter.")
	}
	CheckPhone(&fs, "phone", s.Phone)
	return s, fs
}

// CheckPhone adds a fault of the named field where phone is neither empty nor
// something that can be dialled.
func CheckPhone(fs *fault.Fields, field, phone string) {
	digits := 0
	for _, r := range phone {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case strings.ContainsRune("+()-/. ", r):
		default:
			fs.Add(field, fault.Impossible, "A telephone number has digits, spaces and + ( ) - / only.")
			return
		}
	}
	switch {
	case phone == "":
	case utf8.RuneCountInString(phone) > MaxPhone:
		fs.Add(field, fault.TooLong, "A telephone number has at most %d characters.", MaxPhone)
	case digits < 3:
		fs.Add(field, fault.Impossible, "That is too short to be dialled.")
	}
}
