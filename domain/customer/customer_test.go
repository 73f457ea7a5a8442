package customer

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"scaperound/domain/fault"
)

// filled makes a getter of pairs name, text.
func filled(pairs ...string) Fields {
	return func(name string) string {
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == name {
				return pairs[i+1]
			}
		}
		return ""
	}
}

func faultsOf(fs fault.Fields) string {
	var out []string
	for _, f := range fs {
		out = append(out, f.Name+" "+f.Kind)
	}
	return strings.Join(out, ", ")
}

func TestParseCustomer(t *testing.T) {
	c, fs := ParseCustomer(filled("name", "  Nora   Quill ", "kind", "restaurant", "phones", "+353 1 555 0142\r\n01-555 0143; 0144 ", "email", "nora@example.org", "notes", "a\r\nb"))
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	if c.Name != "Nora Quill" || c.Kind != Restaurant || c.Language != "en" || c.Email != "nora@example.org" || c.Notes != "a\nb" {
		t.Errorf("read as %+v", c)
	}
	if want := []string{"+353 1 555 0142", "01-555 0143", "0144"}; !slices.Equal(c.Phones, want) {
		t.Errorf("phones %q, want %q", c.Phones, want)
	}
}

func TestParseCustomerSaysEveryFault(t *testing.T) {
	_, fs := ParseCustomer(filled("name", " ", "kind", "castle", "phones", "ask Nora\n12", "email", "nora.example.org", "language", "tlh", "notes", strings.Repeat("x", MaxText+1)))
	const want = "name missing, kind choice, phones impossible, phones impossible, email impossible, language choice, notes too-long"
	if got := faultsOf(fs); got != want {
		t.Errorf("faults:\n %s\nwant\n %s", got, want)
	}
}

func TestParseCustomerBounds(t *testing.T) {
	for name, c := range map[string]struct {
		field, text, want string
	}{
		"longest name":        {"name", strings.Repeat("é", MaxName), ""},
		"name too long":       {"name", strings.Repeat("é", MaxName+1), "name too-long"},
		"control signs":       {"name", "Nora\x00Quill", "name impossible"},
		"not UTF-8":           {"notes", "a\xff", "notes impossible"},
		"too many phones":     {"phones", strings.Repeat("015550142\n", Phones+1), "phones too-long"},
		"two at signs":        {"email", "a@b@c.example", "email impossible"},
		"space in an address": {"email", "no ra@example.org", "email impossible"},
		"lines in notes":      {"notes", "one\n\ttwo", ""},
	} {
		get := filled(c.field, c.text, "name", "Nora")
		if _, fs := ParseCustomer(get); faultsOf(fs) != c.want {
			t.Errorf("%s: faults %q, want %q", name, faultsOf(fs), c.want)
		}
	}
}

func TestDigits(t *testing.T) {
	for in, want := range map[string]string{"+353 1 555 0142": "35315550142", "00353-1-555-0142": "35315550142", "01 555 0142": "15550142", "": "", "0000": ""} {
		if got := Digits(in); got != want {
			t.Errorf("Digits(%q) = %q, want %q", in, got, want)
		}
	}
}

// However the two are written, what is looked for is a part of what is kept.
func TestPhoneQueryFindsEveryWayOfWriting(t *testing.T) {
	ways := []string{"+353 1 555 0142", "0035315550142", "01 555 0142", "(01) 555-0142", "1555 0142"}
	for _, kept := range ways {
		for _, looked := range append([]string{"555 0142", "0142"}, ways...) {
			d, ok := PhoneQuery(looked)
			if !ok || !strings.Contains(Digits(kept), d) {
				t.Errorf("%q (as %q) is not found in %q", looked, d, kept)
			}
		}
	}
	for _, no := range []string{"Nora", "12", "12 Mill Lane", ""} {
		if d, ok := PhoneQuery(no); ok {
			t.Errorf("%q is taken for the number %q", no, d)
		}
	}
}

func TestParseContactNote(t *testing.T) {
	if _, fs := ParseContactNote(filled("they_said", " \r\n ")); faultsOf(fs) != "they_said missing" {
		t.Errorf("faults %q", faultsOf(fs))
	}
	n, fs := ParseContactNote(filled("we_said", "Thursday"))
	if len(fs) > 0 || n.WeSaid != "Thursday" || n.TheySaid != "" {
		t.Errorf("%+v, %v", n, fs)
	}
}

func TestAccessNoteIsSilentInLogs(t *testing.T) {
	n, fs := ParseAccessNote(filled("note", "behind the bins", "alarm_code", " 4711 "))
	if len(fs) > 0 || n.AlarmCode != "4711" || n.Note != "behind the bins" {
		t.Fatalf("read as %q and %q, %v", n.Note, n.AlarmCode, fs)
	}
	for _, format := range []string{"%v", "%+v", "%s", "%#v"} {
		if s := fmt.Sprintf(format, n); strings.Contains(s, "4711") || strings.Contains(s, "bins") {
			t.Errorf("%s shows %q", format, s)
		}
	}
}

func TestParseKeyNumber(t *testing.T) {
	if n, fs := ParseKeyNumber(filled("number", " k-17 ")); n != "K-17" || len(fs) > 0 {
		t.Errorf("%q, %v", n, fs)
	}
	if _, fs := ParseKeyNumber(filled()); faultsOf(fs) != "number missing" {
		t.Errorf("faults %q", faultsOf(fs))
	}
}
