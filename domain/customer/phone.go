package customer

import (
	"strings"
	"unicode/utf8"

	"scaperound/domain/fault"
)

// parsePhones reads telephone numbers parted by line ends, commas or semicolons.
func parsePhones(fs *fault.Fields, text string) []string {
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' || r == ',' || r == ';' })
	out := []string{}
	for _, p := range parts {
		p = strings.Join(strings.Fields(p), " ")
		switch digits := Digits(p); {
		case p == "":
			continue
		case utf8.RuneCountInString(p) > MaxPhone:
			fs.Add("phones", fault.TooLong, "“%s” is longer than a telephone number; write one on each line.", short(p))
		case strings.Trim(p, "+0123456789 ()-–./") != "":
			fs.Add("phones", fault.Impossible, "“%s” is not a telephone number: only digits, spaces, +, brackets and hyphens.", short(p))
		case len(digits) < 3:
			fs.Add("phones", fault.Impossible, "“%s” has too few digits for a telephone number.", short(p))
		}
		out = append(out, p)
	}
	if len(out) > Phones {
		fs.Add("phones", fault.TooLong, "At most %d numbers are kept; these are %d.", Phones, len(out))
	}
	return out
}

// Digits folds a telephone number to its digits, without the zeros that dial
// out: "+353 1 555 0142", "00353 1 5550142" and "353-1-555-0142" are alike.
func Digits(phone string) string {
	var b strings.Builder
	for _, r := range phone {
		if r >= '0' && r <= '9' {
			b.WriteRune(r)
		}
	}
	return strings.TrimLeft(b.String(), "0")
}

// phoneTail is how many of a number's last digits are compared: enough to tell
// people apart, and none of the country's or the trunk's prefix, which one
// types and another leaves out.
const phoneTail = 8

// PhoneQuery reports whether what was typed looks like a telephone number or a
// part of one, and the digits to look for.
func PhoneQuery(text string) (digits string, ok bool) {
	if strings.Trim(text, "+0123456789 ()-–./") != "" {
		return "", false
	}
	digits = Digits(text)
	if len(digits) > phoneTail {
		digits = digits[len(digits)-phoneTail:]
	}
	return digits, len(digits) >= 3
}
